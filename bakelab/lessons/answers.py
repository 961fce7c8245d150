"""Reading what a student typed: one number in any sensible form, and its unit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from bakelab.errors import UnitError
from bakelab.units import CUPS_ML, Q_, Quantity, number, quantity

__all__ = ["Typed", "in_units_of", "read_answer", "same_kind", "tidied"]

_MARKS = re.compile(
    r"^(?:(?:the |my )?(?:answer|result)|i (?:get|got|think|guess)|it(?:'s|’s)|about"
    r"|around|approx\w*\.?|roughly|x|it is|is|[=~≈:?]|\s)+",
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
_STOPS = " ,;:.?!"
_GO_ON = frozenset((
    "and", "or", "to", "till", "until", "up", "bis", "oder", "und", "of", "out", "in",
    "per", "by", "over", "plus", "minus", "times", "x", "point", "half", "halves",
    "third", "thirds", "quarter", "quarters", "fifth", "fifths", "eighth", "eighths",
    "tenth", "tenths", "hundredth", "hundredths", "dozen", "hundred", "thousand",
    "million", "parts", "divided",
))  # fmt: skip
_REASONS = frozenset(("because", "since", "so", "as"))
_NO_UNITS = frozenset(("as", "in", "at", "a", "b", "d", "e", "i", "so", "is", "are"))
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
    """Every sensible reading of the number, the likelier first, and the unit.

    `left` are words behind them that say nothing about the amount.
    """

    numbers: tuple[Fraction, ...]
    unit: str
    left: str = field(default="", repr=False)


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
    return Typed(numbers, bare[match.end() :].strip().rstrip("!?.").strip())


def tidied(typed: Typed, unit: str) -> Typed:
    """An answer without words behind its unit, and two measures as one.

    ``500 g of flour`` is 500 g; ``4 lb 5.6 oz`` is put together in `unit`;
    ``525 because it is half`` is a bare 525. Where that makes no sense, as in
    ``5 or 6``, the answer comes back as it is.
    """
    if same_kind(typed.unit, unit):
        return typed
    more = _MORE.fullmatch(typed.unit)
    both = _together(typed, more.group(1), more.group(2), unit) if more else None
    return both or _without_words(typed, unit)


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
    if unit.startswith("°"):
        word = re.sub(r"^(?:degrees?|deg|°|º)\s*(?=[cf])", "°", word, flags=re.I)
        if word.casefold() in _DEGREES:
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
        second = _without_words(read_answer(rest), unit)
        if not second.unit or second.unit == first or unit not in _PINT:
            return None
        total = in_units_of(typed.numbers[0], first, unit)
        total += in_units_of(second.numbers[0], second.unit, unit)
    except UnitError:
        return None
    return Typed((total,), "", second.left)


def _without_words(typed: Typed, unit: str) -> Typed:
    """The amount in front of words such as ``because …``, where it is one alone."""
    for head, rest in _heads(typed.unit):
        known = same_kind(head, unit) or (head and _is_any_unit(head))
        if known and _is_talk(rest, after_unit=bool(head)):
            return replace(typed, unit=head, left=rest)
    return typed


def _heads(text: str) -> Iterator[tuple[str, str]]:
    """What may be the unit, the longest first and none last, and what follows it."""
    ends = [m.start() for m in re.finditer(r"[\s,;:.(=?!]+|$", text) if m.start()]
    for end in reversed(ends[:2]):
        yield text[:end], text[end:].strip(_STOPS)
    yield "", text.strip(_STOPS)


def _is_talk(rest: str, *, after_unit: bool) -> bool:
    """Whether words only tell more, and do not go on with the amount as ``or 6``."""
    if not any(map(str.isalnum, rest)):
        return set(rest) <= set(_STOPS + "()-–—")
    if after_unit and rest[0] in "(=":
        return True
    words = re.findall(r"[^\W\d_]+|\S", re.sub(r"^[-–—(] ?(?=[^\W\d_])", "", rest))
    first = words[0].casefold()
    if after_unit:
        return first.isalpha() and first not in _GO_ON - {"of", "in", "per"}
    if not first.isalpha() or first in _GO_ON or _is_any_unit(first):
        return False
    return len(words) > 1 or first in _REASONS


def _is_any_unit(word: str) -> bool:
    if word.casefold() in _NO_UNITS:
        return False
    return any(same_kind(word, one) for one in ("%", "°C", *_PINT))


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
