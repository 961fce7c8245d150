"""Showing that few people taste a difference: the other question of the same tests.

A test that finds no difference shows nothing. To show likeness, the share of people
who may taste it is named beforehand, and the right answers have to stay so few that
such a share can be left out.
"""

from dataclasses import dataclass
from functools import lru_cache

from bakelab.errors import BakelabError
from bakelab.tasting.difference import evaluate, risks, tails
from bakelab.tasting.kinds import kind_of
from bakelab.tasting.words import chance_words, percent, tasters_words

__all__ = [
    "AIMS",
    "Likeness",
    "evaluate_likeness",
    "likeness_power",
    "likeness_tasters",
    "most_correct",
]

AIMS = ("difference", "likeness")
"""What a test is planned to show."""

_MOST = 1000
_EQUAL = 1 + 1e-11


@dataclass(frozen=True)
class Likeness:
    """The answer of a test that was planned to show likeness.

    Attributes
    ----------
    test : str
    tasters, correct : int
    most : int or None
        Most right answers that show it; None if no count does.
    risk : float
        Exact chance of so few if just `share` of people taste the difference.
    high_share : float
        Highest share of people that the answers leave room for, at the risk beta.
    share, alpha, beta : float
    difference_shown : bool
        Whether the same answers show a difference, at the risk alpha.
    verdict : str
    """

    test: str
    tasters: int
    correct: int
    most: int | None
    risk: float
    high_share: float
    share: float
    alpha: float
    beta: float
    difference_shown: bool
    verdict: str

    @property
    def shown(self) -> bool:
        """Whether likeness is shown at the risk that was chosen."""
        return self.most is not None and self.correct <= self.most


def most_correct(
    test: str, tasters: int, *, share: float, beta: float = 0.05
) -> int | None:
    """Most right answers that show that fewer than `share` taste a difference.

    None if no count does, or only fewer than guessing gives on average, which the
    standards leave out.

    References
    ----------
    ISO 4120 and ISO 10399, testing for similarity; numbers of ISO 5495 table A.3 as
    in GOST R 53161-2008.
    """
    _require(test, share)
    risks(beta)
    chance = kind_of(test).chance
    above = tails(tasters, share + (1 - share) * chance)
    few = [k for k in range(tasters) if 1 - above[k + 1] <= beta * _EQUAL]
    return few[-1] if few and few[-1] >= tasters * chance else None


def likeness_power(
    test: str, tasters: int, *, share: float, truly: float = 0.0, beta: float = 0.05
) -> float:
    """Chance to show likeness where a share `truly` of people taste it."""
    most = most_correct(test, tasters, share=share, beta=beta)
    if most is None:
        return 0.0
    chance = kind_of(test).chance
    return 1 - tails(tasters, truly + (1 - truly) * chance)[most + 1]


def likeness_tasters(
    test: str, *, share: float, alpha: float = 0.2, beta: float = 0.05
) -> int:
    """Fewest tasters that show likeness with a chance of 1 - alpha if none tastes it.

    Raises
    ------
    BakelabError
        If more than 1000 are needed, or a number is out of range.
    """
    _require(test, share)
    risks(alpha, beta)
    return _tasters(test, share, alpha, beta)


def evaluate_likeness(
    test: str,
    *,
    tasters: int,
    correct: int,
    share: float,
    alpha: float = 0.2,
    beta: float = 0.05,
) -> Likeness:
    """Judge a test that was planned to show likeness.

    Parameters
    ----------
    test : {"triangle", "duo-trio"}
    tasters, correct : int
    share : float
        Of people who may taste the difference, named beforehand.
    alpha : float
        Risk of not showing likeness though nobody tastes a difference.
    beta : float
        Risk of showing likeness though `share` taste one.

    Examples
    --------
    >>> evaluate_likeness("triangle", tasters=60, correct=20, share=0.3).shown
    True
    """
    most = most_correct(test, tasters, share=share, beta=beta)
    plain = evaluate(test, tasters=tasters, correct=correct, alpha=alpha, beta=beta)
    chance = kind_of(test).chance
    risk = 1 - tails(tasters, share + (1 - share) * chance)[correct + 1]
    high = _high_share(test, tasters, correct, beta)
    found = Likeness(
        test, tasters, correct, most, risk, high, share, alpha, beta, plain.shown, ""
    )
    return Likeness(**{**found.__dict__, "verdict": _sentence(found)})


def _sentence(found: Likeness) -> str:
    counts = f"{found.correct} of {tasters_words(found.tasters)} were right"
    share = percent(found.share)
    if found.shown:
        return (
            f"Alike enough is shown: {counts}, so few that fewer than {share} of "
            f"people taste a difference. If {share} did, so few would be right in "
            f"{chance_words(found.risk)} of tastings."
        )
    room = (
        "so few tasters cannot show it, whatever they answer"
        if found.most is None
        else f"{found.most} at most would show it"
    )
    end = (
        "A difference is shown instead."
        if found.difference_shown
        else "This shows no difference either."
    )
    return f"Not shown to be alike: {counts}, and {room}. {end}"


def _high_share(test: str, tasters: int, correct: int, beta: float) -> float:
    """One-sided upper limit of Clopper and Pearson, as a share of people."""
    from scipy.special import betaincinv  # type: ignore[import-untyped]

    if correct == tasters:
        return 1.0
    high = float(betaincinv(correct + 1, tasters - correct, 1 - beta))
    chance = kind_of(test).chance
    return max(0.0, (high - chance) / (1 - chance))


@lru_cache(maxsize=256)
def _tasters(test: str, share: float, alpha: float, beta: float) -> int:
    for tasters in range(1, _MOST + 1):
        found = likeness_power(test, tasters, share=share, beta=beta)
        if found >= 1 - alpha:
            return tasters
    raise BakelabError(
        f"more than {_MOST} tasters are needed; allow a larger risk, or that more "
        "people taste it"
    )


def _require(test: str, share: float) -> None:
    if test not in ("triangle", "duo-trio"):
        raise BakelabError(
            f"got the test {test!r}; likeness is shown by a triangle or a duo-trio"
        )
    if not 0.05 <= share < 1:
        raise BakelabError(f"got a share of {share}; give one from 0.05 to below 1")
