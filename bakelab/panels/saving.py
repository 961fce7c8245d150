"""Files out of a panel: made in memory, offered as a link, nothing is fetched."""

import base64
import re
from contextlib import suppress

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.oven import bake_sentences, expected_bake
from bakelab.panels.controls import SCALES
from bakelab.panels.wish import Answer
from bakelab.scaling import Fitted, fit
from bakelab.sheets import (
    FORMATS,
    Sheet,
    export,
    kitchen_sheet,
    sheet_html,
    sheet_pdf,
    to_markdown,
)
from bakelab.weighing import round_to_scale

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


def saved_sheet(what: Answer | Formula, *, paper: str, title: str = "") -> str:
    """A link to the kitchen sheet as a PDF of one page, under its own title or another.

    A kept formula stands in the pan it states.
    """
    pdf = sheet_pdf(_sheet(what, title), paper=paper)
    return download_link(pdf, f"{_stem(what, title)}-sheet.pdf", "pdf")


def saved_formula(what: Answer | Formula, *, format_: str, title: str = "") -> str:
    """A link to a fitted or a kept formula in one of the formats of `export`.

    Markdown and HTML are the sheet with the weights of the scale; CSV, JSON
    and schema.org have the exact weights.
    """
    if format_ in ("markdown", "html"):
        sheet = _sheet(what, title)
        content: str | bytes = (
            to_markdown(sheet) if format_ == "markdown" else sheet_html(sheet)
        )
    else:
        content = export(what if isinstance(what, Formula) else what.fitted, format_)
    ending = next(e for e, name in FORMATS.items() if name == format_)
    return download_link(content, f"{_stem(what, title)}{ending}", format_)


def _sheet(what: Answer | Formula, title: str) -> Sheet:
    """The sheet, with time and heat where they can be computed or were estimated."""
    if isinstance(what, Formula):
        usual = round_to_scale(what, next(iter(SCALES.values())))
        found = expected_bake(what)
        said = (found.text,) if found else ()
        return kitchen_sheet(_in_its_pan(what), usual, bake=said, title=title)
    fitted = what.fitted
    bake = bake_sentences(fitted) if fitted.to_pans else ()
    return kitchen_sheet(fitted, what.weighed, bake=bake, title=title)


def _in_its_pan(formula: Formula) -> Formula | Fitted:
    """The formula as it fits the pan it states; as it is where it states none."""
    with suppress(BakelabError):
        return fit(formula, to=formula.stated_pan, from_=formula.stated_pan)
    return formula


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


def _stem(what: Answer | Formula, title: str) -> str:
    formula = what if isinstance(what, Formula) else what.fitted.formula
    words = re.sub(r"[^a-z0-9]+", "-", (title or formula.title).casefold())
    return words.strip("-")[:60] or "fitted-recipe"
