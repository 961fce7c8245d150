"""The Markdown of an exercise as HTML for the page and as data for paper."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

from bakelab.charts.written import xml_text
from bakelab.lessons.item import Item

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

__all__ = ["blocks", "given_html", "given_markdown", "html_of", "markdown_text"]

_SPECIAL = "\\`*_{}[]()#+-.!|<>~$&"


def html_of(markdown: str) -> str:
    """Markdown as HTML; HTML inside it is shown letter by letter.

    >>> html_of("How much **water**?")
    '<p>How much <strong>water</strong>?</p>\\n'
    """
    return str(_reader().render(markdown))


def blocks(markdown: str) -> list[dict[str, Any]]:
    """Markdown as paragraphs and lists of runs, each with its weight.

    >>> blocks("Use *all* of it.")[0]["runs"][1]
    {'text': 'all', 'bold': False, 'italic': True}
    """
    found: list[dict[str, Any]] = []
    inside: list[str] = []
    for token in _reader().parse(markdown):
        if token.type.endswith("_list_open"):
            inside.append(token.type.partition("_")[0])
        elif token.type.endswith("_list_close"):
            inside.pop()
        elif token.type == "inline":
            kind = inside[-1] if inside else "paragraph"
            found.append({"kind": kind, "runs": list(_runs(token))})
        elif token.content:
            plain = {"text": token.content.rstrip("\n"), "bold": False, "italic": False}
            found.append({"kind": "paragraph", "runs": [plain]})
    return found


def markdown_text(text: str) -> str:
    """Words of a person inside Markdown: nothing in them is markup.

    >>> markdown_text("<b>*Mia*")
    '&lt;b&gt;\\\\*Mia\\\\*'
    """
    escaped = "".join(f"\\{c}" if c in _SPECIAL and c not in "<>&" else c for c in text)
    return escaped.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def given_html(item: Item) -> str:
    """What is known, as an HTML table; empty where nothing is given."""
    if not item.given:
        return ""
    head = "".join(f'<th scope="col">{xml_text(h)}</th>' for h in item.heading)
    body = "".join(
        f'<tr><th scope="row">{xml_text(first)}</th>'
        + "".join(f"<td>{xml_text(cell)}</td>" for cell in rest)
        + "</tr>"
        for first, *rest in item.given
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def given_markdown(item: Item) -> str:
    """What is known, as a Markdown table; empty where nothing is given."""
    if not item.given:
        return ""
    rows = [item.heading, ["---"] * len(item.heading), *item.given]
    return "\n".join(_table_row(row) for row in rows)


def _table_row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(c.replace('|', chr(92) + '|') for c in cells)} |"


@cache
def _reader() -> "MarkdownIt":
    from markdown_it import MarkdownIt

    return MarkdownIt("commonmark", {"html": False}).enable("table")


def _runs(token: "Token") -> Iterator[dict[str, Any]]:
    bold = italic = 0
    for child in token.children or []:
        step = {"open": 1, "close": -1}.get(child.type.rpartition("_")[2], 0)
        bold += step if child.type.startswith("strong") else 0
        italic += step if child.type.startswith("em_") else 0
        text = " " if child.type in ("softbreak", "hardbreak") else child.content
        if text:
            yield {"text": text, "bold": bold > 0, "italic": italic > 0}
