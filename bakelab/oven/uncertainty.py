"""A band instead of a number: what is not known is sampled and baked.

Every sample has its own loaf and oven, is calibrated on the recipe's pan and
time, and then bakes the new pan. A curved surface is fitted through the
samples' times, and the band read from many points on it; so its ends hardly
move when more samples are baked.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from bakelab.oven.baking import Case, Unknowns, bake
from bakelab.oven.calibration import calibrate

__all__ = ["BAND_SHARE", "UNKNOWNS", "Band", "Range", "sampled_band"]

Floats = NDArray[np.float64]
BAND_SHARE = 0.9  # share of the samples between the ends
DRAWS = 4096


class Range(NamedTuple):
    """How far something unknown may lie from what is expected."""

    name: str
    low: float
    high: float
    what: str


UNKNOWNS = (
    Range("swelling", 0.90, 1.10, "risen height over the expected, both pans"),
    Range("fill", 0.95, 1.05, "real fill of the new pan against the old one"),
    Range("end", 0.0, 1.0, "core at the end, within the style's usual band"),
    Range("shift", -10.0, 10.0, "oven's real temperature less its setting, K"),
    Range("again", -4.0, 4.0, "the same oven on the day of the new bake, K"),
    Range("start", -3.0, 3.0, "dough going in, K"),
    Range("vapour", 0.7, 1.2, "heat that vapour carries in the crumb"),
    Range("gap", 0.5, 2.0, "what pan and gap hold back, both pans"),
    Range("time", 0.0, 1.0, "the recipe's time, within what it says"),
)
"""Our own assumptions, all values in between equally likely."""


@dataclass(frozen=True)
class Band:
    """The ends of nine in ten samples, min, and what moves the time most."""

    low: float
    middle: float
    high: float
    samples: int
    unfinished: int
    effects: dict[str, float]


def sampled_band(
    old: Case,
    new: Case,
    *,
    expected: Unknowns,
    end_band_c: tuple[float, float],
    minutes: tuple[float, float],
    expected_min: float,
    samples: int = 64,
    seed: int = 1,
    stop: Callable[[], bool] | None = None,
) -> Band:
    """Sample what is not known, calibrate each sample, bake the new pan.

    Parameters
    ----------
    expected : Unknowns
        One sample with the expected values, its heating calibrated.
    end_band_c : tuple of float
        Core at the end, lowest and highest usual, degC.
    minutes : tuple of float
        The recipe's time, low and high.
    expected_min : float
        Time of the expected sample in the new pan.
    stop : callable, optional
        Asked between the two bakes; true stops with what there is.
    """
    places = _latin(samples, len(UNKNOWNS), seed)
    value = {
        r.name: r.low + (r.high - r.low) * places[:, i] for i, r in enumerate(UNKNOWNS)
    }
    unknowns = _unknowns(expected, value, end_band_c)
    stated = minutes[0] + (minutes[1] - minutes[0]) * value["time"]
    fitted = calibrate(
        old, unknowns, minutes=stated, grid="band", around=float(expected.heating[0])
    )
    if stop is not None and stop():
        return Band(expected_min, expected_min, expected_min, 0, samples, {})
    there = replace(
        unknowns.with_heating(fitted.heating),
        swelling=unknowns.swelling * value["fill"],
        air_shift=unknowns.air_shift + value["again"],
    )
    longest = 3.0 * expected_min * 60.0
    run = bake(new, there, expected_s=expected_min * 60.0, until_s=longest, grid="band")
    times = run.when_core_reaches(there.end_c) / 60.0 * fitted.carried
    return _band(places, times, expected_min)


def _unknowns(
    expected: Unknowns, value: dict[str, Floats], end_band_c: tuple[float, float]
) -> Unknowns:
    low, high = end_band_c
    many = expected.repeated(len(value["swelling"]))
    return replace(
        many,
        end_c=low + (high - low) * value["end"],
        start_c=many.start_c + value["start"],
        air_shift=many.air_shift + value["shift"],
        swelling=many.swelling * value["swelling"],
        vapour=many.vapour * value["vapour"],
        gap=many.gap * value["gap"],
    )


def _latin(samples: int, unknowns: int, seed: int) -> Floats:
    """Latin hypercube: every unknown is met once in each of `samples` strips."""
    draw = np.random.default_rng(seed)
    strips = np.array([draw.permutation(samples) for _ in range(unknowns)]).T
    return np.asarray((strips + draw.random((samples, unknowns))) / samples)


def _band(places: Floats, times: Floats, expected_min: float) -> Band:
    done = np.isfinite(times)
    surface = _surface(places[done], np.log(times[done] / expected_min))
    drawn = _latin(DRAWS, places.shape[1], 2)
    ratios = np.exp(surface(drawn))
    edge = (1.0 - BAND_SHARE) / 2.0
    low, middle, high = np.quantile(ratios, [edge, 0.5, 1.0 - edge]) * expected_min
    return Band(
        float(low),
        float(middle),
        float(high),
        len(times),
        int((~done).sum()),
        _effects(surface, expected_min),
    )


def _surface(places: Floats, values: Floats) -> Callable[[Floats], Floats]:
    """Least squares of a constant, straight and squared terms."""

    def terms(where: Floats) -> Floats:
        centred = 2.0 * where - 1.0
        one = np.ones((len(where), 1))
        return np.hstack([one, centred, centred**2])

    weights, *_ = np.linalg.lstsq(terms(places), values, rcond=None)
    return lambda where: np.asarray(terms(where) @ weights)


def _effects(
    surface: Callable[[Floats], Floats], expected_min: float
) -> dict[str, float]:
    """Minutes between the ends of each unknown, the others in the middle."""
    effects = {}
    for i, unknown in enumerate(UNKNOWNS):
        ends = np.full((2, len(UNKNOWNS)), 0.5)
        ends[:, i] = 0.05, 0.95
        low, high = np.exp(surface(ends)) * expected_min
        effects[unknown.name] = float(high - low)
    return dict(sorted(effects.items(), key=lambda item: -abs(item[1])))
