"""Verdicts in plain words: what is shown, what could be missed, what is not said."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from bakelab.tasting.kinds import kind_of

if TYPE_CHECKING:
    from bakelab.tasting.difference import Difference

__all__ = [
    "chance_words",
    "difference_limits",
    "difference_sentence",
    "listed_names",
    "often",
    "percent",
    "quoted",
    "share_words",
    "tasters_words",
]

_RIGHT = {
    "triangle": "found the odd sample",
    "duo-trio": "matched the reference",
    "paired": "chose the expected sample",
}


def difference_sentence(found: "Difference", samples: Sequence[str] = ()) -> str:
    """Headline of a test for a difference, one to three sentences."""
    counts = _counts(found, samples)
    if found.shown:
        return (
            f"A difference is shown: {counts}. {_says_nothing(found.test)}."
            if not samples
            else f"A difference is shown: {counts}."
        )
    return (
        f"No difference shown with {tasters_words(found.tasters)}: {counts}. "
        + missed(found)
    )


def missed(found: "Difference") -> str:
    """What could have been missed, and that this is no proof of likeness."""
    if found.missed_share is None:
        return (
            "So few tasters can miss any difference, even one that everybody tastes."
            if found.needed is None
            else "So few tasters can miss a difference that nearly everybody tastes."
        )
    return (
        f"One that fewer than {percent(found.missed_share)} of people can taste could "
        f"well have been missed ({often(found.beta)}); this does not show that the "
        "samples are the same."
    )


def difference_limits(found: "Difference", question: str = "") -> tuple[str, ...]:
    """What the verdict of a test for a difference does not say."""
    limits = [f"{_says_nothing(found.test, question)}."]
    if found.shown:
        limits.append(
            "Nor how large the difference is: the band is of the share of people who "
            "taste it, not of how strongly they do."
        )
    else:
        limits.append(
            "To show that samples are alike, plan for it: a small share of people who "
            "taste it, a small risk of missing them, and many more tasters."
        )
    return tuple(limits)


def share_words(found: "Difference", first: str = "the first sample") -> str:
    """The band of the share of people who taste the difference."""
    sure = percent(1 - found.alpha)
    if kind_of(found.test).two_sided:
        votes = [0.5 + share / 2 for share in (found.low_share, found.high_share)]
        return (
            f"{percent(votes[0])} to {percent(votes[1])} of people like these would "
            f"choose {first} ({sure} band)"
        )
    return (
        f"{percent(found.low_share)} to {percent(found.high_share)} of people like "
        f"these taste it ({sure} band)"
    )


def chance_words(chance: float) -> str:
    """A chance as people say it: `2.8 %`, `under 0.01 %`.

    Examples
    --------
    >>> chance_words(0.0284), chance_words(0.3), chance_words(1e-9)
    ('2.8 %', '30 %', 'under 0.01 %')
    """
    percent = 100 * chance
    if percent < 0.01:
        return "under 0.01 %"
    decimals = 0 if percent >= 10 else 1 if percent >= 1 else 2
    return f"{percent:.{decimals}f} %"


def percent(share: float) -> str:
    """A share in percent: `60 %`, `2.5 %`.

    Examples
    --------
    >>> percent(0.6), percent(0.025)
    ('60 %', '2.5 %')
    """
    return f"{round(100 * share, 1):g} %" if share < 0.1 else f"{100 * share:.0f} %"


def often(risk: float) -> str:
    """A risk as a count: `more than 1 time in 5`.

    Examples
    --------
    >>> often(0.2), often(0.05), often(0.3)
    ('more than 1 time in 5', 'more than 1 time in 20', 'more than 3 times in 10')
    """
    whole = round(1 / risk)
    if abs(1 / whole - risk) < 0.002:
        return f"more than 1 time in {whole}"
    return f"more than {round(10 * risk, 1):g} times in 10"


def quoted(name: str) -> str:
    """A name that can stand in a list of names: in quotes where it holds a comma."""
    return f"“{name}”" if "," in name or " and " in name else name


def listed_names(names: Sequence[str]) -> str:
    """`white`, `white and rye`, `white, rye and spelt`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def _counts(found: "Difference", samples: Sequence[str]) -> str:
    chance = chance_words(found.p_value)
    if kind_of(found.test).two_sided:
        more = max(found.correct, found.tasters - found.correct)
        first = found.correct * 2 >= found.tasters
        names = samples or ("the first sample", "the second sample")
        chosen = names[0] if first else names[1]
        if found.correct * 2 == found.tasters:
            return (
                f"{found.correct} of {tasters_words(found.tasters)} chose each sample"
            )
        return (
            f"{more} of {tasters_words(found.tasters)} chose {chosen} (if nobody leant "
            f"either way, one of the two gets as many in {chance} of tastings)"
        )
    words = _RIGHT[found.test]
    if found.test == "paired" and samples:
        words = f"chose {samples[0]}, as expected"
    return (
        f"{found.correct} of {tasters_words(found.tasters)} {words} (if all guess, "
        f"{found.correct} or more do so in {chance} of tastings)"
    )


def _says_nothing(test: str, question: str = "") -> str:
    if kind_of(test).chance and test.startswith("paired"):
        asked = f" “{question}”" if question else " asked"
        return (
            f"It answers the one question{asked} and says nothing of other differences"
        )
    return "It says nothing of which is better, nor of what the difference is"


def tasters_words(count: int) -> str:
    """`1 taster`, `12 tasters`."""
    return "1 taster" if count == 1 else f"{count} tasters"
