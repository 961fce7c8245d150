"""Which style a formula looks like: a ranked suggestion with its reasons."""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from bakelab.formula import Formula
from bakelab.ranges.measures import measures
from bakelab.ranges.shares import shares
from bakelab.ranges.stages import words_of
from bakelab.ranges.table import Band, bands, place, style_name, styles
from bakelab.tables import read_rows

__all__ = ["StyleGuess", "suggest_style"]

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
    "gluten_free": 8.0,
    "oats": 4.0,
    "seeds": 4.0,
    "fruit": 6.0,
}
_SHARE_BANDS = {
    "whole": (0.0, 25.0),
    "rye": (0.0, 15.0),
    "gluten_free": (0.0, 25.0),
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
    ("tray", "sheet|tray|muffin|square|rectangle|skillet|dish|pie|roll well|blech"),
    ("tray", "plaque|springform|round|oval"),
    ("loaf", "loaf|tin|kasten|moule a cake|cake mould"),
)


@dataclass(frozen=True)
class StyleGuess:
    """A style a formula may belong to.

    `share` is this style's part of all the certainty there is (the shares
    of all styles sum to 1); `reasons` speak for it, `against` against it.
    """

    style: str
    name: str
    share: float
    reasons: tuple[str, ...]
    against: tuple[str, ...]


@dataclass(frozen=True)
class _Clue:
    weight: float
    text: str


@dataclass(frozen=True)
class _Signs:
    met: str
    leaven: str
    pan: str
    bands: Mapping[str, tuple[float, float]]
    phrases: tuple[tuple[str, ...], ...]


def suggest_style(
    formula: Formula, text: str = "", *, count: int = 5
) -> tuple[StyleGuess, ...]:
    """Styles that a formula looks like, the likeliest first.

    Parameters
    ----------
    formula : Formula
        Its title, percentages, flours, raising agent and pan are looked at.
    text : str
        More words about the bread, such as the recipe's introduction.
    count : int
        At most so many styles; one with a share under 1 % is left out.

    Returns
    -------
    tuple of StyleGuess
        At least one. Nothing is decided: `reasons` and `against` say why.

    Raises
    ------
    FormulaError
        If the formula has no flour.

    Notes
    -----
    Each measure counts for a style by how narrow the style's band is and,
    outside it, falls off with the distance; words of the title in English,
    German and French, the raising agent and the pan count as well. The
    weights are our own, common practice, no source: a share is a degree of
    likeness and no probability that was measured.
    """
    values = {**measures(formula), **shares(formula)}
    keys = list(styles()["style"])
    clues = {key: _clues(key, formula, values, text) for key in keys}
    scores = {key: sum(c.weight for c in clues[key].values()) for key in keys}
    best = max(scores.values())
    odds = {key: math.exp(score - best) for key, score in scores.items()}
    total = sum(odds.values())
    ranked = sorted(keys, key=lambda key: (-odds[key], key))[: max(count, 1)]
    means = _means(clues.values())
    return tuple(
        _guess(key, odds[key] / total, clues[key], means)
        for place_no, key in enumerate(ranked)
        if place_no == 0 or odds[key] / total >= 0.01
    )


def _guess(
    key: str, share: float, clues: Mapping[str, _Clue], means: Mapping[str, float]
) -> StyleGuess:
    gains = {name: clue.weight - means[name] for name, clue in clues.items()}
    ordered = sorted(gains, key=lambda name: -gains[name])
    told = [n for n in ordered if clues[n].text]
    reasons = [clues[n].text for n in told if gains[n] > 0.05][:4]
    against = [clues[n].text for n in reversed(told) if clues[n].weight < -3.5][:2]
    reasons = [r for r in reasons if r not in against]
    return StyleGuess(
        key,
        style_name(key),
        share,
        tuple(reasons) or ("nothing about it stands out",),
        tuple(against),
    )


def _means(clues: Iterable[Mapping[str, _Clue]]) -> dict[str, float]:
    every = list(clues)
    names = {name for one in every for name in one}
    return {n: sum(one[n].weight for one in every) / len(every) for n in names}


def _clues(
    style: str, formula: Formula, values: Mapping[str, float], text: str
) -> dict[str, _Clue]:
    signs = _signs()[style]
    found = {"met": _Clue(_MET[signs.met], "")}
    found["title"] = _title_clue(signs, formula.title, 1.0)
    found["text"] = _title_clue(signs, text, 0.5)
    found["leaven"] = _leaven_clue(signs.leaven, values)
    found["pan"] = _pan_clue(signs.pan, formula.stated_pan)
    usual = bands(style)
    for name in _TOLERANCE:
        band = _band_of(name, usual, signs)
        found[name] = _measure_clue(name, values[name], *band)
    return found


def _band_of(
    name: str, usual: Mapping[str, Band], signs: _Signs
) -> tuple[float, float]:
    if name in _SHARE_BANDS:
        return signs.bands.get(name, _SHARE_BANDS[name])
    return usual[name].low, usual[name].high


def _measure_clue(name: str, value: float, low: float, high: float) -> _Clue:
    floor = _TOLERANCE[name]
    reach = floor + 0.25 * (high - low)
    outside = max(low - value, value - high, 0.0)
    weight = -0.4 * math.log((high - low + 2 * reach) / (2 * floor))
    weight -= min(outside / reach, 1.0) + min(math.log1p(outside / reach), 4.0) * 1.8
    state = place(value, low, high)
    words = f"{_WORDS[name]} {value:.1f} % is {state} ({low:g} to {high:g} %)"
    return _Clue(weight, "" if value == 0 and not outside else words)


def _title_clue(signs: _Signs, text: str, factor: float) -> _Clue:
    said = words_of(text)
    told = sorted({i for phrase in signs.phrases for i in _covered(said, phrase)})
    if not told:
        return _Clue(0.0, "")
    weight = factor * (2.6 + 1.3 * (min(len(told), 4) - 1))
    return _Clue(weight, f"the words say '{' '.join(said[i] for i in told)}'")


def _covered(said: tuple[str, ...], phrase: tuple[str, ...]) -> Iterable[int]:
    width = len(phrase)
    for i in range(len(said) - width + 1):
        if all(_same(a, b) for a, b in zip(said[i : i + width], phrase, strict=True)):
            yield from range(i, i + width)


def _same(word: str, wanted: str) -> bool:
    for ending in ("", "s", "es", "n", "en", "e", "x"):
        if word == wanted + ending:
            return True
    return len(wanted) >= 6 and word.endswith((wanted, f"{wanted}s", f"{wanted}n"))


def _leaven_clue(expected: str, values: Mapping[str, float]) -> _Clue:
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
    return _Clue(weight, _leaven_words(yeast, sour=sour, powder=powder))


def _leaven_words(yeast: float, *, sour: bool, powder: float) -> str:
    used = [f"yeast {yeast:.2g} %"] if yeast else []
    used += ["a starter"] if sour else []
    used += [f"baking powder or soda {powder:.2g} %"] if powder else []
    return f"raised by {' and '.join(used)}" if used else "nothing raises it"


def _pan_clue(expected: str, stated: str) -> _Clue:
    seen = _pan_kind(" ".join(words_of(stated)))
    if not seen or expected == "any":
        return _Clue(0.0, "")
    if seen == expected or {seen, expected} == {"loaf", "lidded"}:
        bonus = 1.2 if seen == expected else 0.6
        return _Clue(bonus, f"baked in: {stated}")
    return _Clue(-1.8, f"baked in: {stated}")


def _pan_kind(said: str) -> str:
    for kind, words in _PAN_WORDS:
        if re.search(rf"\b(?:{words})", said):
            return kind
    return ""


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
