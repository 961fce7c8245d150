"""Pans for exercises: the usual pans, measured with a ruler, in exact numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from bakelab.charts.pan_profile import Profile
from bakelab.charts.svg_parts import Pen, dome_arc, lid_bar, pan_wall
from bakelab.lessons.bread import exact
from bakelab.lessons.drafting import Draw
from bakelab.lessons.pictures import framed, words_at
from bakelab.lessons.words import amount, decimal
from bakelab.pans import pan
from bakelab.theme import PALETTE

__all__ = [
    "CM_PER_IN",
    "LIDDED",
    "OPEN",
    "PI",
    "ROUND",
    "TAPERED",
    "Tin",
    "draw_tin",
    "side_views",
]

LIDDED = (
    "uk_lidded_2lb", "de_toast_lidded", "fr_mie_18", "fr_mie_28", "fr_mie_40",
    "jp_1kin", "jp_1_5kin", "jp_2kin", "lidded_9x4", "lidded_13x4", "lidded_16x4",
)  # fmt: skip
OPEN = (
    "loaf_9x5", "loaf_8_5x4_5", "loaf_8x4", "loaf_9x5_deep_2_75", "loaf_10x5",
    "loaf_12x4_5", "loaf_army_11x5", "loaf_statute_standard", "loaf_statute_large",
)  # fmt: skip
TAPERED = (
    "uk_1lb", "uk_2lb", "uk_3lb", "uk_4lb_farmhouse", "de_kasten_20", "de_kasten_25",
    "de_kasten_30", "de_kasten_35", "fr_cake_24", "fr_cake_26", "fr_cake_28",
    "jp_pound_18",
)  # fmt: skip
ROUND = ("uk_round_18", "uk_round_20", "uk_round_23", "uk_round_25",
         "de_springform_20", "de_springform_22", "de_springform_24",
         "de_springform_26", "jp_round_18")  # fmt: skip
PI = Fraction(314, 100)
"""As the questions say: take 3.14."""

CM_PER_IN = Fraction(254, 100)
_DOME = {"cm": Fraction(5, 2), "in": Fraction(1)}  # common practice, no source


@dataclass(frozen=True)
class Tin:
    """Inside measures in `unit`, at the rim and at the base; a round pan has both
    its length and its width as its diameter."""

    name: str
    unit: str
    length: Fraction
    width: Fraction
    depth: Fraction
    base_length: Fraction
    base_width: Fraction
    lidded: bool = False
    is_round: bool = False

    @property
    def dome(self) -> Fraction:
        """The room for the dome that the trade adds where there is no lid."""
        return Fraction(0) if self.lidded else _DOME[self.unit]

    @property
    def height(self) -> Fraction:
        """Depth, and the dome where there is no lid."""
        return self.depth + self.dome

    @property
    def usable(self) -> Fraction:
        """Rim area times height, in cubic units."""
        area = self.length * self.width
        return (area * PI / 4 if self.is_round else area) * self.height

    @property
    def cubic(self) -> str:
        """The unit of its volume."""
        return f"{self.unit}³"

    def size(self, measure: Fraction) -> str:
        """A measure with its unit."""
        return amount(measure, self.unit)

    @property
    def measures(self) -> str:
        """Its measures at the rim in one phrase."""
        if self.is_round:
            return f"{self.size(self.length)} across and {self.size(self.depth)} deep"
        rim = [self.size(m).split()[0] for m in (self.length, self.width, self.depth)]
        return f"{' × '.join(rim)} {self.unit}"


def draw_tin(draw: Draw, keys: Sequence[str], *, ruler: bool = True) -> Tin:
    """One of the usual pans; with `ruler` a little larger or smaller, as pans are."""
    tin = _tin(draw.pick(keys))
    if not ruler:
        return tin
    step = Fraction(1, 2) if tin.unit == "cm" else Fraction(1, 4)
    longer, deeper = (step * draw.whole(-2, 2) for _ in range(2))
    across = longer if tin.is_round else Fraction(0)
    return replace(
        tin,
        length=tin.length + longer,
        base_length=tin.base_length + longer,
        width=tin.width + across,
        base_width=tin.base_width + across,
        depth=tin.depth + deeper / 2,
    )


def side_views(
    tins: Sequence[tuple[str, Tin]], title: str, *, dome: bool = True
) -> str:
    """Pans from the side to one scale, each with its name; lid and dome are drawn."""
    across = [float(_cm(t, t.length)) for _, t in tins]
    px = min(380 / sum(across), 9.0)
    pen = Pen(px, 13.0, "currentColor", PALETTE["flour"])
    bottom = px * max(float(_cm(t, t.height)) for _, t in tins) + 14
    parts, left = [], 20.0
    for (name, tin), wide in zip(tins, across, strict=True):
        middle = left + wide * px / 2
        parts.append(_one_view(pen, tin, middle, bottom, dome=dome))
        parts.append(words_at(middle, bottom + 18, name, anchor="middle"))
        parts.append(words_at(middle, bottom + 35, _short(tin), anchor="middle"))
        left += wide * px + 40
    told = "; ".join(f"{name}: {tin.measures}, {_lid(tin, dome)}" for name, tin in tins)
    high = round(bottom + 45)
    return framed("".join(parts), title, f"Side views: {told}.", 460, high)


def _one_view(pen: Pen, tin: Tin, middle: float, bottom: float, *, dome: bool) -> str:
    measures = (tin.length, tin.base_length, tin.depth)
    rim, base, depth = (float(_cm(tin, m)) for m in measures)
    view = Profile("side", rim, base, depth)
    wall = pan_wall(pen, view, middle, bottom)
    if tin.lidded:
        return wall + lid_bar(pen, view, middle, bottom)
    if not dome:
        return wall
    return wall + dome_arc(pen, view, middle, bottom, float(_cm(tin, tin.dome)))


def _short(tin: Tin) -> str:
    if tin.base_length != tin.length:
        base = f"{decimal(tin.base_length)} × {decimal(tin.base_width)}"
        return f"{tin.measures}, base {base}"
    return f"{tin.size(tin.length)} across" if tin.is_round else tin.measures


def _lid(tin: Tin, dome: bool) -> str:
    if tin.lidded:
        return "with a lid"
    return "no lid, the loaf may dome above the rim" if dome else "no lid"


def _cm(tin: Tin, measure: Fraction) -> Fraction:
    return measure * (CM_PER_IN if tin.unit == "in" else 1)


@cache
def _tin(key: str) -> Tin:
    known = pan(key)
    unit = known.dome_unit

    def measure(cm: float | None, other: float | None = None) -> Fraction:
        size = exact(cm if cm is not None else other or 0.0)
        return size / CM_PER_IN if unit == "in" else size

    rim = known.diameter_cm
    return Tin(
        "round pan" if rim else "loaf pan",
        unit,
        measure(known.length_cm, rim),
        measure(known.width_cm, rim),
        measure(known.depth_cm),
        measure(known.base_length_cm, known.length_cm or rim),
        measure(known.base_width_cm, known.width_cm or rim),
        known.lidded,
        rim is not None,
    )
