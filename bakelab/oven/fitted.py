"""Time and heat for a fitted formula, from what its recipe says."""

from bakelab.errors import BakelabError
from bakelab.oven.estimate import estimate_bake
from bakelab.oven.result import BakeEstimate
from bakelab.scaling import Fitted
from bakelab.units import Q_, in_unit

__all__ = ["bake_sentences", "estimate_fitted"]

_QUICK_SAMPLES = 24  # the fewest that give a band; enough for a sentence


def estimate_fitted(fitted: Fitted, *, samples: int = _QUICK_SAMPLES) -> BakeEstimate:
    """The estimate for the first pan that a formula was fitted to.

    Raises
    ------
    BakelabError
        If the recipe states no oven or time, a pan is not known, or the
        bake cannot be computed; in one sentence.
    """
    formula, old = fitted.original, fitted.from_pan
    if old is None or not fitted.to_pans:
        raise BakelabError(
            "time and heat are computed from the recipe's pan to yours: give both pans"
        )
    if not formula.oven or formula.bake_minutes is None:
        raise BakelabError(
            "the recipe states no oven setting and time, so the time in the new pan "
            "cannot be computed from them: go by a probe in the centre"
        )
    share = fitted.doled[0].dough_g if fitted.doled else fitted.formula.dough_g
    return estimate_bake(
        formula,
        from_pan=old,
        to_pan=fitted.to_pans[0],
        oven=formula.oven,
        bake_minutes=formula.bake_minutes,
        from_dough=Q_(formula.dough_g / old.count, "g"),
        to_dough=Q_(share, "g"),
        samples=samples,
    )


def bake_sentences(fitted: Fitted, *, samples: int = _QUICK_SAMPLES) -> tuple[str, ...]:
    """Time and heat in words, or the one sentence why there are none."""
    try:
        found = estimate_fitted(fitted, samples=samples)
    except BakelabError as error:
        return (f"{str(error)[:1].upper()}{str(error)[1:]}.".replace("..", "."),)
    core = in_unit(Q_(found.end_c, "degC"), "degC", "core")
    return (
        found.text,
        f"Done at about {core:.0f} °C in the centre: a probe decides, not the clock.",
    )
