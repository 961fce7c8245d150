"""Amounts made whole: units that stand apart, packs, `2 lb 3 oz`."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from bakelab.reading.amounts import Amount, added
from bakelab.reading.statements import (
    EDGES,
)
from bakelab.reading.tokens import Token
from bakelab.reading.vocabulary import vocabulary

__all__ = ["whole_amounts"]

_PACKED = ("packet", "can", "cake", "stick")


def whole_amounts(
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
