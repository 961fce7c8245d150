"""Serving orders: balanced, drawn by a seed, coded; the key kept apart."""

import random
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.errors import BakelabError
from bakelab.tasting.kinds import MOST_RANKED, kind_of

__all__ = ["Serving", "balance_words", "serving_orders", "serving_plan"]

_ORDERS = {
    "triangle": ("AAB", "ABA", "BAA", "ABB", "BAB", "BBA"),
    "duo-trio": ("AAB", "ABA", "BAB", "BBA"),
    "paired": ("AB", "BA"),
    "paired two-sided": ("AB", "BA"),
}
_CODES = 900  # 100 to 999
_LETTERS = "ABCDEFGH"


@dataclass(frozen=True)
class Serving:
    """What one taster gets: codes and allergen line, never the sample names.

    The codes stand in the order of serving. In a duo-trio the first is the
    reference.
    """

    taster: int
    codes: tuple[str, ...]
    allergens: str


def serving_orders(
    test: str, *, samples: int = 2, reference: str = ""
) -> tuple[str, ...]:
    """The orders that balance a test: letters of the samples, first served first.

    In a ranking they form a square in which every sample stands in every place
    equally often and follows every other one equally often; of an odd number of
    samples two squares are needed [1]_.

    Parameters
    ----------
    test : str
        One of `TESTS`.
    samples : int
        How many are ranked; every other test compares two.
    reference : str
        In a duo-trio, ``"A"`` or ``"B"`` for one that is always the reference; by
        default they take turns.

    References
    ----------
    .. [1] E. J. Williams, Experimental designs balanced for the estimation of
       residual effects of treatments, Australian Journal of Scientific Research
       A 2 (1949), pp. 149-168.

    Examples
    --------
    >>> serving_orders("ranking", samples=4)
    ('ABDC', 'BCAD', 'CDBA', 'DACB')
    """
    if kind_of(test).ranks:
        if not (isinstance(samples, int) and 3 <= samples <= MOST_RANKED):
            raise BakelabError(
                f"got {samples} samples; a ranking takes 3 to {MOST_RANKED}, and two "
                "are compared in a paired test"
            )
        return _square(samples)
    if samples != 2:
        raise BakelabError(
            f"this test compares 2 samples, got {samples}; a ranking takes more"
        )
    orders = _ORDERS[test]
    if test == "duo-trio" and reference:
        orders = tuple(order for order in orders if order[0] == reference)
    return orders


def serving_plan(
    test: str,
    *,
    tasters: int,
    seed: int,
    allergens: Sequence[str] = (),
    samples: int = 2,
    reference: str = "",
) -> tuple[tuple[Serving, ...], dict[str, str]]:
    """Slips for all tasters, and apart from them the key from code to sample.

    Each order is served equally often when `tasters` is a multiple of their
    number, else as nearly so as can be. No code stands twice in a tasting.
    """
    orders = serving_orders(test, samples=samples, reference=reference)
    _require_codes(tasters, len(orders[0]))
    chance = random.Random(seed)
    if kind_of(test).ranks:
        orders = _renamed(orders, chance)
    served = [order for _ in range(-(-tasters // len(orders))) for order in orders]
    last = len(served) - len(orders)
    served[last:] = chance.sample(orders, len(orders))
    served = served[:tasters]
    chance.shuffle(served)
    codes = iter(chance.sample(range(100, 1000), _CODES))
    named = [[(str(next(codes)), sample) for sample in order] for order in served]
    line = _allergen_line(allergens)
    slips = tuple(
        Serving(taster, tuple(code for code, _ in row), line)
        for taster, row in enumerate(named, start=1)
    )
    return slips, {code: sample for row in named for code, sample in row}


def balance_words(orders: int, tasters: int) -> str:
    """How evenly a number of orders falls on a number of tasters.

    Examples
    --------
    >>> balance_words(6, 12)
    'Each of the 6 serving orders is used 2 times.'
    """
    times, over = divmod(tasters, orders)
    verb = "is" if over == 1 else "are"
    if over == 0:
        how_often = "once" if times == 1 else f"{times} times"
        return f"Each of the {orders} serving orders is used {how_often}."
    fuller = (times + 1) * orders
    return (
        f"{over} of the {orders} serving orders {verb} used once more than the others; "
        f"{fuller} tasters would use each {times + 1} times."
        if times
        else f"Only {over} of the {orders} serving orders {verb} used; {orders} "
        "tasters would use each once."
    )


def _require_codes(tasters: int, each: int) -> None:
    most = _CODES // each
    if not (isinstance(tasters, int) and 1 <= tasters <= most):
        raise BakelabError(
            f"got {tasters} tasters; three-digit codes serve 1 to {most} with "
            f"{each} samples each"
        )


def _square(samples: int) -> tuple[str, ...]:
    """Rows of a square by Williams; for an odd number, and those backwards."""
    first, low, high = [0], 1, samples - 1
    while low <= high:
        first.append(low)
        if high > low:
            first.append(high)
        low, high = low + 1, high - 1
    rows = [[(place + step) % samples for place in first] for step in range(samples)]
    if samples % 2:
        rows += [row[::-1] for row in rows]
    return tuple("".join(_LETTERS[place] for place in row) for row in rows)


def _renamed(orders: Sequence[str], chance: random.Random) -> tuple[str, ...]:
    """Letters dealt to the square at random, so that no seed favours a sample."""
    letters = _LETTERS[: len(orders[0])]
    table = str.maketrans(letters, "".join(chance.sample(letters, len(letters))))
    return tuple(order.translate(table) for order in orders)


def _allergen_line(allergens: Sequence[str]) -> str:
    if not allergens:
        return "Allergens: not stated; ask before you taste."
    return f"Contains {', '.join(allergens)}; ask before you taste if unsure."
