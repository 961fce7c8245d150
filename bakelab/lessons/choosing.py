"""Which exercise comes next: what is due, else the edge of what is mastered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from bakelab.lessons.item import Family, Item
from bakelab.lessons.making import families, make
from bakelab.lessons.standing import Answer, Standing

__all__ = ["Next", "choose_next"]

_EDGE = 2
_ENOUGH = 10  # our own, no source
_NEVER = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True)
class Next:
    """The next exercise, and in one sentence why it was chosen."""

    item: Item
    why: str


def choose_next(
    answers: Sequence[Answer],
    found: Mapping[str, Standing],
    at: datetime,
    lesson: int | None = None,
) -> Next:
    """The next exercise.

    Parameters
    ----------
    answers, found
        What was answered, and how the student stands in every family.
    at : datetime
        Now.
    lesson : int, optional
        Only families of this lesson.
    """
    known = [f for f in families() if lesson in (None, f.lesson)] or families()
    last = answers[-1].family if answers else ""
    key, why = _chosen(known, found, at, last)
    used = {a.seed for a in answers if a.family == key}
    seed = next(n for n in range(1, len(used) + 2) if n not in used)
    return Next(make(key, seed, level=found[key].level), why)


def _chosen(
    known: Iterable[Family], found: Mapping[str, Standing], at: datetime, last: str
) -> tuple[str, str]:
    names = {f.key: f.title for f in known}
    stands = [found[key] for key in names]
    due = [s for s in stands if s.due is not None and s.due <= at and s.family != last]
    if due:
        key = min(due, key=lambda s: s.due or _NEVER).family
        return key, f"“{names[key]}” comes back today, so that it stays with you."
    edge = _edge(stands)
    if edge:
        one = next((s for s in edge if s.family != last), edge[0])
        return one.family, _edge_words(one, names[one.family])
    one = min(stands, key=lambda s: (s.family == last, s.mastery))
    return one.family, f"Everything here is mastered; “{names[one.family]}” once more."


def _edge(stands: Sequence[Standing]) -> Sequence[Standing]:
    """The first families that are not mastered; what was tried often waits.

    A family that does not come right in ten tries makes room for the next
    ones and comes back on its day.
    """
    still = [s for s in stands if not s.is_mastered]
    fresh = [s for s in still if s.tries < _ENOUGH]
    return fresh[:_EDGE] or sorted(still, key=lambda s: -s.mastery)[:_EDGE]


def _edge_words(one: Standing, name: str) -> str:
    if not one.tries:
        return f"New: “{name}”."
    in_ten = min(max(round(10 * one.mastery), 1), 9)
    return f"“{name}” goes on: so far about {in_ten} in 10 would be right."
