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
from typing import TypeAlias

from bakelab.errors import PanError
from bakelab.pans.around import bare_size, is_side, left_edge, read_left, read_right
from bakelab.pans.assembly import Written, assemble
from bakelab.pans.conclusions import written_of
from bakelab.pans.context import is_about_a_pan, is_negated
from bakelab.pans.findings import Findings
from bakelab.pans.measures import Group, Token, tokens
from bakelab.pans.pan import Pan
from bakelab.pans.spec import pan
from bakelab.pans.words import ENGLISH_FORM, HEADS, Head

__all__ = ["PanMention", "pan_in_text"]

_SEGMENT = re.compile(r"\n(?![ \t]{0,8}[a-zà-ÿ])")
_HINT = re.compile(
    r"pan|tin|greased|buttered|oiled|mo(?:u)?ld|moule|dish|tray|sheet|plate|casserole|skillet|pot|oven|form"
    r"|förmchen|blech|bräter|topf|pfanne|ramekin|stamp|tegli|vorm|round|square"
    r"|plat|plaque|tôle|cocotte|poêle|cercle|terrine|backrahmen|schale",
    re.IGNORECASE,
)

_LONGEST_FACT = 200
_LABELLED = re.compile(
    r"[\s\W]*(?:[^\W\d_]+\s+){0,3}(?P<noun>[^\W\d_]+)(?:\s+(?:size|größe))?[*_]*\s*[:=]"
    r"[\s*_]*(?P<pan>[^\s*_].*?)[\s.;*_]*$"
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
    return _mentioned(text)


@lru_cache(maxsize=512)
def _mentioned(text: str) -> tuple[PanMention, ...]:
    return tuple(_mentions(text))


def _mentions(text: str) -> Iterator[PanMention]:
    seen: _Seen = {}
    start = 0
    while start <= len(text):
        match = _SEGMENT.search(text, start)
        end = match.start() if match else len(text)
        if _HINT.search(text, start, end):
            found = tuple(_in_segment(text, start, end, seen))
            yield from found or _labelled(text, start, end)
        start = end + 1


def _labelled(text: str, start: int, end: int) -> Iterator[PanMention]:
    """`Pan: loaf 8 x 4 x 2.5 in`, a line of facts written as `pan` reads it."""
    line = _LABELLED.match(text[start : min(end, start + _LONGEST_FACT)])
    if line is None or line["noun"].casefold() not in HEADS:
        return
    try:
        made = pan(line["pan"])
    except PanError:
        return  # a label for something else
    if made.has_volume:
        first = start + line.start("pan")
        certain = not made.assumed_measures
        yield PanMention(made, first, start + line.end("pan"), line["pan"], certain)


def _in_segment(text: str, start: int, end: int, seen: _Seen) -> Iterator[PanMention]:
    found = tokens(text, start, end)
    floor = i = 0
    while i < len(found):
        token = found[i]
        if token.kind == "num":
            bare, i = _bare(text, found, i)
            if bare is not None:
                floor = i
                yield bare
            continue
        if token.kind != "word" or token.text not in HEADS:
            i += 1
            continue
        head = _last_head(found, i)
        made = _seen_before(text, found, head, floor, seen)
        floor = head + 1 + made.last
        if made.pan is not None:
            yield _mention(text, found, head, made, made.pan)
        i = floor


def _bare(text: str, found: list[Token], i: int) -> tuple[PanMention | None, int]:
    """A size without a noun, `a greased 9x13`, and the next place to look at."""
    group, j = bare_size(found, i)
    if group is None:
        return None, i + 1
    words = text[found[i].start : found[j - 1].end]
    pan, note = _bare_pan(group, words)
    if pan is None:
        return None, j
    return PanMention(pan, found[i].start, found[j - 1].end, words, False, note), j


@lru_cache(maxsize=256)
def _bare_pan(group: Group, words: str) -> tuple[Pan | None, str]:
    findings = Findings(_PLAIN_PAN, "pan")
    findings.take_group(group, "")
    findings.notes.append("only a size was written; it is taken for a pan")
    pan = _made(written_of(findings, words))
    return pan, "; ".join(findings.notes)


_PLAIN_PAN = Head("", "size", "en")


def _last_head(found: list[Token], i: int) -> int:
    """`springform cake pan`: the last noun of a run is the head."""
    head, j = i, i + 1
    while j < len(found) and j < i + 7:
        token = found[j]
        if token.kind == "word" and token.text in HEADS:
            head = j
        elif token.kind not in ("dash", "slash") and not is_side(token):
            break
        j += 1
    return head


@dataclass(frozen=True)
class _Reading:
    """What the words around a noun came to, with places counted from the noun."""

    pan: Pan | None
    first: int = 0
    last: int = 0
    certain: bool = False
    note: str = ""


_Seen: TypeAlias = "dict[tuple[str, int, int], _Reading]"
_MOST_SEEN = 4096
_BEFORE, _AFTER = 44, 32  # tokens that the walks and the context can look at


def _seen_before(
    text: str, found: list[Token], head: int, floor: int, seen: _Seen
) -> _Reading:
    """The reading of a noun; the same words are read only once in a text."""
    low, high = max(0, head - _BEFORE), min(len(found), head + _AFTER)
    begin = found[low].start
    words = text[begin : found[high - 1].end]
    key = (words, found[head].start - begin, max(0, floor - low))
    reading = seen.get(key)
    if reading is None:
        reading = _read(text, found, head, floor)
        if len(seen) < _MOST_SEEN:
            seen[key] = reading
    return reading


def _read(text: str, found: list[Token], head: int, floor: int) -> _Reading:
    left = left_edge(found, head, floor)
    findings = Findings(_head_of(text, found[head]), found[head].text)
    first = read_left(found, left, head, findings)
    last = read_right(found, head, findings)
    if not is_about_a_pan(text, found, first, head, last, findings):
        return _Reading(None)
    if is_negated(found, first):
        return _Reading(None, last=last - head)
    words = text[found[first].start : found[last].end]
    pan = _made(written_of(findings, words))
    if pan is None:
        return _Reading(None)
    note = "; ".join(findings.notes)
    return _Reading(pan, first - head, last - head, findings.is_certain, note)


def _mention(
    text: str, found: list[Token], head: int, reading: _Reading, pan: Pan
) -> PanMention:
    begin, end = found[head + reading.first].start, found[head + reading.last].end
    words = text[begin:end]
    return PanMention(pan, begin, end, words, reading.certain, reading.note)


def _head_of(text: str, token: Token) -> Head:
    """The noun's entry; `form` in lower case is the English word."""
    if token.text == "form" and text[token.start] == "f":
        return ENGLISH_FORM
    return HEADS[token.text]


def _made(written: Written | None) -> Pan | None:
    return None if written is None else _made_once(_Key(written))


class _Key:
    """A `Written` that can be looked up."""

    __slots__ = ("parts", "written")

    def __init__(self, written: Written) -> None:
        self.written = written
        self.parts = (
            written.shape,
            tuple(sorted(written.measures.items())),
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
def _made_once(key: _Key) -> Pan | None:
    try:
        return assemble(key.written)
    except PanError:
        return None  # impossible measures: those words do not name a pan
