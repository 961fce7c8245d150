"""What to mind with an estimate: each caution begins with its subject."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from bakelab.oven.browning import colour_difference

if TYPE_CHECKING:
    from bakelab.oven.result import BakeEstimate

__all__ = ["cautions_of"]

RICH_PCT = 5.0  # egg or dairy of flour; our own choice
DARKER = 8.0  # of colour difference; our own choice
PROBE_DECIDES = (
    "Clock: a probe in the centre decides, not the time; this is a comparison with the "
    "recipe's pan by a model."
)


def cautions_of(estimate: BakeEstimate) -> tuple[str, ...]:
    """All cautions that are due, the most general first."""
    return (
        PROBE_DECIDES,
        *_rich(estimate),
        *_lid(estimate),
        *_unfinished(estimate),
        *_past_the_model(estimate),
        *_dark(estimate),
    )


def _rich(estimate: BakeEstimate) -> Iterator[str]:
    formula = estimate.formula
    rich = [
        role
        for role in ("egg", "dairy")
        if 100 * formula.role_g(role) >= RICH_PCT * formula.flour_g
    ]
    if rich:
        yield (
            f"Rich in {' and '.join(rich)}: follow your local food-safety rules "
            "for the temperature of the centre and how long to hold it."
        )


def _lid(estimate: BakeEstimate) -> Iterator[str]:
    if estimate.pans[1].lidded:
        yield (
            "Lid: an overfilled pan pushes its lid off, and steam comes out first; "
            "open it away from you."
        )


def _unfinished(estimate: BakeEstimate) -> Iterator[str]:
    band = estimate.band
    if band is not None and band.unfinished:
        yield (
            f"Band: {band.unfinished} of {band.samples} samples were not done in "
            "three times the expected time and are not in the band."
        )


def _past_the_model(estimate: BakeEstimate) -> Iterator[str]:
    if not estimate.calibration.in_range:
        yield (
            "Recipe's time: no strength of heating that was tried gives it; the "
            f"ratio {estimate.carried:.2f} of its time to the model's is carried over "
            "to the new pan. Check its pan, dough, setting and time."
        )


def _dark(estimate: BakeEstimate) -> Iterator[str]:
    own, new = (colour_difference(b) for b in estimate.browning)
    if new - own > DARKER:
        yield (
            "Crust: darker than in the recipe's pan when the centre is done; cover "
            "it, or use the setting for the same crust."
        )
