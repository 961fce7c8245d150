"""From "out of the oven at 8:00" backwards to when the baker has to begin."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from html import escape

import pandas as pd

from bakelab.errors import FitError
from bakelab.units import Quantity, in_unit, quantity

__all__ = [
    "SCHEDULE_COLUMNS",
    "Planned",
    "Schedule",
    "Stage",
    "plan_back",
    "to_icalendar",
]

SCHEDULE_COLUMNS = ("what", "start", "end", "minutes", "earliest", "latest", "note")
LONGEST_DAYS = 14
PRODUCT = "-//bakelab//bake schedule//EN"


@dataclass(frozen=True)
class Stage:
    """One step: what is done, how long, and how long at least and at most.

    `minutes` may be a quantity or text such as ``"45 min"``.
    """

    what: str
    minutes: Quantity | str | float
    low: float | None = None
    high: float | None = None
    note: str = ""

    @property
    def length_min(self) -> float:
        """Length in minutes; refuses less than nothing."""
        value = self.minutes
        if isinstance(value, str):
            value = quantity(value, dimension="[time]")
        minutes = (
            float(value)
            if isinstance(value, (int, float))
            else in_unit(value, "minute", "minutes")
        )
        if not 0.0 <= minutes <= LONGEST_DAYS * 24 * 60:
            raise FitError(
                f"{self.what!r} takes {minutes:g} min; give 0 min to "
                f"{LONGEST_DAYS} days"
            )
        return minutes

    @property
    def range_min(self) -> tuple[float, float]:
        """Shortest and longest, min; both the length where no band is given."""
        length = self.length_min
        low = length if self.low is None else self.low
        high = length if self.high is None else self.high
        if not low <= length <= high:
            raise FitError(
                f"{self.what!r} takes {length:g} min, outside its own band of {low:g} "
                f"to {high:g} min; correct one of them"
            )
        return low, high


@dataclass(frozen=True)
class Planned:
    """A stage with its times.

    `earliest` and `latest` are when it ends if all stages up to it are as
    short or as long as their bands allow, counted from the planned start.
    """

    what: str
    start: datetime
    end: datetime
    minutes: float
    earliest: datetime
    latest: datetime
    note: str = ""


@dataclass(frozen=True)
class Schedule:
    """Stages with their times, ending at `ready`."""

    steps: tuple[Planned, ...]
    ready: datetime

    @property
    def start(self) -> datetime:
        """When to begin."""
        return self.steps[0].start

    @property
    def frame(self) -> pd.DataFrame:
        """One row per stage, columns `SCHEDULE_COLUMNS`."""
        rows = [[getattr(s, name) for name in SCHEDULE_COLUMNS] for s in self.steps]
        return pd.DataFrame(rows, columns=list(SCHEDULE_COLUMNS))

    @property
    def text(self) -> str:
        """One line per stage."""
        lines = [
            f"{s.start:%a %H:%M} to {s.end:%H:%M}  {s.what} ({s.minutes:.0f} min)"
            for s in self.steps
        ]
        return "\n".join([*lines, f"{self.ready:%a %H:%M}  ready"])

    def _repr_html_(self) -> str:
        return f"<pre>{escape(self.text)}</pre>"


def plan_back(
    stages: Iterable[Stage], *, ready: datetime, now: datetime | None = None
) -> Schedule:
    """Times of all stages so that the last one ends at `ready`.

    Parameters
    ----------
    stages : iterable of Stage
        In the order of work.
    ready : datetime
        When the last one ends.
    now : datetime, optional
        Refuse a plan that would have had to begin before it.

    Raises
    ------
    FitError
        If there are no stages, or it is too late.

    Examples
    --------
    >>> plan = plan_back(
    ...     [Stage("proof", "60 min"), Stage("bake", "40 min")],
    ...     ready=datetime(2026, 3, 7, 8, 0),
    ... )
    >>> print(plan.start)
    2026-03-07 06:20:00
    """
    steps = tuple(stages)
    if not steps:
        raise FitError("a schedule needs at least one stage, such as a proof")
    lengths = [stage.length_min for stage in steps]
    begin = ready - timedelta(minutes=sum(lengths))
    if now is not None and begin < now:
        late = (now - begin).total_seconds() / 60.0
        raise FitError(
            f"it is {late:.0f} min too late to be ready at {ready:%H:%M}; be ready "
            "later, or shorten a stage"
        )
    return Schedule(_planned(steps, lengths, begin), ready)


def to_icalendar(
    schedule: Schedule, *, title: str = "Bread", stamp: datetime | None = None
) -> str:
    """The schedule as an iCalendar text (RFC 5545), one event per stage.

    Times without a zone stay without one: a clock on the wall. `stamp` is
    when the text was made, now by default.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    made = stamp or datetime.now(UTC)
    for number, step in enumerate(schedule.steps, 1):
        event = Event()
        event.add("uid", f"{number}-{step.start:%Y%m%dT%H%M%S}@bakelab")
        event.add("dtstamp", made)
        event.add("summary", f"{title}: {step.what}")
        event.add("dtstart", step.start)
        event.add("dtend", step.end)
        if step.note:
            event.add("description", step.note)
        calendar.add_component(event)
    return str(calendar.to_ical().decode())


def _planned(
    stages: Sequence[Stage], lengths: Sequence[float], begin: datetime
) -> tuple[Planned, ...]:
    steps, start = [], begin
    earliest = latest = begin
    for stage, minutes in zip(stages, lengths, strict=True):
        low, high = stage.range_min
        end = start + timedelta(minutes=minutes)
        earliest, latest = (
            earliest + timedelta(minutes=low),
            latest + timedelta(minutes=high),
        )
        steps.append(
            Planned(stage.what, start, end, minutes, earliest, latest, stage.note)
        )
        start = end
    return tuple(steps)
