"""Whether the trials can carry the best point: said in plain sentences."""

import math
from typing import TYPE_CHECKING

from bakelab.comparing.against_words import chance
from bakelab.comparing.data import counted, joined, number, rounded
from bakelab.comparing.names import named, with_unit

if TYPE_CHECKING:
    from bakelab.comparing.surface import Surface

__all__ = ["doubts", "surface_text"]

_SHOWN = 0.05  # common practice, no source
_FEW_DEGREES = 3  # common practice, no source
_WIDE = 0.7  # of the span that was baked
_BENT = 0.9  # share of the draws that have to bend the same way


def surface_text(found: "Surface") -> str:
    """Fit, best point with its interval, and whether the data can carry it."""
    return " ".join([_fit(found), *_where(found), _verdict(found), *_tested(found)])


def doubts(found: "Surface") -> list[str]:
    """Every reason not to rely on the best point, none where there is none."""
    said = [*_weak_fit(found), *_weak_best(found)]
    if found.degrees < _FEW_DEGREES:
        said.append(
            f"only {counted(found.degrees, 'trial')} more than terms, so every "
            "interval is very wide"
        )
    return said


def _fit(found: "Surface") -> str:
    spread = with_unit(number(found.spread, 2), found.result)
    return (
        f"{counted(len(found.trials), 'trial')}, a {found.shape} surface: it explains "
        f"{100 * found.r_squared:.0f} % of the differences in {named(found.result)}, "
        f"and trials scatter by {spread} around it."
    )


def _where(found: "Surface") -> list[str]:
    best = found.best
    spots = [
        f"{named(r)} {with_unit(rounded(best.at[r], half), r)} "
        f"({rounded(best.low[r], half)} to {rounded(best.high[r], half)})"
        for r, half in zip(found.ratios, found.coding.halves, strict=True)
    ]
    by = found.spread
    value = with_unit(rounded(best.value, by), found.result)
    sure = f"{100 * found.confidence:g} %"
    point = (
        f"Between the trials, {named(found.result)} is {found.aim} at {joined(spots)}, "
        f"{sure} interval in brackets."
    )
    foretold = (
        f"Foretold there: {value} on average ({rounded(best.low_value, by)} to "
        f"{rounded(best.high_value, by)}); one more bake would lie between "
        f"{rounded(best.new_low, by)} and {rounded(best.new_high, by)}."
    )
    return [point, foretold]


def _tested(found: "Surface") -> list[str]:
    reason = found.lack_of_fit.reason
    return [f"Whether the shape is right stays open: {reason}."] if reason else []


def _verdict(found: "Surface") -> str:
    said = doubts(found)
    if not said:
        return (
            "The data can carry this best point. Bake it again before you rely on it: "
            "it was chosen because it looked best."
        )
    return f"The data cannot carry this best point yet: {'; '.join(said)}."


def _weak_fit(found: "Surface") -> list[str]:
    said, lack = [], found.lack_of_fit
    if found.p_value > _SHOWN:
        said.append(
            "the ratios show no effect beyond the scatter (chance "
            f"{chance(found.p_value)})"
        )
    if not lack.reason and lack.p_value <= _SHOWN:
        said.append(
            "the surface misses the trials by more than repeats scatter (lack of fit, "
            f"chance {chance(lack.p_value)})"
        )
    return said


def _weak_best(found: "Surface") -> list[str]:
    best, said = found.best, []
    if found.shape != "curved":
        said.append(
            f"a {found.shape} surface has no best point in the middle, only a best "
            "corner"
        )
    elif found.canonical is not None and found.canonical.kind == "saddle":
        said.append(
            "the surface is a saddle: from its level point it rises one way and falls "
            "another"
        )
    if best.on_edge:
        edge = joined([_edge(e) for e in best.on_edge])
        said.append(f"it lies at the edge of what was baked ({edge}), so go on there")
    said += _wide(found)
    if not math.isnan(best.bent) and best.bent < _BENT and not best.on_edge:
        said.append(
            f"only {100 * best.bent:.0f} % of the surfaces that fit as well have a "
            "best point in the middle at all"
        )
    return said


def _wide(found: "Surface") -> list[str]:
    widths = (found.best.high - found.best.low).to_numpy() / 2
    wide = [
        named(r)
        for r, width, half in zip(
            found.ratios, widths, found.coding.halves, strict=True
        )
        if width > _WIDE * half
    ]
    if not wide:
        return []
    return [f"the interval of {joined(wide)} covers most of what was baked"]


def _edge(words: str) -> str:
    end, _, ratio = words.partition(" ")
    return f"{end} {named(ratio)}"
