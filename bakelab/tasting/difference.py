"""Triangle, duo-trio and paired tests by the exact binomial."""

import math
from dataclasses import dataclass
from functools import lru_cache

from bakelab.errors import BakelabError
from bakelab.tasting.kinds import TestKind, kind_of

__all__ = [
    "Difference",
    "evaluate",
    "needed_correct",
    "power",
    "risks",
    "tails",
    "tasters_needed",
]

_MOST = 1000
_EQUAL = 1 + 1e-11  # a chance that equals the risk counts as within it


@dataclass(frozen=True)
class Difference:
    """The answer of one test.

    Attributes
    ----------
    test : str
    tasters, correct : int
        In the two-sided paired test, those who chose the first sample.
    p_value : float
        Exact chance of as many if everybody guessed; both ways if two-sided.
    needed : int or None
        Fewest right answers that show a difference; None if no count can.
    low_share, high_share : float
        Share of people who taste the difference: the band of the answer, by
        Clopper and Pearson; negative in the two-sided test where the second
        sample was chosen.
    missed_share : float or None
        The smallest share that would have been found with a chance of 1 - beta.
    alpha, beta : float
    verdict : str
        The same in plain words.
    """

    test: str
    tasters: int
    correct: int
    p_value: float
    needed: int | None
    low_share: float
    high_share: float
    missed_share: float | None
    alpha: float
    beta: float
    verdict: str

    @property
    def shown(self) -> bool:
        """Whether a difference is shown at the risk that was chosen."""
        return self.p_value <= self.alpha * _EQUAL


def needed_correct(test: str, tasters: int, *, alpha: float = 0.05) -> int | None:
    """Fewest right answers that show a difference, None if no count can.

    In the two-sided paired test: the fewest who choose one and the same sample.

    References
    ----------
    FAO Fisheries Technical Paper 348 (Huss 1995), appendix A (triangle);
    ISO 10399 and ISO 5495, table A.1 (p = 1/2).
    """
    kind = _compared(test)
    _require_tasters(tasters)
    risks(alpha)
    chances = tails(tasters, kind.chance)
    risk = alpha * _EQUAL / (2 if kind.two_sided else 1)
    return next((k for k in range(tasters + 1) if chances[k] <= risk), None)


def power(test: str, tasters: int, *, share: float, alpha: float = 0.05) -> float:
    """Chance that the test shows a difference which `share` of people taste.

    The others guess: the chance of a right answer is ``share + (1 - share) g``
    with g the chance of guessing right.
    """
    kind = _compared(test)
    needed = needed_correct(test, tasters, alpha=alpha)
    if needed is None:
        return 0.0
    right = share + (1 - share) * kind.chance
    found = tails(tasters, right)[needed]
    if kind.two_sided:
        found += tails(tasters, 1 - right)[needed]
    return min(1.0, found)


def tasters_needed(
    test: str,
    *,
    share: float,
    alpha: float = 0.05,
    beta: float = 0.2,
    steady: bool = False,
) -> int:
    """Fewest tasters that find a `share` of people who taste the difference.

    Parameters
    ----------
    test : str
        One of `TESTS` but ranking.
    share : float
        Of people who taste the difference, 0.05 to 1.
    alpha, beta : float
        Risk of finding a difference that is not there, and of missing one.
    steady : bool
        The chance moves in steps, and one more taster can lower it. With
        ``steady=True``, the number from which on it never falls short again.

    Raises
    ------
    BakelabError
        If a number is outside its range, or more than 1000 tasters are needed.
    """
    if not 0.05 <= share <= 1:
        raise BakelabError(f"got a share of {share}; give one from 0.05 to 1")
    risks(alpha, beta)
    return _tasters(test, share, alpha, beta, steady)


def evaluate(
    test: str, *, tasters: int, correct: int, alpha: float = 0.05, beta: float = 0.2
) -> Difference:
    """Judge a test that was held.

    Parameters
    ----------
    test : str
        One of `TESTS` but ranking.
    tasters, correct : int
        All answers, and the right ones; in a paired test, the answers for the
        expected (one-sided) or the first sample (two-sided).
    alpha, beta : float
        Risk of finding a difference that is not there, and of missing one.

    Raises
    ------
    BakelabError
        If a number is outside its range.
    """
    from bakelab.tasting.words import difference_sentence

    needed = needed_correct(test, tasters, alpha=alpha)
    risks(alpha, beta)
    if not (_is_whole(correct) and 0 <= correct <= tasters):
        raise BakelabError(
            f"got {correct} right answers; with {tasters} tasters give 0 to {tasters}"
        )
    chance = _chance(test, tasters, correct)
    low, high = _band(test, tasters, correct, alpha)
    missed = _missed(test, tasters, alpha, beta)
    found = Difference(
        test, tasters, correct, chance, needed, low, high, missed, alpha, beta, ""
    )
    return Difference(**{**found.__dict__, "verdict": difference_sentence(found)})


def risks(*values: float) -> None:
    """Refuse risks that are no chances."""
    for value in values:
        if not 0 < value < 1:
            raise BakelabError(f"got a risk of {value}; give one between 0 and 1")


@lru_cache(maxsize=4096)
def tails(n: int, p: float) -> tuple[float, ...]:
    """Chance of k or more out of n at a chance p each, for every k from 0 to n + 1."""
    if p <= 0 or p >= 1:
        return tuple(float(k <= (n if p >= 1 else 0)) for k in range(n + 2))
    found = [0.0]
    for k in range(n, -1, -1):
        ways = math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)
        log = ways + k * math.log(p) + (n - k) * math.log1p(-p)
        found.append(found[-1] + math.exp(log))
    return tuple(min(1.0, tail) for tail in reversed(found))


def _chance(test: str, tasters: int, correct: int) -> float:
    kind = kind_of(test)
    if kind.two_sided:
        return min(1.0, 2 * tails(tasters, 0.5)[max(correct, tasters - correct)])
    return tails(tasters, kind.chance)[correct]


def _band(test: str, tasters: int, correct: int, alpha: float) -> tuple[float, float]:
    """Limits of the share who taste it, from those of the right answers."""
    from scipy.special import betaincinv  # type: ignore[import-untyped]

    kind = kind_of(test)
    side = alpha / 2
    wrong = tasters - correct
    low = betaincinv(correct, wrong + 1, side) if correct else 0.0
    high = betaincinv(correct + 1, wrong, 1 - side) if wrong else 1.0
    share = [(float(p) - kind.chance) / (1 - kind.chance) for p in (low, high)]
    least = -1.0 if kind.two_sided else 0.0
    return max(least, share[0]), max(least, share[1])


@lru_cache(maxsize=256)
def _missed(test: str, tasters: int, alpha: float, beta: float) -> float | None:
    steps = (step / 100 for step in range(1, 101))
    return next(
        (s for s in steps if power(test, tasters, share=s, alpha=alpha) >= 1 - beta),
        None,
    )


@lru_cache(maxsize=256)
def _tasters(test: str, share: float, alpha: float, beta: float, steady: bool) -> int:
    def enough(tasters: int) -> bool:
        return power(test, tasters, share=share, alpha=alpha) >= 1 - beta

    start = min(_about(test, share, alpha, beta) * 6 // 10, _MOST)
    first = next((n for n in range(max(1, start), _MOST + 1) if enough(n)), None)
    if first is None:
        raise BakelabError(
            f"more than {_MOST} tasters are needed; allow a larger risk, or look for a "
            "difference that more people taste"
        )
    if not steady:
        return first
    ahead = min(first + 10 + first // 2, _MOST + 1)
    return 1 + max((n for n in range(first, ahead) if not enough(n)), default=first - 1)


def _about(test: str, share: float, alpha: float, beta: float) -> int:
    """The number of tasters by the normal distribution; 0 where it is small."""
    from statistics import NormalDist

    kind = kind_of(test)
    guess, right = kind.chance, share + (1 - share) * kind.chance
    normal = NormalDist()
    risk = alpha / 2 if kind.two_sided else alpha
    found = normal.inv_cdf(1 - risk) * math.sqrt(guess * (1 - guess))
    found += normal.inv_cdf(1 - beta) * math.sqrt(right * (1 - right))
    tasters = round((found / (right - guess)) ** 2) if found > 0 else 0
    return tasters if tasters > 60 else 0


def _compared(test: str) -> TestKind:
    kind = kind_of(test)
    if kind.ranks:
        raise BakelabError("a ranking has no right answers; use rank_samples")
    return kind


def _require_tasters(tasters: int) -> None:
    if not (_is_whole(tasters) and 1 <= tasters <= _MOST):
        raise BakelabError(
            f"got {tasters} tasters; a test takes a whole number from 1 to {_MOST}"
        )


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)
