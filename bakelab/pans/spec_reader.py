"""A short pan text read token by token into a draft."""

from __future__ import annotations

import json
import re

from bakelab.errors import PanError
from bakelab.pans.assembly import CAPACITY_CM3
from bakelab.pans.draft import SHAPE_WORDS, Draft
from bakelab.pans.measures import Group, Token, read_group, tokens, value_of
from bakelab.pans.water import volume_of_water
from bakelab.pans.words import PLAIN, SIZE_WORDS
from bakelab.units import Q_, in_unit

__all__ = ["draft_of"]

_QUOTED = re.compile(r'\b(named|assumed) ("(?:[^"\\]|\\.)*")')
_BASE = frozenset({"base", "bottom"})
_DEPTH = frozenset({"deep", "depth", "high", "height", "tall"})
_NO_NUMBERS = frozenset({"inf", "infinity", "nan"})
_WELLS = ("muffin", "roll well")
_WELL_COUNTS = frozenset({4, 6, 9, 12, 15, 16, 18, 20, 24, 30, 35, 36, 48})


def draft_of(text: str) -> Draft:
    draft = Draft()
    for kind, quoted in _QUOTED.findall(text):
        value = json.loads(quoted, strict=False)
        if kind == "named":
            draft.named = value
        else:
            draft.assumed.append(value)
    found = tokens(_QUOTED.sub(" ", text))
    several = any(
        t.text in ("well", "wells", "hole", "holes", "cavities") for t in found
    )
    i = 0
    while i < len(found):
        i = _step(draft, found, i, several)
    return draft


def _step(draft: Draft, found: list[Token], i: int, several: bool) -> int:
    token = found[i]
    if token.kind in ("num", "round", "about"):
        return _step_number(draft, found, i, several)
    if token.kind == "dash" and _is_minus(found, i):
        raise PanError(
            f"-{found[i + 1].text} is below zero; give inside measures above 0"
        )
    if token.kind == "word":
        return _step_word(draft, found, i)
    if token.kind == "other" and token.text not in ";:[]|&+":
        draft.unknown = draft.unknown or token.text
    return i + 1


def _is_minus(found: list[Token], i: int) -> bool:
    if i + 1 >= len(found) or found[i + 1].kind != "num":
        return False
    apart = i == 0 or found[i - 1].end < found[i].start or found[i - 1].kind == "by"
    return apart and found[i].end == found[i + 1].start


def _step_number(draft: Draft, found: list[Token], i: int, several: bool) -> int:
    group, j = read_group(found, i, len(found))
    if group is None:
        draft.unknown = draft.unknown or found[i].text
        return i + 1
    after = found[j].text if j < len(found) else ""
    if after == "%":
        draft.fluting_pct = group.values[0]
        return j + 1
    if group.unit == "cm" and after == "3" and found[j].start == found[j - 1].end:
        draft.capacity_cm3 = group.values[0]
        return j + 1
    wells = group.unit == "cup" and any(t.text in _WELLS for t in found)
    if group.unit in CAPACITY_CM3 and not wells:
        draft.capacity_cm3 = group.values[0] * CAPACITY_CM3[group.unit]
    elif group.unit in ("g", "kg") and any(t.text == "holds" for t in found[:i]):
        return _weigh(draft, group, found, j)
    elif wells or group.unit == "hole" or _is_count(draft, group, found, j):
        draft.count = _whole(group.values[0])
    else:
        _place(draft, group, after, several)
    return j


def _is_count(draft: Draft, group: Group, found: list[Token], j: int) -> bool:
    """A bare number before a shape word: `2 loaf 9 x 5 x 3 in`."""
    if group.unit or len(group.values) > 1 or draft.rim is not None:
        return False
    if j < len(found) and found[j].kind == "by":
        j += 1
    return j < len(found) and (
        found[j].text in SHAPE_WORDS
        or found[j].text in PLAIN
        or found[j].text in SIZE_WORDS
        or found[j].kind == "num"
        or found[j].text == "joined"
    )


def _place(draft: Draft, group: Group, after: str, several: bool) -> None:
    if not group.unit:
        shown = " x ".join(f"{value:g}" for value in group.values)
        draft.trouble = f"{shown} needs a unit; write '{shown} in' or '{shown} cm'"
        return
    if not group.is_length:  # a tin by its weight class, or `26er`: for the prose
        draft.unknown = draft.unknown or group.unit
        return
    wells = draft.shape in _WELLS and draft.count is None and not several
    several_wells = wells and draft.rim is None and len(group.values) > 1
    if several_wells and group.values[0] in _WELL_COUNTS:
        draft.count = int(group.values[0])
        group = Group(group.values[1:], group.unit)
    if after in _DEPTH and len(group.values) == 1:
        draft.depth = group
    elif draft.rim is None:
        draft.rim = group
    elif after in _DEPTH and draft.base is not None:
        draft.depth = group
    else:
        raise PanError(
            f"'{group.values[0]:g} {group.unit}' is a measure too many; name it "
            "(base, tube, depth, corner) or leave it out"
        )


def _step_word(draft: Draft, found: list[Token], i: int) -> int:
    word = found[i].text
    if word in _NO_NUMBERS:
        raise PanError(f"{word!r} is not a measure; give inside measures above 0")
    if word in _BASE:
        return _named_group(draft, found, i, "base")
    if word in _DEPTH and draft.depth is None:
        return _named_group(draft, found, i, "depth")
    if word == "tube" and "tube" in draft.shape and not _follows(found, i, "fluted"):
        return _named_group(draft, found, i, "tube")
    if word in ("corner", "corners"):
        return _named_group(draft, found, i, "corner")
    if word == "fluting" and i + 1 < len(found) and found[i + 1].kind == "num":
        draft.fluting_pct = value_of(found[i + 1].text)
        return i + 3
    if word in ("holds", "capacity", "diameter", "fluting"):
        return i + 1
    if word == "dome" and len(found) > i + 2:
        draft.dome_unit = "in" if found[i + 2].text.startswith("in") else "cm"
        return i + 3
    return _step_shape(draft, found, i)


def _follows(found: list[Token], i: int, word: str) -> bool:
    return i > 0 and found[i - 1].text == word


def _step_shape(draft: Draft, found: list[Token], i: int) -> int:
    word = found[i].text
    if word in SHAPE_WORDS:
        # "fluted tube" stays fluted; "round springform" stays the first named.
        draft.shape = _merged(draft.shape, SHAPE_WORDS[word])
    elif word in ("lidded", "lid", "covered", "lids"):
        draft.lidded = not (i and found[i - 1].text in ("no", "without"))
    elif word in SIZE_WORDS:
        draft.hints.append(SIZE_WORDS[word])
    elif word not in PLAIN and word not in ("no", "without", "in", "cm", "open"):
        draft.unknown = draft.unknown or word
    return i + 1


def _merged(old: str, new: str) -> str:
    if old == "fluted tube" or (old and old != "round"):
        return old
    return new


def _named_group(draft: Draft, found: list[Token], i: int, name: str) -> int:
    group, j = read_group(found, i + 1, len(found))
    if group is None:
        return i + 1
    if not group.unit:
        shown = " x ".join(f"{value:g}" for value in group.values)
        raise PanError(
            f"{name} {shown} needs a unit; write '{name} {shown} cm' or '... in'"
        )
    after = found[j].text if j < len(found) else ""
    if name == "base" and after in _DEPTH and len(group.values) > 1:
        draft.depth = Group(group.values[-1:], group.unit)
        group, j = Group(group.values[:-1], group.unit), j + 1
    setattr(draft, name, group)
    return j


def _weigh(draft: Draft, group: Group, found: list[Token], j: int) -> int:
    """`holds 1600 g water at 20 C`."""
    grams = group.values[0] * (1000.0 if group.unit == "kg" else 1.0)
    k = j
    while k < len(found) and found[k].text in ("water", "of", "at"):
        k += 1
    water_c = (
        value_of(found[k].text) if k < len(found) and found[k].kind == "num" else None
    )
    if water_c is None or not any(t.text == "water" for t in found[j:k]):
        raise PanError(
            "a capacity by weight needs water and its temperature; "
            "write 'holds 1600 g water at 20 C'"
        )
    k += 1
    while k < len(found) and found[k].text in ("°", "º", "deg"):
        k += 1
    scale = found[k].text if k < len(found) else ""
    if scale not in ("c", "celsius", "f", "fahrenheit"):
        raise PanError(
            "the water's temperature needs its scale; write '20 C' or '68 F'"
        )
    unit = "degF" if scale.startswith("f") else "degC"
    volume = volume_of_water(Q_(grams, "g"), Q_(water_c, unit))
    draft.capacity_cm3 = in_unit(volume, "cm^3", "volume")
    return k + 1


def _whole(value: float) -> int:
    if value != int(value):
        raise PanError(f"the number of pans is {value:g}; give a whole number")
    return int(value)
