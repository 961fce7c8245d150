"""Tokens of pan texts and the measures in them: `9 x 5 x 2¾ in`, `Ø 26 cm`.

Both readers use it: the short specs of :func:`bakelab.pans.pan` and the running
prose of :func:`bakelab.pans.pan_in_text`. One pass over the text, no backtracking
over more than one token.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from bakelab.errors import UnitError
from bakelab.pans.words import NUMBER_WORDS, UNIT_WORDS
from bakelab.units import number

__all__ = [
    "Group",
    "Token",
    "read_group",
    "to_cm",
    "tokens",
    "unit_at",
    "value_of",
]

_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_LEXER = re.compile(
    rf"""
    (?P<num>\d+[ \u00a0\u202f-]\d+[/⁄]\d+ | \d+[ \u00a0\u202f-]?[{_VULGAR}]
        | \d+[/⁄]\d+ | [{_VULGAR}] | \d+[.,]\d+(?:e[+-]?\d+)?(?![\d])
        | \.\d+ | \d+(?:e[+-]?\d+(?!\d))?)
  | (?P<round>[ØøφΦ⌀∅](?![^\W\d_]))
  | (?P<word>[^\W\d_]+)
  | (?P<inch>"|”|“|″|''|’’|′′|\u2033)
  | (?P<by>[×✕*])
  | (?P<dash>[-–—‐‑−])
  | (?P<open>\() | (?P<close>\)) | (?P<slash>/) | (?P<comma>,) | (?P<stop>\.)
  | (?P<about>[~≈])
  | (?P<newline>\n(?![ \t]{{0,8}}[a-zà-ÿ]))
  | (?P<other>[^\s])
    """,
    re.VERBOSE,
)
_LONGEST_NUMBER = 24

_LENGTH_CM = {"in": Decimal("2.54"), "cm": Decimal(1), "mm": Decimal("0.1")}
_BY_WORDS = frozenset({"x", "by", "mal", "sur", "auf"})
_RANGE_WORDS = frozenset({"to", "or", "bis", "oder", "à", "ou"})
_ARTICLES = frozenset({"a", "an", "the", "each", "one", "two", "three", "four", "your"})


class Token(NamedTuple):
    """A piece of text: its kind, its lower-case text, where it stands."""

    kind: str
    text: str
    start: int
    end: int


@dataclass(frozen=True)
class Group:
    """Measures written together, in one unit: `9 x 5 x 3 in`, `2 quart`."""

    values: tuple[float, ...]
    unit: str
    high: float | None = None
    is_diameter: bool = False

    @property
    def is_length(self) -> bool:
        """Whether these are lengths (or numbers whose unit is not written)."""
        return self.unit in _LENGTH_CM or self.unit == ""

    def in_cm(self, unit: str = "") -> tuple[float, ...]:
        """The values in centimetres; `unit` is used where none is written."""
        return tuple(to_cm(value, self.unit or unit) for value in self.values)


@lru_cache(maxsize=4096)
def to_cm(value: float, unit: str) -> float:
    """Centimetres of a length, rounded once: 9 in is 22.86 cm and nothing near it."""
    return float(Decimal(repr(value)) * _LENGTH_CM[unit])


def tokens(text: str, start: int = 0, end: int | None = None) -> list[Token]:
    """The tokens of a text, or of a part of it, spaces left out."""
    stop = len(text) if end is None else end
    return [
        Token(m.lastgroup or "", m.group().lower(), m.start(), m.end())
        for m in _LEXER.finditer(text, start, stop)
    ]


@lru_cache(maxsize=4096)
def value_of(text: str) -> float | None:
    """The number a token stands for; None if it is none that can be used."""
    if len(text) > _LONGEST_NUMBER:
        return None
    try:
        return float(number(text.replace("\u202f", " ")))
    except (UnitError, OverflowError):
        return None


def unit_at(found: Sequence[Token], i: int, end: int) -> tuple[str, int]:
    """The unit at position `i` (after hyphens), and the position after it.

    `in` is only a unit where no article or number follows: "2 in a pan".
    """
    j = i
    while j < end and j < i + 2 and found[j].kind == "dash":
        j += 1
    if j >= end:
        return "", i
    token = found[j]
    if token.kind == "inch":
        return "in", j + 1
    unit = UNIT_WORDS.get(token.text, "") if token.kind == "word" else ""
    if not unit or (token.text == "in" and _is_preposition(found, j, end)):
        return "", i
    return unit, _after_stop(found, j + 1, end)


def _number_at(found: Sequence[Token], i: int, end: int) -> float | None:
    """The number at position `i`, in digits or as a word."""
    if i >= end:
        return None
    token = found[i]
    if token.kind == "num":
        return value_of(token.text)
    return NUMBER_WORDS.get(token.text) if token.kind == "word" else None


def read_group(found: Sequence[Token], i: int, end: int) -> tuple[Group | None, int]:
    """A group of measures starting at position `i`, and where it stops.

    Returns None and `i` if there is none.
    """
    is_round = i < end and found[i].kind == "round"
    j = i + 1 if is_round else i
    while j < end and found[j].kind == "about":
        j += 1
    first = _number_at(found, j, end)
    if first is None:
        return None, i
    if j + 1 < end and found[j + 1].text == "er":
        return _counted(first, j + 2)
    values, units, j = _product(found, first, j + 1, end)
    high = None
    if len(values) == 1:
        high, unit, j = _range(found, j, end)
        units.append(unit)
    unit = next((u for u in reversed(units) if u), "")
    if j < end and found[j].kind == "round":
        is_round, j = True, j + 1
    return _settled(values, units, unit, high, is_round), j


def _product(
    found: Sequence[Token], first: float, i: int, end: int
) -> tuple[list[float], list[str], int]:
    """The rest of `9 x 5 x 3 in` after its first number."""
    unit, j = unit_at(found, i, end)
    values, units = [first], [unit]
    while len(values) < 4:
        k = j
        while k < end and k < j + 2 and found[k].kind in ("dash", "comma"):
            k += 1
        if not (k < end and _is_by(found[k])):
            break
        k += 1
        while k < end and found[k].kind in ("about", "dash"):
            k += 1
        value = _number_at(found, k, end)
        if value is None:
            break
        unit, j = unit_at(found, k + 1, end)
        values.append(value)
        units.append(unit)
    return values, units, j


def _range(found: Sequence[Token], i: int, end: int) -> tuple[float | None, str, int]:
    """The upper end of `6-8 inch` or `20 to 22 cm`, if there is one."""
    start = i
    if i + 2 < end and found[i].kind == "dash" and found[i + 1].text in _RANGE_WORDS:
        i += 1
    if i + 1 >= end or found[i + 1].kind != "num":
        return None, "", start
    if found[i].kind != "dash" and found[i].text not in _RANGE_WORDS:
        return None, "", start
    high = value_of(found[i + 1].text)
    unit, j = unit_at(found, i + 2, end)
    if high is None or not unit or (j < end and _is_by(found[j])):
        return None, "", start
    return high, unit, j


def _settled(
    values: list[float],
    units: list[str],
    unit: str,
    high: float | None,
    is_round: bool,
) -> Group:
    """All values in the group's own unit, where units were mixed."""
    if unit in _LENGTH_CM:
        values = [
            float(Decimal(repr(value)) * _LENGTH_CM[own] / _LENGTH_CM[unit])
            if own in _LENGTH_CM and own != unit
            else value
            for value, own in zip(values, units, strict=False)
        ]
    return Group(tuple(values), unit, high, is_round)


def _counted(first: float, j: int) -> tuple[Group, int]:
    """German `26er` (a width in cm) and `12er` (so many wells)."""
    return Group((first,), "er"), j


def _is_by(token: Token) -> bool:
    return token.kind == "by" or (token.kind == "word" and token.text in _BY_WORDS)


def _is_preposition(found: Sequence[Token], j: int, end: int) -> bool:
    if j + 1 >= end:
        return False
    after = found[j + 1]
    return after.kind == "num" or after.text in _ARTICLES


def _after_stop(found: Sequence[Token], j: int, end: int) -> int:
    """Past the full stop of `in.`, unless it may end the sentence."""
    if j + 1 < end and found[j].kind == "stop" and found[j].start == found[j - 1].end:
        after = found[j + 1]
        if after.kind in ("num", "by", "dash", "comma", "close", "slash") or (
            after.kind == "word" and found[j - 1].text == "in"
        ):
            return j + 1
    return j
