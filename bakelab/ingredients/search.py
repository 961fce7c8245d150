"""Finding the ingredient that a recipe line names."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from bakelab.ingredients.table import all_ingredients

__all__ = ["Match", "find_ingredient", "head_is_equipment"]

_WORD = re.compile(r"[a-z0-9]+")
_EQUIPMENT = frozenset("pan parchment foil skillet thermometer backpapier".split())


@dataclass(frozen=True)
class Match:
    """The ingredient found: its key, the words that named it, the others."""

    key: str
    matched: str
    rest: str
    certain: bool


def find_ingredient(text: str, *, language: str = "en") -> Match | None:
    """The ingredient that a text names, or None if none is known."""
    words = _words(text)
    for size in range(min(6, len(words)), 0, -1):
        for start in range(len(words) - size, -1, -1):
            key = _synonyms(language).get(" ".join(words[start : start + size]))
            if key is not None:
                matched = " ".join(words[start : start + size])
                rest = " ".join(words[:start] + words[start + size :])
                return Match(key, matched, rest, True)
    return None


def head_is_equipment(text: str) -> bool:
    """Whether a line names a tool or paper and no ingredient."""
    return not _EQUIPMENT.isdisjoint(_words(text))


@cache
def _synonyms(language: str) -> Mapping[str, str]:
    found: dict[str, str] = {}
    order = dict.fromkeys((language, "en", "de", "fr"))
    for item in all_ingredients().values():
        for column in order:
            for synonym in getattr(item, column, ()):
                found.setdefault(" ".join(_words(synonym)), item.key)
    return found


def _words(text: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", text.casefold().replace("œ", "oe"))
    return _WORD.findall("".join(c for c in plain if not unicodedata.combining(c)))
