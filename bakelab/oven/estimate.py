"""From one pan to another: how long, how hot, and how sure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven.baking import STEPS, Case, Unknowns, bake, nominal
from bakelab.oven.body import Body
from bakelab.oven.calibration import Calibration, calibrate
from bakelab.oven.question import (
    LONGEST_S,
    ROUNDED,
    Asked,
    Minutes,
    ask,
    bodies_of,
    bodies_told,
    known_surface,
)
from bakelab.oven.result import BakeEstimate
from bakelab.oven.settings import Oven
from bakelab.oven.solver import Run
from bakelab.oven.uncertainty import Band, sampled_band
from bakelab.pans import Pan, pan
from bakelab.units import Quantity

__all__ = ["estimate_bake"]

CUTS = 24


def estimate_bake(
    formula: Formula,
    from_pan: Pan | str,
    to_pan: Pan | str,
    *,
    oven: Oven | Quantity | str | None = None,
    bake_minutes: Minutes = None,
    to_dough: Quantity | None = None,
    from_dough: Quantity | None = None,
    core_end: Quantity | None = None,
    start: Quantity | None = None,
    altitude: Quantity | None = None,
    from_surface: str = "grey",
    to_surface: str | None = None,
    heating: float | None = None,
    samples: int = 64,
    seed: int = 1,
    stop: Callable[[], bool] | None = None,
) -> BakeEstimate:
    """How long a loaf takes in another pan, from what the recipe says of its own.

    Parameters
    ----------
    formula : Formula
        As the recipe has it, for `from_pan`.
    from_pan, to_pan : Pan or str
        The recipe's pan, and the one that will be used.
    oven : Oven, Quantity or str, optional
        The recipe's setting; the formula's own by default.
    bake_minutes : optional
        The recipe's time: minutes, low and high, a quantity or text such
        as ``"35 min"``; the formula's own by default.
    to_dough, from_dough : Quantity, [mass], optional
        Dough in one new pan (by default as full as the old one) and in one
        old pan (by default the formula's dough over its pans).
    core_end : Quantity, optional
        Core when the bread is done; the middle of the style's usual band
        by default.
    start : Quantity, optional
        Dough going in, 30 degC by default.
    altitude : Quantity, [length], optional
        Above the sea; it lowers the boiling point.
    from_surface, to_surface : str
        Kind of pan: "dark", "grey", "bright", "glass" or "ceramic".
    heating : float, optional
        How hard the house oven heats, from :func:`house_heating`; the
        recipe's time is then not used.
    samples : int
        Samples of what is not known; 0 for no band.
    stop : callable, optional
        Asked between bakes; true leaves the band out.

    Returns
    -------
    BakeEstimate
        ``minutes`` low, mid and high at the same setting, ``same_crust``,
        ``curves``, ``cuts``, ``balance``, ``plan`` and ``cautions``.

    Raises
    ------
    FitError
        If the question has no answer; says why and what to do.

    Notes
    -----
    Heat and water in the loaf as in :mod:`bakelab.oven.cells`. The
    recipe's pan and time settle how hard the oven heats; so the answer
    is a comparison, not a prediction from nothing.
    """
    pans = (_pan(from_pan), _pan(to_pan))
    asked = ask(formula, oven, bake_minutes, core_end, start, altitude, heating)
    bodies = bodies_of(formula, pans, asked, from_dough, to_dough)
    old, new = _cases(bodies, asked, from_surface, to_surface or from_surface)
    expected, fitted = _calibrated(old, asked, heating)
    runs = _both(old, new, expected, asked)
    if heating is None:
        fitted = _closed(fitted, runs[0], expected, asked)
    minutes = _minutes(runs[1], expected, new, fitted)
    spread = _band(old, new, expected, asked, minutes, heating, samples, seed, stop)
    return BakeEstimate(
        formula=formula,
        pans=pans,
        cases=(old, new),
        runs=runs,
        expected=expected,
        calibration=fitted,
        stated_minutes=asked.minutes,
        middle_minutes=minutes,
        band=spread,
        end_c=asked.end_c,
        end_band_c=asked.end_band_c,
        from_recipe=heating is None,
        assumed=(*asked.assumed, *bodies_told(bodies)),
    )


def _pan(given: Pan | str) -> Pan:
    return given if isinstance(given, Pan) else pan(given)


def _cases(bodies: tuple[Body, Body], asked: Asked, *surfaces: str) -> list[Case]:
    return [
        Case(body, asked.mix, asked.setting, known_surface(surface))
        for body, surface in zip(bodies, surfaces, strict=True)
    ]


def _calibrated(
    old: Case, asked: Asked, heating: float | None
) -> tuple[Unknowns, Calibration]:
    expected = nominal(end_c=asked.end_c, start_c=asked.start_c)
    if heating is not None:
        if not 0.05 <= heating <= 20.0:
            raise FitError(
                f"a heating of {heating:g} is no oven's; give 0.05 to 20, from "
                "house_heating"
            )
        one = np.ones(1)
        return expected.with_heating(one * heating), Calibration(
            one * heating, one, True
        )
    fitted = calibrate(old, expected, minutes=np.array([asked.middle]))
    if not np.isfinite(fitted.carried[0]):
        raise FitError(
            f"the recipe's own bake does not add up: after {asked.middle:.0f} min at "
            f"{asked.setting.air_c:.0f} °C the centre of its loaf cannot have "
            f"{asked.end_c:.0f} °C; check pan, dough, oven and time"
        )
    return expected.with_heating(fitted.heating), fitted


def _closed(
    fitted: Calibration, own: Run, expected: Unknowns, asked: Asked
) -> Calibration:
    """What is left between the recipe's time and its own bake is carried over."""
    seconds = own.when_core_reaches(expected.end_c)
    return replace(fitted, carried=asked.middle * 60.0 / seconds)


def _both(old: Case, new: Case, expected: Unknowns, asked: Asked) -> tuple[Run, Run]:
    """The expected bake of both pans, each to its end."""
    size = new.body.half_thickness_cm / old.body.half_thickness_cm
    guesses = (asked.middle * 60.0, asked.middle * 60.0 * size**1.7)
    runs = []
    for case, guess in zip((old, new), guesses, strict=True):
        seconds = float(np.clip(guess, 60.0, LONGEST_S / 2))
        runs.append(
            bake(
                case,
                expected,
                expected_s=seconds,
                until_s=LONGEST_S,
                cut_every_s=max(seconds / CUTS, seconds / STEPS),
            )
        )
    return runs[0], runs[1]


def _minutes(run: Run, expected: Unknowns, new: Case, fitted: Calibration) -> float:
    minutes = float(run.when_core_reaches(expected.end_c)[0]) / 60.0
    if not np.isfinite(minutes):
        raise FitError(
            f"it never gets done: after {LONGEST_S / 3600:.0f} h at "
            f"{new.setting.air_c:.0f} °C the core of the {new.body.measures()} is at "
            f"{float(run.core_c[-1, 0]):.0f} °C; take a smaller pan or a hotter oven"
        )
    return minutes * float(fitted.carried[0])


def _band(
    old: Case,
    new: Case,
    expected: Unknowns,
    asked: Asked,
    minutes: float,
    heating: float | None,
    samples: int,
    seed: int,
    stop: Callable[[], bool] | None,
) -> Band | None:
    """The band of the minutes; None where none is asked for, or nobody waits."""
    if not samples or (stop is not None and stop()):
        return None
    if samples < 24:
        raise FitError(
            f"a band from {samples} samples is not computed; give 24 or more, or 0"
        )
    stated = asked.minutes
    if heating is not None:
        # the house oven's own loaf takes as long as its heating says
        run = bake(old, expected, expected_s=stated[0] * 60.0, until_s=LONGEST_S)
        own = float(run.when_core_reaches(expected.end_c)[0]) / 60.0
        stated = (own * (1 - ROUNDED), own * (1 + ROUNDED))
    return sampled_band(
        old,
        new,
        expected=expected,
        end_band_c=asked.end_band_c,
        minutes=stated,
        expected_min=minutes,
        samples=samples,
        seed=seed,
        stop=stop,
    )
