"""The report for an editor: one HTML page, the findings marked in the text."""

from collections.abc import Sequence
from html import escape

from bakelab.checking.model import KINDS, Finding, Kind, Report

__all__ = ["marked_text", "to_html"]

# Signs and words carry the meaning; the colours are of a palette safe for
# colour-blind eyes (Okabe & Ito) and only help.
_SIGNS = {"conflict": "✕", "unlikely": "?", "missing": "○", "note": "·"}
_LIGHT = ("--bg:#fff;--fg:#222;--soft:#5f5f5f;--line:#ccc;--conflict:#b8420a;"
          "--unlikely:#7a5900;--missing:#0069a3;--note:#5f5f5f")  # fmt: skip
_DARK = ("--bg:#181818;--fg:#eee;--soft:#b3b3b3;--line:#555;--conflict:#ff9a66;"
         "--unlikely:#e6b800;--missing:#7cc4f0;--note:#b3b3b3")  # fmt: skip
_THEMES = f"""
.bakelab-check{{{_LIGHT}}}
@media(prefers-color-scheme:dark){{.bakelab-check{{{_DARK}}}}}
[data-jp-theme-light="true"] .bakelab-check{{{_LIGHT};--bg:transparent}}
[data-jp-theme-light="false"] .bakelab-check{{{_DARK};--bg:transparent}}
"""
_STYLE = """
.bakelab-check{background:var(--bg);color:var(--fg);font:15px/1.5 system-ui,sans-serif;
max-width:60rem;margin:0 auto;padding:1rem}
div.bakelab-check{margin:0;padding:.2rem 0}
.bakelab-check h1{font-size:1.4rem}.bakelab-check h2{font-size:1.15rem;
border-top:1px solid var(--line);padding-top:1rem}
.bakelab-check .text{white-space:pre-wrap;font:14px/1.55 ui-monospace,monospace;
border-left:3px solid var(--line);padding-left:.8rem}
.bakelab-check .text>span{display:block;min-height:1em;padding-left:2.6rem;
text-indent:-2.6rem}
.bakelab-check .no{display:inline-block;width:2.6rem;text-indent:0;
color:var(--soft);user-select:none}
.bakelab-check mark{background:none;color:inherit;text-decoration:underline;
text-decoration-thickness:2px}
.bakelab-check .conflict{--k:var(--conflict)}
.bakelab-check .unlikely{--k:var(--unlikely)}
.bakelab-check .missing{--k:var(--missing)}.bakelab-check .note{--k:var(--note)}
.bakelab-check mark,.bakelab-check b.kind{text-decoration-color:var(--k);color:var(--k)}
.bakelab-check .beside{display:block;text-indent:0;white-space:normal;
font:13px/1.45 system-ui,sans-serif;color:var(--fg);border-left:2px solid var(--k);
padding-left:.5rem}
.bakelab-check small{color:var(--soft)}
"""


def to_html(reports: Sequence[Report], *, title: str = "Published quantities") -> str:
    """A page on its own with every report; it loads nothing from elsewhere."""
    body = "".join(_section(r) for r in reports)
    total = {k: sum(len(r.by_kind(k)) for r in reports) for k in KINDS}
    counted = ", ".join(f"{n} {k}" for k, n in total.items()) or "nothing"
    return (
        "<!doctype html><html lang='en'><head><meta charset='utf-8'>"
        "<meta name='viewport' content='width=device-width'>"
        f"<title>{escape(title)}</title><style>{_THEMES}{_STYLE}</style></head>"
        f"<body class='bakelab-check' style='max-width:none;padding:0'>"
        f"<main class='bakelab-check'><h1>{escape(title)}</h1>"
        f"<p>{len(reports)} recipes: {counted}. A conflict cannot be true whatever was "
        "rounded; unlikely can, but seldom is; missing is what a reader needs; a note "
        f"is good to know.</p>{body}</main></body></html>"
    )


def marked_text(report: Report, kinds: Sequence[Kind] = KINDS) -> str:
    """The text with its findings beside the lines, as HTML for a notebook.

    Parameters
    ----------
    report : Report
    kinds : sequence of str
        The kinds of finding that are shown; all of them by default.
    """
    body = _section(report, kinds)
    return f"<style>{_THEMES}{_STYLE}</style><div class='bakelab-check'>{body}</div>"


def _section(report: Report, kinds: Sequence[Kind] = KINDS) -> str:
    at: dict[int, list[Finding]] = {}
    for found in (f for f in report.open if f.kind in kinds):
        at.setdefault(found.line_no, []).append(found)
    lines = report.text.splitlines()
    shown = "".join(
        _line(number, line, at.pop(number, []))
        for number, line in enumerate(lines, report.first_line)
    )
    rest = "".join(_beside(f) for found in at.values() for f in found)
    kept = "".join(
        f"<li>{escape(f.identifier)}: {escape(f.message)} <small>kept: "
        f"{escape(f.accepted)}</small></li>"
        for f in report.findings
        if f.accepted
    )
    head = escape(report.title or report.name or "Recipe")
    kept = f"<p>Kept on purpose:</p><ul>{kept}</ul>" if kept else ""
    return (
        f"<h2>{head}</h2><p><small>{escape(report.name)}</small></p>"
        f"<div class='text'>{shown}</div>{rest}{kept}"
    )


def _line(number: int, line: str, found: Sequence[Finding]) -> str:
    text = escape(line)
    if found:
        text = f"<mark class='{found[0].kind}'>{text}</mark>"
    beside = "".join(_beside(f) for f in found)
    return f"<span><span class='no'>{number}</span>{text}{beside}</span>"


def _beside(found: Finding) -> str:
    others = "".join(
        f"<br><small>with line {q.line_no}: {escape(q.text)}</small>"
        for q in found.quotes[1:]
    )
    steps = "".join(f"<br><small>{escape(step)}</small>" for step in found.working)
    return (
        f"<span class='beside {found.kind}'><b class='kind'>{_SIGNS[found.kind]} "
        f"{found.kind}</b> {escape(found.message)} <small>({found.identifier}, "
        f"confidence {found.confidence})</small>{steps}{others}<br>"
        f"{escape(found.mend)}<br><small>Basis: {escape(found.basis)}</small></span>"
    )
