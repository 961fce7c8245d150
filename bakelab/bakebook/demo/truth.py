"""What is true in the invented kitchen, before chance is added.

Charts and comparisons of the demo book can be held against these numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from types import MappingProxyType

import numpy as np

from bakelab.formula import Formula
from bakelab.pans import pan
from bakelab.units import in_unit

__all__ = [
    "FIRST_DAY",
    "TRUTH",
    "core_curve",
    "crown_height_cm",
    "jar_ml",
    "plan_volume_cm3_g",
]

FIRST_DAY = datetime(2026, 1, 8, 6, 30, tzinfo=UTC)  # a Thursday
TRUTH: Mapping[str, float] = MappingProxyType(
    {
        "house_volume_cm3_g": 4.30,  # specific volume of the house loaf
        "house_volume_spread_cm3_g": 0.08,
        "shift_after_bakes": 15,  # then a flour with less protein came
        "shift_cm3_g": -0.34,
        "large_loss_pct": 11.2,  # of the dough, in the large tin
        "small_more_loss_pct": 1.4,  # the small tin loses so much more
        "pair_loss_spread_pct": 0.45,
        "oven_offset_k": -12.0,  # deck oven: real less dial
        "oven_heating": 1.3,  # how hard it heats, for bakelab.oven
        "plan_volume_cm3_g": 4.30,  # specific volume in the middle of the plan
        "plan_spread_cm3_g": 0.06,
        "plan_best_water_pct": 65.19,
        "plan_best_yeast_pct": 1.072,
    }
)
_LINEAR, _BENT, _TOGETHER = (0.14, 0.08), (-0.22, -0.18), -0.05


def plan_volume_cm3_g(*, water_pct: float, yeast_pct: float) -> float:
    """Specific volume that the plan of trials looks for.

    Examples
    --------
    >>> round(plan_volume_cm3_g(water_pct=64, yeast_pct=1.0), 2)
    4.3
    """
    water, yeast = (water_pct - 64.0) / 4.0, (yeast_pct - 1.0) / 0.4
    return (
        TRUTH["plan_volume_cm3_g"]
        + _LINEAR[0] * water
        + _LINEAR[1] * yeast
        + _BENT[0] * water**2
        + _BENT[1] * yeast**2
        + _TOGETHER * water * yeast
    )


def core_curve(
    formula: Formula, tin: str, dough_g: float, *, set_c: float
) -> list[float]:
    """Core at every whole minute of the first hour, by the model of the oven."""
    from bakelab.oven import oven
    from bakelab.oven.baking import Case, bake, gas_free_of, nominal
    from bakelab.oven.body import body_of
    from bakelab.oven.food_properties import dough_composition

    mix = dough_composition(formula)
    body = body_of(pan(tin), dough_g, gas_free_kg_m3=gas_free_of(mix))
    real = oven(f"{set_c + TRUTH['oven_offset_k']:g} C")
    unknowns = nominal(end_c=96.0, start_c=28.0, heating=[TRUTH["oven_heating"]])
    run = bake(
        Case(body, mix, real, "grey"),
        unknowns,
        expected_s=2400.0,
        until_s=3600.0,
        to_the_end=True,
    )
    seconds = [np.array([60.0 * minute]) for minute in range(61)]
    return [float(run.at(run.core_c, moment)[0]) for moment in seconds]


def jar_ml(minutes: float, *, start_ml: float, warm_c: float) -> float:
    """Dough in a measuring jar: slow, then steady, then full.

    The curve of Zwietering et al. 1990 (modified Gompertz); its numbers are invented.
    """
    top, lag_h = 130.0, 0.5
    steepest = 75.0 * 1.09 ** (warm_c - 25.0)  # % an hour
    bent = np.exp(steepest * np.e / top * (lag_h - minutes / 60.0) + 1.0)
    return start_ml * (1.0 + top / 100.0 * float(np.exp(-bent)))


def crown_height_cm(tin: str, volume_cm3: float) -> float:
    """Height of a loaf of a volume in a tin, its crown two thirds full."""
    where = pan(tin)
    inside = in_unit(where.volume, "cm^3", "volume")
    depth = in_unit(where.depth, "cm", "depth")
    if volume_cm3 <= inside:
        return depth * volume_cm3 / inside
    area = in_unit(where.top_area, "cm^2", "area")
    return depth + (volume_cm3 - inside) / (area * 2 / 3)
