"""Run loaves in an oven: from dough to the moment the core is warm enough.

Floats, SI units, degrees Celsius; samples side by side in the columns.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.browning import browning_rate
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
        return _crossing(self.seconds, self.core_c, celsius, rising=True)

    def when_core_falls_to(self, celsius: Floats) -> Floats:
        """Seconds until the warmest place is as cool as this (chilling)."""
        return _crossing(self.seconds, self.core_c, celsius, rising=False)

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
        rates.at(recorder.now)
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
        self._rates, self._material, self._warming = rates, material, warming
        self._cut_every, self._next_cut = cut_every_s, 0.0
        self._core = core_of(rates.mesh, warming=warming)
        self._volume = rates.mesh.volume
        self._times: list[float] = []
        self._curves: dict[str, list[Floats]] = {
            name: [] for name in ("core", "mean", "loss", "brown", *rates.sides)
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
        rates.conductivities()
        core = self._core(rates.celsius)
        surfaces = {side: rates.surface_c(side) for side in rates.sides}
        if length == 0.0:
            surfaces = dict.fromkeys(rates.sides, rates.celsius[0] + 0.0)
        self._keep("core", core)
        self._keep("mean", (rates.celsius * self._volume).sum(0) / self._volume.sum(0))
        self._keep("loss", self._lost(state) / self._mass)
        self._keep("brown", self._browned(surfaces, length))
        for side, surface in surfaces.items():
            self._keep(side, surface)
        self._times.append(self.now)
        if self._cut_every is not None and self.now >= self._next_cut - 1e-9:
            self._cuts.append((self.now, rates.celsius.copy(), rates.left.copy()))
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
            surfaces={side: arrays[side] for side in self._rates.sides},
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
        steam = (self._rates.steam * self._volume).sum(axis=0)
        return np.asarray(steam + state[-1])

    def _held(self) -> Floats:
        """Heat in what is there now, J, from temperatures and water alone."""
        held = self._material.enthalpy(self._rates.celsius, self._rates.left)
        return np.asarray((held * self._volume).sum(axis=0))

    def _balance(self, state: Floats) -> Balance:
        mat, volume, copies = self._material, self._volume, self._rates.mesh.copies
        steam = (self._rates.steam * volume).sum(axis=0)
        steam_heat = steam * (mat.latent + mat.heat_water * mat.boiling)
        heat_in = state[-3]
        kept = self._held() - self._held_first + steam_heat + state[-2]
        start = (mat.water * volume).sum(axis=0)
        end = (self._rates.left * volume).sum(axis=0)
        lost = self._lost(state)
        scale = np.maximum(np.abs(heat_in), 1e-12)
        return Balance(
            heat_in * copies,
            kept * copies,
            np.abs(kept - heat_in) / scale,
            start * copies,
            end * copies,
            lost * copies,
            np.abs(start - end - lost) / np.maximum(start, 1e-12),
        )


def core_of(mesh: Mesh, *, warming: bool) -> Callable[[Floats], Floats]:
    """A function that finds the coldest (or warmest) temperature in the loaf.

    On a plane of symmetry the profile is even, so its value there follows
    from the two nearest cells; along the other axes a parabola through the
    extreme cell and its neighbours.
    """
    lanes = mesh.lanes

    def core(celsius: Floats) -> Floats:
        grid = celsius.reshape(*mesh.shape, lanes)
        for axis in range(len(mesh.shape)):
            if mesh.mirrored[axis]:
                grid = _on_plane(grid, axis, mesh.centres[axis])
        for axis in range(len(mesh.shape)):
            if not mesh.mirrored[axis]:
                grid = _extreme(grid, axis, mesh.centres[axis], warming=warming)
        return grid.reshape(lanes)

    return core


def _on_plane(grid: Floats, axis: int, centres: Floats) -> Floats:
    first, second = centres[0] ** 2, centres[1] ** 2
    low, high = grid.take([0], axis=axis), grid.take([1], axis=axis)
    return np.asarray((low * second - high * first) / (second - first))


def _extreme(grid: Floats, axis: int, centres: Floats, *, warming: bool) -> Floats:
    values = np.moveaxis(grid, axis, 0).reshape(grid.shape[axis], -1)
    place = np.tile(centres, (1, values.shape[1] // centres.shape[1]))
    found = values.argmin(axis=0) if warming else values.argmax(axis=0)
    middle = np.clip(found, 1, len(values) - 2)
    lane = np.arange(values.shape[1])
    y0, y1, y2 = (values[middle + i, lane] for i in (-1, 0, 1))
    x0, x1, x2 = (place[middle + i, lane] for i in (-1, 0, 1))
    left, right = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
    bend = (right - left) / (x2 - x0)
    flat = np.abs(bend) < 1e-12
    slope = left + bend * (x1 - x0)
    step = np.where(flat, 0.0, -slope / (2.0 * np.where(flat, 1.0, bend)))
    step = np.clip(step, x0 - x1, x2 - x1)
    vertex = y1 + slope * step + bend * step**2
    edge = values[found, lane]
    best = np.minimum(vertex, edge) if warming else np.maximum(vertex, edge)
    shape = [*grid.shape]
    shape[axis] = 1
    return np.asarray(best.reshape(shape))


def _crossing(seconds: Floats, curve: Floats, goal: Floats, *, rising: bool) -> Floats:
    goals = np.broadcast_to(np.asarray(goal, dtype=float), curve.shape[1:])
    there = curve >= goals if rising else curve <= goals
    first = there.argmax(axis=0)
    lane = np.arange(curve.shape[1])
    before = np.maximum(first - 1, 0)
    y0, y1 = curve[before, lane], curve[first, lane]
    gap = np.where(y1 == y0, 1.0, y1 - y0)
    share = np.where(first == 0, 0.0, (goals - y0) / gap)
    when = seconds[before] + share * (seconds[first] - seconds[before])
    return np.where(there.any(axis=0), when, np.nan)
