"""The house oven: how hard it heats, from probe readings of an own bake."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven.baking import Case, bake, gas_free_of, nominal
from bakelab.oven.body import body_of
from bakelab.oven.food_properties import dough_composition
from bakelab.oven.settings import Oven
from bakelab.oven.settings import oven as read_oven
from bakelab.pans import Pan, pan
from bakelab.units import Quantity, in_unit

__all__ = ["HouseHeating", "house_heating"]

Floats = NDArray[np.float64]
LOWEST, HIGHEST = 0.25, 4.0
FEWEST = 3


@dataclass(frozen=True)
class HouseHeating:
    """Strength of heating that fits the readings best.

    `off_k` is the usual distance of a reading from the curve, K; `at_edge`
    tells that no strength that was tried fits.
    """

    heating: float
    off_k: float
    readings: int
    at_edge: bool


def house_heating(
    formula: Formula,
    in_pan: Pan | str,
    readings: Sequence[tuple[Quantity, Quantity]],
    *,
    oven: Oven | Quantity | str,
    dough: Quantity | None = None,
    surface: str = "grey",
) -> HouseHeating:
    """Learn how hard an oven heats from core readings of one bake.

    Parameters
    ----------
    readings : sequence of (Quantity, Quantity)
        Time in the oven and temperature of the core; at least three. One at
        0 min is the dough going in.
    dough : Quantity, [mass], optional
        Dough in the one pan; the formula's by default.

    Returns
    -------
    HouseHeating
        Its ``heating`` goes into :func:`estimate_bake`.

    Raises
    ------
    FitError
        If there are too few readings, or none above the first.
    """
    points = np.array(
        [
            (in_unit(t, "s", "reading"), in_unit(c, "degC", "reading"))
            for t, c in readings
        ]
    ).reshape(-1, 2)
    points = points[np.argsort(points[:, 0])]
    if len(points) < FEWEST or points[-1, 1] <= points[0, 1] + 5.0:
        raise FitError(
            f"{len(points)} readings do not show how an oven heats; give at least "
            f"{FEWEST}, from dough to done"
        )
    where = in_pan if isinstance(in_pan, Pan) else pan(in_pan)
    grams = (
        formula.dough_g / where.count if dough is None else in_unit(dough, "g", "dough")
    )
    mix = dough_composition(formula)
    body = body_of(where, grams, gas_free_kg_m3=gas_free_of(mix))
    start_c = float(points[0, 1]) if points[0, 0] < 60.0 else 30.0
    case = Case(body, mix, read_oven(oven), surface)
    tried = np.geomspace(LOWEST, HIGHEST, 9)
    rough = int(_errors(case, points, start_c, tried).argmin())
    near = np.geomspace(tried[max(rough - 1, 0)], tried[min(rough + 1, 8)], 9)
    errors = _errors(case, points, start_c, near)
    return _lowest(near, errors, len(points), at_edge=rough in (0, 8))


def _errors(case: Case, points: Floats, start_c: float, tried: Floats) -> Floats:
    """Root of the mean squared distance of the readings, for each strength."""
    unknowns = nominal(end_c=200.0, start_c=start_c, heating=list(tried))
    seconds = float(points[-1, 0])
    run = bake(case, unknowns, expected_s=seconds, until_s=seconds, to_the_end=True)
    core = np.array([run.at(run.core_c, t) for t in points[:, 0]])
    return np.asarray(np.sqrt(((core - points[:, 1:]) ** 2).mean(axis=0)))


def _lowest(
    tried: Floats, errors: Floats, readings: int, *, at_edge: bool
) -> HouseHeating:
    """The least error, by a parabola through its square near the best."""
    best = int(np.clip(errors.argmin(), 1, len(errors) - 2))
    x = np.log(tried[best - 1 : best + 2])
    bend, slope, level = np.polyfit(x - x[1], errors[best - 1 : best + 2] ** 2, 2)
    step = -slope / (2.0 * bend) if bend > 0 and not at_edge else 0.0
    step = float(np.clip(step, x[0] - x[1], x[2] - x[1]))
    off = float(np.sqrt(max(level + slope * step + bend * step**2, 0.0)))
    return HouseHeating(float(np.exp(x[1] + step)), off, readings, at_edge)
