"""What has been read of a short pan text, and the pan it makes."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from bakelab.errors import PanError
from bakelab.pans.assembly import (
    Written,
    assemble,
    rim_measures,
    shape_from_measures,
)
from bakelab.pans.measures import Group
from bakelab.pans.pan import Pan

__all__ = ["SHAPE_WORDS", "Draft", "finish"]

SHAPE_WORDS = {
    "loaf": "loaf",
    "loaves": "loaf",
    "square": "square",
    "rectangle": "rectangle",
    "rectangular": "rectangle",
    "round": "round",
    "springform": "springform",
    "tube": "tube",
    "ring": "tube",
    "oval": "oval",
    "sheet": "sheet",
    "muffin": "muffin",
    "roll": "roll well",
    "pie": "pie",
    "dish": "dish",
    "skillet": "skillet",
    "pot": "pot",
    "basket": "basket",
    "hearth": "hearth",
    "fluted": "fluted tube",
    "pizza": "round",
}


@dataclass
class Draft:
    """What has been read of a spec so far."""

    shape: str = ""
    rim: Group | None = None
    base: Group | None = None
    depth: Group | None = None
    tube: Group | None = None
    corner: Group | None = None
    fluting_pct: float | None = None
    capacity_cm3: float | None = None
    count: int | None = None
    lidded: bool = False
    dome_unit: str = ""
    hints: list[str] = field(default_factory=list)
    named: str = ""
    assumed: list[str] = field(default_factory=list)
    unknown: str = ""
    trouble: str = ""


def finish(draft: Draft, text: str) -> Pan:
    """The pan that was drafted, as `assemble` makes it."""
    rim = draft.rim
    values = rim.in_cm() if rim else ()
    round_rim = bool(rim and rim.is_diameter)
    shape = draft.shape or _shape_of(draft, values, text, round_rim=round_rim)
    measures = rim_measures(shape, values, is_diameter=round_rim) if values else {}
    measures |= _other_measures(draft, round_rim=round_rim or "diameter_cm" in measures)
    hints = (["lidded"] if draft.lidded else []) + draft.hints
    made = assemble(
        Written(
            shape,
            measures,
            tuple(hints),
            unit=draft.dome_unit or _dome_unit(rim),
            corner_cm=draft.corner.in_cm()[0] if draft.corner else 0.0,
            fluting_pct=draft.fluting_pct,
            capacity_cm3=draft.capacity_cm3,
            count=draft.count,
            lidded=draft.lidded,
            name=draft.named or ("" if measures else " ".join(text.split())),
            text=text.split(', assumed "', maxsplit=1)[0].strip(),
        )
    )
    return _with_notes(made, draft)


def _shape_of(
    draft: Draft, values: tuple[float, ...], text: str, *, round_rim: bool
) -> str:
    """The shape that measures alone suggest."""
    if not values:
        raise PanError(
            f"{text[:60]!r} says what the pan holds but not its shape; write both, "
            "such as 'loaf, holds 1600 g water at 20 C'"
        )
    if draft.lidded and len(values) == 3:
        return "loaf"
    return shape_from_measures(values, is_diameter=round_rim)


def _other_measures(draft: Draft, *, round_rim: bool) -> dict[str, float]:
    measures: dict[str, float] = {}
    if draft.depth:
        measures["depth_cm"] = draft.depth.in_cm()[0]
    if draft.tube:
        measures["tube_cm"] = draft.tube.in_cm()[0]
    if draft.base:
        base = draft.base.in_cm()
        if round_rim:
            measures["base_diameter_cm"] = base[0]
        else:
            measures["base_length_cm"] = base[0]
            measures["base_width_cm"] = base[-1]
    return measures


def _dome_unit(rim: Group | None) -> str:
    if rim is None:
        return ""
    return "in" if rim.unit == "in" else "cm"


def _with_notes(made: Pan, draft: Draft) -> Pan:
    if not draft.assumed:
        return made
    return replace(made, assumed=tuple(draft.assumed))
