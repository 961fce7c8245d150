"""Which pan a recipe was meant for, when it does not say."""

import math
import re
from dataclasses import dataclass, replace
from functools import cache

import pandas as pd

from bakelab.errors import FitError
from bakelab.formula import Formula, require_flour
from bakelab.pans import Pan, pan, pans
from bakelab.ranges import place, style_name
from bakelab.scaling.loading import Loading, StyleChoice, choose_style, loading_for
from bakelab.scaling.room import Room, room_of
from bakelab.scaling.words import grams

__all__ = ["LIKELY_COLUMNS", "likely_pans"]

LIKELY_COLUMNS = (
    "key",
    "name",
    "count",
    "spec",
    "volume_cm3",
    "dough_g",
    "loading_cm3_g",
    "place",
    "certainty",
    "score",
    "text",
)
# Styles with a usual loading that are not baked in an open loaf pan.
_KIND_OF_STYLE = {
    "sandwich_lidded": "lidded",
    "rye_whole": "closed",
    "sweet_dough": "tray",
    "festive_tall": "tall",
}
_KINDS = {
    "loaf": ("loaf",),
    "lidded": ("loaf",),
    "closed": ("loaf",),
    "tall": ("round", "springform", "tube", "fluted tube"),
    "tray": (
        "square",
        "rectangle",
        "round",
        "springform",
        "sheet",
        "dish",
        "muffin",
        "roll well",
        "skillet",
        "tube",
        "fluted tube",
        "oval",
        "pie",
    ),
}
_COUNTRIES = {"en": ("US", "UK"), "de": ("DE",), "fr": ("FR",)}
_OTHER_KIND = 0.15  # our own degrees of likeness, not measured
_OTHER_LID = 0.5  # a bread that is only covered may be covered with foil
_OTHER_COUNTRY = 0.5
_RARE = 0.4
_RARE_KEYS = ("loaf_statute", "loaf_army", "loaf_test")
_MORE_PANS = {1: 1.0, 2: 0.6, 3: 0.3, 4: 0.2}
_NUMBERS = {"one": 1, "a": 1, "two": 2, "three": 3, "four": 4, "zwei": 2, "deux": 2}
_LOAVES = re.compile(
    r"\b(\d{1,2}|one|a|two|three|four|zwei|deux)\s+(?:\w+\s+){0,3}?"
    r"(?:loaf|loaves|brote?|laibe?|kastenbrote?|pains?|pans?)\b",
    re.IGNORECASE,
)
_LIKELY_REACH = 0.5
_CLOSE = 0.05


@dataclass(frozen=True)
class _Candidate:
    key: str
    name: str
    pan: Pan
    count: int
    room: Room
    usual: Loading
    dough_g: float
    prior: float
    right_kind: bool

    @property
    def loading(self) -> float:
        return self.room.count * self.count * self.room.volume_cm3 / self.dough_g

    @property
    def reach(self) -> float:
        """Distance from the middle of the band in half widths, by ratio."""
        middle = math.sqrt(self.usual.low * self.usual.high)
        half = math.log(self.usual.high / self.usual.low) / 2
        return abs(math.log(self.loading / middle)) / max(half, 0.05)

    @property
    def score(self) -> float:
        return self.prior * math.exp(-(self.reach**2))


def likely_pans(
    formula: Formula, style: str | None = None, *, n: int = 5
) -> pd.DataFrame:
    """Usual pans that a recipe's dough would fill as its style is filled.

    Parameters
    ----------
    formula : Formula
        Its dough mass counts, and its yield where that names loaves.
    style : str, optional
        The formula's own, or the likeliest one, by default.
    n : int
        At most so many.

    Returns
    -------
    DataFrame
        `LIKELY_COLUMNS`, the likeliest first. `spec` is for `pan`, `count`
        says how many of them, `certainty` is "likely", "possible" or
        "unlikely" and `text` says why. A pan cannot be told from another of
        the same volume: the text says how many are as good.

    Raises
    ------
    FitError
        If the style is not one that is baked in a pan, or none is near.
    """
    require_flour(formula)
    if n < 1:
        raise FitError(f"got n={n}; ask for at least one pan")
    choice = choose_style(formula, style)
    if choice is None:
        raise FitError(
            "no style that is baked in a pan fits this formula; name one, such as "
            "style='white_pan', or scale by dough weight"
        )
    ranked = sorted(_candidates(formula, choice), key=lambda c: (-c.score, c.key))
    if not ranked:
        raise FitError(
            f"no usual pan loading is known for {style_name(choice.style)}, so no pan "
            "can be guessed; give the pan, or scale by dough weight"
        )
    records = [_record(c, ranked, choice) for c in ranked[:n]]
    return pd.DataFrame(records, columns=list(LIKELY_COLUMNS))


def _candidates(formula: Formula, choice: StyleChoice) -> list[_Candidate]:
    kind = _KIND_OF_STYLE.get(choice.style, "loaf")
    said = _LOAVES.search(formula.stated_yield)
    counts = {_number(said[1]): 1.0} if said else _MORE_PANS
    found = []
    for key, name, country, one, room in _usual_rooms():
        usual = loading_for(choice.style, room)
        if usual is None:
            continue
        likeness = _likeness(one, kind)
        prior = likeness * _prior(key, country, formula.language)
        single = _Candidate(
            key, name, one, 1, room, usual, formula.dough_g, prior, likeness == 1.0
        )
        found += [
            replace(single, count=count, prior=prior * weight)
            for count, weight in counts.items()
            if count == 1 or one.count == 1
        ]
    return found


def _prior(key: str, country: str, language: str) -> float:
    at_home = country in _COUNTRIES.get(language, (country,))
    prior = 1.0 if at_home else _OTHER_COUNTRY
    return prior * (_RARE if key.startswith(_RARE_KEYS) else 1.0)


def _likeness(one: Pan, kind: str) -> float:
    if one.shape not in _KINDS.get(kind, ()):
        return _OTHER_KIND
    if one.lidded == (kind in ("lidded", "closed")):
        return 1.0
    return _OTHER_LID if kind == "closed" else _OTHER_KIND


def _number(word: str) -> int:
    count = _NUMBERS.get(word.casefold(), 0) or int(word)
    return max(count, 1)


def _record(
    one: _Candidate, ranked: list[_Candidate], choice: StyleChoice
) -> tuple[object, ...]:
    where = place(one.loading, one.usual.low, one.usual.high)
    certainty = _certainty(one)
    text = (
        f"{certainty}: {grams(one.dough_g)} of dough in "
        f"{_named(one)} is {one.loading:.2f} cm³/g, {where} for "
        f"{style_name(choice.style)} ({one.usual.low:.3g} to {one.usual.high:.3g})"
    )
    if not one.right_kind:
        text += "; another kind of pan is usual"
    twins = _twins(one, ranked)
    if twins:
        text += f"; {twins} other usual pans hold the same within 5 %"
    return (
        one.key,
        one.name,
        one.count,
        one.key,
        one.room.volume_cm3,
        one.dough_g / (one.count * one.room.count),
        one.loading,
        where,
        certainty,
        one.score,
        f"{text}.",
    )


def _certainty(one: _Candidate) -> str:
    if one.reach <= _LIKELY_REACH and one.right_kind:
        return "likely"
    return "possible" if one.reach <= 1.0 else "unlikely"


def _named(one: _Candidate) -> str:
    return f"{one.count} x {one.name}" if one.count > 1 else one.name


def _twins(one: _Candidate, ranked: list[_Candidate]) -> int:
    return sum(
        other.key != one.key
        and other.right_kind == one.right_kind
        and abs(other.loading / one.loading - 1) <= _CLOSE
        for other in ranked
    )


@cache
def _usual_rooms() -> tuple[tuple[str, str, str, Pan, Room], ...]:
    table = pans()
    found = []
    for row in table.itertuples():
        one = pan(str(row.Index))
        if one.has_volume:
            names = str(row.Index), str(row.name), str(row.country)
            found.append((*names, one, room_of(one, "fixed")))
    return tuple(found)
