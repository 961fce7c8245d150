"""What a pan may be: every measure there, above zero, and no larger than an oven."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from bakelab.errors import PanError
from bakelab.pans.shapes import MEASURES, SHAPES, Measures

if TYPE_CHECKING:
    from bakelab.pans.pan import Pan

__all__ = [
    "LARGEST_CM",
    "LENGTHS",
    "check_capacity",
    "check_length",
    "check_pan",
    "measures_of",
]

LARGEST_CM = 200.0
LARGEST_COUNT = 1000
DEEPEST_FLUTING_PCT = 50.0
DOME_UNITS = ("in", "cm")
LENGTHS = (
    "length_cm",
    "width_cm",
    "depth_cm",
    "diameter_cm",
    "base_length_cm",
    "base_width_cm",
    "base_diameter_cm",
    "tube_cm",
)


def measures_of(pan: Pan) -> Measures:
    depth, tube = float(pan.depth_cm or 0.0), float(pan.tube_cm or 0.0)
    if pan.form_name in ("round", "ring"):
        rim: tuple[float, ...] = (float(pan.diameter_cm or 0.0),)
        base: tuple[float, ...] = (float(pan.base_diameter_cm or rim[0]),)
    else:
        rim = (float(pan.length_cm or 0.0), float(pan.width_cm or 0.0))
        base = (
            float(pan.base_length_cm or rim[0]),
            float(pan.base_width_cm or rim[1]),
        )
    return Measures(rim, base, depth, tube, pan.corner_cm)


def check_pan(pan: Pan) -> None:
    if pan.shape not in SHAPES:
        raise PanError(f"no pan shape {pan.shape!r}; choose one of {', '.join(SHAPES)}")
    for name in LENGTHS:
        check_length(name, getattr(pan, name))
    if pan.dome_unit not in DOME_UNITS:
        raise PanError(f"a pan is given in 'cm' or 'in', not in {pan.dome_unit!r}")
    if isinstance(pan.count, bool) or not isinstance(pan.count, int):
        raise PanError(f"the number of pans is {pan.count!r}; give a whole number")
    if not 1 <= pan.count <= LARGEST_COUNT:
        raise PanError(f"the number of pans is {pan.count}; give 1 to {LARGEST_COUNT}")
    _check_whole(pan)


def check_length(name: str, value: float | None) -> None:
    if value is None:
        return
    label = name.removesuffix("_cm").replace("_", " ")
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        raise PanError(f"the pan's {label} is {value!r}; give a number of centimetres")
    if not (math.isfinite(value) and 0.0 < value <= LARGEST_CM):
        raise PanError(
            f"the pan's {label} is {value:g} cm; give an inside measure above 0 cm "
            f"and up to {LARGEST_CM:g} cm"
        )


def _check_whole(pan: Pan) -> None:
    for name in MEASURES[pan.form_name]:
        if getattr(pan, name) is None:
            label = name.removesuffix("_cm")
            raise PanError(f"a {pan.shape} pan needs its {label}; add it in cm or in")
    if not 0.0 <= pan.fluting_pct <= DEEPEST_FLUTING_PCT:
        raise PanError(
            f"fluting of {pan.fluting_pct:g} % is not possible; give 0 to "
            f"{DEEPEST_FLUTING_PCT:g} % of the volume"
        )
    if pan.has_volume:
        _check_room(pan)


def _check_room(pan: Pan) -> None:
    measures = measures_of(pan)
    narrowest = min(*measures.rim, *measures.base)
    if not 0.0 <= pan.corner_cm <= narrowest / 2.0:
        raise PanError(
            f"a corner radius of {pan.corner_cm:g} cm does not fit; give 0 to half "
            f"the narrowest width, {narrowest / 2.0:g} cm"
        )
    if measures.tube >= narrowest:
        raise PanError(
            f"the tube ({measures.tube:g} cm) is as wide as the pan "
            f"({narrowest:g} cm); check both diameters"
        )
    if pan.capacity_cm3 is not None:
        check_capacity(pan.capacity_cm3)


def check_capacity(capacity: float) -> None:
    """Refuse a capacity in cm³ that no pan has.

    Raises
    ------
    PanError
        If it is not finite, not above 0 or above 200 litres.
    """
    if not (math.isfinite(capacity) and 0 < capacity <= 2e5):
        raise PanError(
            f"a capacity of {capacity:g} cm³ is not possible; give more than 0 "
            "and up to 200 000 cm³"
        )
