"""What is asked of an estimate, read from formula, pans, oven and words."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from bakelab.errors import FitError
from bakelab.formula import Formula, require_flour
from bakelab.oven.baking import gas_free_of
from bakelab.oven.body import Body, body_of
from bakelab.oven.boiling import boiling_c
from bakelab.oven.food_properties import Composition, dough_composition
from bakelab.oven.settings import PAN_SURFACES, Oven
from bakelab.oven.settings import oven as read_oven
from bakelab.pans import Pan
from bakelab.ranges import band, trade_ranges
from bakelab.units import Quantity, in_unit, quantity

__all__ = [
    "LONGEST_S",
    "ROUNDED",
    "Asked",
    "Minutes",
    "ask",
    "bodies_of",
    "bodies_told",
    "known_surface",
]

USUAL_END_C = (90.0, 99.0)  # common practice, no source
START_C = 30.0  # proofed dough going in; our own assumption
ROUNDED = 0.05  # a single stated time is taken as rounded by this share
BELOW_BOILING_K = 0.7
LONGEST_S = 6 * 3600.0

Minutes = Quantity | tuple[float, float] | float | str | None


@dataclass(frozen=True)
class Asked:
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


def ask(
    formula: Formula,
    setting: Oven | Quantity | str | None,
    minutes: Minutes,
    core_end: Quantity | None,
    start: Quantity | None,
    altitude: Quantity | None,
    heating: float | None,
) -> Asked:
    require_flour(formula)
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
    return Asked(mix, heat, stated, end_band, end_c, start_c, assumed)


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


def bodies_of(
    formula: Formula,
    pans: tuple[Pan, ...],
    asked: Asked,
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


def known_surface(surface: str) -> str:
    if surface not in PAN_SURFACES:
        raise FitError(
            f"no kind of pan {surface!r}; choose one of {', '.join(PAN_SURFACES)}"
        )
    return surface


def bodies_told(bodies: tuple[Body, Body]) -> tuple[str, ...]:
    words = ("recipe's pan", "new pan")
    told = []
    for word, body in zip(words, bodies, strict=True):
        told += [f"{word}: {note}" for note in body.notes]
        told.append(f"{word}: computed as a {body.measures()}, {body.dough_g:.0f} g")
    return tuple(told)
