"""From what was written about a pan to a `Pan`: shape, sides, gaps filled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from bakelab.errors import PanError
from bakelab.pans.limits import check_capacity, check_length
from bakelab.pans.pan import Pan
from bakelab.pans.shapes import FORM_OF_SHAPE
from bakelab.pans.table import Filled, fill_in

__all__ = ["CAPACITY_CM3", "Written", "assemble", "rim_measures", "shape_from_measures"]

CAPACITY_CM3: Mapping[str, float] = {
    # UCUM essence table: US quart 57.75 in3, cup 14.4375 in3, pint 28.875 in3
    "quart": 946.352946,
    "pint": 473.176473,
    "cup": 236.5882365,
    "litre": 1000.0,
    "ml": 1.0,
}
NARROWEST_LOAF = 1.6  # length over width from which a plain "pan" is a loaf pan
WIDEST_LOAF_CM = 16.0
_COUNTRY = {"de": "DE", "fr": "FR", "jp": "JP"}


@dataclass(frozen=True)
class Written:
    """What a text says of a pan, nothing added."""

    shape: str
    measures: Mapping[str, float] = field(default_factory=dict)
    hints: tuple[str, ...] = ()
    language: str = "en"
    unit: str = ""
    corner_cm: float = 0.0
    fluting_pct: float | None = None
    capacity_cm3: float | None = None
    count: int | None = None
    lidded: bool = False
    name: str = ""
    text: str = ""
    notes: tuple[str, ...] = ()


def assemble(written: Written) -> Pan:
    """The pan that was written, missing measures from the closest usual pan.

    Raises
    ------
    PanError
        If a written measure is impossible.
    """
    if written.shape == "hearth":
        return Pan("hearth", count=written.count or 1, text=written.text)
    for name, value in written.measures.items():
        check_length(name, value)
    if written.capacity_cm3 is not None:
        check_capacity(written.capacity_cm3)
    filled = _filled(written)
    fluting, notes = _fluting(written)
    return Pan(
        written.shape,
        **filled.measures,
        corner_cm=written.corner_cm,
        fluting_pct=fluting,
        capacity_cm3=written.capacity_cm3,
        count=1 if written.count is None else written.count,
        lidded=written.lidded,
        dome_unit=written.unit or filled.given_in,
        name=written.name,
        text=written.text,
        assumed=(*written.notes, *filled.assumed, *notes),
    )


def _filled(written: Written) -> Filled:
    unit = written.unit or ("in" if written.language == "en" else "cm")
    return fill_in(
        written.shape,
        written.measures,
        usual=written.hints,
        country=_country(written.language, unit),
        lidded=written.lidded,
        capacity_cm3=written.capacity_cm3,
        flat="pizza" in written.text.casefold(),
    )


def rim_measures(
    shape: str, values_cm: Sequence[float], *, is_diameter: bool = False
) -> dict[str, float]:
    """Which field each written rim measure is: `9 x 5 x 3` of a loaf, and so on.

    Raises
    ------
    PanError
        If there are more measures than the shape has.
    """
    form = FORM_OF_SHAPE[shape]
    if " or " in form:
        form = "round" if is_diameter else "flat"
    if form == "free":
        raise PanError("a free-standing loaf has no pan to measure; leave them out")
    if form in ("round", "ring"):
        return _round_measures(shape, values_cm)
    names: tuple[str, ...] = ("length_cm", "width_cm", "depth_cm")
    if len(values_cm) > len(names):
        raise PanError(_too_many(shape, values_cm))
    if shape == "square" and len(values_cm) == 1:
        names = ("length_cm",)
    elif shape == "square" and len(values_cm) == 2 and _is_depth(values_cm):
        return {
            "length_cm": values_cm[0],
            "width_cm": values_cm[0],
            "depth_cm": values_cm[1],
        }
    measures = dict(zip(names, values_cm, strict=False))
    if shape == "square" and "width_cm" not in measures:
        measures["width_cm"] = measures["length_cm"]
    return measures


def shape_from_measures(values_cm: Sequence[float], *, is_diameter: bool) -> str:
    """The shape of a plain "pan" by its sides: loaf, square, rectangle or round."""
    if is_diameter:
        return "round"
    if len(values_cm) == 1:
        return "round"
    longer, shorter = max(values_cm[:2]), min(values_cm[:2])
    if shorter <= 0:
        return "loaf"  # the pan itself refuses such a measure
    if longer / shorter < 1.08:
        return "square"
    if longer / shorter >= NARROWEST_LOAF and shorter <= WIDEST_LOAF_CM:
        return "loaf"
    return "rectangle"


def _round_measures(shape: str, values_cm: Sequence[float]) -> dict[str, float]:
    if len(values_cm) == 3 and abs(values_cm[0] / values_cm[1] - 1.0) < 0.01:
        values_cm = (values_cm[0], values_cm[2])
    if len(values_cm) > 2:
        raise PanError(_too_many(shape, values_cm))
    return dict(zip(("diameter_cm", "depth_cm"), values_cm, strict=False))


def _is_depth(values_cm: Sequence[float]) -> bool:
    return values_cm[1] < values_cm[0] / 2.0


def _too_many(shape: str, values_cm: Sequence[float]) -> str:
    shown = " x ".join(f"{value:g}" for value in values_cm)
    wanted = "length x width x depth"
    if FORM_OF_SHAPE[shape] in ("round", "ring"):
        wanted = "diameter x depth"
    return f"{shown} cm is too much for a {shape} pan; give {wanted}"


def _country(language: str, unit: str) -> str:
    return _COUNTRY.get(language, "US" if unit == "in" else "UK")


def _fluting(written: Written) -> tuple[float, tuple[str, ...]]:
    if written.fluting_pct is not None:
        return written.fluting_pct, ()
    if written.shape == "fluted tube" and written.capacity_cm3 is None:
        return 8.0, ("fluting 8 %: allowance, common practice, no source",)
    return 0.0, ()
