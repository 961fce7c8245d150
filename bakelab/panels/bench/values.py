"""Text of a field to a fact of the book and back, in the units people use."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from bakelab.bakebook.fact_checks import check_fact
from bakelab.bakebook.facts import FACTS, GROUPS, Fact
from bakelab.charts.written import plain_number
from bakelab.errors import BookError, UnitError
from bakelab.units import number, quantity

__all__ = [
    "as_text",
    "as_value",
    "clock_text",
    "day_text",
    "field_groups",
    "unit_label",
]

_TITLES = {
    "plan": "What was planned, and with what",
    "dough": "Dough",
    "oven": "Oven",
    "result": "Loaf",
}
_ORDER = ("dough", "oven", "result", "plan")
_UNITS = {
    "g": ("[mass]", "g"),
    "°C": ("[temperature]", "degC"),
    "min": ("[time]", "minute"),
    "cm": ("[length]", "cm"),
    "mm": ("[length]", "mm"),
    "cm³": ("[volume]", "cm^3"),
    "ml": ("[volume]", "ml"),
}
_CLOSED = ("plan",)


def field_groups() -> list[dict[str, Any]]:
    """The fields of the bench, from the one list of facts; numbers first."""
    return [
        {
            "title": _TITLES[group],
            "open": group not in _CLOSED,
            "fields": [_field(fact) for fact in FACTS if fact.group == group],
        }
        for group in sorted(GROUPS, key=_ORDER.index)
    ]


def as_value(fact: Fact, text: str) -> float | str | bool | None:
    """What a field's text means: blank clears; `26,5`, `78 F` and `1:30` are read.

    Raises
    ------
    BookError
        In one sentence: what was got, what is allowed.
    """
    words = text.strip()
    if not words:
        return None
    if fact.kind == "number":
        return _number(fact, words)
    return check_fact(fact, words)


def as_text(fact: Fact, value: Any) -> str:
    """A fact as its field shows it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if fact.kind == "number":
        return f"{float(value):.10g}"
    return str(value)


def unit_label(fact: Fact) -> str:
    """The label with its unit."""
    return f"{fact.label} ({fact.unit})" if fact.unit else fact.label


def clock_text(at: datetime) -> str:
    """A moment as hours and minutes of this machine's clock."""
    return f"{at.astimezone():%H:%M}"


def day_text(at: datetime) -> str:
    """A moment with its day: `Thu 5 Nov 2026, 08:10`."""
    local = at.astimezone()
    return f"{local:%a} {local.day} {local:%b %Y, %H:%M}"


def _field(fact: Fact) -> dict[str, Any]:
    choices = ("yes", "no") if fact.kind == "yes/no" else fact.choices
    return {
        "name": fact.name,
        "label": fact.label,
        "unit": fact.unit,
        "kind": fact.kind,
        "choices": list(choices),
        "band": _band(fact),
    }


def _band(fact: Fact) -> str:
    if fact.kind == "number":
        low, high = fact.low or 0, fact.high or 0
        return f"{_short(low)} to {_short(high)}"
    return fact.help


def _short(value: float) -> str:
    return plain_number(value, 3).replace("-", "−")


def _number(fact: Fact, words: str) -> float | str | bool | None:
    for read in (_plain, _clock, _with_unit):
        value = _tried(read, fact, words)
        if value is not None:
            return check_fact(fact, value)
    return check_fact(fact, words)


def _tried(
    read: Callable[[Fact, str], float | None], fact: Fact, words: str
) -> float | None:
    try:
        return read(fact, words)
    except (BookError, UnitError, ValueError, OverflowError):
        return None


def _plain(_fact: Fact, words: str) -> float:
    return float(number(words))


def _clock(fact: Fact, words: str) -> float | None:
    """`1:30` as minutes."""
    hours, colon, minutes = words.partition(":")
    if fact.unit != "min" or not (colon and hours.isdecimal() and len(minutes) == 2):
        return None
    return 60.0 * int(hours) + int(minutes)


def _with_unit(fact: Fact, words: str) -> float | None:
    if fact.unit and words.endswith(fact.unit):
        return float(number(words.removesuffix(fact.unit)))
    if fact.unit not in _UNITS:
        return None
    dimension, unit = _UNITS[fact.unit]
    value = quantity(words, dimension=dimension).to(unit).magnitude
    return round(float(value), 1 if fact.unit == "°C" else 3)
