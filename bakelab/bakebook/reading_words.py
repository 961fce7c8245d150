"""What a reading is of, and its unit: headings and values as they are written."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from bakelab.bakebook.fact_checks import check_fact
from bakelab.bakebook.facts import READINGS
from bakelab.bakebook.reading_times import TIME_UNITS
from bakelab.errors import BookError

__all__ = ["KIND_WORDS", "Heading", "Value", "read_heading", "read_value", "to_kind"]

# Unit as written: kind of reading it belongs to, and how to get its own unit.
_UNITS: dict[str, tuple[str, float, float]] = {
    **dict.fromkeys(("°c", "c", "degc", "celsius"), ("core_c", 1.0, 0.0)),
    **dict.fromkeys(("°f", "f", "degf", "fahrenheit"), ("core_c", 5 / 9, -160 / 9)),
    **dict.fromkeys(("ml", "cm3", "cm³", "cc"), ("rise_ml", 1.0, 0.0)),
    **dict.fromkeys(("l", "liter", "litre"), ("rise_ml", 1000.0, 0.0)),
    "mm": ("rise_mm", 1.0, 0.0),
    "cm": ("rise_mm", 10.0, 0.0),
    **dict.fromkeys(("in", "inch", "inches", '"'), ("rise_mm", 25.4, 0.0)),
    "ph": ("ph", 1.0, 0.0),
    **dict.fromkeys(("g", "gram", "grams"), ("loss_g", 1.0, 0.0)),
    "kg": ("loss_g", 1000.0, 0.0),
}


def _all(kind: str, words: str) -> dict[str, str]:
    return dict.fromkeys(words.split(), kind)


KIND_WORDS: dict[str, str] = {
    **_all(
        "core_c",
        "core kern kerntemperatur coeur cœur centre center crumb krume mie probe sonde "
        "fühler fuehler temp temperature temperatur température thermometer",
    ),
    **_all("rise_ml", "rise volume volumen jar glas dough teig pâte"),
    **_all("rise_mm", "height höhe hauteur"),
    **_all("ph", "ph acidity säure acidité"),
    **_all("loss_g", "loss verlust perte"),
    **{kind: kind for kind in READINGS},
}
_COLUMNS: dict[str, str] = {
    **_all(
        "time",
        "time zeit uhrzeit heure elapsed duration dauer durée timestamp datetime "
        "moment at minute minutes minuten min mins seconds second sekunden sec s hours "
        "hour h",
    ),
    **_all("date", "date datum jour day tag"),
    **_all(
        "other",
        "oven ofen four ambient air luft room raum chamber humidity feuchte setpoint "
        "soll target battery weight gewicht poids",
    ),
}
_HINTS: dict[str, str] = {
    **_all("elapsed", "elapsed duration dauer durée minute minutes minuten min"),
    **_all("clock", "uhrzeit heure clock"),
    "mm:ss": "mm:ss",
    "h:mm": "h:mm",
    "hh:mm": "h:mm",
}
_NUMBER = re.compile(r"([-+−]?)\s*(\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE]([-+]?\d+))?\s*(.*)")


@dataclass(frozen=True)
class Heading:
    """What a column holds: `use` is "time", "date", "kind", "value", "unit",
    "minute", a kind of reading, or "" for something else."""

    text: str
    use: str
    unit: str = ""
    hint: str = ""
    unit_min: float | None = None


@dataclass(frozen=True)
class Value:
    """A number as written, and its unit; `unclear` where a comma may be either."""

    number: float
    unit: str
    unclear: bool = False


def read_heading(text: str) -> Heading:
    """What the heading of a column says.

    Examples
    --------
    >>> found = read_heading("Kerntemperatur (°F)")
    >>> found.use, found.unit
    ('core_c', '°f')
    """
    low = unicodedata.normalize("NFKC", text).strip().casefold()
    low = low.replace("℃", "°c").replace("℉", "°f")
    unit = next((u for u in _bracketed(low) if u), "")
    words = re.findall(r"°?[^\W\d_]+", re.sub(r"[(\[].*?[)\]]", " ", low))
    if low in ("kind", "value", "unit", "minute", "at"):
        return Heading(text, {"at": "time"}.get(low, low), unit_min=1.0)
    if low in READINGS:
        return Heading(text, low, READINGS[low].unit.casefold())
    if "other" in {_COLUMNS.get(word) for word in words}:
        return Heading(text, "")
    return _named(text, low, words, unit)


def read_value(text: str) -> Value | None:
    """A number and what stands behind it; None if it is no number.

    Examples
    --------
    >>> read_value("93,5 °C")
    Value(number=93.5, unit='°c', unclear=False)
    """
    low = unicodedata.normalize("NFKC", text).strip().casefold()
    match = _NUMBER.fullmatch(low)
    if match is None:
        return None
    sign, digits, power, behind = match.groups()
    number = float(f"{digits.replace(',', '.')}e{power or 0}")
    unclear = bool(re.fullmatch(r"\d{1,3},\d{3}", digits)) and digits[0] != "0"
    unit = re.sub(r"^(?:degrees?|grad|º|°)\s*(?=[cf]\b)", "°", behind.strip(" ."))
    return Value(-number if sign in ("-", "−") else number, unit, unclear)


def to_kind(value: Value, kind: str, unit: str) -> tuple[str, float]:
    """The kind of reading and the value in the book's unit.

    Raises
    ------
    BookError
        If the unit is none of this kind, or the value cannot be true.
    """
    said = value.unit or unit
    if said and said not in _UNITS:
        raise BookError(f"the unit {said!r} is not known")
    owner, factor, shift = _UNITS.get(said, (kind, 1.0, 0.0))
    if kind in ("rise_ml", "rise_mm") and owner in ("rise_ml", "rise_mm"):
        kind = owner
    kind = kind or owner
    if not kind:
        raise BookError("nothing says what was read, such as °C or ml")
    if owner != kind:
        raise BookError(f"{said!r} is no unit of {READINGS[kind].label.lower()}")
    if value.unclear and READINGS[kind].high and 1000 * value.number < _most(kind):
        raise BookError("the comma may mark thousands or decimals; write it without")
    number = check_fact(READINGS[kind], round(value.number * factor + shift, 9))
    return kind, float(number or 0.0)


def _most(kind: str) -> float:
    return float(READINGS[kind].high or 0.0)


def _bracketed(low: str) -> list[str]:
    found = [part.strip() for part in re.findall(r"[(\[](.*?)[)\]]", low)]
    tail = re.search(r"[_,\s](°?[a-zµ³3]{1,7})$", low)
    found += [tail[1]] if tail else []
    known = (*_UNITS, *TIME_UNITS, "mm:ss", "h:mm", "hh:mm", "hh:mm:ss")
    return [part for part in found if part in known]


def _named(text: str, low: str, words: list[str], unit: str) -> Heading:
    kind = next((KIND_WORDS[word] for word in words if word in KIND_WORDS), "")
    if kind:
        kind = _UNITS[unit][0] if unit in _UNITS and kind.startswith("rise") else kind
        return Heading(text, kind, unit if unit in _UNITS else "")
    uses = {_COLUMNS.get(word) for word in words}
    if "time" in uses or low in ("temps", "date/time", "date time"):
        hints = [_HINTS[word] for word in (unit, *words) if word in _HINTS]
        named = next((word for word in words if word in TIME_UNITS), "")
        unit_min = TIME_UNITS.get(unit or named)
        return Heading(text, "time", "", next(iter(hints), ""), unit_min)
    if "date" in uses:
        return Heading(text, "date")
    if unit in _UNITS or low in _UNITS:
        found = unit or low
        return Heading(text, _UNITS[found][0], found)
    return Heading(text, "")
