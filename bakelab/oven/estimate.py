"""From one pan to another: how long, how hot, and how sure."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven.baking import STEPS, Case, Unknowns, bake, gas_free_of, nominal
from bakelab.oven.body import Body, body_of
from bakelab.oven.boiling import boiling_c
from bakelab.oven.calibration import Calibration, calibrate
from bakelab.oven.food_properties import Composition, dough_composition
from bakelab.oven.result import BakeEstimate
from bakelab.oven.settings import PAN_SURFACES, Oven
from bakelab.oven.settings import oven as read_oven
from bakelab.oven.solver import Run
from bakelab.oven.uncertainty import Band, sampled_band
from bakelab.pans import Pan, pan
from bakelab.ranges import band, trade_ranges
from bakelab.units import Quantity, in_unit, quantity

__all__ = ["estimate_bake"]

USUAL_END_C = (90.0, 99.0)  # common practice, no source
START_C = 30.0  # proofed dough going in; our own assumption
ROUNDED = 0.05  # a single stated time is taken as rounded by this share
LONGEST_S = 6 * 3600.0
BELOW_BOILING_K = 0.7
CUTS = 24

Minutes = Quantity | tuple[float, float] | float | str | None


@dataclass(frozen=True)
class _Asked:
    """The question in floats."""

    mix: Composition
    setting: Oven
    minutes: tuple[float, float]
    end_band_c: tuple[float, float]
    end_c: float
    start_c: float
    assumed: tuple[str, ...]

    @property
    def middle(self) -> float:
        return (self.minutes[0] + self.minutes[1]) / 2.0


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
    Heat and water in the loaf as in :mod:`bakelab.oven.rates`. The
    recipe's pan and time settle how hard the oven heats; so the answer
    is a comparison, not a prediction from nothing.
    """
    pans = tuple(p if isinstance(p, Pan) else pan(p) for p in (from_pan, to_pan))
    asked = _ask(formula, oven, bake_minutes, core_end, start, altitude, heating)
    surfaces = (from_surface, to_surface or from_surface)
    bodies = _bodies(formula, pans, asked, from_dough, to_dough)
    old, new = (
        Case(body, asked.mix, asked.setting, _known(surface))
        for body, surface in zip(bodies, surfaces, strict=True)
    )
    expected, fitted = _calibrated(old, asked, heating)
    runs = _both(old, new, expected, asked)
    if heating is None:
        fitted = _closed(fitted, runs[0], expected, asked)
    minutes = _minutes(runs[1], expected, new, fitted)
    spread = None
    if samples and not (stop is not None and stop()):
        spread = _band(old, new, expected, asked, minutes, heating, samples, seed, stop)
    return BakeEstimate(
        formula=formula,
        pans=(pans[0], pans[1]),
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
        assumed=(*asked.assumed, *_bodies_told(bodies)),
    )


def _ask(
    formula: Formula,
    setting: Oven | Quantity | str | None,
    minutes: Minutes,
    core_end: Quantity | None,
    start: Quantity | None,
    altitude: Quantity | None,
    heating: float | None,
) -> _Asked:
    formula.require_flour()
    told = setting if setting is not None else formula.oven
    if isinstance(told, str) and not told.strip():
        raise FitError(
            "the recipe states no oven setting; give one, such as oven='200 °C'"
        )
    heat = read_oven(told, altitude=altitude)
    stated = _stated(formula, minutes, heating)
    end_band, end_c, assumed = _end(formula, core_end, heat)
    start_c = START_C if start is None else in_unit(start, "degC", "start")
    if start is None:
        assumed = (*assumed, f"dough going in: {START_C:g} °C, assumed")
    _refuse(heat, end_c, start_c)
    mix = dough_composition(formula)
    if formula.unknown:
        names = ", ".join(formula.unknown)
        assumed = (*assumed, f"not in the table, taken as starch: {names}")
    return _Asked(mix, heat, stated, end_band, end_c, start_c, assumed)


def _refuse(setting: Oven, end_c: float, start_c: float) -> None:
    if start_c <= 0.0:
        raise FitError(
            f"the dough would go in at {start_c:g} °C, frozen, and thawing is not "
            "computed; give a start above 0 °C"
        )
    if start_c >= end_c:
        raise FitError(
            f"the dough goes in at {start_c:g} °C and is to end at {end_c:g} °C; "
            "give a start below the end"
        )
    if setting.last_c <= end_c:
        raise FitError(
            f"it never gets done: in an oven at {setting.last_c:g} °C the core stays "
            f"below the {end_c:g} °C it should reach; set the oven hotter"
        )


def _stated(
    formula: Formula, minutes: Minutes, heating: float | None
) -> tuple[float, float]:
    given = formula.bake_minutes if minutes is None else minutes
    if given is None:
        if heating is not None:
            return (40.0, 40.0)
        raise FitError(
            "the recipe states no bake time, and the estimate starts from it; "
            "give bake_minutes, such as bake_minutes=35"
        )
    low, high = _pair(given)
    if not (0.0 < low <= high <= LONGEST_S / 60.0):
        raise FitError(
            f"a bake time of {low:g} to {high:g} min cannot be used; give more than 0 "
            f"and up to {LONGEST_S / 60:g} min"
        )
    return (low, high) if high > low else (low * (1 - ROUNDED), low * (1 + ROUNDED))


def _pair(given: Quantity | tuple[float, float] | float | str) -> tuple[float, float]:
    if isinstance(given, str):
        parts = re.split(r"\s*(?:-|–|to)\s*(?=\d)", given.strip())
        unit = re.sub(r"^[\d.,\s]+", "", parts[-1]) or "min"
        texts = [p if re.search(r"[a-z]", p, re.I) else f"{p} {unit}" for p in parts]
        values = [
            in_unit(quantity(t, dimension="[time]"), "minute", "bake_minutes")
            for t in texts
        ]
        return values[0], values[-1]
    if isinstance(given, tuple):
        return float(given[0]), float(given[1])
    if isinstance(given, (int, float)):
        return float(given), float(given)
    value = in_unit(given, "minute", "bake_minutes")
    return value, value


def _end(
    formula: Formula, core_end: Quantity | None, setting: Oven
) -> tuple[tuple[float, float], float, tuple[str, ...]]:
    """The usual band of the core at the end, what is aimed at, and why."""
    most = boiling_c(setting.altitude_m) - BELOW_BOILING_K
    if core_end is not None:
        wanted = in_unit(core_end, "degC", "core_end")
        if wanted > most:
            raise FitError(
                f"a core of {wanted:g} °C is not reached: water boils at "
                f"{most + BELOW_BOILING_K:.1f} °C here; give at most {most:.1f} °C"
            )
        return (wanted - 1.0, min(wanted + 1.0, most)), wanted, ()
    low, high, source = _usual_end(formula.style)
    end = min((low + high) / 2.0, most)
    note = f"core at the end: {end:.1f} °C, middle of {low:g} to {high:g} °C ({source})"
    if high > most:
        note += f", no more than {most:.1f} °C because of the boiling point"
    return (min(low, most - 1.0), min(high, most)), end, (note,)


def _usual_end(style: str) -> tuple[float, float, str]:
    known = trade_ranges()["style"].eq(style).any() if style else False
    usual = band(style, "core_end_c") if known else None
    if usual is None:
        return (*USUAL_END_C, "common practice, no source")
    return usual.low, usual.high, f"usual for {style.replace('_', ' ')}"


def _bodies(
    formula: Formula,
    pans: tuple[Pan, ...],
    asked: _Asked,
    from_dough: Quantity | None,
    to_dough: Quantity | None,
) -> tuple[Body, Body]:
    old_pan, new_pan = pans
    old_g = (
        formula.dough_g / old_pan.count
        if from_dough is None
        else in_unit(from_dough, "g", "from_dough")
    )
    new_g = (
        _as_full(old_pan, new_pan, old_g)
        if to_dough is None
        else in_unit(to_dough, "g", "to_dough")
    )
    if min(old_g, new_g) <= 0:
        raise FitError(
            f"a dough of {min(old_g, new_g):g} g cannot be baked; give more than 0 g"
        )
    gas_free = gas_free_of(asked.mix)
    return (
        body_of(old_pan, old_g, gas_free_kg_m3=gas_free),
        body_of(new_pan, new_g, gas_free_kg_m3=gas_free),
    )


def _as_full(old: Pan, new: Pan, old_g: float) -> float:
    """Dough that fills the new pan as much as the old; the same without pans."""
    if not (old.has_volume and new.has_volume):
        return old_g
    inches = "in" if "in" in (old.dome_unit, new.dome_unit) else "cm"
    rooms = [
        in_unit(replace(p, dome_unit=inches).usable_volume(), "cm^3", "volume")
        for p in (old, new)
    ]
    return old_g * rooms[1] / rooms[0]


def _known(surface: str) -> str:
    if surface not in PAN_SURFACES:
        raise FitError(
            f"no kind of pan {surface!r}; choose one of {', '.join(PAN_SURFACES)}"
        )
    return surface


def _calibrated(
    old: Case, asked: _Asked, heating: float | None
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
    fitted: Calibration, own: Run, expected: Unknowns, asked: _Asked
) -> Calibration:
    """What is left between the recipe's time and its own bake is carried over."""
    seconds = own.when_core_reaches(expected.end_c)
    return replace(fitted, carried=asked.middle * 60.0 / seconds)


def _both(old: Case, new: Case, expected: Unknowns, asked: _Asked) -> tuple[Run, Run]:
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
    asked: _Asked,
    minutes: float,
    heating: float | None,
    samples: int,
    seed: int,
    stop: Callable[[], bool] | None,
) -> Band:
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


def _bodies_told(bodies: tuple[Body, Body]) -> tuple[str, ...]:
    words = ("recipe's pan", "new pan")
    told = []
    for word, body in zip(words, bodies, strict=True):
        told += [f"{word}: {note}" for note in body.notes]
        told.append(f"{word}: computed as a {body.measures()}, {body.dough_g:.0f} g")
    return tuple(told)
