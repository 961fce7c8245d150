"""Whether a line of a recipe looks like an ingredient."""

import re

from bakelab.ingredients import find_ingredient
from bakelab.reading.amounts import Amount, amounts
from bakelab.reading.vocabulary import vocabulary

__all__ = [
    "SENTENCE_END",
    "has_amount",
    "has_unit",
    "inline_items",
    "is_item",
    "is_named",
]

SENTENCE_END = re.compile(r"[.!?…]['\"”)]?$")
_SPLIT = re.compile(r"\s*[,;•·]\s+(?=(?:\d|[½⅓⅔¼¾⅛]|an?\s|one\s|two\s|eine?\s|une?\s))")
_UNCOUNTED = ("pinch", "dash", "drop", "handful", "knob", "smidgen", "knife tip")
_ARTICLES = ("a", "an", "one", "ein", "eine", "einen", "un", "une", "una", "uno")
_ASIDE = re.compile(r"\s*\([^()]*\)")


def is_item(cleaned: str) -> bool:
    """Whether a line of an unmarked text looks like an ingredient."""
    short = _ASIDE.sub(" ", cleaned)
    if len(short) > 140 or len(short.split()) > 22 or len(cleaned) > 500:
        return False
    found, tokens = amounts(cleaned, "en")
    spoken = "" if found else _number_word(cleaned)
    if spoken:  # `ein Viertelliter Milch`, `deux œufs battus`
        found, tokens = amounts(cleaned, spoken)
        if not found or (found[0].unit is None and find_ingredient(cleaned) is None):
            return False
    if not found:  # `pinch of salt`, `a few drops of oil`
        measured = any(t.type == "UNIT" and t.value in _UNCOUNTED for t in tokens[:2])
        return measured and len(cleaned.split()) <= 8
    first = found[0]
    if first.kind == "length" or _is_article(cleaned, first):
        return False
    at_head = not [t for t in tokens if t.end <= first.start and t.type == "WORD"]
    longest = 16 if at_head and first.unit is not None else 9
    sentence = bool(SENTENCE_END.search(short)) and len(short.split()) > longest
    if not at_head and first.unit is not None and _names_it(cleaned[: first.start]):
        return True
    at_end = first.unit is not None and first.start > 0 and len(cleaned.split()) <= 14
    return (at_head or (at_end and not SENTENCE_END.search(cleaned))) and not sentence


def _number_word(cleaned: str) -> str:
    """The language, of German and French, whose number word opens a line."""
    word = cleaned.partition(" ")[0].casefold()
    for language in ("de", "fr"):
        if vocabulary(language).words.get(word, ("",))[0] == "NUMBER":
            return language
    return ""


def _names_it(before: str) -> bool:
    """Whether only an ingredient stands before an amount: `Levain, 100 g: ripe.`"""
    if not before.rstrip().endswith((",", ":", "–", "-")) or len(before) > 40:
        return False
    match = find_ingredient(before)
    return match is not None and not match.rest.strip(" ,:–-")


def _is_article(text: str, amount: Amount) -> bool:
    """`a cloth, and let it stand`: an article that counts nothing."""
    written = text[amount.start : amount.end].casefold()
    egg = re.match(r"\s*(egg|ei|œuf|oeuf)\b", text[amount.end :], re.IGNORECASE)
    return amount.unit is None and written in _ARTICLES and egg is None


def has_unit(text: str) -> bool:
    return any(a.unit is not None for a in amounts(text[:200], "en")[0])


def has_amount(text: str) -> bool:
    return bool(amounts(text[:200], "en")[0])


def inline_items(line: str) -> list[str]:
    """`500 g flour, 300 g water, 10 g salt` on one line are three lines."""
    parts = _SPLIT.split(line.strip())
    if len(parts) > 1 and all(has_amount(p) and is_named(p) for p in parts):
        return parts
    return [line.rstrip()]


def is_named(part: str) -> bool:
    found, _ = amounts(part, "en")
    rest = part[found[-1].end :] if found else ""
    if any(a.unit == "%" for a in found):
        return False
    return len(re.findall(r"[^\W\d_]{3,}", rest)) > 0 and not re.match(
        r"\s*(of it|each|apiece|thick|long|wide|for|plus|more)\b", rest
    )
