"""One ingredient line taken apart: amounts, name, marks. No weights yet."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Any

from bakelab.reading.amounts import Amount, added, amounts
from bakelab.reading.statements import (
    EDGES,
    JOINS,
    same_amounts,
    second_ingredient,
)
from bakelab.reading.tokens import Token
from bakelab.reading.vocabulary import vocabulary

__all__ = ["Phrase", "take_apart"]

_STOP = ("OPEN", "COMMA", "OR", "PLUS")
_DASHES = re.compile(r"\s[-–—:]+\s|:\s|\.{2,}|\s{2,}")
_LIKE = re.compile(
    r"(?i)\s(?:the size of|of the size of|size of|as big as|as large as|dissolved in|"
    r"mixed (?:with|in)|soaked in|beaten with|aufgelöst in|gelöst in|dissous|"
    r"so groß wie|gros comme|de la taille|from|in|with|mit|avec)\s"
)
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
_ALTERNATIVE = re.compile(
    r"(?i)\((?:wahlweise|oder|or|ou|alternativ\w*|ersatzweise|you can|can also|"
    r"auch)\b[^)]*\)?"
)


_PART_UNITS = {"sachet": "packet", "envelope": "packet", "package": "packet"}
_PACKED = ("packet", "can", "cake", "stick")


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
    found = _finish(others, tokens, text, language)
    first = _first(found)
    if first is None:
        return _without_amount(text, tokens, language, percents, hydration)
    head, same, each = same_amounts(first, found, tokens, text)
    name, names, alternative = _names(text, head, tokens, found)
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
    name, names, alternative = _names(text, nowhere, tokens, [])
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


def _finish(
    found: Sequence[Amount], tokens: Sequence[Token], text: str, language: str
) -> list[Amount]:
    """Give `1 1/5 (355 mL) cups` its unit, and `pinch of salt` its number."""
    out = list(found)
    for token in tokens:
        if token.type != "UNIT" or token.value == "%" or _inside(token, out):
            continue
        owner = _owner(token, out, tokens)
        if owner is not None:
            out[owner] = replace(out[owner], unit=token.value)
        elif not out and not text[: token.start].strip(EDGES):
            one = Fraction(1)
            out = [Amount(one, one, token.value, None, token.start, token.end)]
    return _adjacent_sums(_packs(out, tokens, language), text)


def _packs(found: list[Amount], tokens: Sequence[Token], language: str) -> list[Amount]:
    """`1 7 g sachet` and `2 400 g tins`: a count, its unit behind the weight."""
    for i in range(len(found) - 1):
        count, one = found[i], found[i + 1]
        between = [t for t in tokens if count.end <= t.start < one.start]
        after = next((t for t in tokens if t.start >= one.end), None)
        units = vocabulary(language).units
        unit = units.get(str(after.value).casefold(), after.value) if after else None
        packed = unit in _PACKED and after is not None
        if (
            count.kind == "count"
            and one.kind in ("mass", "volume")
            and not between
            and packed
        ):
            found[i] = replace(count, unit=unit)
    return found


def _inside(token: Token, found: Sequence[Amount]) -> bool:
    return any(a.start <= token.start < a.end for a in found)


def _owner(unit: Token, found: Sequence[Amount], tokens: Sequence[Token]) -> int | None:
    """The count before a parenthesis that ends just before this unit."""
    index = tokens.index(unit)
    if index == 0 or tokens[index - 1].type != "CLOSE":
        return None
    opened = next((t for t in reversed(tokens[:index]) if t.type == "OPEN"), None)
    if opened is None:
        return None
    for i, amount in enumerate(found):
        if amount.kind == "count" and not amount.depth:
            between = [t for t in tokens if amount.end <= t.start < opened.start]
            if amount.end <= opened.start and not between:
                return i
    return None


def _adjacent_sums(found: list[Amount], text: str) -> list[Amount]:
    """`2 lb 3 oz` and `1 kg 200 g` are one amount each."""
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        if last is not None and (last.unit, amount.unit) in _COMPOUND:
            gap = text[last.end : amount.start].strip(" .,")
            total = added(last, amount) if gap in ("", "and", "und", "et") else None
            if total is not None:
                out[-1] = total
                continue
        out.append(amount)
    return out


_COMPOUND = {
    ("lb", "oz"),
    ("kg", "g"),
    ("l", "ml"),
    ("quart", "pint"),
    ("quart", "cup"),
    ("pint", "cup"),
    ("pint", "fl oz"),
    ("quart", "fl oz"),
    ("cup", "fl oz"),
    ("cup", "tbsp"),
    ("tbsp", "tsp"),
    ("gallon", "quart"),
}


def _first(found: Sequence[Amount]) -> Amount | None:
    outside = [a for a in found if not a.depth]
    counted = [a for a in outside if a.unit is not None]
    if outside and outside[0].unit is None and counted and outside[0] is not counted[0]:
        return outside[0]
    return next(iter(outside or found), None)


def _names(
    text: str, head: Amount, tokens: Sequence[Token], found: Sequence[Amount]
) -> tuple[str, tuple[str, ...], str]:
    """The name after the amounts, other places for it, and an alternative."""
    end = _chain_end(head, tokens, found)
    later = [a.start for a in found if a.start > end]
    after, alternative = _until_stop(text[: min(later, default=len(text))], end, tokens)
    after = re.sub(r"^[\d.,]+\s*%\s*", "", _cut_short(after))
    turn = next((t for t in tokens if t.type == "OR" and t.start > end), None)
    if after and turn is not None and not alternative:
        alternative = text[turn.end :].strip()
    before = _DASHES.sub(" ", text[: head.start]).strip(EDGES) if head.end else ""
    rest = _ALTERNATIVE.sub(" ", _blank(text, found))
    places = [after, before, _without_parentheses(rest), rest]
    if re.search(r"(?i)\b(of|von|vom|d['’]|de)$", before) and after:
        places.insert(0, f"{before} {after}")
    if head.unit == "clove" and not head.depth:  # `1 gousse de vanille`
        places.insert(0, text[head.start : end].lstrip("0123456789½¼ ") + " " + after)
    first, comma, rest_of_it = before.partition(",")
    if comma and not after:  # `Flour, strong white`
        places.append(f"{rest_of_it.strip(EDGES)} {first}")
    names = tuple(dict.fromkeys(p for p in places if p.strip(EDGES)))
    return (names[0] if names else ""), names[1:], alternative


def _chain_end(head: Amount, tokens: Sequence[Token], found: Sequence[Amount]) -> int:
    """Where the amounts at the head of the line, however joined, are over."""
    end = head.end
    moving = True
    while moving:
        moving = False
        for amount in found:
            between = [t for t in tokens if end <= t.start < amount.start]
            if amount.start >= end and all(t.type in JOINS for t in between):
                end, moving = amount.end, True
        for token in tokens:
            if end <= token.start and token.type in ("CLOSE", "UNIT", "OF", "SLASH"):
                between = [t for t in tokens if end <= t.start < token.start]
                if not between:
                    end, moving = token.end, True
    return end


def _until_stop(text: str, start: int, tokens: Sequence[Token]) -> tuple[str, str]:
    ahead = [t for t in tokens if t.start >= start]
    for index, token in enumerate(ahead):
        if token.type in _STOP and index == 0:
            continue
        if token.type in _STOP or text[token.start : token.end] in ("+", "("):
            name = text[start : token.start].strip(EDGES)
            if name:
                other = text[token.end :].strip() if token.type == "OR" else ""
                return name, other
    return text[start:].strip(EDGES), ""


def _cut_short(name: str) -> str:
    """The name before `in`, `dissolved in`, `the size of` and the like."""
    like = _LIKE.search(name)
    return name[: like.start()].strip(EDGES) if like and like.start() > 2 else name


def _blank(text: str, found: Sequence[Amount]) -> str:
    for amount in found:
        gap = " " * (amount.end - amount.start)
        text = text[: amount.start] + gap + text[amount.end :]
    return re.sub(r"\(\s*[/,]?\s*\)", " ", text).strip(EDGES)


def _without_parentheses(text: str) -> str:
    return re.sub(r"[(\[][^)\]]*[)\]]?", " ", text).strip(EDGES)


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
