"""Run loaves in an oven: from dough to the moment the core is warm enough.

Floats, SI units, degrees Celsius; samples side by side in the columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.browning import browning_rate
from bakelab.oven.core import core_of, crossing
from bakelab.oven.material import Material
from bakelab.oven.mesh import Mesh
from bakelab.oven.rates import Rates
from bakelab.oven.stepping import LegendreSteps, stages_for
from bakelab.oven.surroundings import Surroundings

__all__ = ["STEPS_PER_HOUR", "Balance", "Run", "simulate"]

Floats = NDArray[np.float64]
STEPS_PER_HOUR = 75.0
"""Recorded steps; the tests show what halving them changes."""
BROWN_SIDE = "top"


@dataclass(frozen=True)
class Balance:
    """What came in against what is there, per sample, over the whole run."""

    heat_in_j: Floats
    heat_kept_j: Floats
    heat_off_error: Floats
    water_start_kg: Floats
    water_end_kg: Floats
    water_lost_kg: Floats
    water_off_error: Floats


@dataclass
class Run:
    """Curves over time, (times, samples), and where they end.

    `core_c` is the coldest place in the loaf; `surfaces` the mean
    temperature of the dough's surface by side; `loss` the share of the
    dough's mass that left as vapour; `brown` the exponent of the browning
    of the top, see :mod:`bakelab.oven.browning`.
    """

    seconds: Floats
    core_c: Floats
    mean_c: Floats
    loss: Floats
    brown: Floats
    surfaces: dict[str, Floats]
    balance: Balance
    mesh: Mesh
    cuts: list[tuple[float, Floats, Floats]] = field(default_factory=list)

    def when_core_reaches(self, celsius: Floats) -> Floats:
        """Seconds until the core reaches a temperature; NaN where it does not."""
        return crossing(self.seconds, self.core_c, celsius, rising=True)

    def when_core_falls_to(self, celsius: Floats) -> Floats:
        """Seconds until the warmest place is as cool as this (chilling)."""
        return crossing(self.seconds, self.core_c, celsius, rising=False)

    def at(self, curve: Floats, seconds: Floats) -> Floats:
        """Values of a curve at a time of its own for each sample."""
        return np.array(
            [
                np.interp(t, self.seconds, curve[:, lane])
                for lane, t in enumerate(np.broadcast_to(seconds, curve.shape[1:]))
            ]
        )


def simulate(
    mesh: Mesh,
    material: Material,
    surroundings: Surroundings,
    *,
    start_c: Floats,
    until_s: float,
    core_goal_c: Floats | None = None,
    step_s: float | None = None,
    cut_every_s: float | None = None,
    warming: bool = True,
) -> Run:
    """Bake (or chill) until a time, or until every core has reached its goal.

    Parameters
    ----------
    until_s : float
        Longest time, s.
    core_goal_c : array, optional
        Stop as soon as all samples have got there.
    cut_every_s : float, optional
        Keep temperature and water in all cells this often.
    warming : bool
        Whether the core is the coldest place (baking) or the warmest.
    """
    rates = Rates(mesh, material, surroundings)
    fastest = float((mesh.stiffness() * material.fastest()).max())
    step = step_s or 3600.0 / STEPS_PER_HOUR
    recorder = _Recorder(rates, material, cut_every_s, warming=warming)
    state = rates.start(np.broadcast_to(start_c, (mesh.lanes,)))
    recorder.begin(state)
    march = LegendreSteps(rates, state.shape)
    changes = [seconds for seconds, _ in surroundings.later] + [surroundings.steam_s]
    for length in _lengths(until_s, step, changes):
        rates.skin.at(recorder.now)
        march.step(state, length, stages_for(length, fastest))
        core = recorder.add(state, length)
        if core_goal_c is not None and _all_there(core, core_goal_c, warming):
            break
    return recorder.finish(state)


def _all_there(core: Floats, goal: Floats, warming: bool) -> bool:
    return bool((core >= goal).all() if warming else (core <= goal).all())


def _lengths(until_s: float, step_s: float, changes: Sequence[float]) -> list[float]:
    """Steps that grow at the start and end where the oven changes."""
    first = [step_s * share for share in (0.125, 0.25, 0.5)]
    ends = {*first, *(t for t in changes if 0.0 < t < until_s), until_s}
    count = int(np.ceil(until_s / step_s - 1e-9))
    ends.update(min(step_s * i, until_s) for i in range(1, count + 1))
    times = np.array(sorted(ends))
    kept = times[np.append(np.diff(times) > 1e-6, True)]
    return [float(v) for v in np.diff(np.append(0.0, kept))]


class _Recorder:
    """Keeps the curves of a run and counts heat and water independently."""

    def __init__(
        self,
        rates: Rates,
        material: Material,
        cut_every_s: float | None,
        *,
        warming: bool,
    ) -> None:
        self._rates, self._material = rates, material
        self._cut_every, self._next_cut = cut_every_s, 0.0
        self._core = core_of(rates.mesh, warming=warming)
        self._volume = rates.mesh.volume
        self._times: list[float] = []
        self._curves: dict[str, list[Floats]] = {
            name: [] for name in ("core", "mean", "loss", "brown", *rates.skin.sides)
        }
        self._cuts: list[tuple[float, Floats, Floats]] = []
        self.now = 0.0

    def begin(self, state: Floats) -> None:
        self._mass = (
            (self._material.solids + self._material.water) * self._volume
        ).sum(axis=0)
        self._brown = np.zeros(self._volume.shape[1])
        self._rate_before: Floats | None = None
        self._first = state.copy()
        self.add(state, 0.0)
        self._held_first = self._held()

    def add(self, state: Floats, length: float) -> Floats:
        rates = self._rates
        self.now += length
        rates.read(state)
        cells, skin = rates.cells, rates.skin
        core = self._core(cells.celsius)
        surfaces = {side: skin.surface_c(side) for side in skin.sides}
        if length == 0.0:
            surfaces = dict.fromkeys(skin.sides, cells.celsius[0] + 0.0)
        self._keep("core", core)
        self._keep("mean", (cells.celsius * self._volume).sum(0) / self._volume.sum(0))
        self._keep("loss", self._lost(state) / self._mass)
        self._keep("brown", self._browned(surfaces, length))
        for side, surface in surfaces.items():
            self._keep(side, surface)
        self._times.append(self.now)
        if self._cut_every is not None and self.now >= self._next_cut - 1e-9:
            self._cuts.append((self.now, cells.celsius.copy(), cells.left.copy()))
            self._next_cut += self._cut_every
        return core

    def finish(self, state: Floats) -> Run:
        arrays = {name: np.array(rows) for name, rows in self._curves.items()}
        return Run(
            seconds=np.array(self._times),
            core_c=arrays["core"],
            mean_c=arrays["mean"],
            loss=arrays["loss"],
            brown=arrays["brown"],
            surfaces={side: arrays[side] for side in self._rates.skin.sides},
            balance=self._balance(state),
            mesh=self._rates.mesh,
            cuts=self._cuts,
        )

    def _keep(self, name: str, values: Floats) -> None:
        self._curves[name].append(values)

    def _browned(self, surfaces: dict[str, Floats], length: float) -> Floats:
        rate = browning_rate(surfaces.get(BROWN_SIDE, next(iter(surfaces.values()))))
        before = rate if self._rate_before is None else self._rate_before
        self._brown = self._brown + 0.5 * (rate + before) * length
        self._rate_before = rate
        return self._brown

    def _lost(self, state: Floats) -> Floats:
        """Water that left: as steam from the cells and from the surface, kg."""
        steam = (self._rates.cells.steam * self._volume).sum(axis=0)
        return np.asarray(steam + state[-1])

    def _held(self) -> Floats:
        """Heat in what is there now, J, from temperatures and water alone."""
        held = self._material.enthalpy(
            self._rates.cells.celsius, self._rates.cells.left
        )
        return np.asarray((held * self._volume).sum(axis=0))

    def _balance(self, state: Floats) -> Balance:
        mat, volume, copies = self._material, self._volume, self._rates.mesh.copies
        steam = (self._rates.cells.steam * volume).sum(axis=0)
        steam_heat = steam * (mat.latent + mat.heat_water * mat.boiling)
        heat_in = state[-3]
        kept = self._held() - self._held_first + steam_heat + state[-2]
        start = (mat.water * volume).sum(axis=0)
        end = (self._rates.cells.left * volume).sum(axis=0)
        lost = self._lost(state)
        scale = np.maximum(np.abs(heat_in), 1e-6 * np.abs(self._held_first) + 1e-12)
        return Balance(
            heat_in * copies,
            kept * copies,
            np.abs(kept - heat_in) / scale,
            start * copies,
            end * copies,
            lost * copies,
            np.abs(start - end - lost) / np.maximum(start, 1e-12),
        )
