"""What takes a dough past a usual band without a slip: soaked grain, a named sweet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from bakelab.checking.printed import Interval
from bakelab.checking.shares import Part, exact_band
from bakelab.ingredients import find_ingredient, ingredient, is_ingredient
from bakelab.reading import Line

__all__ = ["hydration_of_the_flour", "is_named_in_title"]

_DRY_PCT = 15.0  # of water; grain, bran and seeds are drier; our own
_FIBRE_PCT = 4.0  # fibre takes up water; dried fruit sugar does not; our own
_FAT_PCT = 45.0  # nuts and seeds fatter than this hardly take up water; our own
_LONGEST_TITLE = 12  # words of a title that are looked at
_NAMED_ROLES = ("sweetener", "fat")


def hydration_of_the_flour(parts: Sequence[Part]) -> Interval:
    """Water that the flour itself may have, percent of flour and soaked grain.

    The usual bands are of doughs from flour and water. Chopped grain, oats, bran
    and lean seeds drink as flour does and count as flour here; what is bound in a
    potato, a vegetable or a fruit is no water of the dough. A rule of our own, to
    tell a dough with additions from a slip: it only lowers the hydration.
    """
    return exact_band([_allowed(part) for part in parts], "hydration")


def _allowed(part: Part) -> Part:
    if part.role != "inclusion" or not is_ingredient(part.line.ingredient):
        return part
    item = ingredient(part.line.ingredient)
    lean = item.fibre_g >= _FIBRE_PCT and item.fat_g <= _FAT_PCT
    drinks = item.water_g <= _DRY_PCT and lean
    return replace(part, water=0.0, flour=1.0 if drinks else part.flour)


def is_named_in_title(title: str, lines: Sequence[Line]) -> bool:
    """Whether a title names a sweetener or fat of the dough: `Treacle rye`."""
    named = _named(title)
    return any(
        line.role in _NAMED_ROLES and line.ingredient.split("_")[0] in named
        for line in lines
    )


@lru_cache(maxsize=256)
def _named(title: str) -> frozenset[str]:
    """First words of the keys of all ingredients that a title names."""
    words = title.split()[:_LONGEST_TITLE]
    grams = {" ".join(words[i:j]) for i in range(len(words))
             for j in range(i + 1, min(i + 3, len(words)) + 1)}  # fmt: skip
    found = (find_ingredient(gram) for gram in grams)
    return frozenset(match.key.split("_")[0] for match in found if match is not None)
