"""Readings from rows of cells, and from lines typed by hand."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from bakelab.bakebook.reading_times import WrittenTime, read_time
from bakelab.bakebook.reading_words import (
    KIND_WORDS,
    Heading,
    Value,
    read_heading,
    read_value,
)

__all__ = ["DELIMITERS", "Found", "Row", "Unread", "from_cells", "from_lines", "split"]

DELIMITERS = ("\t", ";", "|", ",")
Line = tuple[int, str]
_NO_VALUES = ("", "time", "date", "minute", "kind", "unit")  # uses of a column
_FILLERS = re.compile(
    r"at|after|nach|um|à|a|apres|après|is|was|the|of|to|since|in|on|degrees?|grad|and|"
    r"und|et"
)
_TYPED_TIME = re.compile(
    r"(?<![\w.,:])(?:\d+(?:[.,]\d+)?\s*(?:h|hrs?|hours?|std|stunden|min|mins|minutes?|"
    r"minuten|s|sec|secs|seconds?|sekunden)\b\.?\s*)+"
    r"|(?<![\w.,:])\d{1,3}:\d{2}(?::\d{2})?(?:\s*(?:[ap]\.?m\b\.?|uhr\b))?",
    re.I,
)
_TYPED_VALUE = re.compile(
    r"[-+−]?\d+(?:[.,]\d+)?\s*(?:°\s*[cf]\b|[cf]\b|degrees?\s*[cf]\b|ml\b|cm³|cm3\b|cm\b|"
    r"mm\b|inch(?:es)?\b|kg\b|g\b|l\b)?",
    re.I,
)


@dataclass(frozen=True)
class Unread:
    """A line that was not understood, whole, and why."""

    line_no: int
    text: str
    why: str


@dataclass(frozen=True)
class Row:
    """A reading before its time is settled."""

    line_no: int
    text: str
    time: WrittenTime
    value: Value
    kind: str
    unit: str


@dataclass
class Found:
    """What one way of reading makes of the lines."""

    rows: list[Row] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)
    before: list[Unread] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    time_heading: Heading | None = None
    heading_line: int | None = None

    @property
    def merit(self) -> tuple[int, int]:
        """More readings are better, then fewer lines that are not understood."""
        return len(self.rows), -len(self.unread)


def split(lines: Sequence[Line], delimiter: str) -> list[tuple[int, str, list[str]]]:
    """Lines and their cells."""
    out = []
    for number, text in lines:
        try:
            cells = next(csv.reader([text], delimiter=delimiter), [])
        except csv.Error:  # a cell without an end
            cells = [text]
        out.append((number, text, [cell.strip() for cell in cells]))
    return out


def from_cells(
    table: Sequence[tuple[int, str, list[str]]], kind: str, *, month_first: bool = False
) -> Found:
    """Readings of a table, with a heading or without."""
    found = Found()
    at, headings = _find_heading(table)
    for number, text, _ in table[:at]:
        found.before.append(Unread(number, text, "stands before the heading"))
    if headings is not None:
        _tell_columns(headings, found)
        found.heading_line = table[at][0]
    for number, text, cells in table[at + (headings is not None) :]:
        here = headings or _plain_columns(cells)
        blank_end = not any(cells[len(here) :])
        own = cells[: len(here)] if blank_end else cells
        try:
            found.rows += _rows(number, text, own, here, kind, month_first)
        except ValueError as error:
            found.unread.append(Unread(number, text, str(error)))
    return found


def from_lines(lines: Sequence[Line], kind: str) -> Found:
    """Readings typed one a line, such as ``12 min 45,5 °C`` or ``pH 4.2 at 1 h``."""
    found = Found()
    for number, text in lines:
        try:
            found.rows.append(_typed(number, text, kind))
        except ValueError as error:
            found.unread.append(Unread(number, text, str(error)))
    return found


def _find_heading(
    table: Sequence[tuple[int, str, list[str]]],
) -> tuple[int, list[Heading] | None]:
    """Where the heading stands; without one, at the first line."""
    for at, (_, _, cells) in enumerate(table):
        headings = [read_heading(cell) for cell in cells]
        uses = {heading.use for heading in headings}
        numbers = sum(read_value(cell) is not None for cell in cells)
        timed = uses & {"time", "date", "minute"}
        if timed and uses - {"time", "date", "minute", "unit", ""} and not numbers:
            return at, _one_time(headings)
        if numbers >= 2:
            break
    return 0, None


def _one_time(headings: list[Heading]) -> list[Heading]:
    """A moment as well as minutes may stand in a row; two of a kind may not."""
    seen: set[str] = set()
    out = []
    for heading in headings:
        twice = heading.use in seen and heading.use != ""
        out.append(Heading(heading.text, "") if twice else heading)
        seen.add(heading.use)
    return out


def _tell_columns(headings: Sequence[Heading], found: Found) -> None:
    left = [repr(h.text) for h in headings if not h.use and h.text]
    if left:
        found.remarks.append(
            f"left out, as no reading that the book keeps, or a second one of its "
            f"kind: {', '.join(left)}"
        )
    found.time_heading = next(
        (h for h in headings if h.use in ("time", "minute")), None
    )


def _plain_columns(cells: Sequence[str]) -> list[Heading]:
    """Without a heading: a time and a value; a date before, a word behind."""
    dated = len(cells) >= 3 and bool(re.fullmatch(r"[\d./-]{8,10}", cells[0]))
    columns = [Heading("", "date")] * dated
    columns += [Heading("", "time"), Heading("", "value")]
    behind = cells[len(columns) :]
    if len(behind) == 1 and read_value(behind[0]) is None:
        word = behind[0].casefold()
        columns.append(Heading("", "kind" if word in KIND_WORDS else "unit"))
    return columns


def _rows(
    number: int,
    text: str,
    cells: Sequence[str],
    headings: Sequence[Heading],
    kind: str,
    month_first: bool,
) -> list[Row]:
    if len(cells) != len(headings):
        raise ValueError(
            f"has {len(cells)} cells where {len(headings)} are expected"
            + ("; a comma may stand for decimals here" if len(cells) > 2 else "")
        )
    by_use = {h.use: cell for h, cell in zip(headings, cells, strict=True) if h.use}
    time = _time_of(by_use, month_first=month_first)
    own = by_use.get("kind", "").casefold()
    if own and own not in KIND_WORDS:
        raise ValueError(f"{by_use['kind']!r} is no kind of reading")
    of_value = KIND_WORDS.get(own, "" if own else kind)
    rows = []
    for heading, cell in zip(headings, cells, strict=True):
        if heading.use in _NO_VALUES or not cell:
            continue
        of_kind = of_value if heading.use == "value" else heading.use
        value = read_value(cell)
        if value is None:
            raise ValueError(f"{cell!r} is no number")
        unit = by_use.get("unit", "").strip().casefold() or heading.unit
        rows.append(Row(number, text, time, value, of_kind, unit))
    if not rows:
        raise ValueError("has no value")
    return rows


def _time_of(by_use: dict[str, str], *, month_first: bool) -> WrittenTime:
    told = by_use.get("time") or ""
    if by_use.get("date"):
        told = f"{by_use['date']} {told}".strip()
    told = told or by_use.get("minute") or ""
    if not told:
        raise ValueError("has no time")
    time = read_time(told, month_first=month_first)
    if time is None:
        raise ValueError(f"{told!r} is no time")
    return time


def _typed(number: int, text: str, kind: str) -> Row:
    rest = text.strip().lstrip("-*•· ").strip()
    if re.search(r"\d,\d+,\d", rest):
        raise ValueError("has commas that may be decimals or stand between; use ;")
    times = list(_TYPED_TIME.finditer(rest))
    if len(times) > 1:
        raise ValueError("has more than one time")
    if times:
        told = times[0][0]
        rest = f"{rest[: times[0].start()]} ; {rest[times[0].end() :]}"
    values = [m[0] for m in _TYPED_VALUE.finditer(rest)]
    if not times:
        if len(values) != 2:
            raise ValueError("has no time and value that can be told apart")
        told = values.pop(0).strip()
        if not re.fullmatch(r"\d+(?:[.,]\d+)?", told):
            raise ValueError(f"{told!r} is no time")
        rest = rest.replace(told, " ", 1)
    if len(values) != 1:
        raise ValueError(f"has {len(values) or 'no'} value{'s' * (len(values) > 1)}")
    return _typed_row(
        number, text, told, values[0], rest.replace(values[0], " ", 1), kind
    )


def _typed_row(
    number: int, text: str, told: str, cell: str, rest: str, kind: str
) -> Row:
    words = re.findall(r"[^\W\d_]+(?:_\w+)?", rest.casefold())
    kinds = {KIND_WORDS[word] for word in words if word in KIND_WORDS}
    strange = [w for w in words if w not in KIND_WORDS and not _FILLERS.fullmatch(w)]
    if strange or len(kinds) > 1 or re.search(r"\d", rest):
        raise ValueError(f"is not understood: {' '.join(strange) or rest.strip()!r}")
    time, value = read_time(told.strip()), read_value(cell)
    if time is None or value is None:
        raise ValueError(f"{told!r} is no time" if time is None else "has no value")
    return Row(number, text, time, value, next(iter(kinds), kind), "")
