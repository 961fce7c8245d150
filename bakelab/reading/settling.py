"""Tokens in their place: what counts, what joins, what is part of a name."""

import re
from dataclasses import replace
from fractions import Fraction

from bakelab.reading.numerals import Token

__all__ = ["settled"]

_FLOUR_TYPES = (405, 550, 630, 812, 815, 997, 1050, 1150, 1370, 1600, 1700, 1740)
# The mineral classes of DIN 10355, from memory: `Weizenmehl 550`.


def settled(tokens: list[Token], text: str) -> list[Token]:
    """Turn words that only look like amounts or joints into plain ones."""
    out: list[Token] = []
    for index, token in enumerate(tokens):
        before = out[-1] if out else None
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        out.append(_counted(token, before, after, text))
    kept = _drop_inner_of([t for t in out if t.type != "MODIFIER"])
    kept = _unhyphened(kept)
    around = zip([None, *kept], kept, [*kept[1:], None], strict=False)
    return [_jointed(token, before, after) for before, token, after in around]


def _unhyphened(tokens: list[Token]) -> list[Token]:
    """`1/4-ounce` without its hyphen."""
    return [
        t
        for i, t in enumerate(tokens)
        if not (
            t.type == "RANGE"
            and 0 < i < len(tokens) - 1
            and tokens[i - 1].type == "NUMBER"
            and tokens[i + 1].type == "UNIT"
            and tokens[i - 1].end == t.start
            and tokens[i + 1].start == t.end
        )
    ]


def _counted(
    token: Token, before: Token | None, after: Token | None, text: str
) -> Token:
    """Numbers, articles and times as what they are in their place."""
    if token.type == "NUMBER":
        plain = _is_name_part(token, before, after, text)
    elif token.type == "ARTICLE":
        counts = after is not None and after.type in ("UNIT", "SIZE", "MODIFIER")
        plain = not (counts or before is None)
        if not plain:
            return Token("NUMBER", Fraction(1), token.start, token.end)
    else:
        plain = token.type in ("TIME", "TYPEMARK", "VAGUE")
    if not plain:
        return token
    return Token("WORD", text[token.start : token.end], token.start, token.end)


def _jointed(token: Token, before: Token | None, after: Token | None) -> Token:
    """A sign between two amounts joins them; anywhere else it is a mark."""
    if token.type not in ("RANGE", "PLUS", "MINUS", "TIMES"):
        return token
    joins = before is not None and after is not None and after.type == "NUMBER"
    if joins and before is not None:
        ends = ("NUMBER",) if token.type == "TIMES" else ("NUMBER", "UNIT", "SIZE")
        joins = before.type in ends or (token.type == "PLUS" and before.type == "CLOSE")
    return token if joins else replace(token, type="MARK")


def _is_name_part(
    token: Token, before: Token | None, after: Token | None, text: str
) -> bool:
    """Type 550, 00 flour, T55, 405er, 30 minutes: numbers that count nothing."""
    if before is not None and before.type == "WORD" and before.end == token.start:
        return True
    if token.value == 0 and (after is None or after.type != "UNIT"):
        return True
    if after is None:
        return before is not None and _is_type_mark(before, text, token.value)
    if token.value in _FLOUR_TYPES and after.type != "UNIT" and _in_flour(token, text):
        return True
    if after.type == "TIME":
        return True
    if after.type in ("WORD", "MARK") and after.start == token.end:
        return after.value not in ("(", ".", ":", "~")
    return (
        before is not None
        and after.type != "UNIT"
        and _is_type_mark(before, text, token.value)
    )


def _in_flour(token: Token, text: str) -> bool:
    """`Weizenmehl 1050: 500 g` and `Weizenmehl (1050)`: the type of the flour."""
    before, after = text[: token.start], text[token.end : token.end + 8]
    told = re.search(r"(?i)mehl\s*[(,]?\s*$", before) is not None
    return told and re.match(r"\s*(?:[:,;)]|[-–—]\s|$)", after) is not None


def _is_type_mark(token: Token, text: str, number: Fraction) -> bool:
    word = text[token.start : token.end].casefold().rstrip(".")
    if word.endswith("mehl") and number in _FLOUR_TYPES:
        return True
    return word in ("type", "typ", "tipo", "t", "no", "nr", "n°", "w", "#", "grade")


def _drop_inner_of(tokens: list[Token]) -> list[Token]:
    """`3/4 of a cup` is `3/4 cup`; `half a cup` is `half cup`."""
    out: list[Token] = []
    for index, token in enumerate(tokens):
        rest = [t.type for t in tokens[index + 1 : index + 3]]
        after_number = bool(out) and out[-1].type == "NUMBER"
        if after_number and token.type == "OF" and rest[:1] in (["UNIT"], ["NUMBER"]):
            continue
        if (
            after_number
            and token.type == "NUMBER"
            and token.value == 1
            and rest[:1] == ["UNIT"]
            and out[-1].value < 1
        ):
            continue
        out.append(token)
    return out
