"""Making items: any family, any seed, the same seed the same item."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache

from bakelab.errors import BakelabError
from bakelab.lessons.drafting import Draft, Draw, finished
from bakelab.lessons.estimating import ESTIMATED, estimate_of
from bakelab.lessons.families import ESTIMATE, FAMILIES, MAKERS
from bakelab.lessons.item import Family, Item

__all__ = ["LEVELS", "families", "family", "follow_up", "make"]

LEVELS = (1, 2, 3)
_MOST_TRIES = 50
_LEAST_TO_ESTIMATE = 2


def families() -> tuple[Family, ...]:
    """Every family, in the order of the lessons."""
    return FAMILIES


def family(key: str) -> Family:
    """The family of a key.

    Raises
    ------
    BakelabError
        If there is none; names the closest ones.
    """
    try:
        return _by_key()[key]
    except KeyError:
        close = difflib.get_close_matches(key, _by_key(), n=3, cutoff=0.4)
        hint = f"closest: {', '.join(close)}" if close else "families() lists them all"
        raise BakelabError(f"no exercise family {key!r}; {hint}") from None


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
    family(family_key)
    if level is None:
        level = Draw(f"{family_key} {seed} level").pick(LEVELS)
    if level not in LEVELS:
        raise BakelabError(f"got level {level!r}; choose 1, 2 or 3")
    for attempt in range(_MOST_TRIES):
        draft = _draft(family_key, seed, level, attempt)
        item = finished(draft, family=family_key, seed=seed, level=level)
        if item is not None:
            return item
    raise BakelabError(
        f"no exercise of {family_key} came out of seed {seed}; try another seed"
    )


def follow_up(item: Item) -> Item | None:
    """The exercise that computes what was estimated, or None."""
    return make(item.then, item.seed, level=item.level) if item.then else None


def _draft(key: str, seed: int, level: int, attempt: int) -> Draft:
    draw = Draw(f"{key} {seed} {level} {attempt}")
    if key == ESTIMATE:
        return estimate_of(_to_estimate(draw, seed, level))
    return MAKERS[key](draw, level)


def _to_estimate(draw: Draw, seed: int, level: int) -> Item:
    """An exercise whose answer is large enough to have a feeling for."""
    keys = draw.some(tuple(ESTIMATED), len(ESTIMATED))
    for key in keys:
        item = make(key, seed, level=level)
        if not item.is_choice and item.answer_value >= _LEAST_TO_ESTIMATE:
            return item
    return make("percent_to_weight", seed, level=level)


@cache
def _by_key() -> Mapping[str, Family]:
    return {one.key: one for one in FAMILIES}
