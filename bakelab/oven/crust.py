"""Same crumb, same crust: another setting that browns the new loaf as the old.

The new loaf is baked at several settings at once, each until its core is done.
The setting at which the crust then has the browning of the recipe's own loaf
is found between them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.baking import Case, Unknowns, bake

__all__ = ["SHIFTS_K", "SameCrust", "same_crust"]

Floats = NDArray[np.float64]
SHIFTS_K = (-45.0, -30.0, -15.0, 0.0, 15.0, 30.0, 45.0)
HOTTEST_C = 270.0
MARGIN_K = 15.0  # at least this much above the core's end temperature
LONGEST = 3.0


@dataclass(frozen=True)
class SameCrust:
    """A setting and a time for the new pan.

    `reached` is false where no setting that was tried browns as much (or
    as little); the nearest is given then. `browning` is what it gets,
    `wanted` what the recipe's own loaf gets.
    """

    air_c: float
    minutes: float
    browning: float
    wanted: float
    reached: bool


def same_crust(
    new: Case,
    unknowns: Unknowns,
    *,
    wanted: float,
    expected_min: float,
    carried: float = 1.0,
) -> SameCrust:
    """The setting at which core and crust are done at the same time.

    Parameters
    ----------
    unknowns : Unknowns
        One sample, its heating calibrated.
    wanted : float
        Browning exponent of the recipe's own loaf when it is done.
    expected_min : float
        Minutes at the present setting.
    """
    lowest = float(unknowns.end_c[0]) + MARGIN_K
    settings = np.array([new.setting.air_c + k for k in SHIFTS_K])
    settings = settings[(settings >= lowest) & (settings <= HOTTEST_C)]
    if not len(settings):
        settings = np.array([new.setting.air_c])
    many = unknowns.repeated(len(settings))
    seconds = expected_min * 60.0 / carried
    run = bake(new, many, expected_s=seconds, until_s=LONGEST * seconds, air_c=settings)
    times = run.when_core_reaches(many.end_c)
    done = np.isfinite(times)
    browned = run.at(run.brown, np.where(done, times, 0.0))
    return _choose(settings[done], times[done] * carried / 60.0, browned[done], wanted)


def _choose(
    settings: Floats, minutes: Floats, browned: Floats, wanted: float
) -> SameCrust:
    """Between the settings, straight in the logarithm of the browning."""
    logs = np.log(np.maximum(browned, 1e-9))
    order = np.argsort(logs)
    goal = float(np.log(max(wanted, 1e-9)))
    reached = bool(logs.min() - 1e-6 <= goal <= logs.max() + 1e-6)
    air_c = float(np.interp(goal, logs[order], settings[order]))
    return SameCrust(
        air_c,
        float(np.interp(air_c, settings, minutes)),
        float(np.exp(np.interp(air_c, settings, logs))),
        wanted,
        reached,
    )
