"""One amount from text: `2 3/4 in`, `1,5 kg`, `350 F`, `gas mark 4`."""

import math
import re
import unicodedata
from fractions import Fraction

from bakelab.errors import UnitError
from bakelab.units.kitchen import kitchen_units, unit_words
from bakelab.units.registry import Q_, Quantity

__all__ = ["VULGAR", "number", "quantity"]

VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"

_NUMBER = re.compile(
    rf"""\s*(?P<sign>[-−+])?\s*
    (?:(?P<whole>\d+)(?:\s+|\s*-\s*|\s+and\s+)(?P<num>\d+)\s*[/⁄∕]\s*(?P<den>\d+)
      |(?P<whole2>\d+)?\s*-?\s*(?P<vulgar>[{VULGAR}])
      |(?P<num3>\d+)\s*[/⁄∕]\s*(?P<den3>\d+)
      |(?P<decimal>\d*[.,]?\d+(?:[eE][+-]?\d+)?|\d+[.,]))""",
    re.VERBOSE,
)
_TEMPERATURES = {
    "c": "degC",
    "celsius": "degC",
    "degc": "degC",
    "f": "degF",
    "fahrenheit": "degF",
    "degf": "degF",
    "k": "kelvin",
}
_TIMES = {
    "s": "second",
    "sec": "second",
    "second": "second",
    "seconds": "second",
    "min": "minute",
    "mins": "minute",
    "minute": "minute",
    "minutes": "minute",
    "h": "hour",
    "hr": "hour",
    "hrs": "hour",
    "hour": "hour",
    "hours": "hour",
}
_PINT = {"mass": "g", "volume": "ml", "length": "cm"}
_PINT_NAMES = {
    "g": "g",
    "kg": "kg",
    "mg": "mg",
    "oz": "oz",
    "lb": "lb",
    "ml": "ml",
    "cl": "cl",
    "dl": "dl",
    "l": "l",
    "cm": "cm",
    "mm": "mm",
    "inch": "inch",
}
_DIMENSIONS = {
    "[mass]": "a mass such as 500 g",
    "[length]": "a length such as 9 in or 23 cm",
    "[volume]": "a volume such as 2 cups or 500 ml",
    "[temperature]": "a temperature such as 350 F or 180 C",
    "[time]": "a time such as 40 min",
}


def number(text: str) -> Fraction:
    """An exact number from text: whole, decimal, typed or unicode fraction.

    Raises
    ------
    UnitError
        If the text is not one number.

    Examples
    --------
    >>> number("1 1/2"), number("2,5"), number("1½")
    (Fraction(3, 2), Fraction(5, 2), Fraction(3, 2))
    """
    match = _NUMBER.match(text)
    if match is None or text[match.end() :].strip():
        raise UnitError(
            f"expected a number such as 2, 1.5 or 1 1/2, got {_short(text)}"
        )
    return _fraction(match)


def quantity(text: str, *, dimension: str | None = None) -> Quantity:
    """One amount with its unit, read through the list of kitchen units.

    Parameters
    ----------
    text : str
        Such as ``"2 3/4 in"``, ``"1,5 kg"``, ``"350 F"`` or ``"40 min"``.
    dimension : str, optional
        ``"[mass]"``, ``"[length]"``, ``"[volume]"``, ``"[temperature]"``
        or ``"[time]"``, where only one of them makes sense.

    Raises
    ------
    UnitError
        If there is no number, no unit, an unknown unit, or a unit of
        another dimension.

    Examples
    --------
    >>> print(f"{quantity('2 3/4 in').to('cm'):.3f~P}")
    6.985 cm
    """
    match = _NUMBER.match(text)
    if match is None:
        raise UnitError(f"expected {_wanted(dimension)}, got {_short(text)}")
    word = unicodedata.normalize("NFC", text[match.end() :]).strip()
    unit, size = _unit(word, text, dimension)
    value = Q_(float(_fraction(match)) * size, unit)
    if dimension and not _fits(value, dimension):
        raise UnitError(f"expected {_wanted(dimension)}, got {_short(text)}")
    return value


def _unit(word: str, text: str, dimension: str | None) -> tuple[str, float]:
    if not word:
        raise UnitError(f"{_short(text)} needs a unit: write {_wanted(dimension)}")
    bare = word.lstrip("°º ").rstrip(".").casefold()
    if bare in _TEMPERATURES and dimension in (None, "[temperature]"):
        return _TEMPERATURES[bare], 1.0
    if bare in _TIMES and dimension in (None, "[time]"):
        return _TIMES[bare], 1.0
    key = _kitchen_key(word)
    if key is None or not kitchen_units()[key].size:
        raise UnitError(f"unknown unit in {_short(text)}: write {_wanted(dimension)}")
    if key in _PINT_NAMES:
        return _PINT_NAMES[key], 1.0
    unit = kitchen_units()[key]
    return _PINT[unit.kind], unit.size


def _kitchen_key(word: str) -> str | None:
    for language in ("en", "de", "fr", "other"):
        words = unit_words(language)
        key = words.get(word) or words.get(word.casefold())
        if key:
            return key
    return None


def _fits(value: Quantity, dimension: str) -> bool:
    wanted = "[length] ** 3" if dimension == "[volume]" else dimension
    return bool(value.check(wanted))


def _wanted(dimension: str | None) -> str:
    return _DIMENSIONS.get(dimension or "", "an amount with a unit such as 500 g")


def _fraction(match: re.Match[str]) -> Fraction:
    part = match.groupdict()
    sign = -1 if part["sign"] in ("-", "−") else 1
    if part["num"]:
        return sign * (int(part["whole"]) + _ratio(part["num"], part["den"]))
    if part["vulgar"]:
        top = Fraction(unicodedata.numeric(part["vulgar"])).limit_denominator(16)
        return sign * (int(part["whole2"] or 0) + top)
    if part["num3"]:
        return sign * _ratio(part["num3"], part["den3"])
    decimal = part["decimal"].replace(",", ".")
    if len(decimal) > 40 or not math.isfinite(float(decimal)):
        raise UnitError(f"expected a number a scale can show, got {_short(decimal)}")
    return sign * Fraction(decimal.rstrip("."))


def _ratio(top: str, bottom: str) -> Fraction:
    if int(bottom) == 0:
        raise UnitError(f"a fraction cannot have 0 below its line, got {top}/{bottom}")
    return Fraction(int(top), int(bottom))


def _short(text: str) -> str:
    shown = text.strip()
    return repr(shown if len(shown) <= 40 else shown[:37] + "...")
