"""A part of the flour goes ahead: what is left for the final dough."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import one_plain_flour
from bakelab.lessons.families.sourdough import sourdough
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import amount, decimal, grams, worked
from bakelab.ranges import band

__all__ = ["preferment"]

# Water on the preferment's own flour; common practice, no source.
_KINDS = {"poolish": 100, "biga": 50, "sponge": 60}


def preferment(draw: Draw, level: int) -> Draft:
    """Level 1 flour left, 2 water left, 3 from what is weighed to the hydration."""
    if level == 3:
        return sourdough(draw)
    bread = draw_bread(draw, level, _lean)
    kind = draw.pick(("poolish", "biga", "sponge"))
    share = Fraction(draw.whole(15, 50, 5))
    percent = Fraction(draw.whole(*_usual_water(bread)))
    ahead = bread.flour_g * share / 100
    if level == 1:
        return _flour_left(bread, kind, share, ahead)
    return _water_left(bread, kind, share, percent, ahead)


def _flour_left(bread: Bread, kind: str, share: Fraction, ahead: Fraction) -> Draft:
    flour, answer = bread.flour_g, bread.flour_g - ahead
    wet = Fraction(_KINDS[kind])
    draft = Draft(
        question=(
            f"The dough of *{bread.title}* needs {amount(flour, 'g')} of flour in all. "
            "The evening "
            f"before, {amount(share, '%')} of that flour goes into a {kind}, a small "
            f"dough that ferments ahead, with water at {amount(wet, '%')} of **its "
            "own** flour. How many grams of **flour** are left for the final dough? "
            "Round to a whole number (1 g)."
        ),
        given=(
            ("flour in all", amount(flour, "g")),
            (f"flour in the {kind}", amount(share, "%")),
            (f"water in the {kind}, of its own flour", amount(wet, "%")),
        ),
        answer=answer,
        unit="g",
        picture=_picture(kind, share),
    )
    _help_flour_left(draft, kind, flour, share, wet)
    return draft


def _help_flour_left(
    draft: Draft, kind: str, flour: Fraction, share: Fraction, wet: Fraction
) -> None:
    ahead, answer = flour * share / 100, draft.number
    draft.hint("Nothing is added to the total: the flour is only shared out.")
    draft.hint(f"How much flour is {amount(share, '%')} of {amount(flour, 'g')}?")
    draft.hint(f"The {kind} takes {decimal(flour)} × {decimal(share / 100)} g of it.")
    _tell_flour_ahead(draft, kind, flour, share)
    left = worked(answer, "g", Fraction(1))
    draft.tell(f"Left: {decimal(flour)} − {decimal(ahead)} = {left}.")
    _slips_on_flour(draft, kind, flour, ahead, wet)


def _slips_on_flour(
    draft: Draft, kind: str, flour: Fraction, ahead: Fraction, wet: Fraction
) -> None:
    draft.slip(
        "preferment_forgotten",
        flour,
        f"The {kind} has taken part of the flour already. Take that away.",
    )
    draft.slip("part_for_the_rest", ahead)
    draft.slip(
        "whole_preferment_as_flour",
        flour - ahead * (100 + wet) / 100,
        f"You took away the whole {kind}, with its water. Only its flour was part of "
        "the flour.",
    )
    draft.slip(
        "preferment_as_well",
        flour + ahead,
        f"The flour in the {kind} is part of the total. It does not come on top.",
    )


def _water_left(
    bread: Bread, kind: str, share: Fraction, percent: Fraction, ahead: Fraction
) -> Draft:
    flour, wet = bread.flour_g, Fraction(_KINDS[kind])
    total, gone = flour * percent / 100, ahead * wet / 100
    answer = total - gone
    draft = Draft(
        question=(
            f"*{bread.title}*: {amount(flour, 'g')} of flour in all and water at "
            f"{amount(percent, '%')} of that. {amount(share, '%')} of the flour goes "
            f"into a {kind}, a small dough that ferments ahead, with water at "
            f"{amount(wet, '%')} of **its own** flour. How many grams of **water** are "
            "left for the final dough? Round to a whole number (1 g)."
        ),
        given=(
            ("flour in all", amount(flour, "g")),
            ("water in all", amount(percent, "%")),
            (f"flour in the {kind}", amount(share, "%")),
            (f"water in the {kind}, of its own flour", amount(wet, "%")),
        ),
        answer=answer,
        unit="g",
        picture=_picture(kind, share),
    )
    _help_water_left(draft, kind, flour, percent, share, wet)
    return draft


def _help_water_left(
    draft: Draft,
    kind: str,
    flour: Fraction,
    percent: Fraction,
    share: Fraction,
    wet: Fraction,
) -> None:
    ahead, answer = flour * share / 100, draft.number
    total, gone = flour * percent / 100, ahead * wet / 100
    draft.hint(f"The {kind} holds part of the water already.")
    draft.hint(f"Work out all the water, then the water in the {kind}.")
    draft.hint(f"Its flour is {amount(share, '%')} of {amount(flour, 'g')}.")
    draft.tell(
        f"All the water: {decimal(flour)} × {decimal(percent / 100)} = {grams(total)}."
    )
    _tell_flour_ahead(draft, kind, flour, share)
    draft.tell(
        f"Water in the {kind}: {decimal(ahead)} × {decimal(wet / 100)} = {grams(gone)}."
    )
    left = worked(answer, "g", Fraction(1))
    draft.tell(f"Left: {decimal(total)} − {decimal(gone)} = {left}.")
    _slips_on_water(draft, kind, flour, percent, share, wet)


def _slips_on_water(
    draft: Draft,
    kind: str,
    flour: Fraction,
    percent: Fraction,
    share: Fraction,
    wet: Fraction,
) -> None:
    ahead, total = flour * share / 100, flour * percent / 100
    gone = ahead * wet / 100
    draft.slip(
        "preferment_forgotten",
        total,
        f"That is all the water. The {kind} has taken part of it already.",
    )
    draft.slip("own_flour_forgotten", total - flour * wet / 100)
    draft.slip(
        "same_hydration",
        total - ahead * percent / 100,
        f"You gave the {kind} the water of the whole dough. It has its own: "
        f"{amount(wet, '%')} of its own flour.",
    )
    draft.slip(
        "preferment_as_well",
        total + gone,
        f"The water in the {kind} is part of the total. It does not come on top.",
    )
    draft.slip("part_for_the_rest", gone)


def _usual_water(bread: Bread) -> tuple[int, int]:
    """Whole percentages of water that are usual for the style."""
    known = band(bread.style, "hydration")
    low, high = (known.low, known.high) if known else (60.0, 70.0)
    return max(int(low) + 1, 52), min(int(high) - 1, 80)


def _lean(bread: Bread) -> bool:
    return one_plain_flour(bread) and bread.has("yeast") and not bread.has("egg")


def _tell_flour_ahead(
    draft: Draft, kind: str, flour: Fraction, share: Fraction
) -> None:
    ahead = grams(flour * share / 100)
    draft.tell(
        f"Flour in the {kind}: {decimal(flour)} × {decimal(share / 100)} = {ahead}."
    )


def _picture(kind: str, share: Fraction) -> str:
    rows = [
        ("flour in all", Fraction(100), "100 %"),
        (f"flour in the {kind}", share, amount(share, "%")),
    ]
    return bars(rows, title=f"All the flour, and the part that goes into the {kind}")
