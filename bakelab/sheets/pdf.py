"""A kitchen sheet as a PDF of one page, set by typst without a network."""

import json
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from bakelab.errors import BakelabError
from bakelab.sheets.model import Sheet

__all__ = ["PAPERS", "each_text", "pdf_of", "plain_text", "sheet_pdf"]

PAPERS = ("a4", "us-letter")
"""Paper sizes: ISO 216 A4 and US Letter (ANSI/ASME Y14.1 A)."""
_SHEET = Path(__file__).with_name("sheet.typ")


def sheet_pdf(sheet: Sheet, *, paper: str = "a4") -> bytes:
    """The sheet as the bytes of a PDF; type shrinks until it fits one page.

    Words reach the page as data, so that markup in a recipe is set letter
    by letter and never runs. More weights than one page can hold in
    readable type (about 60) run on to a second one.

    Parameters
    ----------
    sheet : Sheet
    paper : {"a4", "us-letter"}

    Raises
    ------
    BakelabError
        If there is no such paper.
    """
    return pdf_of(_SHEET, plain_text(sheet.to_data()), paper=paper)


def pdf_of(template: Path, data: Any, *, paper: str, name: str = "sheet") -> bytes:
    """A PDF of a template, which reads `data` as JSON by its name.

    Raises
    ------
    BakelabError
        If there is no such paper.
    """
    import typst

    if paper not in PAPERS:
        raise BakelabError(f"no paper {paper!r}; choose one of {', '.join(PAPERS)}")
    inputs = {name: json.dumps(data, ensure_ascii=False), "paper": paper}
    return bytes(typst.compile(_template(template), sys_inputs=inputs))


@cache
def _template(path: Path) -> bytes:
    return path.read_bytes()


def plain_text(value: Any) -> Any:
    """The data with what is no Unicode text (lone surrogates, NUL) replaced."""
    return each_text(
        value, lambda t: t.encode("utf-8", "replace").decode().replace("\0", "\ufffd")
    )


def each_text(value: Any, change: Callable[[str], str]) -> Any:
    """Plain data (texts, lists, mappings) with every text changed, keys as they are."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, Mapping):
        return {name: each_text(inner, change) for name, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [each_text(inner, change) for inner in value]
    return value
