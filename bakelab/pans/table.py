"""The table of usual pans, and measures taken from it when nobody wrote them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from bakelab.errors import PanError
from bakelab.pans.pan import Pan
from bakelab.pans.shapes import MEASURES, form_name
from bakelab.pans.usual import USUAL
from bakelab.tables import read_rows, read_table
from bakelab.units import in_unit

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Filled", "fill_in", "named_pan", "pan_names", "pans"]

_COLUMNS: dict[str, type] = {
    "key": str,
    "name": str,
    "shape": str,
    "country": str,
    "length_cm": float,
    "width_cm": float,
    "depth_cm": float,
    "base_length_cm": float,
    "base_width_cm": float,
    "diameter_cm": float,
    "base_diameter_cm": float,
    "tube_cm": float,
    "corner_cm": float,
    "fluting_pct": float,
    "count": int,
    "lidded": bool,
    "given_in": str,
    "published_cups": float,
    "source": str,
}
_BASES = ("base_length_cm", "base_width_cm", "base_diameter_cm")
_FIELDS = (
    "length_cm",
    "width_cm",
    "depth_cm",
    "diameter_cm",
    *_BASES,
    "tube_cm",
)


@dataclass(frozen=True)
class Filled:
    """Measures with the gaps filled, and a note for each that was filled."""

    measures: Mapping[str, float]
    assumed: tuple[str, ...]
    given_in: str


def pans() -> pd.DataFrame:
    """Usual pans by key, inside measures in cm; blank = not given."""
    return read_table("pans", _COLUMNS).set_index("key")


def named_pan(name: str) -> Pan | None:
    """The table's pan with this key or name, or None."""
    row = _by_name().get(" ".join(name.split()).casefold())
    return None if row is None else _pan_of(row)


def pan_names() -> tuple[str, ...]:
    """Keys of all pans in the table."""
    return tuple(str(row["key"]) for row in _rows())


def fill_in(
    shape: str,
    written: Mapping[str, float],
    *,
    usual: Iterable[str] = (),
    country: str = "US",
    lidded: bool = False,
    capacity_cm3: float | None = None,
    flat: bool = False,
) -> Filled:
    """The written measures, and the missing ones from the closest usual pan.

    Parameters
    ----------
    shape : str
        A shape; only pans of that shape are asked.
    written : mapping of str to float
        Fields such as ``length_cm`` that were written.
    usual : iterable of str
        Size words or a language, tried in turn in :data:`USUAL` when no
        measure was written.
    country, lidded :
        Preferred among pans that are equally close.
    capacity_cm3 : float, optional
        A written capacity; it chooses the pan when no measure was written.
    flat : bool
        True for a pizza pan: only then is a nearly flat round pan a usual one.
    """
    known, notes = dict(written), []
    if _is_square(shape, known):
        known["width_cm"] = known["length_cm"]
        notes.append(_note("width_cm", known["width_cm"], "taken as its length"))
    long_or_round = {"length_cm", "width_cm", "diameter_cm"} & set(known)
    if long_or_round or (known and shape not in _EITHER):
        row = _closest(shape, known, country, lidded=lidded, flat=flat)
    elif capacity_cm3 is not None:
        row = _by_capacity(shape, capacity_cm3)
    else:
        row = _usual_row(shape, usual)
    round_rim = "diameter_cm" in known or (not long_or_round and _is_round(row))
    needed = MEASURES[form_name(shape, round_rim=round_rim)]
    found = {n: row[n] for n in needed if n not in known and not math.isnan(row[n])}
    if "depth_cm" in found:
        found |= _taper(known | found, row)
    basis = f"assumed from the usual {row['name']}"
    notes += [_note(name, value, basis) for name, value in found.items()]
    return Filled(known | found, tuple(notes), row["given_in"])


_EITHER = ("dish", "roll well", "basket")
_LIKE: Mapping[str, str] = MappingProxyType(
    {"dish": "round", "skillet": "pot", "basket": "oval", "roll well": "square"}
)
_COUNTRIES_APART = 0.02
_LIDS_APART = 0.30
_FLAT_APART = 1.0
_UNUSUAL = 0.08
_FLUTES_APART = 0.15


def _is_square(shape: str, known: Mapping[str, float]) -> bool:
    alone = "length_cm" in known and "width_cm" not in known
    return alone and shape in ("square", "dish", "roll well", "basket")


def _is_round(row: Mapping[str, Any]) -> bool:
    return not math.isnan(row["diameter_cm"])


def _closest(
    shape: str, known: Mapping[str, float], country: str, *, lidded: bool, flat: bool
) -> Mapping[str, Any]:
    rows = [r for r in _by_shape().get(shape, ()) if _shared(r, known)]
    rows = rows or [
        r for r in _by_shape().get(_LIKE.get(shape, ""), ()) if _shared(r, known)
    ]
    if not rows:
        return _usual_row(shape, ())

    def distance(row: Mapping[str, Any]) -> float:
        apart = _apart(row, known, country)
        apart += _LIDS_APART * float(row["lidded"] != lidded)
        return apart + _FLAT_APART * float(_is_flat(row) != flat)

    return min(rows, key=distance)


def _shared(row: Mapping[str, Any], known: Mapping[str, float]) -> bool:
    return any(not math.isnan(row[name]) for name in known if name in _FIELDS)


def _is_flat(row: Mapping[str, Any]) -> bool:
    return bool(row["shape"] == "round" and row["depth_cm"] < 2)


def _apart(row: Mapping[str, Any], known: Mapping[str, float], country: str) -> float:
    pairs = [(v, row[n]) for n, v in known.items() if not math.isnan(row[n])]
    far: float = sum(abs(math.log(value / usual)) for value, usual in pairs)
    far += len(known) - len(pairs)
    far += _COUNTRIES_APART * (row["country"] != country)
    if row["shape"] == "round" and not math.isnan(row["fluting_pct"]):
        far += _FLUTES_APART
    far += _UNUSUAL * (not row["source"].startswith("common"))
    return far


def _taper(known: Mapping[str, float], row: Mapping[str, Any]) -> dict[str, float]:
    """Base measures in the usual pan's proportion to its own rim."""
    bases = {}
    for name in _BASES:
        rim = name.removeprefix("base_")
        if name in known or rim not in known or math.isnan(row[name]):
            continue
        bases[name] = round(known[rim] * row[name] / row[rim], 1)
    return bases


def _note(name: str, value: float, basis: str) -> str:
    label = name.removesuffix("_cm").replace("_", " ")
    return f"{label} {value:g} cm: {basis}"


def _by_capacity(shape: str, capacity_cm3: float) -> Mapping[str, Any]:
    rows = _by_shape().get(shape)
    if not rows:
        return _usual_row(shape, ())
    return min(rows, key=lambda row: abs(math.log(_volume(row["key"]) / capacity_cm3)))


@cache
def _volume(key: str) -> float:
    return in_unit(_pan_of(_by_key()[key]).volume, "cm^3", "volume")


def _usual_row(shape: str, usual: Iterable[str]) -> Mapping[str, Any]:
    for word in (*usual, ""):
        key = USUAL.get((shape, word))
        if key:
            return _by_key()[key]
    raise PanError(f"no usual {shape} pan is known; give its measures in cm or in")


def _pan_of(row: Mapping[str, Any]) -> Pan:
    measures = {n: row[n] for n in _FIELDS if not math.isnan(row[n])}
    return Pan(
        row["shape"],
        **measures,
        corner_cm=0.0 if math.isnan(row["corner_cm"]) else row["corner_cm"],
        fluting_pct=0.0 if math.isnan(row["fluting_pct"]) else row["fluting_pct"],
        count=row["count"],
        lidded=row["lidded"],
        dome_unit=row["given_in"],
        name=row["key"],
        text=row["name"],
    )


@cache
def _rows() -> tuple[Mapping[str, Any], ...]:
    return tuple(MappingProxyType(row) for row in read_rows("pans", _COLUMNS))


@cache
def _by_key() -> Mapping[str, Mapping[str, Any]]:
    return {row["key"]: row for row in _rows()}


@cache
def _by_name() -> Mapping[str, Mapping[str, Any]]:
    names = {row["name"].casefold(): row for row in _rows()}
    return names | {row["key"].casefold(): row for row in _rows()}


@cache
def _by_shape() -> Mapping[str, tuple[Mapping[str, Any], ...]]:
    shapes: dict[str, list[Mapping[str, Any]]] = {}
    for row in _rows():
        if row["count"] == 1 or row["shape"] in ("muffin", "roll well"):
            shapes.setdefault(row["shape"], []).append(row)
    return {shape: tuple(rows) for shape, rows in shapes.items()}
