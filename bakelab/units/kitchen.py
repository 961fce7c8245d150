"""Kitchen units: the allow-list of words, and what each is worth."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from bakelab.tables import read_rows

__all__ = ["CUPS_ML", "KitchenUnit", "kitchen_units", "unit_words"]

CUPS_ML: Mapping[str, float] = MappingProxyType(
    {
        "us": 236.5882365,  # UCUM essence table: 16 tablespoons of 1/2 fl oz
        "metric": 250.0,  # common practice, no source
        "imperial": 284.130625,  # half an imperial pint; UCUM gallon 4.54609 L
        "japanese": 200.0,  # common practice, no source
        "label": 240.0,  # 21 CFR 101.9(b)(5)(viii), as quoted in UCUM ticket 120
    }
)

_COLUMNS = {
    "key": str,
    "kind": str,
    "size": float,
    "en": str,
    "de": str,
    "fr": str,
    "other": str,
    "exact": str,
    "source": str,
}


@dataclass(frozen=True)
class KitchenUnit:
    """A unit of recipes: its kind and its size in g, mL or cm (0: none)."""

    key: str
    kind: str
    size: float


@cache
def kitchen_units() -> Mapping[str, KitchenUnit]:
    """Every unit of `data/kitchen_units.csv`, by key."""
    rows = read_rows("kitchen_units", _COLUMNS)
    units = {r["key"]: KitchenUnit(r["key"], r["kind"], _size(r["size"])) for r in rows}
    return MappingProxyType(units)


@cache
def unit_words(language: str) -> Mapping[str, str]:
    """Words for units in a language, each with the unit's key.

    Words of `exact` (``T``, ``t``, ``g``) keep their case; all others are
    in lower case. English words and exact symbols are in every language;
    where a word of the recipe's own language means something else, its
    own meaning wins.
    """
    rows = read_rows("kitchen_units", _COLUMNS)
    column = language if language in ("en", "de", "fr") else "other"
    words: dict[str, str] = {}
    for source in dict.fromkeys(("en", column, "exact")):
        words |= {w: r["key"] for r in rows for w in r[source].split("|") if w}
    return MappingProxyType(words)


def _size(size: float) -> float:
    return 0.0 if math.isnan(size) else size
