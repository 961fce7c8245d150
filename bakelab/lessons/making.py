"""Making items: any family, any seed, the same seed the same item."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache

from bakelab.errors import BakelabError
from bakelab.lessons.drafting import Draw, finished
from bakelab.lessons.families import FAMILIES, Maker
from bakelab.lessons.item import Family, Item

__all__ = ["LEVELS", "families", "family", "follow_up", "make"]

LEVELS = (1, 2, 3)
_MOST_TRIES = 50


def families() -> tuple[Family, ...]:
    """Every family, in the order of the lessons."""
    return tuple(one for one, _ in FAMILIES)


def family(key: str) -> Family:
    """The family of a key.

    Raises
    ------
    BakelabError
        If there is none; names the closest ones.
    """
    return _maker(key)[0]


def make(family_key: str, seed: int, *, level: int | None = None) -> Item:
    """An exercise of a family; the same arguments make the same exercise.

    Parameters
    ----------
    family_key : str
        A key of :func:`families`.
    seed : int
    level : {1, 2, 3}, optional
        From easy to hard; drawn by the seed if not given.

    Raises
    ------
    BakelabError
        If there is no such family or level.

    Examples
    --------
    >>> item = make("percent_to_weight", 7, level=1)
    >>> item.unit, len(item.hints)
    ('g', 3)
    """
    maker = _maker(family_key)[1]
    if level is None:
        level = Draw(f"{family_key} {seed} level").pick(LEVELS)
    if level not in LEVELS:
        raise BakelabError(f"got level {level!r}; choose 1, 2 or 3")
    for attempt in range(_MOST_TRIES):
        draft = maker(Draw(f"{family_key} {seed} {level} {attempt}"), level)
        item = finished(draft, family=family_key, seed=seed, level=level)
        if item is not None:
            return item
    raise BakelabError(
        f"no exercise of {family_key} came out of seed {seed}; try another seed"
    )


def follow_up(item: Item) -> Item | None:
    """The exercise that computes what was estimated, or None."""
    return make(item.then, item.seed, level=item.level) if item.then else None


def _maker(key: str) -> tuple[Family, Maker]:
    try:
        return _makers()[key]
    except KeyError:
        close = difflib.get_close_matches(key, _makers(), n=3, cutoff=0.4)
        hint = f"closest: {', '.join(close)}" if close else "families() lists them all"
        raise BakelabError(f"no exercise family {key!r}; {hint}") from None


@cache
def _makers() -> Mapping[str, tuple[Family, Maker]]:
    return {one.key: (one, maker) for one, maker in FAMILIES}
