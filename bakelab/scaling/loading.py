"""Dough loading: pan volume over dough mass, against the band of the style."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from bakelab.errors import FitError, FormulaError
from bakelab.formula import Formula
from bakelab.ranges import (
    ABOVE,
    BELOW,
    band,
    place,
    shares,
    style_name,
    styles,
    suggest_style,
)
from bakelab.scaling.room import Room, name_of
from bakelab.scaling.words import grams, volume
from bakelab.units import in_unit

__all__ = [
    "Loading",
    "StyleChoice",
    "choose_style",
    "loading_for",
    "loading_note",
    "loading_working",
]

LOADING = "loading_cm3_g"
# The band of a style counts for its usual pan; with a lid put on, or left off,
# the band of the bread that is baked so takes its place.
_WITH_LID = {"white_pan": "sandwich_lidded", "milk_bread": "sandwich_lidded"}
_WITHOUT_LID = {"sandwich_lidded": "white_pan"}
_OWN_LID = frozenset({"sandwich_lidded", "rye_whole"})
_MOST_GUESSES = 12
_WEAK_SHARE = 0.3  # our own: below it the plain pan loaf of the flours is taken
# Style, kind of flour and least percent of it, of the plain pan loaves; our own.
_PLAIN_LOAVES = (
    ("gluten_free_pan", "gluten_free", 60.0),
    ("rye_dark", "rye", 60.0),
    ("rye_mixed_light", "rye", 20.0),
    ("whole_wheat_pan", "whole", 60.0),
    ("part_whole_wheat_pan", "whole", 25.0),
)


@dataclass(frozen=True)
class StyleChoice:
    """The style whose bands are used, and a sentence where it was suggested."""

    style: str
    note: str = ""


@dataclass(frozen=True)
class Loading:
    """The usual loading of a style in one kind of pan, cm3/g."""

    low: float
    high: float
    style: str
    lid_factor: float = 1.0

    @property
    def middle(self) -> float:
        """The middle of the band, which fitting by loading aims at."""
        return (self.low + self.high) / 2


def choose_style(
    formula: Formula, style: str | None, measure: str = LOADING
) -> StyleChoice | None:
    """The style asked for, the formula's own, or the likeliest with a band.

    None where none of the likely styles has a usual band of that measure.
    """
    if style is not None:
        return StyleChoice(_key(style))
    if formula.style and _has_band(formula.style, measure):
        return StyleChoice(_key(formula.style))
    return _suggested(formula, measure)


def loading_for(style: str, room: Room) -> Loading | None:
    """The usual loading for a style in a pan, with its lid or without.

    A lid takes away the room of the dome: where a style has no band of its
    own under a lid, its band is widened by that room.
    """
    known = band(_for_lid(style, lidded=room.pan.lidded), LOADING)
    if known is None:
        return None
    used = _for_lid(style, lidded=room.pan.lidded)
    factor = _lid_factor(room) if room.pan.lidded and used not in _OWN_LID else 1.0
    return Loading(known.low * factor, known.high * factor, used, factor)


def loading_working(rooms: Sequence[Room], loadings: Sequence[Loading]) -> list[str]:
    """The dough that gives every pan its usual loading, step by step."""
    lines = []
    for room, usual in zip(rooms, loadings, strict=True):
        each = room.volume_cm3 / usual.middle
        times = f"{room.count} x " if room.count > 1 else ""
        lines.append(
            f"Usual loading of {style_name(usual.style)}: {usual.low:.3g} to "
            f"{usual.high:.3g} cm³/g, middle {usual.middle:.3g}{_lid_note(usual)}; "
            f"{name_of(room.pan)}: {times}{volume(room.volume_cm3)} / "
            f"{usual.middle:.3g} cm³/g = {grams(each * room.count)} of dough."
        )
    return lines


def loading_note(room: Room, loading: float, usual: Loading) -> str:
    """Where a loading lies on the usual band, and what that does to the loaf."""
    lidded = room.pan.lidded
    where = place(loading, usual.low, usual.high)
    text = (
        f"{name_of(room.pan)}: loading {loading:.2f} cm³ of pan per g of dough is "
        f"{where} for "
        f"{style_name(usual.style)} ({usual.low:.3g} to {usual.high:.3g} cm³/g)"
    )
    if where == BELOW:
        return f"{text}: {too_much(lidded=lidded)}."
    if where == ABOVE:
        return f"{text}: {too_little(lidded=lidded)}."
    return f"{text}."


def too_much(*, lidded: bool) -> str:
    """What too much dough does to a loaf."""
    if lidded:
        return (
            "too much dough presses against the lid and bakes dense; caution, "
            "it may leak or force the hot lid open"
        )
    return "too much dough mushrooms over the rim and bakes dense"


def too_little(*, lidded: bool) -> str:
    """What too little dough does to a loaf."""
    if lidded:
        return "too little dough does not reach the lid: round edges, coarse crumb"
    return "too little dough gives a flat, low loaf with a coarse crumb"


@lru_cache(maxsize=256)
def _suggested(formula: Formula, measure: str) -> StyleChoice | None:
    guesses = suggest_style(formula, count=_MOST_GUESSES)
    usable = [g for g in guesses if band(g.style, measure) is not None]
    if not usable:
        return None
    # The likeliest that nothing speaks against; sorting keeps the order else.
    best = min(usable, key=lambda guess: bool(guess.against))
    own = f"{formula.style!r} has no usual band here. " if formula.style else ""
    if best.share < _WEAK_SHARE and measure == LOADING:
        return _plainest(formula, own)
    note = (
        f"{own}Style taken as {best.name}, suggested by the formula "
        f"({100 * best.share:.0f} % of all likeness); name the style if it is another."
    )
    return StyleChoice(best.style, note)


def _plainest(formula: Formula, own: str) -> StyleChoice:
    """The plain pan loaf of the formula's flours, where no style is clear."""
    of_flour = shares(formula)
    style = next(
        (s for s, share, least in _PLAIN_LOAVES if of_flour[share] >= least),
        "white_pan",
    )
    note = (
        f"{own}No style is clear from the formula: judged as {style_name(style)}, the "
        "plain pan loaf of its flours; name the style if it is another."
    )
    return StyleChoice(style, note)


def _has_band(style: str, measure: str) -> bool:
    try:
        return band(style, measure) is not None
    except FormulaError:
        return False


def _key(style: str) -> str:
    return _keys()[style_name(style)]


@cache
def _keys() -> dict[str, str]:
    table = styles()
    return dict(zip(table["name"], table["style"], strict=True))


def _for_lid(style: str, *, lidded: bool) -> str:
    swaps = _WITH_LID if lidded else _WITHOUT_LID
    return swaps.get(style, style)


def _lid_factor(room: Room) -> float:
    dome_cm = in_unit(replace(room.pan, lidded=False).dome_height(), "cm", "dome")
    return 1.0 + room.top_cm2 * dome_cm / room.volume_cm3


def _lid_note(usual: Loading) -> str:
    if usual.lid_factor == 1.0:
        return ""
    return (
        f" (the band of an open pan x {usual.lid_factor:.3f}, for the dome under a lid)"
    )


def no_loading(style: StyleChoice | None) -> FitError:
    """The refusal where there is no usual loading to fit by."""
    if style is None:
        return FitError(
            "no style with a usual pan loading fits this formula; "
            "name one, such as style='white_pan', or fit by volume"
        )
    return FitError(
        f"{style_name(style.style)} has no usual pan loading; fit by volume, "
        "or name a style that is baked in a pan, such as style='white_pan'"
    )
