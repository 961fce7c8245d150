"""A kitchen sheet as a PDF of one page, set by typst without a network."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from bakelab.errors import BakelabError
from bakelab.sheets.model import Sheet

__all__ = ["PAPERS", "plain_text", "sheet_pdf", "typeset"]

PAPERS = ("a4", "us-letter")
"""Paper sizes: ISO 216 A4 and US Letter (ANSI/ASME Y14.1 A)."""


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
    return typeset("sheet.typ", plain_text(sheet.to_data()), paper=paper)


def typeset(template: str, data: Any, *, paper: str, name: str = "sheet") -> bytes:
    """A PDF of a template of this folder, which reads `data` as JSON by its name.

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
def _template(name: str) -> bytes:
    return Path(__file__).with_name(name).read_bytes()


def plain_text(value: Any) -> Any:
    """The data with what is no Unicode text (lone surrogates, NUL) replaced."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode().replace("\0", "\ufffd")
    if isinstance(value, dict):
        return {name: plain_text(inner) for name, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_text(inner) for inner in value]
    return value
