"""How the amounts on one line belong together: the same, each, or another's."""

import re
from collections.abc import Sequence
from dataclasses import replace

from bakelab.reading.amounts import Amount, added
from bakelab.reading.tokens import Token
from bakelab.reading.vocabulary import vocabulary

__all__ = ["EDGES", "JOINS", "same_amounts", "second_ingredient"]

JOINS = ("OPEN", "CLOSE", "SLASH", "OR", "COMMA", "MARK", "OF")
_EACH = re.compile(r"\b(each|per|apiece|je|jeweils|chacun|chacune|pièce)\b", re.I)
_FILL = re.compile(
    r"(?i)\b(this|is|that|about|around|of|total|in total|weight|net|or so|approx\w*|"
    r"appr|roughly|circa|ca|each|per|apiece|je|jeweils|chacun|chacune|insgesamt|"
    r"entspricht|das|sind|soit|environ|or|oder|ou|equals|equivalent|to|from|weighed|"
    r"by|without|shell|shelled|peeled|drained|ohne|schale|with|sans|coquille|size|"
    r"metric|us|uk|imperial|in|all|half|egg|eggs|packed|sifted|level|heaped|"
    r"large|medium|small)\b|[^\w%]"
)
_SHARED = re.compile(r"(?i)(?:\beach\s(?:of\s)?|^je\s).{2,40}?\s(?:and|&|und)\s+(.+)")
_EGG = re.compile(
    r"(?i)(?:(?:large|medium|small|extra|große[sr]?|gros)\s+)*"
    r"(?:eggs?|egg (?:yolks?|whites?)|yolks?|whites?|ei|eier|eigelbe?|eiweiße?|"
    r"(?:jaunes?|blancs?) d['’](?:œ|oe)ufs?|(?:œ|oe)ufs?)\b"
)
EDGES = " \t.,;:-–—*/|=+()[]…·"


def same_amounts(
    first: Amount, found: Sequence[Amount], tokens: Sequence[Token], text: str
) -> tuple[Amount, tuple[Amount, ...], Amount | None]:
    """The first amount, what else states it, and what each piece weighs."""
    same: list[Amount] = []
    each: Amount | None = None
    head = first
    for amount in found:
        if amount is first:
            continue
        total = _sum_after(head, amount, tokens)
        if total is not None:
            head, same = total, []
            continue
        gap = _gap(first, same, amount, tokens)
        if gap == "or" and _is_other(head, amount, tokens):
            continue
        if gap == "or" and _widens(head, amount, same):
            head = replace(
                head, high=max(head.high, amount.high), unit=amount.unit,
                size=amount.size, end=amount.end,
            )  # fmt: skip
        elif gap is None and not _alone(amount, tokens, text):
            continue
        elif _is_each(first, amount, text):
            each = amount
        elif amount.unit is not None:
            same.append(amount)
    return head, tuple(same), each


def second_ingredient(
    text: str,
    head: Amount,
    same: Sequence[Amount],
    found: Sequence[Amount],
    tokens: Sequence[Token],
) -> str:
    """Another ingredient with an amount of its own after `+` or `and`."""
    shared = _SHARED.search(text)  # `1 tsp each cinnamon and nutmeg`
    if shared is not None:
        return shared.group(1)
    for amount in found:
        if amount.depth or amount.start < head.end or amount in same:
            continue
        if amount.kind not in ("mass", "volume", "count"):
            continue
        before = [t for t in tokens if head.end <= t.start < amount.start]
        if any(t.type == "OR" for t in before):
            continue
        joint = text[before[-1].start : before[-1].end].casefold() if before else ""
        named = any(t.type == "WORD" for t in before)
        after = text[amount.end :].strip(EDGES)
        if amount.kind == "count" and not _EGG.match(after):
            continue
        if named and joint in ("+", "and", "plus", "&", "und", "et") and after:
            rest = vocabulary("en").patterns["not dough"].search(after)
            if rest is None and not re.match(r"(?i)(for|zum|pour|more|extra)\b", after):
                return text[amount.start :]
    return ""


def _sum_after(head: Amount, amount: Amount, tokens: Sequence[Token]) -> Amount | None:
    """`1 cup (240 ml) + 1 tbsp`: the sum, where a plus follows a parenthesis."""
    before = [t for t in tokens if head.end <= t.start < amount.start]
    if not before or before[-1].type != "PLUS" or amount.depth or head.depth:
        return None
    inside = 0
    for token in before[:-1]:
        inside += (token.type == "OPEN") - (token.type == "CLOSE")
        if inside == 0 and token.type != "CLOSE":
            return None
    return added(head, amount)


def _gap(
    first: Amount, same: Sequence[Amount], amount: Amount, tokens: Sequence[Token]
) -> str | None:
    """What joins two amounts: "or", another sign, or None for words between."""
    last = same[-1] if same else first
    low, high = sorted((last, amount), key=lambda a: a.start)
    between = [t for t in tokens if low.end <= t.start < high.start]
    if any(t.type not in JOINS for t in between):
        return None
    return "or" if any(t.type == "OR" for t in between) else ""


def _is_other(head: Amount, amount: Amount, tokens: Sequence[Token]) -> bool:
    """`yeast: 15 g, or 7 g dried`: the second amount is of something else."""
    words = [t for t in tokens if t.type == "WORD"]
    named = any(t.end <= head.start for t in words)
    return named and any(t.start >= amount.end for t in words)


def _widens(head: Amount, amount: Amount, same: Sequence[Amount]) -> bool:
    """`1 or 2 eggs`, `2 or 3 tablespoons`: a range and no second statement."""
    return (
        not same
        and (head.unit is None or head.unit == amount.unit)
        and head.high < amount.low <= 4 * head.high
    )


def _alone(amount: Amount, tokens: Sequence[Token], text: str) -> bool:
    """Whether an amount has a parenthesis or a comma part to itself."""
    if amount.kind not in ("mass", "volume"):
        return False
    start = max(
        (
            t.start
            for t in tokens
            if t.type in ("OPEN", "COMMA") and t.end <= amount.start
        ),
        default=None,
    )
    if start is None:
        return False
    ends = [
        t.start
        for t in tokens
        if t.type in ("CLOSE", "COMMA") and t.start >= amount.end
    ]
    part = text[start + 1 : min(ends, default=len(text))]
    inner = _FILL.sub("", re.sub(re.escape(text[amount.start : amount.end]), "", part))
    others = re.sub(r"\d+[\d.,/½⅓⅔¼¾⅛⅜⅝⅞]*\s*[^\W\d]*\.?", "", inner)
    return not others.strip()


def _is_each(first: Amount, amount: Amount, text: str) -> bool:
    if first.kind not in ("count", "part") or amount.kind not in ("mass", "volume"):
        return False
    around = text[max(0, amount.start - 12) : amount.end + 12]
    if _EACH.search(around):
        return True
    opened = text[first.end : amount.start].strip() in ("(", "")
    if first.kind == "part" and text[first.end : amount.start].isspace():
        return True  # `2 400 g tins`
    return (
        first.high > 1
        and opened
        and first.kind == "part"
        and amount.end < len(text)
        and (
            bool(amount.depth)
            and first.end - first.start > 0
            and _unit_after(first, text)
        )
    )


def _unit_after(first: Amount, text: str) -> bool:
    """`2 (7 g) packets`: the unit stands behind the parenthesis."""
    return not text[first.start : first.end].rstrip().split()[-1].isalpha()
