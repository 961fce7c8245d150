"""Numbers and sentences as a kitchen sheet prints them."""

import re
from collections.abc import Iterable

from bakelab.charts.written import plain_number

__all__ = [
    "all_typeset",
    "grams",
    "headed",
    "minutes",
    "on_scale",
    "sentence",
    "typeset",
]

_TIMES = re.compile(r"(?<=[\d)%]) x (?=[\d(])|(?<=[gm²³n]) x (?=\d)")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:%|g|cm³?|in³?|°[CF]|minutes)(?![\w]))")


def all_typeset(texts: Iterable[str]) -> tuple[str, ...]:
    """Every text by `typeset`."""
    return tuple(typeset(t) for t in texts)


def typeset(text: str) -> str:
    """A times sign between numbers, and no line break between number and unit."""
    return _BEFORE_UNIT.sub("\u00a0", _TIMES.sub(" × ", text))


def grams(mass_g: float) -> str:
    """Whole grams from 100 g, else one decimal."""
    return plain_number(mass_g, 0 if mass_g >= 100 else 1)


def on_scale(mass_g: float, step_g: float) -> str:
    """Grams with the decimals of the step; exact ones that no step shows get two."""
    for decimals in (0, 1, 2, 3):
        if abs(step_g * 10**decimals - round(step_g * 10**decimals)) < 1e-9:
            break
    if abs(mass_g - round(mass_g / step_g) * step_g) > 1e-6:
        decimals = max(decimals, 2)
    return plain_number(mass_g, decimals)


def headed(stage: str) -> str:
    """The text with a capital at its head."""
    return stage[:1].upper() + stage[1:]


def sentence(words: str) -> str:
    """The words with a capital and a full stop."""
    text = headed(words.strip())
    return text if text.endswith((".", "!", "?")) else f"{text}."


def minutes(low: float, high: float) -> str:
    """`35 to 40 minutes`, or one number where both are the same."""
    if low == high:
        return f"{plain_number(low, 0)} minutes"
    return f"{plain_number(low, 0)} to {plain_number(high, 0)} minutes"
