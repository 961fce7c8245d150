"""One loaf in one oven, with what is not known about them side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.body import Body
from bakelab.oven.food_properties import Composition, gas_free_density
from bakelab.oven.material import OVEN_MEAN_C, Material, dough_material
from bakelab.oven.settings import Oven, surroundings_of
from bakelab.oven.solver import Run, simulate
from bakelab.oven.surroundings import Surroundings

__all__ = ["Case", "Unknowns", "bake", "gas_free_of", "nominal"]

Floats = NDArray[np.float64]
STEPS = 24  # of one bake; the tests show what doubling them changes


@dataclass(frozen=True)
class Unknowns:
    """What is not known of a bake; arrays of the length of the samples.

    Attributes
    ----------
    heating : how hard the oven heats, over the starting values.
    end_c, start_c : core at the end and dough at the start, degC.
    air_shift : oven's real temperature less its setting, K.
    swelling : height of the risen loaf, over the expected one.
    vapour, gap : factors on what vapour carries and what the pan holds back.
    """

    heating: Floats
    end_c: Floats
    start_c: Floats
    air_shift: Floats
    swelling: Floats
    vapour: Floats
    gap: Floats

    def __len__(self) -> int:
        return len(self.heating)

    def repeated(self, times: int) -> Unknowns:
        """Every sample `times` times, one after the other."""
        return Unknowns(
            **{f.name: np.repeat(getattr(self, f.name), times) for f in fields(self)}
        )

    def with_heating(self, heating: Floats) -> Unknowns:
        """The same with other values of `heating`."""
        return replace(self, heating=heating)


@dataclass(frozen=True)
class Case:
    """A loaf, what it is made of, the oven and the kind of pan."""

    body: Body
    mix: Composition
    setting: Oven
    surface: str

    def at(self, air_c: float) -> Case:
        """The same at another oven setting."""
        return replace(self, setting=self.setting.at(air_c))

    def surroundings(self, unknowns: Unknowns) -> Surroundings:
        """What heats the loaf, one column per sample."""
        around = surroundings_of(
            self.setting,
            air_c=self.setting.air_c + unknowns.air_shift,
            surface=self.surface,
            exposed=self.body.exposed,
            lidded=self.body.lidded,
            gap_factor=unknowns.gap,
        )
        return around.times(unknowns.heating)

    def material(self, unknowns: Unknowns) -> Material:
        """What the loaf is made of, one column per sample."""
        density = self.body.dough_g / (self.body.volume_cm3 * unknowns.swelling) * 1e3
        share = 1.0 - density / gas_free_of(self.mix)
        return dough_material(
            self.mix,
            np.maximum(share, 0.0),
            altitude_m=self.setting.altitude_m,
            vapour_factor=unknowns.vapour,
        )


def gas_free_of(mix: Composition) -> float:
    """Density of a dough without gas, as the oven takes it, kg/m3."""
    return gas_free_density(mix, OVEN_MEAN_C)


def nominal(
    *, end_c: float, start_c: float, heating: Sequence[float] = (1.0,)
) -> Unknowns:
    """The expected values, for one or several `heating`."""
    one = np.ones(len(heating))
    return Unknowns(
        heating=np.asarray(heating, dtype=float),
        end_c=one * end_c,
        start_c=one * start_c,
        air_shift=0.0 * one,
        swelling=one,
        vapour=one,
        gap=one,
    )


def bake(
    case: Case,
    unknowns: Unknowns,
    *,
    expected_s: float,
    until_s: float,
    grid: str = "quick",
    to_the_end: bool = False,
    cut_every_s: float | None = None,
    air_c: Floats | None = None,
) -> Run:
    """Bake until every core has its end temperature, or until a time.

    Parameters
    ----------
    expected_s : float
        About how long it takes; it sets the steps.
    to_the_end : bool
        Go on until `until_s` even if all cores are done.
    air_c : array, optional
        Oven settings of the samples, where they differ.
    """
    around = case.surroundings(unknowns)
    if air_c is not None:
        shift = air_c - case.setting.air_c
        later = tuple((s, changed + shift) for s, changed in around.later)
        around = replace(around, air_c=around.air_c + shift, later=later)
    return simulate(
        case.body.mesh(unknowns.swelling, grid=grid),
        case.material(unknowns),
        around,
        start_c=unknowns.start_c,
        until_s=until_s,
        core_goal_c=None if to_the_end else unknowns.end_c,
        step_s=expected_s / STEPS,
        cut_every_s=cut_every_s,
    )
