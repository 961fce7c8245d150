"""Cells for spreadsheets: text that would run as a formula is made harmless.

A spreadsheet runs text that begins with one of ``= + - @``, a tab or a carriage
return as a formula (CWE-1236, improper neutralization of formula elements in a CSV
file; OWASP, CSV injection). It may begin anew after a separator, a quote or a line
break inside the text, where a program takes another separator than ours. So an
apostrophe is put before each such sign; `plain_text` takes it away again. Numbers
are left alone.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

__all__ = ["csv_text", "harmless_text", "plain_text"]

_SIGNS = "=+\\-@\t\r＝＋－＠"
_BEGIN = '(?<![^,;|"\t\r\n])'  # at the start of the text, or after a separator
_RISKY = re.compile(f"{_BEGIN}([ ']*)(?=[{_SIGNS}])")
_TAMED = re.compile(f"{_BEGIN}([ ']*)'(?=[{_SIGNS}])")


def harmless_text(text: str) -> str:
    """Text that no spreadsheet runs.

    Examples
    --------
    >>> harmless_text("=1+1"), harmless_text("2 + 2"), harmless_text("a;@b")
    ("'=1+1", '2 + 2', "a;'@b")
    """
    return _RISKY.sub(r"\1'", text)


def plain_text(cell: str) -> str:
    """The text that `harmless_text` was given.

    Examples
    --------
    >>> plain_text("'=1+1")
    '=1+1'
    """
    return _TAMED.sub(r"\1", cell)


def csv_text(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A table as CSV (RFC 4180), text quoted and harmless."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow(names)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue()


def _cell(value: Any) -> Any:
    if value is None or value != value:  # noqa: PLR0124  # NaN is not itself
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.isoformat()
    return value if isinstance(value, int | float) else harmless_text(str(value))
