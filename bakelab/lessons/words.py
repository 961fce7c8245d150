"""Exact numbers as people write them."""

from collections.abc import Sequence
from fractions import Fraction

__all__ = [
    "CENT",
    "TENTH",
    "amount",
    "and_list",
    "capital",
    "decimal",
    "digits",
    "grams",
    "percent_step",
    "rounded",
    "shown",
    "step_text",
    "worked",
]

TENTH, CENT = Fraction(1, 10), Fraction(1, 100)
"""Steps to which most answers are rounded that are no whole numbers."""

_STEPS = {
    Fraction(1): "to a whole number",
    TENTH: "to one decimal",
    CENT: "to two decimals",
}


def rounded(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to `value`; halves go away from 0.

    >>> rounded(Fraction(5, 2), Fraction(1)), rounded(Fraction(7, 20), Fraction(1, 4))
    (Fraction(3, 1), Fraction(1, 4))
    """
    if not step:
        return value
    halves = 2 * abs(value) / step + 1
    size = halves.numerator // halves.denominator // 2 * step
    return size if value >= 0 else -size


def shown(value: Fraction, step: Fraction) -> str:
    """A number rounded to a step, with the decimals of the step.

    >>> shown(Fraction(200, 3), Fraction(1, 10)), shown(Fraction(61), Fraction(1))
    ('66.7', '61')
    """
    return f"{float(rounded(value, step)):.{_decimals(step)}f}"


def decimal(value: Fraction) -> str:
    """An exact decimal number where it ends within six places, else four.

    >>> decimal(Fraction(19, 2)), decimal(Fraction(500))
    ('9.5', '500')
    """
    if value.denominator == 1:
        return str(value.numerator)
    places = 6 if 10**6 % value.denominator == 0 else 4
    return f"{float(value):.{places}f}".rstrip("0").rstrip(".")


def amount(value: Fraction, unit: str, step: Fraction | None = None) -> str:
    """A number with its unit, rounded where a step is given.

    >>> amount(Fraction(61, 2), "g")
    '30.5 g'
    """
    number = decimal(value) if step is None else shown(value, step)
    return f"{number} {unit}".strip()


def grams(mass: Fraction) -> str:
    """An exact mass with its unit.

    >>> grams(Fraction(61, 2))
    '30.5 g'
    """
    return amount(mass, "g")


def worked(value: Fraction, unit: str, step: Fraction) -> str:
    """How a worked step ends: the number as it comes out, and as rounded.

    >>> worked(Fraction(945, 2), "g", Fraction(1))
    '472.5 g, rounded 473 g'
    >>> worked(Fraction(144), "g", Fraction(1))
    '144 g'
    >>> worked(Fraction(200, 3), "%", Fraction(1, 10))
    '66.666… %, rounded 66.7 %'
    """
    final = amount(value, unit, step)
    if rounded(value, step) == value:
        return final
    return f"{digits(value, step / 100)} {unit}".strip() + f", rounded {final}"


def digits(value: Fraction, step: Fraction = Fraction(1, 10000)) -> str:
    """The first digits of a number, down to a step, with dots where more follow.

    >>> digits(Fraction(5, 3)), digits(Fraction(5, 4))
    ('1.6666…', '1.25')
    >>> digits(Fraction(-5, 3))
    '-1.6666…'
    """
    first = int(value / step) * step
    return f"{decimal(first)}{'' if first == value else '…'}"


def percent_step(percent: Fraction) -> Fraction:
    """What a baker's percentage is rounded to: tenths, below 1 % hundredths."""
    return TENTH if percent >= 1 else CENT


def step_text(step: Fraction, unit: str) -> str:
    """How to round, in words: ``to one decimal (0.1 %)``.

    >>> step_text(Fraction(1, 10), "%"), step_text(Fraction(5), "g")
    ('to one decimal (0.1 %)', 'to the nearest 5 g')
    """
    size = f"{decimal(step)} {unit}".strip()
    words = _STEPS.get(step)
    return f"{words} ({size})" if words else f"to the nearest {size}"


def capital(words: str) -> str:
    """The same words with a large first letter."""
    return words[0].upper() + words[1:]


def and_list(words: Sequence[str]) -> str:
    """``a, b and c``."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def _decimals(step: Fraction) -> int:
    places = 0
    while places < 4 and (step * 10**places).denominator != 1:
        places += 1
    return places
