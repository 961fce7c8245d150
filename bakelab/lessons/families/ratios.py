"""Flour for another pan: by the ratio of volumes, not of lengths."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.pans import LID_CAUTION
from bakelab.lessons.tins import (
    CM_PER_IN,
    LIDDED,
    OPEN,
    ROUND,
    TAPERED,
    Tin,
    draw_tin,
    side_views,
)
from bakelab.lessons.words import amount, decimal, rounded, shown
from bakelab.ranges import band

__all__ = ["volume_ratio"]

_FARTHEST = 3
_TEXT_STEP = Fraction(1, 1000)


def volume_ratio(draw: Draw, level: int) -> Draft:
    """Level 1 both with a lid, 2 both open, 3 from open to a lid or a round pan."""
    old, new = _two_tins(draw, level)
    lidded = old.lidded or new.lidded
    bread = draw_bread(draw, level, _under_a_lid if lidded else _in_a_tin)
    flour = _flour_for(bread, old)
    draft = Draft(
        question=(
            f"*{bread.title}* is baked with {amount(flour, 'g')} of flour in the old "
            f"pan, {_phrase(old)}. How many grams of **flour** does the new pan need, "
            f"{_phrase(new)}, to be just as full? {_rule(old, new)}Round to a whole "
            "number (1 g)."
        ),
        heading=("what", "old pan", "new pan"),
        given=_rows(old, new, flour),
        answer=flour * new.usable / old.usable,
        unit="g",
        picture=side_views(
            [("old pan", old), ("new pan", new)], "The old and the new pan"
        ),
        caution=LID_CAUTION if new.lidded else "",
    )
    _hint(draft, old)
    _solve(draft, old, new, flour)
    _slips(draft, old, new, flour)
    return draft


def _hint(draft: Draft, old: Tin) -> None:
    draft.hint(
        "Dough fills a volume: compare what the pans hold, not how long they are."
    )
    draft.hint("Work out the volume of both pans, then divide new by old.")
    draft.hint(f"The old pan: {_working(old)} = {decimal(old.usable)} {old.cubic}.")


def _two_tins(draw: Draw, level: int) -> tuple[Tin, Tin]:
    """Two pans in one unit, neither alike nor too far apart; drawn until they are."""
    pools = {
        1: ((LIDDED, LIDDED),),
        2: ((OPEN, OPEN), (TAPERED, TAPERED)),
        3: ((OPEN, LIDDED), (TAPERED, LIDDED), (TAPERED, ROUND)),
    }
    first, second = draw.pick(pools[level])
    while True:
        old, new = draw_tin(draw, first), draw_tin(draw, second)
        ratio = new.usable / old.usable
        near = Fraction(1, _FARTHEST) < ratio < _FARTHEST
        if old.unit == new.unit and near and abs(ratio - 1) > Fraction(1, 20):
            return old, new


def _flour_for(bread: Bread, tin: Tin) -> Fraction:
    """Flour that fills the pan at the usual loading of the style, to 10 g."""
    plain = "white_pan" if bread.style == "sandwich_lidded" else bread.style
    style = "sandwich_lidded" if tin.lidded else plain
    known = band(style, "loading_cm3_g")
    middle = Fraction(round(known.low + known.high), 2) if known else Fraction(3)
    room = tin.length * tin.width * tin.depth
    room *= CM_PER_IN**3 if tin.unit == "in" else 1
    dough = room / max(middle, Fraction(3, 2))
    flour = round(dough * bread.flour_g / bread.dough_g / 10) * 10
    return Fraction(max(flour, 50))


def _solve(draft: Draft, old: Tin, new: Tin, flour: Fraction) -> None:
    ratio = new.usable / old.usable
    for name, tin in (("Old", old), ("New", new)):
        volume = f"{decimal(tin.usable)} {tin.cubic}"
        draft.tell(f"{name} pan: {_working(tin)} = {volume}.")
    draft.tell(
        f"Ratio, new divided by old: {decimal(new.usable)} ÷ {decimal(old.usable)} = "
        f"{shown(ratio, _TEXT_STEP)}."
    )
    draft.tell(
        f"Flour: {amount(flour, 'g')} × {shown(ratio, _TEXT_STEP)} = "
        f"{amount(flour * ratio, 'g', Fraction(1))} (all digits of the ratio kept)."
    )
    draft.tell("Every other ingredient keeps its percentage of the new flour.")


def _slips(draft: Draft, old: Tin, new: Tin, flour: Fraction) -> None:
    ratio = new.usable / old.usable
    draft.slip("upside_down", flour / ratio)
    draft.slip(
        "rounded_too_early",
        flour * rounded(ratio, Fraction(1, 10)),
        "You rounded the ratio to one decimal before you multiplied. Keep its digits "
        "and round the grams once, at the end.",
    )
    draft.slip("by_length", flour * new.length / old.length)
    draft.slip("by_area", flour * (new.usable / new.height) / (old.usable / old.height))
    if not (old.lidded and new.lidded):
        draft.slip("forgot_dome", flour * _level(new) / _level(old))
    if new.is_round:
        square = new.length * new.width * new.height
        draft.slip("round_as_square", flour * square / old.usable)
    if new.lidded != old.lidded:
        draft.slip(
            "dome_on_lid",
            flour * _level(new) * (new.depth + old.dome) / new.depth / old.usable,
        )


def _level(tin: Tin) -> Fraction:
    return tin.usable / tin.height * tin.depth


def _working(tin: Tin) -> str:
    height = decimal(tin.depth)
    if not tin.lidded:
        height = f"({height} + {decimal(tin.dome)})"
    if tin.is_round:
        radius = decimal(tin.length / 2)
        return f"3.14 × {radius} × {radius} × {height}"
    return f"{decimal(tin.length)} × {decimal(tin.width)} × {height}"


def _rows(old: Tin, new: Tin, flour: Fraction) -> list[tuple[str, str, str]]:
    rows = [("flour", amount(flour, "g"), "?")]
    new_width = "round" if new.is_round else new.size(new.width)
    first = "diameter or length" if new.is_round else "length"
    rows.append((first, old.size(old.length), new.size(new.length)))
    rows.append(("width", old.size(old.width), new_width))
    rows.append(("depth", old.size(old.depth), new.size(new.depth)))
    domes = [t.size(t.dome) if t.dome else "0, it has a lid" for t in (old, new)]
    rows.append(("added for the dome", domes[0], domes[1]))
    return rows


def _phrase(tin: Tin) -> str:
    lid = "with a lid" if tin.lidded else "without a lid"
    return f"{tin.measures}, {lid}"


def _rule(old: Tin, new: Tin) -> str:
    rule = ""
    if not (old.lidded and new.lidded):
        open_tin = new if old.lidded else old
        rule += (
            f"Add {open_tin.size(open_tin.dome)} to the depth of a pan without a lid, "
            "for the dome, and take the walls as upright. "
        )
    return rule + ("Take π = 3.14. " if new.is_round else "")


def _in_a_tin(bread: Bread) -> bool:
    return bread.style in _LOAVES


def _under_a_lid(bread: Bread) -> bool:
    return bread.style in _LOAVES[:5]


_LOAVES = (
    "white_pan", "sandwich_lidded", "milk_bread", "part_whole_wheat_pan",
    "whole_wheat_pan", "multigrain_pan", "oatmeal_pan", "raisin_pan", "brioche",
    "gluten_free_pan", "quick_bread",
)  # fmt: skip
"""Styles of loaves in pans; the first five may be baked under a lid."""
