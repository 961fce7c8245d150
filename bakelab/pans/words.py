"""Words that name pans in English, German and French, and what each tells.

They stand in ``data/pan_words.csv``: a *noun* is the pan itself (`pan`,
`Kastenform`, `moule`); a word *beside* it tells its shape (`loaf`, `rund`, `à
cake`), its size or its state. All are in lower case.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from bakelab.tables import read_rows

__all__ = [
    "ABOUT",
    "BAKED",
    "BESIDE",
    "BETWEEN",
    "COUNTS",
    "COVERED",
    "DEFINITE",
    "DEPTH_WORDS",
    "DIAMETER_WORDS",
    "ENGLISH_FORM",
    "FILLERS",
    "HEADS",
    "HOLDING",
    "LENGTH_WORDS",
    "LID_WORDS",
    "NEGATION",
    "NOT_A_MEASURE",
    "NUMBER_WORDS",
    "PLAIN",
    "READY",
    "SHAPE_RANK",
    "SHAPING",
    "SIDES",
    "SIZE_WORDS",
    "STOVE",
    "UNIT_WORDS",
    "WATER",
    "WIDTH_WORDS",
    "Head",
]

_COLUMNS: dict[str, type] = {
    "group": str,
    "meaning": str,
    "need": str,
    "language": str,
    "words": str,
    "source": str,
}


class Head(NamedTuple):
    """A pan noun: the shape it tells (or ""), and what it needs beside it."""

    shape: str
    need: str  # "" stands alone; "size" or "shape" or "oven" or "dough"
    language: str


ENGLISH_FORM = Head("", "size", "en")
"""`form` in lower case: in English it is a pan only beside `loaf` or `spring`."""

SHAPE_RANK = (
    "springform",
    "fluted tube",
    "tube",
    "muffin",
    "roll well",
    "pie",
    "skillet",
    "basket",
    "loaf",
    "pot",
    "oval",
    "square",
    "dish",
    "rectangle",
    "sheet",
    "round",
)
"""Of several words the one that tells most."""


def _rows(group: str) -> list[dict[str, str]]:
    return [row for row in _TABLE if row["group"] == group]


def _words(group: str) -> frozenset[str]:
    return frozenset(w for row in _rows(group) for w in row["words"].split("|"))


def _meanings(group: str) -> Mapping[str, str]:
    found = {w: row["meaning"] for row in _rows(group) for w in row["words"].split("|")}
    return MappingProxyType(found)


_TABLE: tuple[dict[str, str], ...] = tuple(read_rows("pan_words", _COLUMNS))

HEADS: Mapping[str, Head] = MappingProxyType(
    {
        word: Head(row["meaning"], row["need"], row["language"])
        for row in _rows("noun")
        for word in row["words"].split("|")
    }
)
SIDES = _meanings("shape")
SIZE_WORDS = _meanings("size")
UNIT_WORDS = _meanings("unit")
COUNTS = MappingProxyType({w: int(n) for w, n in _meanings("count").items()})
NUMBER_WORDS = MappingProxyType({w: float(n) for w, n in _meanings("number").items()})
ABOUT = _words("about")
BAKED = _words("baked")
BESIDE = _words("beside")
BETWEEN = _words("between")
COVERED = _words("covered")
DEFINITE = _words("definite")
DEPTH_WORDS = _words("depth")
DIAMETER_WORDS = _words("diameter")
FILLERS = _words("filler")
HOLDING = _words("holding")
LENGTH_WORDS = _words("length")
LID_WORDS = _words("lid")
NEGATION = _words("negation")
NOT_A_MEASURE = _words("no measure of a pan")
PLAIN = _words("plain")
READY = _words("ready")
SHAPING = _words("shaping")
STOVE = _words("stove")
WATER = _words("water")
WIDTH_WORDS = _words("width")
