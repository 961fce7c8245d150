"""What a pan holds, said in words: `fasst 1,83 l`, `that holds 4 lb of water at 68 F`.

The short spec has its own form (`holds 1600 g water at 20 C`). This reads the forms
that people write beside a pan noun, so that a capacity is never passed over.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from bakelab.errors import PanError
from bakelab.pans.assembly import CAPACITY_CM3
from bakelab.pans.measures import value_of
from bakelab.pans.water import volume_of_water
from bakelab.pans.words import UNIT_WORDS
from bakelab.units import Q_, in_unit

__all__ = ["Told", "capacity_told"]

_GRAMS = {
    "g": 1.0,
    "kg": 1000.0,
    "lb": 453.59237,  # exact; UCUM essence table
    "oz": 28.349523125,  # exact; UCUM essence table
    "500 g": 500.0,
}
_NUMBER = r"(?P<{0}>\d+(?:[.,]\d+)?(?:\s+\d+/\d+)?)"
_HOLDS = (
    r"(?:[,;]?\s*\b(?:that|which|die|der|das|qui)\b)?[,;]?\s*"
    r"(?P<verb>\b(?:holds?|holding|takes?|taking|filled with|full of|capacity(?: of)?|"
    r"fasst|faßt|fassen|fassend|mit|with|contient|contenant|contenance(?: de)?)\b)?"
    r"[\s:,]*(?:\b(?:je|each|jeweils|chacun)\b\s*)?"
)
_CAPACITY = re.compile(
    _HOLDS + _NUMBER.format("amount") + r"\s*(?P<unit>[^\W\d_]+)\b"
    r"(?P<water>\s+(?:of\s+|d['’]\s*|de\s+l['’]\s*)?(?:water|wasser|eau)\b"
    r"(?:,?\s*(?:at|bei|von|à)?\s*" + _NUMBER.format("degrees")
    + r"\s*(?:°|º|deg(?:rees?)?)?\s*(?P<scale>c|f|celsius|fahrenheit)\b)?)?"
    r"(?:\s*\b(?:each|je|chacun)\b)?",
    re.IGNORECASE,
)  # fmt: skip


class Told(NamedTuple):
    """The text without its capacity, and the capacity in cm3."""

    rest: str
    capacity_cm3: float


def capacity_told(text: str) -> Told | None:
    """The capacity that a pan's text tells beside the pan; None if it tells none.

    Raises
    ------
    PanError
        If water is weighed without its temperature.
    """
    for match in _CAPACITY.finditer(text):
        volume = _volume_cm3(match)
        if volume is not None:
            rest = f"{text[: match.start()]} {text[match.end() :]}"
            return Told(rest.strip(" ,;"), volume)
    return None


def _volume_cm3(match: re.Match[str]) -> float | None:
    unit = match["unit"].casefold()
    unit = "oz" if unit in ("oz", "ounce", "ounces") else UNIT_WORDS.get(unit, "")
    amount = value_of(match["amount"])
    if amount is None:
        return None
    if unit in CAPACITY_CM3 and (match["verb"] or match["water"]):
        return amount * CAPACITY_CM3[unit]
    if unit in _GRAMS and match["water"]:
        return _weighed_cm3(amount * _GRAMS[unit], match)
    return None


def _weighed_cm3(grams: float, match: re.Match[str]) -> float:
    degrees = value_of(match["degrees"] or "")
    if degrees is None:
        raise PanError(
            "a capacity by weight needs water and its temperature; "
            "write 'holds 1600 g water at 20 C'"
        )
    unit = "degF" if match["scale"].casefold().startswith("f") else "degC"
    volume = volume_of_water(Q_(grams, "g"), Q_(degrees, unit))
    return in_unit(volume, "cm^3", "volume")
