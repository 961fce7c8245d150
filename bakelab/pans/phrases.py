"""Pan phrases in running prose: English, German, French.

A hand-written scanner over the tokens of :mod:`bakelab.pans.measures`: it finds a
pan noun, walks left over measures, counts and side words, then right over measures
and lids, each for a bounded number of tokens, and asks whether what it
has is a pan to bake in. Time grows in proportion to the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from bakelab.errors import PanError
from bakelab.pans.assembly import Written, assemble
from bakelab.pans.context import is_about_a_pan, is_negated
from bakelab.pans.findings import MEASURE_LABELS, Findings, written_of
from bakelab.pans.measures import NUMBER_WORDS, Token, read_group, tokens
from bakelab.pans.pan import Pan
from bakelab.pans.words import (
    COUNTS,
    COVERED,
    DEFINITE,
    ENGLISH_FORM,
    FILLERS,
    HEADS,
    LID_WORDS,
    NAMED_SIDES,
    SIDES,
    SIZE_WORDS,
    Head,
)

__all__ = ["PanMention", "pan_in_text"]

MOST_LEFT = 28
MOST_RIGHT = 24
MOST_FILLERS = 5
_SEGMENT = re.compile(r"\n(?![ \t]{0,8}[a-zà-ÿ])")
_HINT = re.compile(
    r"pan|tin|mo(?:u)?ld|moule|dish|tray|sheet|plate|casserole|skillet|pot|oven|form"
    r"|förmchen|blech|bräter|topf|pfanne|ramekin|stamp|tegli|vorm|round|square"
    r"|plat|plaque|tôle|cocotte|poêle|cercle|terrine|backrahmen|schale",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class PanMention:
    """A pan found in a text.

    Parameters
    ----------
    pan : Pan
        What the words tell; the rest assumed and listed in `Pan.assumed`.
    start, end : int
        Where the words stand in the text.
    text : str
        The words.
    certain : bool
        False if no size was written, or a choice had to be made (a range,
        two sizes, a shape that the words leave open).
    note : str
        That choice, in words.
    """

    pan: Pan
    start: int
    end: int
    text: str
    certain: bool
    note: str = ""


def pan_in_text(text: str) -> tuple[PanMention, ...]:
    """All pans that a text names, in order.

    Parameters
    ----------
    text : str
        A sentence, a line, or a whole recipe.

    Returns
    -------
    tuple of PanMention

    Notes
    -----
    Not taken: pans that are ruled out ("not a 9x13 pan"), pans of water,
    pans on the stove, and measures of dough.

    Examples
    --------
    >>> [m.pan.text_spec for m in pan_in_text("Grease two 9 x 5 x 3 in loaf pans.")]
    ['2 loaf 9 x 5 x 3 in']
    """
    return tuple(_mentions(text))


def _mentions(text: str) -> Iterator[PanMention]:
    start = 0
    while start <= len(text):
        match = _SEGMENT.search(text, start)
        end = match.start() if match else len(text)
        if _HINT.search(text, start, end):
            yield from _in_segment(text, start, end)
        start = end + 1


def _in_segment(text: str, start: int, end: int) -> Iterator[PanMention]:
    found = tokens(text, start, end)
    floor = i = 0
    while i < len(found):
        token = found[i]
        if token.kind != "word" or token.text not in HEADS:
            i += 1
            continue
        head = _last_head(found, i)
        mention, floor = _mention(text, found, head, floor)
        if mention:
            yield mention
        i = max(head + 1, floor)


def _last_head(found: list[Token], i: int) -> int:
    """`springform cake pan`: the last noun of a run is the head."""
    head, j = i, i + 1
    while j < len(found) and j < i + 7:
        token = found[j]
        if token.kind == "word" and token.text in HEADS:
            head = j
        elif token.kind not in ("dash", "slash") and not _is_side(token):
            break
        j += 1
    return head


def _is_side(token: Token) -> bool:
    return token.kind == "word" and (
        token.text in SIDES or token.text in NAMED_SIDES or token.text in HEADS
    )


def _mention(
    text: str, found: list[Token], head: int, floor: int
) -> tuple[PanMention | None, int]:
    left = _left_edge(text, found, head, floor)
    findings = Findings(_head_of(text, found[head]), found[head].text)
    first = _read_left(found, left, head, findings)
    last = _read_right(found, head, findings)
    if not is_about_a_pan(text, found, first, head, last, findings):
        return None, head + 1
    if is_negated(found, first):
        return None, last + 1
    begin, end = found[first].start, found[last].end
    made = _made(written_of(findings, text[begin:end]))
    if made is None:
        return None, head + 1
    mention = PanMention(
        made, begin, end, text[begin:end], findings.is_certain, "; ".join(findings.notes)
    )
    return mention, last + 1


def _head_of(text: str, token: Token) -> Head:
    """The noun's entry; `form` in lower case is the English word."""
    if token.text == "form" and text[token.start] == "f":
        return ENGLISH_FORM
    return HEADS[token.text]


def _made(written: Written | None) -> Pan | None:
    if written is None:
        return None
    measures = tuple(sorted(written.measures.items()))
    return _made_once(measures, _Key(written))


class _Key:
    """A `Written` that can be looked up; its measures are compared apart."""

    __slots__ = ("parts", "written")

    def __init__(self, written: Written) -> None:
        self.written = written
        self.parts = (
            written.shape,
            written.hints,
            written.language,
            written.unit,
            written.capacity_cm3,
            written.count,
            written.lidded,
            written.text,
            written.notes,
        )

    def __hash__(self) -> int:
        return hash(self.parts)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self.parts == other.parts


@lru_cache(maxsize=2048)
def _made_once(measures: tuple[tuple[str, float], ...], key: _Key) -> Pan | None:
    try:
        return assemble(key.written)
    except PanError:
        return None  # impossible measures: those words do not name a pan


def _left_edge(text: str, found: list[Token], head: int, floor: int) -> int:
    """The first token that may belong to the noun at `head`."""
    i = head
    lowest = max(floor, head - MOST_LEFT)
    while i > lowest:
        token = found[i - 1]
        if token.kind == "word":
            if token.text in COUNTS and token.text not in SIDES:
                if not _is_measured(found, i - 1):
                    return i - 1
            elif not _belongs_left(found, i - 1):
                break
        elif token.kind == "comma":
            if i - 2 < lowest or not (_is_side(found[i - 2]) or found[i - 2].kind in ("num", "inch", "close") or found[i-2].text in ("cm", "in", "inch")):
                break
        elif token.kind == "stop":
            if i - 2 < lowest or found[i - 2].text not in ("in", "qt", "approx", "ca", "cm"):
                break
        elif token.kind in ("newline", "other"):
            break
        i -= 1
    return i


def _is_measured(found: list[Token], i: int) -> bool:
    """`nine` in `nine-inch` or `nine by five`; not the `two` of `two pans`."""
    after = found[i + 1]
    return after.text in _UNITS or (
        i + 2 < len(found)
        and (after.kind == "dash" or after.text in ("by", "x"))
        and (found[i + 2].text in _UNITS or found[i + 2].text in NUMBER_WORDS)
    )


def _belongs_left(found: list[Token], i: int) -> bool:
    word = found[i].text
    if word in ("in", "er"):
        after = found[i + 1]
        is_unit = i > 0 and found[i - 1].kind == "num" and after.kind != "num"
        return is_unit and (word == "in" or found[i - 1].end == found[i].start)
    if word in ("x", "by", "to", "or", "bis", "oder", "ou", "mal", "and", "of"):
        return i > 0 and _joins(found, i)
    if word in NUMBER_WORDS:
        return _is_measured(found, i)
    return word in _UNITS or _is_side(found[i]) or word in _ABOUT


_ABOUT = frozenset("about approximately approx around roughly ca circa etwa".split())


def _joins(found: list[Token], i: int) -> bool:
    """Whether `by`, `or`, `x` and their like stand between measures or sides."""
    before, after = found[i - 1], found[i + 1]
    if found[i].text in ("and", "of"):
        joined = found[i].text == "and" and before.text not in ("oven", "ovens")
        return joined and _is_side(before) and _is_side(after)
    measured = before.kind in ("num", "inch", "dash", "close", "stop") or before.text in _UNITS
    numbered = after.kind in ("num", "dash", "about", "open")
    numbered = numbered or after.text in NUMBER_WORDS
    measured = measured or before.text in NUMBER_WORDS
    if found[i].text == "or":
        return measured and after.kind == "num"
    return measured and numbered


def _read_left(
    found: list[Token], left: int, head: int, findings: Findings
) -> int:
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
            elif _is_side(token) or token.text in LID_WORDS:
                findings.take_side(token.text)
                first = min(first, i)
        i += 1
    return first


def _read_right(found: list[Token], head: int, findings: Findings) -> int:
    """Take in measures and lids after the noun; returns the last token's place."""
    last, i, fillers, depth = head, head + 1, 0, 0
    label = ""
    while i < len(found) and i <= head + MOST_RIGHT and fillers <= MOST_FILLERS:
        token = found[i]
        group, j = read_group(found, i, len(found))
        if group is not None:
            after = found[j].text if j < len(found) else ""
            following = found[j + 1].text if j + 1 < len(found) else ""
            if not findings.take_right(group, label, after, following):
                break
            taken = j if after in MEASURE_LABELS else j - 1
            last, fillers, label, i = taken, 0, "", taken + 1
            continue
        step = _right_step(found, i, findings)
        if step == "stop":
            break
        if token.kind == "open":
            depth += 1
        elif token.kind == "close":
            depth -= 1
            if depth < 0:
                break
            if last > head:
                last = i
        elif step == "took":
            last, fillers = i, 0
        elif step == "label":
            label = token.text
        else:
            fillers += 1
        i += 1
    if findings.head.shape == "pot":
        findings.lidded = findings.lidded or _is_covered(found, head)
    return last


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
        abbreviated = found[i - 1].text in ("ca", "approx", "env", "diam", "dia", "in")
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
    return "pass" if word in FILLERS or word in SIZE_WORDS else "stop"


def _lid_belongs(found: list[Token], i: int) -> bool:
    """`with a lid`, `and its lid`, `(covered)`; not `pan, covered with a cloth`."""
    word = found[i].text
    if word in ("covered", "cover"):
        return found[i - 1].kind == "open"
    return True


_UNITS = frozenset(
    "in inch inches zoll pouce pouces cm cms mm centimeter centimeters centimetre "
    "centimetres zentimeter centimètres quart quarts qt qts l liter liters litre litres "
    "ml cup cups pint lb lbs pound pounds g gram grams gramm kg er hole holes well wells "
    "cavity count pfund".split()
)
