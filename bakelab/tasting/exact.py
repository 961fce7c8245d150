"""Exact chances of rank sums if nobody can tell the samples apart.

Every taster's ranks, ties as they are, then fall on the samples in any order alike.
The sums of many tasters are built up taster by taster; sums that differ only in
which sample is which are counted together, so that few states are left.
"""

import math
from collections import Counter
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["exact_cost", "pair_chance", "spread_chance", "trend_chance"]

Row = tuple[int, ...]
"""Doubled ranks of one taster, smallest first; doubled, so that ties are whole."""

_CHUNK = 4_000_000


def exact_cost(rows: Sequence[Row]) -> float:
    """About how many sums `spread_chance` has to look at; 10 million take a second.

    The sums of n tasters lie in a body whose volume counts them: n^(k-1) k^(k-2),
    and k! of them differ only in which sample is which.
    """
    k = len(rows[0])
    step = 1 if any(value % 2 for row in rows for value in row) else 2
    fine = (2 / step) ** (k - 1)
    orders = max(_orders_count(row) for row in rows)
    states = (
        fine * n ** (k - 1) * k ** (k - 2) / math.factorial(k)
        for n in range(1, len(rows))
    )
    return float(orders * sum(1 + count for count in states))


def spread_chance(rows: Sequence[Row], least_squares: int) -> float:
    """Chance that the doubled rank sums squared add up to `least_squares` or more.

    Parameters
    ----------
    rows : sequence of Row
        All of one length.
    least_squares : int
        Sum of the squares of the doubled rank sums that were seen.
    """
    import numpy as np

    *most, last = sorted(rows)
    states = np.zeros((1, len(last)), dtype=np.int64)
    chances = np.ones(1)
    for row in most:
        states, chances = _with_taster(states, chances, _orders(row))
    far = 0.0
    orders = _orders(last)
    for part in _parts(len(states), len(orders)):
        own = (states[part] ** 2).sum(axis=1)[:, None]
        total = own + 2 * states[part] @ orders.T + (orders[0] ** 2).sum()
        far += float(chances[part] @ (total >= least_squares).mean(axis=1))
    return min(1.0, far)


def trend_chance(rows: Sequence[Row], weights: Sequence[int], least: int) -> float:
    """Chance that the weighted sum of the doubled rank sums is `least` or more."""
    return _sum_chance([_scores(row, tuple(weights)) for row in rows], least)


def pair_chance(rows: Sequence[Row], apart: int) -> float:
    """Chance that two samples named beforehand lie `apart` or more, either way."""
    gaps = [_gaps(row) for row in rows]
    if apart <= 0:
        return 1.0
    return min(1.0, 2 * _sum_chance(gaps, apart))


def _with_taster(
    states: "NDArray[Any]", chances: "NDArray[Any]", orders: "NDArray[Any]"
) -> tuple["NDArray[Any]", "NDArray[Any]"]:
    """Sorted sums after one more taster, each with its chance."""
    import numpy as np

    base = int(states.max() + orders.max()) + 1
    radix = base ** np.arange(states.shape[1], dtype=np.int64)
    codes = np.empty(0, dtype=np.int64)
    weights: NDArray[Any] = np.empty(0)
    for part in _parts(len(states), len(orders)):
        moved = (states[part][:, None, :] + orders[None]).reshape(-1, states.shape[1])
        moved.sort(axis=1)
        codes = np.concatenate([codes, moved @ radix])
        share = np.repeat(chances[part] / len(orders), len(orders))
        weights = np.concatenate([weights, share])
        codes, which = np.unique(codes, return_inverse=True)
        weights = np.bincount(which, weights)
    return codes[:, None] // radix % base, weights


def _parts(count: int, each: int) -> list[slice]:
    step = max(1, _CHUNK // each)
    return [slice(start, start + step) for start in range(0, count, step)]


@cache
def _orders(row: Row) -> "NDArray[Any]":
    """Every different order of a taster's ranks; all are equally likely."""
    import numpy as np

    found: list[Row] = [()]
    for _ in row:
        found = [
            (*order, value)
            for order in found
            for value in dict.fromkeys(row)
            if order.count(value) < row.count(value)
        ]
    return np.array(found, dtype=np.int64)


def _orders_count(row: Row) -> int:
    ties = math.prod(math.factorial(n) for n in Counter(row).values())
    return math.factorial(len(row)) // ties


@cache
def _scores(row: Row, weights: tuple[int, ...]) -> "tuple[int, NDArray[np.float64]]":
    """Lowest weighted sum of one taster, and the chance of each from there up."""
    return _chances((_orders(row) @ list(weights)).tolist())


@cache
def _gaps(row: Row) -> "tuple[int, NDArray[np.float64]]":
    """The same of the difference between two samples."""
    pairs = [a - b for i, a in enumerate(row) for j, b in enumerate(row) if i != j]
    return _chances(pairs)


def _chances(values: Sequence[int]) -> "tuple[int, NDArray[np.float64]]":
    import numpy as np

    low = min(values)
    counts = np.bincount([value - low for value in values]).astype(np.float64)
    return low, counts / counts.sum()


def _sum_chance(
    parts: "Sequence[tuple[int, NDArray[np.float64]]]", least: int
) -> float:
    import numpy as np

    low = 0
    chances: NDArray[np.float64] = np.ones(1)
    for start, more in parts:
        low, chances = low + start, np.convolve(chances, more)
    return float(min(1.0, chances[max(0, least - low) :].sum()))
