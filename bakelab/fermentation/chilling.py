"""Dough in a refrigerator: it cools from outside in, and works on meanwhile.

The same finite volumes as in the oven, without drying: the dough is covered.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from bakelab.errors import FitError
from bakelab.fermentation.rate import MODELS, REFERENCE_C
from bakelab.formula import Formula
from bakelab.oven.food_properties import dough_composition, gas_free_density
from bakelab.oven.material import dough_material
from bakelab.oven.mesh import Mesh, slab, sphere
from bakelab.oven.solver import Run, simulate
from bakelab.oven.surroundings import bath
from bakelab.units import Quantity, in_unit

__all__ = ["CHILL_COLUMNS", "SHAPES", "Chilled", "chill"]

Floats = NDArray[np.float64]
CHILL_COLUMNS = ("hours", "core_c", "mean_c", "surface_c", "proof_minutes")
SHAPES = ("ball", "slab")
STILL_AIR = 8.0
"""Heat to refrigerator air and walls, W/(m2 K); our own assumption.

Half convection, half radiation, with a thin cover.
"""
GAS_SHARE = 0.3  # of a dough that has begun to rise; our own assumption
LONGEST_H = 96.0
CELLS = 24
SLAB_AREA_M2 = 0.06


@dataclass(frozen=True)
class Chilled:
    """Dough in the cold.

    Attributes
    ----------
    curves : DataFrame
        `CHILL_COLUMNS`; `proof_minutes` is the work done so far, as minutes
        at 25 °C by the middle of the views of the rate.
    proof_minutes, low_minutes, high_minutes : float
        The work at the end: the middle of the views, and the band.
    """

    curves: pd.DataFrame
    proof_minutes: float
    low_minutes: float
    high_minutes: float
    run: Run

    def hours_until(self, celsius: float) -> float:
        """Hours until the core is as cool as this; NaN if it never is."""
        return float(self.run.when_core_falls_to(np.array([celsius]))[0]) / 3600.0

    @property
    def text(self) -> str:
        """In words."""
        last = self.curves.iloc[-1]
        return (
            f"After {last.hours:.0f} h its core is at {last.core_c:.0f} °C, and it has "
            f"worked as in {self.proof_minutes:.0f} min at {REFERENCE_C:.0f} °C "
            f"({self.low_minutes:.0f} to {self.high_minutes:.0f} min)."
        )


def chill(
    formula: Formula,
    dough: Quantity,
    *,
    start: Quantity,
    fridge: Quantity,
    time: Quantity,
    shape: str = "ball",
    thickness: Quantity | None = None,
    coefficient: float = STILL_AIR,
) -> Chilled:
    """How a piece of dough cools, and how far it ferments while it does.

    Parameters
    ----------
    dough : Quantity, [mass]
        One piece or batch.
    start, fridge : Quantity
        Dough going in, and the air of the refrigerator.
    time : Quantity, [time]
        Up to four days.
    shape : {"ball", "slab"}
        A ball, or a batch in a flat tub cooling from both faces.
    thickness : Quantity, [length], optional
        Of a slab; by default the mass over 0.06 m2.
    coefficient : float
        W/(m2 K) between dough and air.

    Raises
    ------
    FitError
        For frozen dough, a warm refrigerator or no time.

    Notes
    -----
    The heat that yeast itself makes is left out.
    """
    kilograms = in_unit(dough, "kg", "dough")
    start_c, air_c, hours = _checked(kilograms, start, fridge, time)
    mix = dough_composition(formula)
    density = gas_free_density(mix, start_c) * (1.0 - GAS_SHARE)
    mesh = _mesh(kilograms / density, shape, thickness)
    seconds = hours * 3600.0
    run = simulate(
        mesh,
        dough_material(mix, [GAS_SHARE]),
        bath(np.array([air_c]), coefficient, ("top", "bottom")),
        start_c=np.array([start_c]),
        until_s=seconds,
        step_s=seconds / 200.0,
        cut_every_s=seconds / 200.0,
        warming=air_c > start_c,
    )
    work = np.array([_work(run, m) for m in range(len(MODELS))])
    middle = np.median(work, axis=0)
    return Chilled(
        _curves(run, middle),
        float(middle[-1]),
        float(work[:, -1].min()),
        float(work[:, -1].max()),
        run,
    )


def _checked(
    kilograms: float, start: Quantity, fridge: Quantity, time: Quantity
) -> tuple[float, float, float]:
    start_c = in_unit(start, "degC", "start")
    air_c = in_unit(fridge, "degC", "fridge")
    hours = in_unit(time, "hour", "time")
    if not 0.005 <= kilograms <= 200.0:
        raise FitError(
            f"a dough of {kilograms * 1e3:g} g is not computed; give 5 g to 200 kg"
        )
    if start_c <= 0.0 or air_c <= -1.0:
        raise FitError(
            f"dough at {start_c:.0f} °C in air at {air_c:.0f} °C freezes or is frozen, "
            "and that is not computed; give a dough above 0 and air above -1 °C"
        )
    if not 0.0 < hours <= LONGEST_H:
        raise FitError(f"{hours:g} h is not computed; give more than 0 and up to 96 h")
    if max(start_c, air_c) > 42.0:
        raise FitError("yeast does not work above 42 °C; give cooler dough and air")
    return start_c, air_c, hours


def _mesh(volume_m3: float, shape: str, thickness: Quantity | None) -> Mesh:
    if shape not in SHAPES:
        raise FitError(f"no shape {shape!r}; choose one of {', '.join(SHAPES)}")
    if shape == "ball":
        return sphere([float(np.cbrt(volume_m3 * 3.0 / (4.0 * np.pi)))], CELLS)
    high = (
        volume_m3 / SLAB_AREA_M2
        if thickness is None
        else in_unit(thickness, "m", "thickness")
    )
    if not 0.001 <= high <= 0.6:
        raise FitError(
            f"a slab of {high * 100:g} cm is not computed; give 0.1 to 60 cm"
        )
    return slab([high], volume_m3 / high, CELLS)


def _work(run: Run, model: int) -> Floats:
    """Minutes at the reference that the whole dough has worked, over the cuts."""
    rate = MODELS[model].rate
    best = float(rate(np.asarray(REFERENCE_C)))
    weights = run.mesh.volume[:, 0] / run.mesh.volume.sum()
    rates = [float(rate(cells[:, 0]) @ weights) / best for _, cells, _ in run.cuts]
    minutes = np.array([seconds for seconds, _, _ in run.cuts]) / 60.0
    pieces = np.diff(minutes) * (np.array(rates)[1:] + np.array(rates)[:-1]) / 2.0
    return np.append(0.0, np.cumsum(pieces))


def _curves(run: Run, work: Floats) -> pd.DataFrame:
    hours = run.seconds / 3600.0
    cut_hours = np.array([seconds for seconds, _, _ in run.cuts]) / 3600.0
    values = (
        hours,
        run.core_c[:, 0],
        run.mean_c[:, 0],
        run.surfaces["top"][:, 0],
        np.interp(hours, cut_hours, work),
    )
    return pd.DataFrame(dict(zip(CHILL_COLUMNS, values, strict=True)))
