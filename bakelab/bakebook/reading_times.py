"""Times of readings as people and probes write them, settled for a whole column.

One time alone is often unclear (is 1:30 a time of day, or an hour and a half?), so
all of a column are looked at together, and what was decided is said.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

__all__ = ["TIME_UNITS", "Settled", "WrittenTime", "read_time", "settle_times"]

TIME_UNITS = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds", "sekunden"), 1 / 60),
    **dict.fromkeys(("min", "mins", "minute", "minutes", "minuten", "m"), 1.0),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours", "std", "stunden"), 60.0),
}  # fmt: skip
LONGEST_BAKE_H = 8.0  # core readings of longer are minutes and seconds; our assumption
LONGEST_MIN = 14 * 24 * 60.0
_NUMBER = r"\d+(?:[.,]\d+)?"
_UNIT = "|".join(sorted(TIME_UNITS, key=len, reverse=True))
_PART = re.compile(rf"\s*({_NUMBER})\s*({_UNIT})\b\.?", re.I)
_COLON = re.compile(
    r"(\d{1,3})\s*[:h]\s*(\d{2})(?:\s*:\s*(\d{2}(?:[.,]\d+)?))?"
    r"\s*(a\.?m\.?|p\.?m\.?|uhr)?",
    re.I,
)
_DATE = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4}|\d{2})(?:[T,\s]+(.+))?")


@dataclass(frozen=True)
class WrittenTime:
    """A time as far as it is clear alone.

    `kind` is "elapsed" (minutes in `number`), "number" (without a unit), "colon"
    (`parts`, with `of_day` where am, pm or Uhr stands) or "moment".
    """

    kind: str
    number: float = 0.0
    parts: tuple[float, ...] = ()
    of_day: bool = False
    moment: datetime | None = None


@dataclass(frozen=True)
class Settled:
    """Minutes since the start or a moment in UTC for each time, and remarks."""

    minutes: tuple[float | None, ...]
    moments: tuple[datetime | None, ...]
    remarks: tuple[str, ...]


def read_time(text: str, *, month_first: bool = False) -> WrittenTime | None:
    """One time: ``12``, ``12 min``, ``1 h 20 min``, ``1:20``, ``2:05 pm``, a date.

    Examples
    --------
    >>> read_time("1 h 20 min").number
    80.0
    >>> read_time("2:05 pm").parts
    (14.0, 5.0, 0.0)
    """
    bare = text.strip()
    if re.fullmatch(rf"-?{_NUMBER}", bare):
        return WrittenTime("number", _float(bare))
    minutes = _elapsed(bare)
    if minutes is not None:
        return WrittenTime("elapsed", minutes)
    colon = _COLON.fullmatch(bare)
    if colon:
        return _colon(colon)
    moment = _moment(bare, month_first=month_first)
    return None if moment is None else WrittenTime("moment", moment=moment)


def settle_times(
    written: Sequence[WrittenTime | None],
    *,
    unit_min: float | None = None,
    hint: str = "",
    day: date | None = None,
    zone: tzinfo | None = None,
    short: bool = True,
) -> Settled:
    """All times of one column, in order.

    Parameters
    ----------
    written : sequence of WrittenTime or None
    unit_min : float, optional
        Minutes in the unit that the heading gives.
    hint : str
        "elapsed", "clock", "mm:ss" or "h:mm" where the heading says so.
    day : date, optional
        The day of times of day; today by default, and said.
    zone : tzinfo, optional
        Of times without one; this computer's by default.
    short : bool
        Whether hours and hours make no sense (core of a bake).
    """
    remarks: list[str] = []
    colons = [w.parts for w in written if w is not None and w.kind == "colon"]
    of_day = any(w.of_day for w in written if w is not None)
    clock = bool(colons) and (of_day or _is_clock(colons, hint))
    as_min_s = bool(colons) and not clock and _is_min_s(colons, hint, short=short)
    remarks += _colon_remark(colons, clock=clock, min_s=as_min_s, hint=hint, day=day)
    if any(w is not None and w.kind == "number" for w in written) and unit_min is None:
        remarks.append("times without a unit are taken as minutes since the start")
    walk = _Walk(day or datetime.now().astimezone().date(), zone)
    moments = tuple(_moment_of(one, walk, clock=clock) for one in written)
    minutes = tuple(
        _minutes_of(one, clock=clock, min_s=as_min_s, unit_min=unit_min)
        for one in written
    )
    return Settled(minutes, moments, tuple(remarks))


def _moment_of(one: WrittenTime | None, walk: _Walk, *, clock: bool) -> datetime | None:
    """The moment that a date or a time of day stands for; None for the rest."""
    if one is not None and one.kind == "moment" and one.moment is not None:
        return walk.aware(one.moment)
    if one is not None and one.kind == "colon" and clock:
        return walk.next(one.parts)
    return None


def _minutes_of(
    one: WrittenTime | None, *, clock: bool, min_s: bool, unit_min: float | None
) -> float | None:
    """Minutes since the start; None for a time of day, or where nothing is written."""
    if one is None or one.kind == "moment" or (one.kind == "colon" and clock):
        return None
    if one.kind == "colon":
        return _colon_minutes(one.parts, min_s=min_s)
    return one.number * (unit_min if one.kind == "number" and unit_min else 1.0)


class _Walk:
    """Times of day one after another; past midnight the next day begins."""

    def __init__(self, day: date, zone: tzinfo | None) -> None:
        self._day, self._zone = day, zone
        self._last: float | None = None

    def next(self, parts: tuple[float, ...]) -> datetime | None:
        hour, minute, second = (*parts, 0.0)[:3]
        if hour > 23 or minute > 59 or second >= 60:
            return None
        now = 3600 * hour + 60 * minute + second
        if self._last is not None and now < self._last - 12 * 3600:
            self._day += timedelta(days=1)
        self._last = now
        return self.aware(datetime.combine(self._day, time()) + timedelta(seconds=now))

    def aware(self, moment: datetime) -> datetime:
        if moment.tzinfo is None and self._zone is not None:
            moment = moment.replace(tzinfo=self._zone)
        return moment.astimezone(UTC)


def _elapsed(text: str) -> float | None:
    total, at, last = 0.0, 0, math.inf
    while at < len(text):
        part = _PART.match(text, at)
        if part is None or TIME_UNITS[part[2].lower()] >= last:
            return None  # hours, then minutes, then seconds
        last = TIME_UNITS[part[2].lower()]
        total += _float(part[1]) * last
        at = part.end()
    return total if at else None


def _colon(match: re.Match[str]) -> WrittenTime:
    hour, minute = float(match[1]), float(match[2])
    second = _float(match[3]) if match[3] else 0.0
    word = (match[4] or "").lower().replace(".", "")
    if word == "pm" and hour < 12:
        hour += 12
    elif word == "am" and hour == 12:
        hour = 0
    three = bool(match[3]) or bool(word)
    parts = (hour, minute, second) if three else (hour, minute)
    return WrittenTime("colon", parts=parts, of_day=bool(word))


def _moment(text: str, *, month_first: bool) -> datetime | None:
    if re.match(r"\d{4}-\d{2}-\d{2}", text):
        try:
            return datetime.fromisoformat(text.replace(",", "."))
        except ValueError:
            return None
    match = _DATE.fullmatch(text)
    if match is None:
        return None
    first, second, year = int(match[1]), int(match[3]), int(match[4])
    month, of_month = (first, second) if month_first else (second, first)
    clock = _COLON.fullmatch((match[5] or "0:00").strip())
    if clock is None:
        return None
    hour, minute, second_of = (*_colon(clock).parts, 0.0)[:3]
    try:
        day = datetime(year + 2000 if year < 100 else year, month, of_month)
    except ValueError:
        return None
    return day + timedelta(hours=hour, minutes=minute, seconds=second_of)


def _is_clock(colons: list[tuple[float, ...]], hint: str) -> bool:
    if hint:
        return hint == "clock"
    return 0 < colons[0][0] <= 23 and all(parts[0] <= 23 for parts in colons)


def _is_min_s(colons: list[tuple[float, ...]], hint: str, *, short: bool) -> bool:
    if hint in ("mm:ss", "h:mm"):
        return hint == "mm:ss"
    if any(len(parts) == 3 for parts in colons):
        return False
    longest = max(parts[0] for parts in colons)
    return longest > 23 or (short and longest > LONGEST_BAKE_H)


def _colon_minutes(parts: tuple[float, ...], *, min_s: bool) -> float:
    if len(parts) == 3:
        return 60 * parts[0] + parts[1] + parts[2] / 60
    return parts[0] + parts[1] / 60 if min_s else 60 * parts[0] + parts[1]


def _colon_remark(
    colons: list[tuple[float, ...]],
    *,
    clock: bool,
    min_s: bool,
    hint: str,
    day: date | None,
) -> list[str]:
    if clock:
        when = "today, as no date is written" if day is None else f"{day:%Y-%m-%d}"
        return [f"times of day are taken as of {when}, by this kitchen's clock"]
    if not colons or hint in ("mm:ss", "h:mm"):
        return []
    if all(len(parts) == 3 for parts in colons):
        return ["times such as 0:12:30 are taken as h:min:s since the start"]
    how = "minutes and seconds" if min_s else "hours and minutes"
    return [f"times such as 0:12 are taken as {how} since the start"]


def _float(text: str) -> float:
    return float(text.replace(",", "."))
