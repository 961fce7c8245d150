"""Which style a formula looks like: a ranked suggestion with its reasons."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bakelab.formula import Formula
from bakelab.ranges.clues import Clue, clues_of
from bakelab.ranges.measures import measures
from bakelab.ranges.shares import shares
from bakelab.ranges.table import style_name, styles

__all__ = ["StyleGuess", "suggest_style"]

# A miss of this much makes "no style of the table" as likely as the best one.
_MISS_TO_DOUBT = 7.0


@dataclass(frozen=True)
class StyleGuess:
    """A style a formula may belong to.

    `share` is this style's part of all the certainty there is; the shares
    sum to less than 1, as it may be no style of the table. `reasons` speak
    for it, `against` against it.
    """

    style: str
    name: str
    share: float
    reasons: tuple[str, ...]
    against: tuple[str, ...]


def suggest_style(
    formula: Formula, text: str = "", *, count: int = 5
) -> tuple[StyleGuess, ...]:
    """Styles that a formula looks like, the likeliest first.

    Parameters
    ----------
    formula : Formula
        Its title, percentages, flours, raising agent and pan are looked at.
    text : str
        More words about the bread, such as the recipe's introduction.
    count : int
        At most so many styles; one with a share under 1 % is left out.

    Returns
    -------
    tuple of StyleGuess
        At least one. Nothing is decided: `reasons` and `against` say why.

    Raises
    ------
    FormulaError
        If the formula has no flour.

    Notes
    -----
    Each measure counts for a style by how narrow the style's band is and,
    outside it, falls off with the distance; words of the title in English,
    German and French, the raising agent and the pan count as well. The
    weights are our own, common practice, no source: a share is a degree of
    likeness and no probability that was measured.
    """
    values = {**measures(formula), **shares(formula)}
    keys = list(styles()["style"])
    clues = {key: clues_of(key, formula, values, text) for key in keys}
    scores = {key: sum(c.weight for c in clues[key].values()) for key in keys}
    best = max(scores.values())
    odds = {key: math.exp(score - best) for key, score in scores.items()}
    first = max(keys, key=lambda key: scores[key])
    total = sum(odds.values()) + _odds_of_another(clues[first])
    ranked = sorted(keys, key=lambda key: (-odds[key], key))[: max(count, 1)]
    means = _means(clues.values())
    return tuple(
        _guess(key, odds[key] / total, clues[key], means)
        for place_no, key in enumerate(ranked)
        if place_no == 0 or odds[key] / total >= 0.01
    )


def _odds_of_another(clues: Mapping[str, Clue]) -> float:
    """Odds that it is no style of the table, against the likeliest style.

    They grow with what the likeliest style misses; a style that fits all
    round leaves next to none.
    """
    told = clues["title"].weight + clues["text"].weight
    miss = sum(clue.miss for clue in clues.values())
    return math.exp(miss - told - _MISS_TO_DOUBT)


def _guess(
    key: str, share: float, clues: Mapping[str, Clue], means: Mapping[str, float]
) -> StyleGuess:
    gains = {name: clue.weight - means[name] for name, clue in clues.items()}
    ordered = sorted(gains, key=lambda name: -gains[name])
    told = [n for n in ordered if clues[n].text]
    reasons = [clues[n].text for n in told if gains[n] > 0.05][:4]
    against = [clues[n].text for n in reversed(told) if clues[n].weight < -3.5][:2]
    reasons = [r for r in reasons if r not in against]
    return StyleGuess(
        key,
        style_name(key),
        share,
        tuple(reasons) or ("nothing about it stands out",),
        tuple(against),
    )


def _means(clues: Iterable[Mapping[str, Clue]]) -> dict[str, float]:
    every = list(clues)
    names = {name for one in every for name in one}
    return {n: sum(one[n].weight for one in every) / len(every) for n in names}
