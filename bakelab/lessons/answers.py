"""Reading what a student typed: one number in any sensible form, and its unit."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from bakelab.errors import UnitError
from bakelab.units import CUPS_ML, Q_, Quantity, number, quantity

__all__ = ["Typed", "in_units_of", "read_answer", "same_kind", "tidied"]

_MARKS = re.compile(
    r"^(?:answer|result|about|around|approx\w*\.?|roughly|x|it is|is|[=~≈:?]|\s)+",
    re.IGNORECASE,
)
_NUMBER = re.compile(
    r"[-+−]?\s*(?:\d+\s+and\s+\d+\s*[/⁄∕]\s*\d+|[\d½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒.,/⁄∕'’_\s]*"
    r"[\d½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒])[.,]?"
)
_GROUPED = re.compile(r"[-+−]?\d{1,3}(?:([ ,.'’_\u00a0\u202f])\d{3})(?:\1\d{3})*")
_GROUPED_DECIMAL = re.compile(
    r"([-+−]?\d{1,3}(?:,\d{3})+)(\.\d+)|([-+−]?\d{1,3}(?:[.\s]\d{3})+)(,\d+)"
)
_PERCENT = ("%", "percent", "per cent", "pct", "pct.", "prozent", "pour cent")
_MORE = re.compile(r"([^\d]+?),?\s*(?:and\s+)?(\d.*)")
_DEGREES = ("°", "º", "deg", "degree", "degrees", "degs")
_CUBIC = {
    "cm³": "cm^3", "cm3": "cm^3", "cm^3": "cm^3", "cm**3": "cm^3", "ccm": "cm^3",
    "cubic cm": "cm^3", "cubic centimetres": "cm^3", "cubic centimeters": "cm^3",
    "in³": "in^3", "in3": "in^3", "in^3": "in^3", "cubic inches": "in^3",
    "cubic in": "in^3",
}  # fmt: skip
_PINT = {
    "g": "g", "kg": "kg", "oz": "oz", "lb": "lb", "cm": "cm", "in": "inch",
    "cm³": "cm^3", "in³": "in^3", "ml": "ml", "cups": "cup", "°C": "degC",
    "°F": "degF", "min": "minute", "gal": "gallon", "quarts": "quart",
}  # fmt: skip


@dataclass(frozen=True)
class Typed:
    """Every sensible reading of the number, the likelier first, and the unit."""

    numbers: tuple[Fraction, ...]
    unit: str


def read_answer(text: str) -> Typed:
    """The number and the unit in an answer such as ``2,5`` or ``1 1/2 cups``.

    ``1,250`` has two readings, 1.25 and 1250; both are given.

    Raises
    ------
    UnitError
        If there is no single number at the start.

    Examples
    --------
    >>> read_answer("about 1 1/2 cups")
    Typed(numbers=(Fraction(3, 2),), unit='cups')
    """
    bare = _MARKS.sub("", " ".join(text.split()))
    match = _NUMBER.match(bare)
    if match is None:
        raise UnitError("there is no number in it")
    written = match.group().strip().rstrip(".,")
    numbers = tuple(dict.fromkeys(_readings(written)))
    return Typed(numbers, bare[match.end() :].strip().rstrip("!.").strip())


def tidied(typed: Typed, unit: str) -> Typed:
    """An answer without words behind its unit, and two measures as one.

    ``500 g of flour`` is 500 g; ``4 lb 5.6 oz`` is put together in `unit`.
    Where that makes no sense the answer comes back as it is.
    """
    if same_kind(typed.unit, unit):
        return typed
    more = _MORE.fullmatch(typed.unit)
    if more is not None:
        return _together(typed, more.group(1), more.group(2), unit) or typed
    words = re.split(r"[\s,;]+", typed.unit)
    heads = (" ".join(words[:count]) for count in (2, 1) if len(words) > count)
    known = next((head for head in heads if same_kind(head, unit)), None)
    return typed if known is None else replace(typed, unit=known)


def same_kind(word: str, unit: str) -> bool:
    """Whether a typed unit measures the same kind of thing as the item's unit."""
    try:
        in_units_of(Fraction(1), word, unit)
    except UnitError:
        return False
    return True


def in_units_of(value: Fraction, word: str, unit: str) -> Fraction:
    """A typed amount in the unit of an item; a bare number is in it already.

    Raises
    ------
    UnitError
        If the typed unit is unknown or of another kind; pint decides.
    """
    if not word or word.casefold() == unit.casefold():
        return value
    if unit.startswith("°") and word.casefold() in _DEGREES:
        return value
    if unit == "%":
        if word.casefold() in _PERCENT:
            return value
        raise UnitError("a percentage is asked for")
    if unit not in _PINT:
        return _counted(value, word, unit)
    return _converted(value, word, unit)


def _together(typed: Typed, first: str, rest: str, unit: str) -> Typed | None:
    """Two measures such as pounds and ounces as one; None if they do not belong."""
    try:
        second = read_answer(rest)
        if not second.unit or second.unit == first or unit not in _PINT:
            return None
        total = in_units_of(typed.numbers[0], first, unit)
        total += in_units_of(second.numbers[0], second.unit, unit)
    except UnitError:
        return None
    return Typed((total,), "")


def _converted(value: Fraction, word: str, unit: str) -> Fraction:
    typed = _quantity(value, word, temperature=unit.startswith("°"))
    wanted = _PINT[unit]
    if not typed.is_compatible_with("ml" if wanted == "cup" else wanted):
        raise UnitError(f"{word} does not measure what {unit} does")
    if wanted == "cup":
        return Fraction(float(typed.to("ml").magnitude) / CUPS_ML["us"])
    return Fraction(float(typed.to(wanted).magnitude))


def _quantity(value: Fraction, word: str, *, temperature: bool) -> Quantity:
    if word.casefold() in _CUBIC:
        return Q_(float(value), _CUBIC[word.casefold()])
    if temperature:
        return quantity(f"{float(value):.9f} {word}", dimension="[temperature]")
    one: Quantity = quantity(f"1 {word}") * float(value)
    return one


def _counted(value: Fraction, word: str, unit: str) -> Fraction:
    """A number of things: any form of the word counts, weights do not."""
    if not unit and word.casefold() in ("times", "x", "×"):
        return value
    if unit and word.casefold()[:4] == unit.casefold()[:4]:
        return value
    raise UnitError(f"{word} is not {unit or 'a bare number'}")


def _readings(written: str) -> list[Fraction]:
    both = _GROUPED_DECIMAL.fullmatch(written)
    if both:
        whole, part, whole2, part2 = both.groups()
        plain = re.sub(r"[,.\s]", "", whole or whole2)
        return [number(plain + (part or part2).replace(",", "."))]
    grouped = _GROUPED.fullmatch(written)
    if grouped is None:
        return [number(re.sub(r"\s*([/⁄∕])\s*", r"\1", written))]
    digits = number(re.sub(r"[^\d+−-]", "", written))
    mark, count = grouped.group(1), written.count(grouped.group(1))
    if mark in ",." and count == 1:
        return [number(written), digits]
    return [digits]
