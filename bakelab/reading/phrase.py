"""One ingredient line taken apart: amounts, name, marks. No weights yet."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Any

from bakelab.reading.amounts import Amount, amounts
from bakelab.reading.names import names_in
from bakelab.reading.statements import (
    EDGES,
    same_amounts,
    second_ingredient,
)
from bakelab.reading.tokens import Token
from bakelab.reading.vocabulary import vocabulary
from bakelab.reading.whole_amounts import whole_amounts

__all__ = ["Phrase", "take_apart"]

_PART_WORD = re.compile(
    r"(?i)\b(cake|clove|stick|packet|sachet|envelope|package|slice)s?$"
)
_EXTRA = re.compile(
    r"(?i)(?:\bplus\b|\+|\band\b|\bund\b|\bsowie\b|\bet\b)\s*"
    r"[\d½⅓⅔¼¾⅛][\d\s.,/½⅓⅔¼¾⅛–-]*(?:\w{1,12}\.?\s+)?(?:extra |more |of it )?$"
)
_AGAIN = re.compile(
    r"(?i)(?:\+|\bplus\b|\band\b|\bund\b|\bsowie\b|\bet\b)\s*"
    r"(?:(?:some|a little|etwas|un peu d['e’]|de la|du|de)\s+)?(\w{2,})\s*$"
)
_PART_UNITS = {"sachet": "packet", "envelope": "packet", "package": "packet"}


@dataclass(frozen=True)
class Phrase:
    """The parts of a line. `same` are other statements of the same amount.

    `each` is an amount for every piece of the first one. `name` is what
    the line calls the ingredient, `names` other places to look for it.
    """

    text: str
    amount: Amount | None
    same: tuple[Amount, ...]
    each: Amount | None
    name: str
    names: tuple[str, ...]
    bakers_pct: float | None = None
    hydration_pct: float | None = None
    optional: bool = False
    to_taste: bool = False
    not_dough: str = ""
    extra: str = ""
    alternative: str = ""
    second: str = ""
    doubts: tuple[str, ...] = ()


@lru_cache(maxsize=4096)
def take_apart(text: str, language: str) -> Phrase:
    """The parts of one cleaned line.

    Examples
    --------
    >>> phrase = take_apart("3½ cups (420 g) flour, sifted", "en")
    >>> float(phrase.amount.low), phrase.amount.unit, phrase.name
    (3.5, 'cup', 'flour')
    >>> [float(a.low) for a in phrase.same]
    [420.0]
    """
    written, tokens = amounts(text, language)
    percents, hydration, others = _percents(written, text, language)
    found = whole_amounts(others, tokens, text, language)
    first = _first(found)
    if first is None:
        return _without_amount(text, tokens, language, percents, hydration)
    head, same, each = same_amounts(first, found, tokens, text)
    name, names, alternative = names_in(text, head, tokens, found)
    part = _PART_WORD.search(name)
    if head.unit is None and part is not None and part.start() > 2:
        word = part.group(1).casefold()
        head = replace(head, unit=_PART_UNITS.get(word, word))
    marks = _marks(text, language, head)
    second = second_ingredient(text, head, same, found, tokens)
    doubts = tuple(a.doubt for a in (head, *same) if a.doubt)
    return Phrase(
        text, head, same, each, name, names, percents, hydration,
        alternative=alternative, second=second, doubts=doubts, **marks,
    )  # fmt: skip


def _without_amount(
    text: str,
    tokens: Sequence[Token],
    language: str,
    percent: float | None,
    hydration: float | None,
) -> Phrase:
    nowhere = Amount(Fraction(0), Fraction(0), None, None, 0, 0)
    name, names, alternative = names_in(text, nowhere, tokens, [])
    marks = _marks(text, language, nowhere)
    return Phrase(
        text, None, (), None, name, names, percent, hydration,
        alternative=alternative, **marks,
    )  # fmt: skip


def _percents(
    found: Sequence[Amount], text: str, language: str
) -> tuple[float | None, float | None, list[Amount]]:
    """The baker's percentage and hydration on the line; the other amounts."""
    bakers = hydration = None
    attribute = vocabulary(language).patterns["attribute"]
    for amount in found:
        if amount.unit != "%":
            continue
        value = float(amount.low)
        after = text[amount.end : amount.end + 24].lstrip(" -)")
        before = text[max(0, amount.start - 16) : amount.start].casefold()
        if re.match(r"(?i)hydrat", after) or re.search(
            r"(?i)hydrat\w*\s*[:(]?\s*$", before
        ):
            hydration = value
        elif attribute.match(after) or re.search(
            r"(fat|fett|cocoa|kakao)\D{0,6}$", before
        ):
            continue
        elif bakers is None:
            bakers = value
    rest = [a for a in found if a.kind not in ("percent", "length")]
    return bakers, hydration, rest


def _first(found: Sequence[Amount]) -> Amount | None:
    outside = [a for a in found if not a.depth]
    counted = [a for a in outside if a.unit is not None]
    if outside and outside[0].unit is None and counted and outside[0] is not counted[0]:
        return outside[0]
    return next(iter(outside or found), None)


def _again(before: str, start: int) -> re.Match[str] | None:
    """`375 g flour + flour for dusting`: the same word once more."""
    match = _AGAIN.search(before, start)
    known = match is not None and match.group(1).casefold() in (
        before[start : match.start()].casefold()
    )
    return match if known else None


def _marks(text: str, language: str, head: Amount) -> dict[str, Any]:
    patterns = vocabulary(language).patterns
    optional = patterns["optional"].search(text)
    if optional and re.search(
        r"(?i)(\+|\bplus|\bund|\bet)\s*$", text[: optional.start()]
    ):
        optional = None  # `250 ml water + optionally 1 tbsp more`
    taste = patterns["to taste"].search(text)
    extra = patterns["extra"].search(text, head.end)
    outside = patterns["not dough"].search(text)
    extra = extra or (outside and _EXTRA.search(text[: outside.start()], head.end))
    extra = extra or (outside and _again(text[: outside.start()], head.end))
    after_extra = outside and extra and extra.start() <= outside.start()
    return {
        "optional": optional is not None,
        "to_taste": taste is not None,
        "not_dough": outside.group() if outside and not after_extra else "",
        "extra": text[extra.start() :].strip(EDGES) if extra else "",
    }
