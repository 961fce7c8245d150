"""Files out of a panel: made in memory, offered as a link, nothing is fetched."""

import base64
import re

from bakelab.charts.written import xml_text
from bakelab.oven import bake_sentences
from bakelab.panels.wish import Answer
from bakelab.sheets import (
    FORMATS,
    Sheet,
    export,
    kitchen_sheet,
    sheet_html,
    sheet_pdf,
    to_markdown,
)

__all__ = ["download_link", "saved_formula", "saved_sheet"]

_MIME = {
    "csv": "text/csv",
    "json": "application/json",
    "markdown": "text/markdown",
    "schema.org": "application/ld+json",
    "html": "text/html",
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
}


def saved_sheet(answer: Answer, *, paper: str) -> str:
    """A link to the kitchen sheet as a PDF of one page."""
    pdf = sheet_pdf(_sheet(answer), paper=paper)
    return download_link(pdf, f"{_stem(answer)}-sheet.pdf", "pdf")


def saved_formula(answer: Answer, *, format_: str) -> str:
    """A link to the fitted formula in one of the formats of `export`.

    Markdown and HTML are the sheet with the weights of the scale; CSV, JSON
    and schema.org have the exact weights.
    """
    if format_ in ("markdown", "html"):
        sheet = _sheet(answer)
        content: str | bytes = (
            to_markdown(sheet) if format_ == "markdown" else sheet_html(sheet)
        )
    else:
        content = export(answer.fitted, format_)
    ending = next(e for e, name in FORMATS.items() if name == format_)
    return download_link(content, f"{_stem(answer)}{ending}", format_)


def _sheet(answer: Answer) -> Sheet:
    """The sheet of an answer, with time and heat where they can be computed."""
    fitted = answer.fitted
    bake = bake_sentences(fitted) if fitted.to_pans else ()
    return kitchen_sheet(fitted, answer.weighed, bake=bake)


def download_link(content: str | bytes, name: str, format_: str) -> str:
    """A link that carries the whole file, for the browser's download folder."""
    raw = content.encode("utf-8", "replace") if isinstance(content, str) else content
    data = base64.b64encode(raw).decode("ascii")
    size = f"{max(1, round(len(raw) / 1000))} kB"
    return (
        f'<p role="status">Ready: <a download="{xml_text(name)}" '
        f'href="data:{_MIME[format_]};base64,{data}">{xml_text(name)}</a> '
        f"({size}; the browser keeps it in its download folder)</p>"
    )


def _stem(answer: Answer) -> str:
    words = re.sub(r"[^a-z0-9]+", "-", answer.fitted.formula.title.casefold())
    return words.strip("-")[:60] or "fitted-recipe"
