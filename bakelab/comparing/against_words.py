"""What a result against a ratio means, in plain sentences."""

import math
from typing import TYPE_CHECKING

from bakelab.comparing.data import counted, number, rounded
from bakelab.comparing.names import named, with_unit

if TYPE_CHECKING:
    from bakelab.comparing.against import Against

__all__ = ["against_text", "chance"]

_SHOWN = 0.05  # common practice, no source


def chance(p_value: float) -> str:
    """A chance to read: `0.03`, `under 0.001`."""
    return "under 0.001" if p_value < 0.001 else number(p_value, 2)


def against_text(found: "Against") -> str:
    """Line, scatter, fit and scale, a sentence each."""
    said = [*_line(found), _scatter(found), *_fit(found), *_scale(found)]
    return " ".join(said)


def _line(found: "Against") -> list[str]:
    result, ratio = named(found.result), named(found.ratio)
    bakes = counted(len(found.points), "bake")
    if found.reason:
        return [f"{bakes}; no line: {found.reason}."]
    sure = f"{100 * found.confidence:g} %"
    by = (found.slope_high - found.slope_low) / 2
    between = f"{rounded(found.slope_low, by)} to {rounded(found.slope_high, by)}"
    slope = with_unit(rounded(found.slope, by), found.result)
    where = " in the middle of what was baked" if found.shape == "curved" else ""
    told = (
        f"Per 1 more in {ratio}, {result} changes by {slope}{where} "
        f"({sure} interval {between}; {bakes})."
    )
    return [told, _shown(found)]


def _shown(found: "Against") -> str:
    odds = f"chance of as much without any: {chance(found.p_value)}"
    if found.p_value <= _SHOWN:
        return f"An effect is shown ({odds}); it may come from what changed along."
    return f"No effect is shown ({odds}); a smaller one could have been missed."


def _scatter(found: "Against") -> str:
    spread = found.scatter.spread
    if math.isnan(spread):
        return "No ratio was baked twice, so the scatter of repeats is unknown."
    amount = with_unit(number(spread, 2), found.result)
    return (
        f"Bakes of the same ratio scatter by {amount} (standard deviation, "
        f"{counted(found.scatter.degrees, 'degree')} of freedom)."
    )


def _fit(found: "Against") -> list[str]:
    if math.isnan(found.lack_of_fit_p) or found.lack_of_fit_p > _SHOWN:
        return []
    other = "try a curved one, or" if found.shape == "straight" else "take"
    return [
        (
            f"The {found.shape} line misses the means of the repeats by more than they "
            f"scatter (lack of fit, chance {chance(found.lack_of_fit_p)}): {other} "
            "bakes that differ in nothing else."
        )
    ]


def _scale(found: "Against") -> list[str]:
    if not found.widest_doubt > 0:
        return []
    span = float(found.points["x"].max() - found.points["x"].min())
    open_ = with_unit(f"±{number(found.widest_doubt, 2)}", found.ratio)
    told = f"The scale leaves up to {open_} open in {named(found.ratio)}"
    if span <= 2 * found.widest_doubt:
        return [
            f"{told}, as much as the bakes differ: they cannot be told apart by it."
        ]
    part = 100 * 2 * found.widest_doubt / span
    return [f"{told}: {number(part, 2)} % of the span that was baked."]
