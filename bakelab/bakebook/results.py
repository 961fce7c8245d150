"""What a bake came to, by simple sums of what was measured: floats in, floats out."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

__all__ = [
    "OFF_PLAN",
    "bake_loss_pct",
    "loading_cm3_g",
    "off_plan",
    "oven_spring_pct",
    "specific_volume_cm3_g",
]

OFF_PLAN: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "off_dough_c": ("dough_c", "planned_dough_c"),
        "off_proof_min": ("proof_min", "planned_proof_min"),
        "off_bake_min": ("bake_min", "planned_bake_min"),
        "off_oven_c": ("oven_set_c", "planned_oven_c"),
        "off_dough_g": ("dough_in_g", "planned_dough_g"),
    }
)
"""A deviation's name, what was done, and what was planned."""


def bake_loss_pct(*, dough_g: float, loaf_g: float) -> float:
    """What was lost in the oven and while cooling, in % of the **dough**.

    Some books divide by the loaf; 10 % of the loaf is 9.1 % of the dough.

    Examples
    --------
    >>> round(bake_loss_pct(dough_g=550, loaf_g=500), 1)
    9.1
    """
    return 100.0 * (dough_g - loaf_g) / dough_g


def specific_volume_cm3_g(*, volume_cm3: float, loaf_g: float) -> float:
    """Volume of the cooled loaf over its mass, cm3/g."""
    return volume_cm3 / loaf_g


def loading_cm3_g(*, pan_cm3: float, dough_g: float) -> float:
    """Volume of one pan to its rim over the dough in it, cm3/g."""
    return pan_cm3 / dough_g


def oven_spring_pct(*, going_in_mm: float, loaf_mm: float) -> float:
    """Height gained in the oven, in % of the dough's height as it went in."""
    return 100.0 * (loaf_mm - going_in_mm) / going_in_mm


def off_plan(facts: Mapping[str, Any]) -> dict[str, float]:
    """What was done less what was planned, where both are known.

    Examples
    --------
    >>> off_plan({"dough_c": 27.5, "planned_dough_c": 25.0, "proof_min": 50.0})
    {'off_dough_c': 2.5}
    """
    return {
        name: facts[done] - facts[planned]
        for name, (done, planned) in OFF_PLAN.items()
        if facts.get(done) is not None and facts.get(planned) is not None
    }
