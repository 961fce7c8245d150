"""Readings typed, pasted or from a probe's file, with nothing dropped in silence.

What separates the cells, decimal commas, °F, clock times, minutes and dates
are found out from the whole text. What had to be decided is said in `remarks`; lines
that are not understood come back whole in `unread`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.facts import READINGS
from bakelab.bakebook.reading_rows import (
    DELIMITERS,
    Found,
    Row,
    Unread,
    from_cells,
    from_lines,
    split,
)
from bakelab.bakebook.reading_sources import given_rows, given_text, written_lines
from bakelab.bakebook.reading_times import LONGEST_MIN, settle_times
from bakelab.bakebook.reading_words import to_kind
from bakelab.errors import BookError

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "Reading",
    "ReadingsRead",
    "Unread",
    "read_readings",
    "read_rows",
]

TOO_HOT_C = 115.0  # a core in °C stays below; warmer without a unit must be °F
SHORT_KINDS = frozenset({"core_c", "loss_g"})


@dataclass(frozen=True)
class Reading:
    """One reading in the book's unit; `minute` or `at` (UTC) tells when."""

    kind: str
    minute: float | None
    at: datetime | None
    value: float
    unit: str
    line_no: int


@dataclass(frozen=True)
class ReadingsRead:
    """What was read, what was not, what stood before the heading, what was assumed.

    `heading_line` is the line whose words were taken as the names of columns.
    """

    readings: tuple[Reading, ...]
    unread: tuple[Unread, ...]
    before: tuple[Unread, ...]
    remarks: tuple[str, ...]
    heading_line: int | None = None

    @property
    def frame(self) -> pd.DataFrame:
        """Columns kind, at, minute, value, unit: what the book takes."""
        import pandas as pd

        names = ["kind", "at", "minute", "value", "unit"]
        rows = [[getattr(r, name) for name in names] for r in self.readings]
        frame = pd.DataFrame(rows, columns=names)
        frame["at"] = pd.to_datetime(frame["at"], utc=True)
        return frame.astype({"minute": float, "value": float})


def read_rows(what: Any, **options: Any) -> list[dict[str, Any]]:
    """Readings as plain rows: kind, at, minute, value, unit.

    Takes what `read_readings` takes.

    Raises
    ------
    BookError
        If any line is not understood; nothing is to be kept then.
    """
    found = read_readings(what, **options)
    if found.unread:
        first = found.unread[0]
        more = len(found.unread) - 1
        lines = "lines are" if more > 1 else "line is"
        rest = f", and {more} more {lines} not understood" if more else ""
        raise BookError(
            f"line {first.line_no} {first.why} ({first.text.strip()[:60]!r})"
            + rest
            + "; correct it or leave it out, nothing was kept"
        )
    if not found.readings:
        raise BookError("there is no reading here; write a time and a value a line")
    names = ("kind", "at", "minute", "value", "unit")
    return [{name: getattr(r, name) for name in names} for r in found.readings]


def read_readings(
    what: Any,
    *,
    kind: str | None = None,
    day: date | None = None,
    zone: tzinfo | None = None,
) -> ReadingsRead:
    """Read what a person or a probe wrote down.

    Parameters
    ----------
    what : str, bytes, Path, DataFrame or sequence of mappings
        Text, a file, or rows.
    kind : str, optional
        What was read where nothing says so; the core by default.
    day : date, optional
        The day of the bake, for times of day.
    zone : tzinfo, optional
        Of times of day; this computer's by default.

    Raises
    ------
    BookError
        If the file cannot be read or is too large, or the kind is unknown.

    Examples
    --------
    >>> found = read_readings('''Time (min);Core (°F)
    ... 0;80,6
    ... 20;199,4
    ... ''')
    >>> [(r.minute, r.value) for r in found.readings]
    [(0.0, 27.0), (20.0, 93.0)]
    """
    if kind is not None and kind not in READINGS:
        raise BookError(
            f"no kind of reading {kind!r}; use one of {', '.join(READINGS)}"
        )
    if isinstance(what, str | bytes | Path):
        text, said = given_text(what)
        found = _best(written_lines(text), kind or "")
        found.remarks = [*said, *found.remarks]
    else:
        found = from_cells(given_rows(what), kind or "")
    return _settled(found, day, zone)


def _best(lines: list[tuple[int, str]], kind: str) -> Found:
    """The way of reading that understands most; tables before typed lines."""
    month_first = _month_first([text for _, text in lines])
    ways: list[Found] = []
    for delimiter in DELIMITERS:
        if any(delimiter in text for _, text in lines):
            table = split(lines, delimiter)
            ways.append(from_cells(table, kind, month_first=month_first))
    ways.append(from_lines(lines, kind))
    return max(ways, key=lambda found: found.merit)


def _month_first(texts: Sequence[str]) -> bool:
    """Dates such as 3/25/2026; the day stands first unless it cannot."""
    pairs = [m for t in texts for m in re.findall(r"\b(\d{1,2})/(\d{1,2})/\d{2,4}", t)]
    if any(int(first) > 12 for first, _ in pairs):
        return False
    moved = len({first for first, _ in pairs}) < len({second for _, second in pairs})
    am_pm = any(re.search(r"\d\s*[ap]\.?m\b", t, re.I) for t in texts)
    return any(int(second) > 12 for _, second in pairs) or am_pm or moved


def _settled(found: Found, day: date | None, zone: tzinfo | None) -> ReadingsRead:
    rows, unread = found.rows, list(found.unread)
    heading = found.time_heading
    fahrenheit, said = _fahrenheit(rows)
    kinds = {row.kind or "core_c" for row in rows}
    times = settle_times(
        [row.time for row in rows],
        unit_min=heading.unit_min if heading else None,
        hint=heading.hint if heading else "",
        day=day,
        zone=zone,
        short=kinds <= SHORT_KINDS,
    )
    readings: list[Reading] = []
    for row, minute, at in zip(rows, times.minutes, times.moments, strict=True):
        try:
            readings.append(_reading(row, minute, at, fahrenheit=fahrenheit))
        except BookError as error:
            unread.append(Unread(row.line_no, row.text, str(error)))
    unread.sort(key=lambda line: line.line_no)
    remarks = (*found.remarks, *times.remarks, *said)
    return ReadingsRead(
        tuple(readings), tuple(unread), tuple(found.before), remarks, found.heading_line
    )


def _fahrenheit(rows: Sequence[Row]) -> tuple[bool, list[str]]:
    """Whether core readings without a unit must be °F, and what is said of it."""
    bare = [
        row.value.number
        for row in rows
        if row.kind in ("", "core_c") and not (row.value.unit or row.unit)
    ]
    if not bare:
        return False, []
    hot = max(bare) > TOO_HOT_C
    if hot:
        return True, [
            f"no unit is written; {max(bare):g} is too hot for °C, so °F is taken"
        ]
    return False, ["no unit is written; °C is taken"]


def _reading(
    row: Row, minute: float | None, at: datetime | None, *, fahrenheit: bool
) -> Reading:
    if minute is None and at is None:
        raise BookError("has no time that can be")
    if minute is not None and abs(minute) > LONGEST_MIN:
        raise BookError(f"{minute:g} min is more than two weeks")
    bare = not (row.value.unit or row.unit)
    unit = "°f" if fahrenheit and row.kind in ("", "core_c") else row.unit
    kind, value = to_kind(row.value, row.kind or ("core_c" if bare else ""), unit)
    return Reading(kind, minute, at, value, READINGS[kind].unit, row.line_no)
