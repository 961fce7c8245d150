"""Words that steer the reading, from `data/reading_words.csv`, per language."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from bakelab.tables import read_rows
from bakelab.units import unit_words

__all__ = ["LANGUAGES", "Vocabulary", "phrase_pattern", "vocabulary", "word_rows"]

LANGUAGES = ("en", "de", "fr")  # read with their own words; others by units only

_COLUMNS = {
    "kind": str, "value": str, "en": str, "de": str, "fr": str, "other": str
}  # fmt: skip
_GENERIC = re.compile(r"(?!)")


@dataclass(frozen=True)
class Vocabulary:
    """The words of one language, English ones included.

    `words` maps a word or phrase to its token type and value; the
    patterns find phrases anywhere in a line.
    """

    words: Mapping[str, tuple[str, Any]]
    starts: Mapping[str, int]
    units: Mapping[str, str]
    unit_starts: Mapping[str, tuple[str, ...]]
    patterns: Mapping[str, re.Pattern[str]]


@cache
def vocabulary(language: str) -> Vocabulary:
    """The words for a language; any language without its own has `other`."""
    words: dict[str, tuple[str, Any]] = {}
    phrases: dict[str, list[str]] = {}
    for row in word_rows(language):
        kind, value = row["kind"], row["value"]
        if kind in _TOKENS:
            words |= {w: (_TOKENS[kind], _value(value)) for w in row["words"]}
        else:
            phrases.setdefault(kind, []).extend(row["words"])
    starts: dict[str, int] = {}
    for word in words:
        first = word.split(" ")[0]
        starts[first] = max(starts.get(first, 0), word.count(" ") + 1)
    units = unit_words(language)
    patterns = {kind: phrase_pattern(found) for kind, found in phrases.items()}
    return Vocabulary(words, starts, units, _unit_starts(units), patterns)


def word_rows(language: str) -> Iterable[dict[str, Any]]:
    """Rows of the table with the words of a language and of English."""
    column = language if language in LANGUAGES else "other"
    for row in read_rows("reading_words", _COLUMNS):
        cells = [row["en"], row[column]] if column != "en" else [row["en"]]
        words = [w for cell in cells for w in cell.split("|") if w]
        yield {"kind": row["kind"], "value": row["value"], "words": words}


def phrase_pattern(phrases: Iterable[str]) -> re.Pattern[str]:
    """A pattern that finds any of the phrases as whole words, longest first."""
    ordered = sorted(set(phrases), key=lambda p: (-len(p), p))
    if not ordered:
        return _GENERIC
    body = "|".join(re.escape(p).replace(r"\ ", r"\s+") for p in ordered)
    return re.compile(rf"(?<!\w)(?:{body})(?!\w)", re.IGNORECASE)


def _unit_starts(units: Mapping[str, str]) -> Mapping[str, tuple[str, ...]]:
    starts: dict[str, list[str]] = {}
    for word in sorted(units, key=len, reverse=True):
        starts.setdefault(word[0].casefold(), []).append(word)
    return {first: tuple(found) for first, found in starts.items()}


def _value(text: str) -> Fraction | None:
    return Fraction(text).limit_denominator(1000) if text else None


_TOKENS = {
    "number": "NUMBER",
    "article": "ARTICLE",
    "range": "RANGE",
    "plus": "PLUS",
    "minus": "MINUS",
    "vague": "VAGUE",
    "or": "OR",
    "of": "OF",
    "modifier": "MODIFIER",
    "size": "SIZE",
    "time": "TIME",
    "type mark": "TYPEMARK",
}
