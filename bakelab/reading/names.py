"""What a line calls its ingredient, and other places to look for it."""

import re
from collections.abc import Sequence

from bakelab.reading.amounts import Amount
from bakelab.reading.statements import (
    EDGES,
    JOINS,
)
from bakelab.reading.tokens import Token

__all__ = ["names_in"]

_STOP = ("OPEN", "COMMA", "OR", "PLUS")
_DASHES = re.compile(r"\s[-–—:]+\s|:\s|\.{2,}|\s{2,}")
_LIKE = re.compile(
    r"(?i)\s(?:the size of|of the size of|size of|as big as|as large as|dissolved in|"
    r"mixed (?:with|in)|soaked in|beaten with|aufgelöst in|gelöst in|dissous|"
    r"so groß wie|gros comme|de la taille|from|in|with|mit|avec)\s"
)
_ALTERNATIVE = re.compile(
    r"(?i)\((?:wahlweise|oder|or|ou|alternativ\w*|ersatzweise|you can|can also|"
    r"auch)\b[^)]*\)?"
)


def names_in(
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
