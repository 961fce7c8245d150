"""What speaks for or against a style: measures, words, raising agent, pan."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from bakelab.formula import Formula
from bakelab.ranges.stages import words_of
from bakelab.ranges.table import Band, bands, place
from bakelab.tables import read_rows

__all__ = ["Clue", "clues_of", "title_clue"]

# How far past a band (in points of percent) a value must lie before it
# counts against a style, beside a quarter of the band's own width.
_TOLERANCE = {
    "hydration": 3.0,
    "sugar": 1.5,
    "fat": 1.5,
    "egg": 2.5,
    "milk_solids": 1.5,
    "prefermented_flour": 6.0,
    "salt": 0.5,
    "whole": 6.0,
    "rye": 4.0,
    "gluten_free": 3.0,
    "oats": 4.0,
    "seeds": 4.0,
    "fruit": 6.0,
}
_SHARE_BANDS = {
    "whole": (0.0, 25.0),
    "rye": (0.0, 15.0),
    "gluten_free": (0.0, 10.0),
    "oats": (0.0, 10.0),
    "seeds": (0.0, 8.0),
    "fruit": (0.0, 15.0),
}
_WORDS = {
    "hydration": "true hydration",
    "sugar": "sugar",
    "fat": "fat",
    "egg": "egg",
    "milk_solids": "milk solids",
    "prefermented_flour": "prefermented flour",
    "salt": "salt",
    "whole": "whole-grain flour",
    "rye": "rye flour",
    "gluten_free": "flour without gluten",
    "oats": "oats",
    "seeds": "seeds and grains",
    "fruit": "dried fruit and nuts",
}
_COLUMNS = dict.fromkeys(
    ("style", "met", "leaven", "pan", "signs", "en", "de", "fr", "source"), str
)
_MET = {"often": 0.5, "sometimes": 0.0, "seldom": -0.7}
_PAN_WORDS = (
    ("lidded", "lidded|with lid|pullman|with a lid|deckel|couvercle"),
    ("free", "hearth|baking stone|pizza stone|baking steel|dutch oven|pot|basket"),
    ("sheet", "sheet|baking tray|blech|plaque"),
    ("tray", "tray|muffin|square|rectangle|skillet|dish|pie|roll well"),
    ("tray", "springform|round|oval"),
    ("loaf", "loaf|tin|kasten|moule a cake|cake mould"),
)
# How well a pan that is stated (first) suits the pan of a style (second).
_SUITS = {
    ("loaf", "lidded"): 0.6,
    ("lidded", "loaf"): 0.6,
    ("sheet", "tray"): 0.4,
    ("sheet", "free"): 0.4,
}


@dataclass(frozen=True)
class Clue:
    """How much a sign counts for a style, and its words."""

    weight: float
    text: str
    miss: float = 0.0  # the part of the weight lost by not fitting


@dataclass(frozen=True)
class _Signs:
    met: str
    leaven: str
    pan: str
    bands: Mapping[str, tuple[float, float]]
    phrases: tuple[tuple[str, ...], ...]


def clues_of(
    style: str, formula: Formula, values: Mapping[str, float], text: str
) -> dict[str, Clue]:
    """Clues about one style by name; `values` are its measures and shares."""
    signs = _signs()[style]
    found = {"met": Clue(_MET[signs.met], "")}
    found["title"] = _title_clue(signs, formula.title, 1.0)
    found["text"] = _title_clue(signs, text, 0.5)
    found["leaven"] = _leaven_clue(signs.leaven, values)
    found["pan"] = _pan_clue(signs.pan, formula.stated_pan)
    usual = bands(style)
    for name in _TOLERANCE:
        band = _band_of(name, usual, signs)
        found[name] = _measure_clue(name, values[name], *band)
    return found


def title_clue(style: str, title: str) -> Clue:
    """What the words of a title alone say for a style."""
    return _title_clue(_signs()[style], title, 1.0)


def _band_of(
    name: str, usual: Mapping[str, Band], signs: _Signs
) -> tuple[float, float]:
    if name in _SHARE_BANDS:
        return signs.bands.get(name, _SHARE_BANDS[name])
    return usual[name].low, usual[name].high


def _measure_clue(name: str, value: float, low: float, high: float) -> Clue:
    floor = _TOLERANCE[name]
    reach = floor + 0.25 * (high - low)
    outside = max(low - value, value - high, 0.0)
    weight = -0.4 * math.log((high - low + 2 * reach) / (2 * floor))
    far = outside / reach
    miss = min(far, 1.0) + min(math.log1p(far), 4.0) * 1.8
    state = place(value, low, high)
    words = f"{_WORDS[name]} {value:.1f} % is {state} ({low:g} to {high:g} %)"
    return Clue(weight - miss, "" if value == 0 and not outside else words, miss)


def _title_clue(signs: _Signs, text: str, factor: float) -> Clue:
    said = words_of(text)
    near = frozenset[str]().union(*map(_wanted_by, said))
    spans = {
        p: found
        for p in signs.phrases
        if p[0] in near and (found := set(_covered(said, p)))
    }
    if not spans:
        return Clue(0.0, "")
    told = sorted(set().union(*spans.values()))
    only_here = any(_owners()[p] == 1 for p in spans)
    weight = (4.2 if only_here else 2.6) + 1.3 * (min(len(told), 4) - 1)
    return Clue(factor * weight, f"the words say '{' '.join(said[i] for i in told)}'")


def _covered(said: tuple[str, ...], phrase: tuple[str, ...]) -> Iterable[int]:
    width = len(phrase)
    for i in range(len(said) - width + 1):
        words = zip(said[i : i + width], phrase, strict=True)
        if all(wanted in _wanted_by(word) for word, wanted in words):
            yield from range(i, i + width)


@lru_cache(maxsize=8192)
def _wanted_by(word: str) -> frozenset[str]:
    """The words of all signs that a written word stands for."""
    return frozenset(wanted for p in _owners() for wanted in p if _same(word, wanted))


def _same(word: str, wanted: str) -> bool:
    for ending in ("", "s", "es", "n", "en", "e", "x"):
        if word == wanted + ending:
            return True
    return len(wanted) >= 6 and word.endswith((wanted, f"{wanted}s", f"{wanted}n"))


def _leaven_clue(expected: str, values: Mapping[str, float]) -> Clue:
    yeast = sum(v for name, v in values.items() if name.startswith("yeast_"))
    sour = values["starter"] > 0
    powder = values["leavening"]
    if expected == "chemical":
        weight = 0.0 if powder > 0 and not yeast else -6.0
    elif expected == "none":
        weight = 0.0 if not (yeast or sour) else -6.0
        weight -= 1.0 if powder > 0 else 0.0
    elif expected == "sour":
        weight = 0.0 if sour else -4.0
    else:
        raised = yeast > 0 or (sour and expected == "either")
        weight = 0.0 if raised else (-2.5 if sour else -6.0)
    return Clue(weight, _leaven_words(yeast, sour=sour, powder=powder), -weight)


def _leaven_words(yeast: float, *, sour: bool, powder: float) -> str:
    used = [f"yeast {yeast:.2g} %"] if yeast else []
    used += ["a starter"] if sour else []
    used += [f"baking powder or soda {powder:.2g} %"] if powder else []
    return f"raised by {' and '.join(used)}" if used else "nothing raises it"


def _pan_clue(expected: str, stated: str) -> Clue:
    said, _, assumed = stated.partition(", assumed")
    seen = _pan_kind(" ".join(words_of(stated if not assumed else said)))
    if not seen or expected == "any":
        return Clue(0.0, "")
    weight = 1.2 if seen == expected else _SUITS.get((seen, expected), -1.8)
    if assumed:
        return Clue(weight / 2, f"baked in: {said} (partly assumed)")
    return Clue(weight, f"baked in: {said}")


def _pan_kind(said: str) -> str:
    for kind, words in _PAN_WORDS:
        if re.search(rf"\b(?:{words})", said):
            return kind
    return ""


@cache
def _owners() -> Mapping[tuple[str, ...], int]:
    return Counter(p for signs in _signs().values() for p in signs.phrases)


@cache
def _signs() -> dict[str, _Signs]:
    rows = read_rows("style_signs", _COLUMNS)
    return {row["style"]: _signs_of(row) for row in rows}


def _signs_of(row: Mapping[str, str]) -> _Signs:
    phrases = {words_of(p) for lang in ("en", "de", "fr") for p in row[lang].split("|")}
    return _Signs(
        row["met"],
        row["leaven"],
        row["pan"],
        dict(_share_band(text) for text in row["signs"].split("; ") if text),
        tuple(sorted(p for p in phrases if p)),
    )


def _share_band(text: str) -> tuple[str, tuple[float, float]]:
    name, _, ends = text.partition(" ")
    low, _, high = ends.partition("-")
    return name, (float(low), float(high))
