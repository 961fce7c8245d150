"""The loaf as the solver sees it: a box, a round, a ring or a slab of dough.

A tapered pan counts as its equivalent box or cylinder, with the same depth, the
same volume and the same ratio of sides; an oval pan as a box with the same
volume. The dome is taken flat. Floats, centimetres and grams.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from bakelab.errors import FitError
from bakelab.oven.mesh import Mesh, box, cylinder, slab
from bakelab.pans import Pan
from bakelab.units import in_unit

__all__ = ["CELLS", "Body", "body_of", "loaf_volume_cm3"]

Floats = NDArray[np.float64]
MOST_CM3_G = 4.5
"""Dough in the oven takes up at most this much; our own assumption.

Dessev and others (2020) measured up to 5 mL/g in baked bread.
"""
HEARTH_CM3_G = 3.3  # a free-standing loaf; our own assumption
HEARTH_HEIGHT = 0.45  # its height over its diameter; our own assumption
LEAST_GAS = 0.03
FLAT = 0.15  # lower than this share of its narrow side a bread is a slab
THICKEST_CM = 25.0
CELLS: Mapping[str, Mapping[str, tuple[int, ...]]] = MappingProxyType(
    {
        "quick": {
            "box": (6, 5, 10),
            "round": (11, 18),
            "ring": (16, 18),
            "slab": (24,),
        },
        "band": {"box": (5, 4, 8), "round": (8, 12), "ring": (12, 12), "slab": (20,)},
        "fine": {"box": (9, 8, 16), "round": (18, 30), "ring": (28, 30), "slab": (60,)},
    }
)
"""Cells along each axis: one estimate, a band of samples, a check."""
FINER = 0.7


@dataclass(frozen=True)
class Body:
    """One loaf: its kind, its measures in cm and its dough.

    `across_cm` and `along_cm` are the narrow and the long side of a box, or
    the diameter and that of the tube; `height_cm` is that of the risen dough.
    """

    kind: str
    along_cm: float
    across_cm: float
    height_cm: float
    tube_cm: float
    dough_g: float
    volume_cm3: float
    exposed: bool
    lidded: bool
    notes: tuple[str, ...] = ()

    @property
    def half_thickness_cm(self) -> float:
        """Half the thickness of a slab that warms through about as fast."""
        halves = {
            "box": (self.along_cm / 2, self.across_cm / 2, self.height_cm / 2),
            "round": (self.across_cm / 2 / math.sqrt(2), self.height_cm / 2),
            "ring": ((self.across_cm - self.tube_cm) / 4, self.height_cm / 2),
            "slab": (self.height_cm / 2,),
        }[self.kind]
        return 1.0 / math.sqrt(sum(1.0 / half**2 for half in halves))

    def measures(self) -> str:
        """Its measures in words."""
        if self.kind == "box":
            return (
                f"{self.along_cm:.1f} x {self.across_cm:.1f} x "
                f"{self.height_cm:.1f} cm box"
            )
        if self.kind == "slab":
            return f"{self.height_cm:.1f} cm flat bread"
        hole = f", {self.tube_cm:.1f} cm tube" if self.kind == "ring" else ""
        return f"{self.across_cm:.1f} cm round, {self.height_cm:.1f} cm high{hole}"

    def mesh(
        self, swelling: Floats, *, grid: str = "quick", others: tuple[Body, ...] = ()
    ) -> Mesh:
        """Cells of this loaf for each of `swelling` (height over `height_cm`).

        `others` are bodies of the same kind, one more sample each.
        """
        bodies = [self] * len(swelling) + list(others)
        factors = [*swelling, *([1.0] * len(others))]
        height = [b.height_cm * f / 100 for b, f in zip(bodies, factors, strict=True)]
        cells = CELLS[grid][self.kind]
        along = [b.along_cm / 100 for b in bodies]
        across = [b.across_cm / 100 for b in bodies]
        tube = [b.tube_cm / 200 for b in bodies]
        radius = [a / 2 for a in across]
        build: dict[str, Callable[[], Mesh]] = {
            "box": lambda: box(
                along, across, height, (cells[0], cells[1], cells[2]), finer=FINER
            ),
            "round": lambda: cylinder(
                radius, height, (cells[0], cells[1]), finer=FINER
            ),
            "ring": lambda: cylinder(
                radius, height, (cells[0], cells[1]), tube=tube, finer=FINER
            ),
            "slab": lambda: slab(
                height, self.along_cm * self.across_cm / 1e4, cells[0], finer=FINER
            ),
        }
        return build[self.kind]()


def loaf_volume_cm3(pan: Pan, dough_g: float) -> float:
    """Room that the dough takes in the oven: the pan's, if it gets that far."""
    if not pan.has_volume:
        return HEARTH_CM3_G * dough_g
    return min(in_unit(pan.usable_volume(), "cm^3", "volume"), MOST_CM3_G * dough_g)


def body_of(pan: Pan, dough_g: float, *, gas_free_kg_m3: float) -> Body:
    """The loaf of `dough_g` grams in one pan, risen.

    Raises
    ------
    FitError
        If the dough does not fit even without gas, or is too thick to bake.
    """
    volume = loaf_volume_cm3(pan, dough_g)
    solid = dough_g / gas_free_kg_m3 * 1e3
    if volume < solid * (1.0 + LEAST_GAS):
        raise FitError(
            f"{dough_g:.0f} g of dough needs {solid:.0f} cm³ without any gas in it, "
            f"and this pan has room for {volume:.0f} cm³: no porosity is left to bake; "
            "take a larger pan or less dough"
        )
    kind, along, across, tube, note = _sides(pan, volume)
    area = _area(kind, along, across, tube)
    height = volume / area
    if kind == "box" and height < FLAT * across:
        kind, note = "slab", (*note, "taken as a flat bread; its rim bakes sooner")
    body = Body(
        kind, along, across, height, tube, dough_g, volume,
        exposed=not pan.has_volume, lidded=pan.lidded, notes=note,
    )  # fmt: skip
    _refuse_thick(body)
    return body


def _refuse_thick(body: Body) -> None:
    thinnest = min(body.height_cm, 4 * body.half_thickness_cm)
    if body.kind != "ring":
        thinnest = min(body.height_cm, body.across_cm)
    if thinnest > THICKEST_CM:
        raise FitError(
            f"a loaf of {body.measures()} is too thick to compute (at most "
            f"{THICKEST_CM:g} cm at its thinnest): it would burn before its centre is "
            "done; divide the dough"
        )


def _area(kind: str, along: float, across: float, tube: float) -> float:
    if kind == "box":
        return along * across
    return math.pi / 4 * (across**2 - tube**2)


def _sides(pan: Pan, volume: float) -> tuple[str, float, float, float, tuple[str, ...]]:
    """Kind, long and narrow side (or diameter), tube, and what was assumed."""
    if not pan.has_volume:
        wide = (4 * volume / (math.pi * HEARTH_HEIGHT)) ** (1 / 3)
        note = (
            f"free-standing: taken as a round {wide:.0f} cm wide and "
            f"{HEARTH_HEIGHT * wide:.0f} cm high"
        )
        return "round", wide, wide, 0.0, (note,)
    depth = float(pan.depth_cm or 0.0)
    area = in_unit(pan.volume, "cm^3", "volume") / depth
    if pan.form_name == "round":
        wide = math.sqrt(4 * area / math.pi)
        return "round", wide, wide, 0.0, _tapered(pan, "cylinder")
    if pan.form_name == "ring":
        tube = float(pan.tube_cm or 0.0)
        wide = math.sqrt(4 * area / math.pi + tube**2)
        return "ring", wide, wide, tube, _tapered(pan, "ring")
    along, across = _middle(pan)
    factor = math.sqrt(area / (along * across))
    oval = ("oval pan: taken as a box with the same volume",)
    notes = oval if pan.form_name == "oval" else _tapered(pan, "box")
    return "box", along * factor, across * factor, 0.0, notes


def _middle(pan: Pan) -> tuple[float, float]:
    rim = (float(pan.length_cm or 0.0), float(pan.width_cm or 0.0))
    base = (float(pan.base_length_cm or rim[0]), float(pan.base_width_cm or rim[1]))
    sides = sorted((rim[i] + base[i]) / 2 for i in (0, 1))
    return sides[1], sides[0]


def _tapered(pan: Pan, body: str) -> tuple[str, ...]:
    bases = (pan.base_length_cm, pan.base_width_cm, pan.base_diameter_cm)
    if all(b is None for b in bases) and pan.capacity_cm3 is None:
        return ()
    return (f"tapered pan: taken as a {body} with the same depth and volume",)
