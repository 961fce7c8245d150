"""Amounts in a line, by the grammar of `amounts.lark`."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from lark import Lark, Transformer
from lark import Token as LarkToken
from lark.lexer import Lexer

from bakelab.reading.tokens import Token, tokenize
from bakelab.units import kitchen_units

__all__ = ["Amount", "added", "amounts"]


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity in a line: low to high of a unit, and where it stands.

    `unit` is a key of `data/kitchen_units.csv`, ``"%"``, or None for a
    count; `depth` is the number of parentheses around it.
    """

    low: Fraction
    high: Fraction
    unit: str | None
    size: str | None
    start: int
    end: int
    depth: int = 0
    doubt: str = ""

    @property
    def is_mass(self) -> bool:
        return self.kind == "mass"

    @property
    def kind(self) -> str:
        """mass, volume, part, length, percent or count."""
        if self.unit is None:
            return "count"
        return "percent" if self.unit == "%" else kitchen_units()[self.unit].kind


@lru_cache(maxsize=4096)
def amounts(text: str, language: str) -> tuple[tuple[Amount, ...], tuple[Token, ...]]:
    """All amounts of a line in order, and all its tokens.

    Examples
    --------
    >>> found, _ = amounts("1-1½ tsp salt", "en")
    >>> [(str(a.low), str(a.high), a.unit) for a in found]
    [('1', '3/2', 'tsp')]
    """
    tokens = tokenize(text, language)
    if not any(t.type == "NUMBER" for t in tokens):
        return (), tuple(tokens)
    found: list[Amount] = _parser().parse(tokens)  # type: ignore[assignment]
    return tuple(found), tuple(tokens)


_PLAIN = ("WORD", "MARK", "COMMA", "OF", "SLASH", "OR")


class _TokenLexer(Lexer):
    """Hands the tokens of tokens.py to lark, a run of plain ones as one."""

    def __init__(self, _conf: Any) -> None:
        pass

    def lex(self, data: Any) -> Iterator[LarkToken]:  # type: ignore[override]
        was_plain = False
        for token in data:
            is_plain = token.type in _PLAIN
            if not (is_plain and was_plain):
                yield LarkToken(token.type, token)
            was_plain = is_plain


class _Build(Transformer[Any, list[Amount]]):
    """Amounts from the tree, bottom up."""

    def start(self, children: list[Any]) -> list[Amount]:
        out: list[Amount] = []
        depth = 0
        for child in children:
            if isinstance(child, Amount):
                out.append(replace(child, depth=depth) if depth else child)
            elif child is not None:
                depth = max(0, depth + child)
        return out

    def other(self, children: list[Any]) -> int:
        kind = children[0].type
        return int(kind == "OPEN") - int(kind == "CLOSE")

    def value(self, children: list[Any]) -> Amount:
        token: Token = children[0].value
        value = token.value
        return Amount(value, value, None, None, token.start, token.end, 0, token.doubt)

    def amount(self, children: list[Any]) -> Amount:
        first, last = children[0], children[-1]
        if first is last:
            return first  # type: ignore[no-any-return]
        if children[1].type == "TIMES":
            return _joined(first, last, first.low * last.low, first.high * last.high)
        return _joined(
            first, last, min(first.low, last.low), max(first.high, last.high)
        )

    def measure(self, children: list[Any]) -> Amount:
        amount, *rest = children
        if not rest:
            return amount  # type: ignore[no-any-return]
        given = {t.type: t.value.value for t in rest}
        end = rest[-1].value.end
        unit, size = given.get("UNIT"), given.get("SIZE")
        whole: Amount = replace(amount, unit=unit, size=size, end=end)
        return whole

    def span(self, children: list[Any]) -> Amount:
        first, last = children[0], children[-1]
        factor = _unit_ratio(last.unit, first.unit) if first.unit else Fraction(1)
        if first is last or factor is None:
            return first  # type: ignore[no-any-return]
        high = max(first.low, last.high * factor)
        whole = _joined(first, last, first.low, high)
        return replace(whole, unit=first.unit or last.unit)

    def total(self, children: list[Any]) -> Amount:
        whole: Amount = children[0]
        for sign, part in zip(children[1::2], children[2::2], strict=True):
            whole = added(whole, part, minus=sign.type == "MINUS") or whole
        return whole


def added(first: Amount, second: Amount, *, minus: bool = False) -> Amount | None:
    """The sum of two amounts in the unit of the first; None if they differ.

    A bare fraction counts in the first unit: `two pounds and a half`.
    """
    half = second.unit is None and second.high < 1
    factor = Fraction(1) if half else _unit_ratio(second.unit, first.unit)
    if factor is None:
        return None
    factor = -factor if minus and second.high * factor < first.low else factor
    low, high = first.low + second.low * factor, first.high + second.high * factor
    return _joined(first, second, low, high)


def _joined(first: Amount, last: Amount, low: Fraction, high: Fraction) -> Amount:
    doubt = first.doubt or last.doubt
    return replace(first, low=low, high=high, end=last.end, doubt=doubt)


def _unit_ratio(unit: str | None, into: str | None) -> Fraction | None:
    """How many of `into` one of `unit` is; None where they do not convert."""
    if unit == into:
        return Fraction(1)
    if unit is None or into is None or "%" in (unit, into):
        return None
    first, second = kitchen_units()[unit], kitchen_units()[into]
    if first.kind != second.kind or not second.size:
        return None
    return (Fraction(first.size) / Fraction(second.size)).limit_denominator(100_000)


@cache
def _parser() -> Lark:
    grammar = Path(__file__).with_name("amounts.lark").read_text(encoding="utf-8")
    return Lark(
        grammar, parser="lalr", lexer=_TokenLexer, transformer=_Build(), start="start"
    )
