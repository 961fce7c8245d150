"""What the times written down mean: timers that run, minutes that follow."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any, Protocol

from bakelab.bakebook.facts import FACTS_BY_NAME, MARKS

__all__ = [
    "FINISHED",
    "Stamp",
    "button_rows",
    "is_finished",
    "live_timers",
    "milliseconds",
    "minutes_between",
    "moved_to",
    "planned_due",
    "stamp_rows",
]

FINISHED = "finished"
"""The stamp that closes a bake; our own word."""

_FIRST_CLEAR_MIN = 10
_PLANNED = {"proof": "planned_proof_min", "in the oven": "planned_bake_min"}
_ENDS: Mapping[str, tuple[str, ...]] = {
    "proof": ("in the oven", "out", FINISHED),
    "in the oven": ("out", FINISHED),
    "lid off": ("out", FINISHED),
}
_SPANS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("bulk_min", "mixed", ("divided", "shaped")),
    ("bench_rest_min", "divided", ("shaped",)),
    ("proof_min", "proof", ("in the oven",)),
    ("bake_min", "in the oven", ("out",)),
    ("lid_off_min", "in the oven", ("lid off",)),
)


class Stamp(Protocol):
    """A mark of the book: what, when, and when it is due."""

    @property
    def id(self) -> str: ...
    @property
    def what(self) -> str: ...
    @property
    def at(self) -> datetime: ...
    @property
    def due_at(self) -> datetime | None: ...


def is_finished(marks: Iterable[Stamp]) -> bool:
    """Whether the bake was closed."""
    return any(m.what == FINISHED for m in marks)


def live_timers(marks: Sequence[Stamp]) -> list[Stamp]:
    """Marks with a due time that nothing later has ended, soonest first."""
    running = [m for m in marks if m.due_at is not None and not _ended(m, marks)]
    return sorted(running, key=lambda m: m.due_at or m.at)


def planned_due(what: str, facts: Mapping[str, Any], at: datetime) -> datetime | None:
    """When a stage is due by the plan; None where nothing is planned."""
    minutes = facts.get(_PLANNED.get(what, ""))
    return at + timedelta(minutes=float(minutes)) if minutes else None


def minutes_between(marks: Sequence[Stamp]) -> dict[str, float]:
    """Facts that follow from the stamps: minutes of the stages, and folds."""
    found: dict[str, float] = {}
    for name, first, lasts in _SPANS:
        minutes = _span(marks, first, lasts)
        if minutes is not None:
            found[name] = minutes
    folds = sum(m.what == "folded" for m in marks)
    return found | ({"folds": float(folds)} if folds else {})


def button_rows(
    marks: Sequence[Stamp], facts: Mapping[str, Any]
) -> list[dict[str, Any]]:
    """The large buttons in the order of work, with the times they have."""
    return [
        {
            "what": what,
            "times": [milliseconds(m.at) for m in marks if m.what == what],
            "hint": _hint(what, facts),
        }
        for what in (*MARKS, FINISHED)
    ]


def stamp_rows(marks: Sequence[Stamp]) -> list[dict[str, Any]]:
    """The times so far, in order, each with the minutes since the one before."""
    rows: list[dict[str, Any]] = []
    before: datetime | None = None
    for mark in sorted(marks, key=lambda m: m.at):
        gap = "" if before is None else _after(mark.at - before)
        rows.append(
            {
                "id": mark.id,
                "what": mark.what,
                "at": milliseconds(mark.at),
                "after": gap,
            }
        )
        before = mark.at
    return rows


def moved_to(at: datetime, clock: str) -> datetime | None:
    """The moment with other hours and minutes, at most half a day away."""
    hours, _, minutes = clock.strip().replace(".", ":").partition(":")
    if not (hours.isdecimal() and minutes.isdecimal()):
        return None
    if int(hours) > 23 or int(minutes) > 59:
        return None
    local = at.astimezone()
    moved = local.replace(hour=int(hours), minute=int(minutes), second=0, microsecond=0)
    for days in (-1, 0, 1):
        near = moved + timedelta(days=days)
        if abs(near - local) <= timedelta(hours=12):
            return near.astimezone(UTC)
    return moved.astimezone(UTC)


def milliseconds(at: datetime) -> int:
    """A moment as a browser counts it."""
    return round(at.timestamp() * 1000)


def _ended(mark: Stamp, marks: Iterable[Stamp]) -> bool:
    ends = (*_ENDS.get(mark.what, (FINISHED,)), f"{mark.what}: done")
    return any(m.what in ends and m.at >= mark.at and m.id != mark.id for m in marks)


def _span(marks: Sequence[Stamp], first: str, lasts: tuple[str, ...]) -> float | None:
    starts = [m.at for m in marks if m.what == first]
    if not starts:
        return None
    start = min(starts)
    ends = [m.at for m in marks if m.what in lasts and m.at >= start]
    if not ends:
        return None
    minutes = (min(ends) - start).total_seconds() / 60
    return round(minutes, 0 if minutes >= _FIRST_CLEAR_MIN else 1)


def _hint(what: str, facts: Mapping[str, Any]) -> str:
    name = _PLANNED.get(what, "")
    minutes = facts.get(name)
    return f"plan {minutes:g} {FACTS_BY_NAME[name].unit}" if minutes else ""


def _after(gap: timedelta) -> str:
    minutes = gap.total_seconds() / 60
    if minutes >= 600:
        return f"{minutes / 60:.1f} h later"
    return f"{minutes:.0f} min later"
