"""Serving orders: balanced, shuffled by a seed, coded; the key kept apart."""

import random
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.errors import BakelabError

__all__ = ["Serving", "serving_plan"]

_ORDERS = {
    "triangle": ("AAB", "ABA", "BAA", "ABB", "BAB", "BBA"),
    "duo-trio": ("AAB", "ABA", "BAB", "BBA"),
    "paired": ("AB", "BA"),
}


@dataclass(frozen=True)
class Serving:
    """What one taster gets: codes and allergen line, never the sample names."""

    taster: int
    codes: tuple[str, ...]
    allergens: str


def serving_plan(
    test: str, *, tasters: int, seed: int, allergens: Sequence[str] = ()
) -> tuple[tuple[Serving, ...], dict[str, str]]:
    """Slips for all tasters, and apart from them the key from code to sample.

    Each order is served equally often when `tasters` is a multiple of their
    number, else as nearly so as can be. In a duo-trio the first is the reference.
    """
    if test not in _ORDERS:
        raise BakelabError(f"got the test {test!r}; choose from {list(_ORDERS)}")
    orders = _ORDERS[test]
    if not 1 <= tasters * len(orders[0]) <= 900:
        raise BakelabError(f"got {tasters} tasters; three-digit codes serve 1 to 300")
    chance = random.Random(seed)
    served = [order for _ in range(-(-tasters // len(orders))) for order in orders]
    last = len(served) - len(orders)
    served[last:] = chance.sample(orders, len(orders))
    served = served[:tasters]
    chance.shuffle(served)
    codes = iter(chance.sample(range(100, 1000), 900))
    named = [[(str(next(codes)), sample) for sample in order] for order in served]
    line = _allergen_line(allergens)
    slips = tuple(
        Serving(taster, tuple(code for code, _ in row), line)
        for taster, row in enumerate(named, start=1)
    )
    return slips, {code: sample for row in named for code, sample in row}


def _allergen_line(allergens: Sequence[str]) -> str:
    if not allergens:
        return "Allergens: not stated; ask before you taste."
    return f"Contains {', '.join(allergens)}; ask before you taste if unsure."
