"""The words around a pan noun: how far they reach, and what they tell.

Both walks look at a bounded number of tokens, so the time stays in proportion to
the text.
"""

from __future__ import annotations

from bakelab.pans.findings import Findings
from bakelab.pans.measures import Group, Token, read_group
from bakelab.pans.words import (
    ABOUT,
    BESIDE,
    COUNTS,
    COVERED,
    DEFINITE,
    DEPTH_WORDS,
    FILLERS,
    HEADS,
    LID_WORDS,
    NUMBER_WORDS,
    READY,
    SIDES,
    SIZE_WORDS,
    UNIT_WORDS,
)

__all__ = ["bare_size", "is_side", "left_edge", "read_left", "read_right"]

MOST_LEFT = 28
MOST_RIGHT = 24
MOST_FILLERS = 5
ABBREVIATED = frozenset({"approx", "ca", "cm", "dia", "diam", "env", "in", "qt"})


def is_side(token: Token) -> bool:
    return token.kind == "word" and (
        token.text in SIDES or token.text in BESIDE or token.text in HEADS
    )


def left_edge(found: list[Token], head: int, floor: int) -> int:
    """The first token that may belong to the noun at `head`."""
    i = head
    lowest = max(floor, head - MOST_LEFT)
    while i > lowest:
        if _is_count(found, i - 1):
            return i - 1
        if not _continues_left(found, i - 1, lowest):
            break
        i -= 1
    return i


def _is_count(found: list[Token], i: int) -> bool:
    """An article or number word; `nine` in `nine-inch` is none."""
    word = found[i].text
    return word in COUNTS and word not in SIDES and not _is_measured(found, i)


def _continues_left(found: list[Token], i: int, lowest: int) -> bool:
    """Whether the token at `i` can stand among the words before a noun."""
    token = found[i]
    if token.kind == "word":
        return _belongs_left(found, i)
    if token.kind == "comma":
        return i - 1 >= lowest and _may_precede_comma(found[i - 1])
    if token.kind == "stop":
        return i - 1 >= lowest and found[i - 1].text in ABBREVIATED
    return token.kind not in ("newline", "other")


def _may_precede_comma(token: Token) -> bool:
    measured = token.kind in ("num", "inch", "close") or token.text in UNIT_WORDS
    return measured or is_side(token)


def _is_measured(found: list[Token], i: int) -> bool:
    """`nine` in `nine-inch` or `nine by five`; not the `two` of `two pans`."""
    after = found[i + 1]
    return after.text in UNIT_WORDS or (
        i + 2 < len(found)
        and (after.kind == "dash" or after.text in ("by", "x"))
        and (found[i + 2].text in UNIT_WORDS or found[i + 2].text in NUMBER_WORDS)
    )


def _belongs_left(found: list[Token], i: int) -> bool:
    word = found[i].text
    if word in ("in", "er"):
        after = found[i + 1]
        before = i > 0 and found[i - 1].kind in ("num", "dash")
        is_unit = before and after.kind != "num"
        return is_unit and (word == "in" or found[i - 1].end == found[i].start)
    if word in ("x", "by", "to", "or", "bis", "oder", "ou", "mal", "and", "of"):
        return i > 0 and _joins(found, i)
    if word in NUMBER_WORDS:
        return _is_measured(found, i)
    return word in UNIT_WORDS or is_side(found[i]) or word in ABOUT


def _joins(found: list[Token], i: int) -> bool:
    """Whether `by`, `or`, `x` and their like stand between measures or sides."""
    before, after = found[i - 1], found[i + 1]
    if found[i].text in ("and", "of"):
        joined = found[i].text == "and" and before.text not in ("oven", "ovens")
        return joined and is_side(before) and is_side(after)
    measured = (
        before.kind in ("num", "inch", "dash", "close", "stop")
        or before.text in UNIT_WORDS
    )
    numbered = after.kind in ("num", "dash", "about", "open")
    numbered = numbered or after.text in NUMBER_WORDS
    measured = measured or before.text in NUMBER_WORDS
    if found[i].text == "or":
        return measured and after.kind == "num"
    return measured and numbered


def read_left(found: list[Token], left: int, head: int, findings: Findings) -> int:
    """Take in everything from `left` to the noun; returns where it starts."""
    first = head
    i = left
    while i < head:
        token = found[i]
        group, j = read_group(found, i, head)
        if group is not None:
            first = min(first, i)
            after = found[j].text if j < head else ""
            is_dish = after == "deep" and "dish" in (t.text for t in found[j : j + 3])
            findings.take_group(group, "" if is_dish else after)
            i = j
            continue
        if token.kind == "word":
            if token.text in COUNTS and token.text not in SIDES:
                findings.take_count(COUNTS[token.text])
                findings.definite = token.text in DEFINITE
                first = min(first, i)
            elif is_side(token) or token.text in LID_WORDS:
                findings.take_side(token.text)
                first = min(first, i)
        i += 1
    return first


class _Right:
    """The walk over what stands after a noun: how far, how deep in brackets."""

    def __init__(self, head: int) -> None:
        self.head = self.last = head
        self.fillers = self.depth = 0
        self.label = ""

    def take_group(self, found: list[Token], i: int, findings: Findings) -> int:
        """Take in measures at `i`; the next place, `i` if none are there, or -1."""
        if found[i].text == "four" and findings.head.language == "fr":
            return i  # the oven, not the number
        group, j = read_group(found, i, len(found))
        if group is None:
            return i
        if _next_noun(found, j):
            return -1
        after = found[j].text if j < len(found) else ""
        following = found[j + 1].text if j + 1 < len(found) else ""
        if not findings.take_right(group, self.label, after, following):
            return -1
        self.last = j if after in DEPTH_WORDS else j - 1
        self.fillers, self.label = 0, ""
        return self.last + 1

    def step(self, token: Token, i: int, kind: str) -> bool:
        """Go past one other token; False at the end of the phrase."""
        if token.kind == "open":
            self.depth += 1
        elif token.kind == "close":
            self.depth -= 1
            self.last = i if self.last > self.head and self.depth >= 0 else self.last
        elif kind == "took":
            self.last, self.fillers = i, 0
        elif kind == "label":
            self.label = token.text
        else:
            self.fillers += 1
        return kind != "stop" and self.depth >= 0 and self.fillers <= MOST_FILLERS


def bare_size(found: list[Token], i: int) -> tuple[Group | None, int]:
    """`a greased 9x13`: a size that stands for the pan, and where it stops."""
    if i < 1 or found[i - 1].text not in READY:
        return None, i
    group, j = read_group(found, i, len(found))
    if group is None or not group.is_length or len(group.values) < 2:
        return None, i
    after = found[j] if j < len(found) else None
    if after is not None and after.kind == "word" and after.text not in _GOES_ON:
        return None, i
    return group, j


_GOES_ON = frozenset(
    {"and", "at", "bake", "for", "in", "let", "or", "so", "then", "to", "until", "with"}
)


def _next_noun(found: list[Token], j: int) -> bool:
    """Whether measures that end before `j` belong to another noun after them."""
    for token in found[j : j + 6]:
        if token.text in HEADS:
            return True
        if not is_side(token):
            return False
    return False


def read_right(found: list[Token], head: int, findings: Findings) -> int:
    """Take in measures and lids after the noun; returns the last token's place."""
    right, i = _Right(head), head + 1
    while i < len(found) and i <= head + MOST_RIGHT:
        j = right.take_group(found, i, findings)
        if j < 0:
            break
        if j == i:
            kind = _right_step(found, i, findings)
            if kind == "stop" or not right.step(found[i], i, kind):
                break
            j = i + 1
        i = j
    if findings.head.shape == "pot":
        findings.lidded = findings.lidded or _is_covered(found, head)
    return right.last


def _is_covered(found: list[Token], head: int) -> bool:
    """A pot that is baked in closed: `Dutch oven, cover and bake`."""
    for token in found[head + 1 : head + 9]:
        if token.kind in ("stop", "newline"):
            break
        if token.text in COVERED:
            return True
    return False


def _right_step(found: list[Token], i: int, findings: Findings) -> str:
    """What a token after the noun is: taken, a label, passed over, or the end."""
    token = found[i]
    if token.kind in ("stop", "newline"):
        abbreviated = found[i - 1].text in ABBREVIATED
        return "pass" if token.kind == "stop" and abbreviated else "stop"
    if token.kind == "other":
        return "pass" if token.text in ":=" else "stop"
    if token.kind != "word":
        return "pass"
    word = token.text
    if word in HEADS and HEADS[word].need != "dough" and word not in ("form",):
        return "stop"
    if word in LID_WORDS:
        before = found[i - 1].text
        if before in ("no", "without", "ohne", "sans") or word == "cover":
            return "stop"
        findings.lidded = findings.lidded or _lid_belongs(found, i)
        return "took" if findings.lidded else "stop"
    if findings.takes_label(word):
        return "took" if findings.label_taken else "label"
    if findings.takes_right_side(word):
        return "took"
    if findings.head.language in ("fr", "other") and word in BESIDE:
        findings.take_side(word)
        return "pass"
    return "pass" if word in FILLERS or word in SIZE_WORDS else "stop"


def _lid_belongs(found: list[Token], i: int) -> bool:
    """`with a lid`, `and its lid`, `(covered)`; not `pan, covered with a cloth`."""
    word = found[i].text
    if word in ("covered", "cover"):
        return found[i - 1].kind == "open"
    return True
