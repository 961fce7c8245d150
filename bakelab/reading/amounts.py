"""Amounts in a line, by the grammar of `amounts.lark`."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, cast

from lark import Lark, Tree
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
    counted = _without_runs(tokens)
    tree = _tree(tuple(t.type for t in counted))
    return tuple(_Build(counted).all(tree)), tuple(tokens)


_PLAIN = ("WORD", "MARK", "COMMA", "OF", "SLASH", "OR")


def _without_runs(tokens: Sequence[Token]) -> list[Token]:
    """The tokens, of each run of plain ones the first."""
    before = [None, *tokens]
    return [
        t for b, t in zip(before, tokens, strict=False)
        if b is None or not (t.type in _PLAIN and b.type in _PLAIN)
    ]  # fmt: skip


@lru_cache(maxsize=4096)
def _tree(types: tuple[str, ...]) -> Tree[LarkToken]:
    """The tree of a row of token types; each leaf has the place of its token."""
    return _parser().parse(types)


class _TypeLexer(Lexer):
    """Hands the types of tokens to lark, each with its place."""

    def __init__(self, _conf: Any) -> None:
        pass

    def lex(self, data: Any) -> Iterator[LarkToken]:  # type: ignore[override]
        return (LarkToken(kind, place) for place, kind in enumerate(data))


class _Build:
    """Amounts from the tree, bottom up; the leaves stand for `tokens`."""

    def __init__(self, tokens: Sequence[Token]) -> None:
        self._tokens = tokens

    def all(self, tree: Tree[LarkToken]) -> list[Amount]:
        """The amounts of a whole line, each with the brackets around it."""
        out: list[Amount] = []
        depth = 0
        for child in tree.children:
            node = cast("Tree[LarkToken]", child)
            if node.data != "other":
                amount = self._total(node)
                out.append(replace(amount, depth=depth) if depth else amount)
                continue
            kind = cast("LarkToken", node.children[0]).type
            depth = max(0, depth + (kind == "OPEN") - (kind == "CLOSE"))
        return out

    def _total(self, node: Tree[LarkToken]) -> Amount:
        spans, signs = node.children[::2], node.children[1::2]
        whole = self._span(cast("Tree[LarkToken]", spans[0]))
        for sign, part in zip(signs, spans[1:], strict=True):
            minus = cast("LarkToken", sign).type == "MINUS"
            amount = self._span(cast("Tree[LarkToken]", part))
            whole = added(whole, amount, minus=minus) or whole
        return whole

    def _span(self, node: Tree[LarkToken]) -> Amount:
        first = self._measure(cast("Tree[LarkToken]", node.children[0]))
        if len(node.children) == 1:
            return first
        last = self._measure(cast("Tree[LarkToken]", node.children[-1]))
        factor = _unit_ratio(last.unit, first.unit) if first.unit else Fraction(1)
        if factor is None:
            return first
        high = max(first.low, last.high * factor)
        whole = _joined(first, last, first.low, high)
        return replace(whole, unit=first.unit or last.unit)

    def _measure(self, node: Tree[LarkToken]) -> Amount:
        amount = self._amount(cast("Tree[LarkToken]", node.children[0]))
        rest = [cast("LarkToken", t) for t in node.children[1:]]
        if not rest:
            return amount
        given = {t.type: self._tokens[t.value].value for t in rest}
        end = self._tokens[rest[-1].value].end
        unit, size = given.get("UNIT"), given.get("SIZE")
        return replace(amount, unit=unit, size=size, end=end)

    def _amount(self, node: Tree[LarkToken]) -> Amount:
        first = self._value(cast("Tree[LarkToken]", node.children[0]))
        if len(node.children) == 1:
            return first
        last = self._value(cast("Tree[LarkToken]", node.children[-1]))
        if cast("LarkToken", node.children[1]).type == "TIMES":
            return _joined(first, last, first.low * last.low, first.high * last.high)
        return _joined(
            first, last, min(first.low, last.low), max(first.high, last.high)
        )

    def _value(self, node: Tree[LarkToken]) -> Amount:
        token = self._tokens[cast("LarkToken", node.children[0]).value]
        value = token.value
        return Amount(value, value, None, None, token.start, token.end, 0, token.doubt)


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
    return Lark(grammar, parser="lalr", lexer=_TypeLexer, start="start")
