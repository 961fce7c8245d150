"""Whether the trials can carry the best point: said in plain sentences."""

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from bakelab.comparing.against_words import chance
from bakelab.comparing.data import counted, joined, number, rounded
from bakelab.comparing.names import named, with_unit

if TYPE_CHECKING:
    from bakelab.comparing.surface import Surface

__all__ = ["doubts", "followed_words", "none_inside", "surface_text"]

_SHOWN = 0.05  # common practice, no source
_FEW_DEGREES = 3  # common practice, no source
_WIDE = 0.7  # of the span that was baked
_BENT = 0.9  # share of the draws that have to bend the same way
_BENT_WORDS = "of the surfaces that fit as well have a best point in the middle at all"
_SAME = 0.05  # of half the span: nearer than that is the same point


def followed_words(follow: Sequence[str], moving: Sequence[str]) -> str:
    """That some ratios follow from others in these trials and are left out."""
    left, stay = joined([named(r) for r in follow]), joined([named(r) for r in moving])
    return f"{left} follows from {stay} in these trials and is left out"


def surface_text(found: "Surface") -> str:
    """Fit, best point with its interval, and whether the data can carry it."""
    return " ".join([_fit(found), *_where(found), _verdict(found), *_tested(found)])


def doubts(found: "Surface") -> list[str]:
    """Every reason not to rely on the best point, none where there is none."""
    said = [*_weak_fit(found), *_weak_best(found), *_wide(found), *_flat(found)]
    if found.degrees < _FEW_DEGREES:
        said.append(
            f"only {counted(found.degrees, 'trial')} more than terms, so every "
            "interval is very wide"
        )
    return said


def none_inside(found: "Surface") -> str:
    """Why the surface has no best point inside what was tried; empty if it has one."""
    said = [*_no_effect(found), *_weak_best(found), *_flat(found)]
    level = found.canonical
    wanted = "peak" if found.aim == "largest" else "hollow"
    if not said and level is not None and level.kind != wanted:
        said.append(f"the surface has a {level.kind} in the middle and no {wanted}")
    if not said and level is not None and not _is_level(found):
        said.append("it lies at the edge of what was baked, so go on there")
    return "; ".join(said)


def _is_level(found: "Surface") -> bool:
    """Whether the best point is where the surface is level, not at a border."""
    if found.canonical is None:
        return False
    apart = (found.best.at - found.canonical.at).abs()
    return bool((apart.to_numpy() <= _SAME * np.asarray(found.coding.halves)).all())


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


def _no_effect(found: "Surface") -> list[str]:
    if found.p_value <= _SHOWN:
        return []
    shown = chance(found.p_value)
    return [f"the ratios show no effect beyond the scatter (chance {shown})"]


def _weak_fit(found: "Surface") -> list[str]:
    said, lack = _no_effect(found), found.lack_of_fit
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
    return said


def _flat(found: "Surface") -> list[str]:
    best = found.best
    if math.isnan(best.bent) or best.bent >= _BENT or best.on_edge:
        return []
    return [f"only {100 * best.bent:.0f} % {_BENT_WORDS}"]


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
