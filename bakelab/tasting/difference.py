"""Triangle, duo-trio and one-sided paired tests by the exact binomial."""

from dataclasses import dataclass
from math import comb

from bakelab.errors import BakelabError

__all__ = ["Difference", "evaluate", "needed_correct", "tasters_needed"]

_CHANCE = {"triangle": 1 / 3, "duo-trio": 1 / 2, "paired": 1 / 2}


@dataclass(frozen=True)
class Difference:
    """The answer of one test: counts, exact chance of so many, plain verdict."""

    test: str
    tasters: int
    correct: int
    p_value: float
    needed: int | None
    missed_share: float | None
    verdict: str


def needed_correct(test: str, tasters: int, *, alpha: float = 0.05) -> int | None:
    """Fewest right answers that show a difference, None if no count can.

    References
    ----------
    FAO Fisheries Technical Paper 348 (Huss 1995), appendix A (triangle);
    ISO 10399 and ISO 5495, table A.1 (p = 1/2).
    """
    chance = _chance(test)
    _require(tasters >= 1, f"got {tasters} tasters; a test needs at least 1")
    _require(0 < alpha < 1, f"got a risk of {alpha}; give one between 0 and 1")
    least = range(tasters + 1)
    return next((k for k in least if _tail(k, tasters, chance) <= alpha), None)


def tasters_needed(
    test: str, *, share: float, alpha: float = 0.05, beta: float = 0.2
) -> int:
    """Fewest tasters that find a `share` of people who taste the difference.

    `alpha` is the risk of a false find, `beta` that of missing the difference.
    """
    _require(0.05 <= share <= 1, f"got a share of {share}; give one from 0.05 to 1")
    _require(0 < beta < 1, f"got a risk of {beta}; give one between 0 and 1")
    for tasters in range(1, 501):
        if _power(test, tasters, share, alpha) >= 1 - beta:
            return tasters
    raise BakelabError("more than 500 tasters are needed; allow a larger risk")


def evaluate(
    test: str, *, tasters: int, correct: int, alpha: float = 0.05
) -> Difference:
    """Judge a test that was held; `missed_share` could be missed 1 time in 5."""
    needed = needed_correct(test, tasters, alpha=alpha)
    _require(
        0 <= correct <= tasters,
        f"got {correct} right answers; with {tasters} tasters give 0 to {tasters}",
    )
    chance = _tail(correct, tasters, _chance(test))
    shares = (step / 100 for step in range(1, 101))
    missed = next((s for s in shares if _power(test, tasters, s, alpha) >= 0.8), None)
    verdict = _verdict(tasters, correct, chance, alpha, missed)
    return Difference(test, tasters, correct, chance, needed, missed, verdict)


def _verdict(
    tasters: int, correct: int, chance: float, alpha: float, missed: float | None
) -> str:
    counts = f"{correct} of {tasters} tasters were right (chance {chance:.3g})"
    if chance <= alpha:
        return f"A difference is shown: {counts}. It says nothing of which is better."
    if missed is None:
        return f"No difference shown: {counts}. So few tasters can miss any difference."
    return (
        f"No difference shown: {counts}. One that fewer than {missed:.0%} of people "
        "can taste could well have been missed; this does not show they are the same."
    )


def _power(test: str, tasters: int, share: float, alpha: float) -> float:
    needed = needed_correct(test, tasters, alpha=alpha)
    chance = _chance(test)
    right = share + (1 - share) * chance
    return 0.0 if needed is None else _tail(needed, tasters, right)


def _tail(least: int, n: int, p: float) -> float:
    return sum(comb(n, k) * p**k * (1 - p) ** (n - k) for k in range(least, n + 1))


def _chance(test: str) -> float:
    _require(test in _CHANCE, f"got the test {test!r}; choose from {list(_CHANCE)}")
    return _CHANCE[test]


def _require(holds: bool, message: str) -> None:
    if not holds:
        raise BakelabError(message)
