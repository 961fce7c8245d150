"""The shapes of pans: which measures each needs, and its volume and surfaces.

One :class:`Form` per way of computing (flat-sided, round, ring, oval); every
shape word of the trade belongs to one of them. Floats, centimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from bakelab.pans import geometry

__all__ = ["FORM_OF_SHAPE", "MEASURES", "SHAPES", "Form", "Measures", "form_name"]

FORM_OF_SHAPE: Mapping[str, str] = MappingProxyType(
    {
        "loaf": "flat",
        "square": "flat",
        "rectangle": "flat",
        "round": "round",
        "springform": "round",
        "tube": "ring",
        "fluted tube": "ring",
        "oval": "oval",
        "sheet": "flat",
        "muffin": "round",
        "roll well": "flat or round",
        "pie": "round",
        "dish": "flat or round",
        "skillet": "round",
        "pot": "round",
        "basket": "oval or round",
        "hearth": "free",
    }
)
SHAPES = tuple(FORM_OF_SHAPE)

MEASURES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "flat": ("length_cm", "width_cm", "depth_cm"),
        "oval": ("length_cm", "width_cm", "depth_cm"),
        "round": ("diameter_cm", "depth_cm"),
        "ring": ("diameter_cm", "depth_cm", "tube_cm"),
        "free": (),
    }
)
"""The measures that each form cannot do without."""


@dataclass(frozen=True)
class Measures:
    """Inside measures of one pan, cm; base measures equal the rim if straight."""

    rim: tuple[float, ...]
    base: tuple[float, ...]
    depth: float
    tube: float = 0.0
    corner: float = 0.0


@dataclass(frozen=True)
class Form:
    """Volume, rim area, base area and wall of one way to be a pan."""

    volume_cm3: float
    rim_area_cm2: float
    base_area_cm2: float
    wall_cm2: float
    width_cm: float

    @classmethod
    def of(cls, form: str, m: Measures) -> Form:
        """The form called `form` ("flat", "round", "ring", "oval") of `m`."""
        return _BUILDERS[form](m)


def form_name(shape: str, *, round_rim: bool) -> str:
    """How a shape is computed; some shape words are made round and long."""
    form = FORM_OF_SHAPE[shape]
    if " or " in form:
        return "round" if round_rim else form.split(" or ", 1)[0]
    return form


def _flat(m: Measures) -> Form:
    rim, base = (m.rim[0], m.rim[1]), (m.base[0], m.base[1])
    return Form(
        geometry.rectangular_frustum_volume(
            rim_cm=rim, base_cm=base, depth_cm=m.depth, corner_cm=m.corner
        ),
        geometry.rectangle_area(*rim, m.corner),
        geometry.rectangle_area(*base, m.corner),
        geometry.rectangular_frustum_wall(
            rim_cm=rim, base_cm=base, depth_cm=m.depth, corner_cm=m.corner
        ),
        min(rim),
    )


def _round(m: Measures) -> Form:
    rim, base = m.rim[0], m.base[0]
    return Form(
        geometry.cone_frustum_volume(rim, base, m.depth),
        geometry.circle_area(rim),
        geometry.circle_area(base),
        geometry.cone_frustum_wall(rim, base, m.depth),
        rim,
    )


def _ring(m: Measures) -> Form:
    rim, base = m.rim[0], m.base[0]
    walls = {
        "rim_cm": rim,
        "base_cm": base,
        "depth_cm": m.depth,
        "tube_rim_cm": m.tube,
        "tube_base_cm": m.tube,
    }
    return Form(
        geometry.tube_volume(**walls),
        geometry.annulus_area(rim, m.tube),
        geometry.annulus_area(base, m.tube),
        geometry.tube_wall(**walls),
        (rim - m.tube) / 2.0,
    )


def _oval(m: Measures) -> Form:
    rim, base = (m.rim[0], m.rim[1]), (m.base[0], m.base[1])
    return Form(
        geometry.oval_frustum_volume(rim_cm=rim, base_cm=base, depth_cm=m.depth),
        geometry.ellipse_area(*rim),
        geometry.ellipse_area(*base),
        geometry.oval_frustum_wall(rim_cm=rim, base_cm=base, depth_cm=m.depth),
        min(rim),
    )


_BUILDERS = {"flat": _flat, "round": _round, "ring": _ring, "oval": _oval}
