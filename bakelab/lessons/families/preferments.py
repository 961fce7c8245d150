"""A part of the flour goes ahead: what is left for the final dough."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import TENTH, one_plain_flour
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import amount, decimal, worked
from bakelab.ranges import band

__all__ = ["preferment"]

# Water on the preferment's own flour; common practice, no source.
_KINDS = {
    "poolish": 100,
    "biga": 50,
    "sponge": 60,
    "levain": 100,
    "stiff levain": 50,
}


def preferment(draw: Draw, level: int) -> Draft:
    """Level 1 flour left, 2 water left, 3 from what is weighed to the hydration."""
    if level == 3:
        return _overall(draw)
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
    draft.tell(
        f"Flour in the {kind}: {decimal(flour)} × {decimal(share / 100)} = {_g(ahead)}."
    )
    draft.tell(
        f"Left: {decimal(flour)} − {_n(ahead)} = {worked(answer, 'g', Fraction(1))}."
    )
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
        f"All the water: {decimal(flour)} × {decimal(percent / 100)} = {_g(total)}."
    )
    draft.tell(
        f"Flour in the {kind}: {decimal(flour)} × {decimal(share / 100)} = {_g(ahead)}."
    )
    draft.tell(f"Water in the {kind}: {_n(ahead)} × {decimal(wet / 100)} = {_g(gone)}.")
    left = worked(answer, "g", Fraction(1))
    draft.tell(f"Left: {_n(total)} − {_n(gone)} = {left}.")
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


def _overall(draw: Draw) -> Draft:
    """Starter and final dough are weighed; what is the hydration of it all?"""
    kind = draw.pick(("levain", "stiff levain"))
    wet = Fraction(_KINDS[kind])
    own_flour = Fraction(draw.whole(40, 200, 10))
    starter = own_flour * (100 + wet) / 100
    flour = own_flour * draw.whole(3, 8) + draw.whole(0, 4) * 5
    water = Fraction(round(flour * draw.whole(62, 76) / 500) * 5)
    return _ask_overall(kind, flour, water, starter, wet)


def _ask_overall(
    kind: str, flour: Fraction, water: Fraction, starter: Fraction, wet: Fraction
) -> Draft:
    own_flour = starter * 100 / (100 + wet)
    own_water = starter - own_flour
    draft = Draft(
        question=(
            f"For a sourdough bread you weigh {amount(flour, 'g')} of flour, "
            f"{amount(water, 'g')} of water and {amount(starter, 'g')} of {kind} "
            "(sourdough kept from the last bake: flour and water, the water being "
            f"{amount(wet, '%')} of its own flour). "
            "What is the **hydration of the whole dough**: all the water as a "
            "percentage of all the flour? Round to one decimal (0.1 %)."
        ),
        given=(
            ("flour", amount(flour, "g")),
            ("water", amount(water, "g")),
            (kind, amount(starter, "g")),
            (f"water in the {kind}, of its own flour", amount(wet, "%")),
        ),
        answer=100 * (water + own_water) / (flour + own_flour),
        unit="%",
        step=TENTH,
        picture=_overall_picture(kind, flour, water, own_water),
    )
    _help_overall(draft, kind, flour, water, starter, wet)
    return draft


def _overall_picture(
    kind: str, flour: Fraction, water: Fraction, own_water: Fraction
) -> str:
    """Bars of what is weighed; what is inside the starter is asked for."""
    rows = [
        ("flour", flour, amount(flour, "g")),
        ("water", water, amount(water, "g")),
        (f"water in the {kind}", own_water, ""),
    ]
    title = "Flour and water of the dough, and the water inside the starter"
    return bars(rows, title=title, asked=f"water in the {kind}")


def _help_overall(
    draft: Draft,
    kind: str,
    flour: Fraction,
    water: Fraction,
    starter: Fraction,
    wet: Fraction,
) -> None:
    own_flour, answer = starter * 100 / (100 + wet), draft.number
    own_water = starter - own_flour
    all_flour, all_water = flour + own_flour, water + own_water
    draft.hint(f"The {kind} is flour and water too. Take it apart.")
    draft.hint(
        f"For 100 g of its flour it has {decimal(wet)} g of water: "
        f"{decimal(100 + wet)} g together."
    )
    draft.hint(f"Its flour: {amount(starter, 'g')} ÷ {decimal((100 + wet) / 100)}.")
    draft.tell(
        f"Flour in the {kind}: {decimal(starter)} ÷ {decimal((100 + wet) / 100)} = "
        f"{_g(own_flour)}; water in it: {_g(own_water)}."
    )
    draft.tell(f"All flour: {decimal(flour)} + {decimal(own_flour)} = {_g(all_flour)}.")
    draft.tell(f"All water: {decimal(water)} + {decimal(own_water)} = {_g(all_water)}.")
    draft.tell(
        f"{decimal(all_water)} ÷ {decimal(all_flour)} × 100 = "
        f"{worked(answer, '%', TENTH)}."
    )
    _slips_on_overall(draft, kind, flour, water, starter, all_water)


def _slips_on_overall(
    draft: Draft,
    kind: str,
    flour: Fraction,
    water: Fraction,
    starter: Fraction,
    all_water: Fraction,
) -> None:
    draft.slip(
        "preferment_forgotten",
        100 * water / flour,
        f"The {kind} is flour and water too. Take it apart and count both.",
    )
    mixed = (
        f"You counted the {kind} as {{}} alone. It is flour and water: take it apart."
    )
    starter_as_water = 100 * (water + starter) / flour
    draft.slip("starter_as_water", starter_as_water, mixed.format("water"))
    starter_as_flour = 100 * water / (flour + starter)
    draft.slip("starter_as_flour", starter_as_flour, mixed.format("flour"))
    draft.slip(
        "own_flour_forgotten",
        100 * all_water / flour,
        f"You counted the water of the {kind}, but not its flour. Count both.",
    )
    draft.slip("half_and_half", _half_and_half(flour, water, starter))


def _half_and_half(flour: Fraction, water: Fraction, starter: Fraction) -> Fraction:
    return 100 * (water + starter / 2) / (flour + starter / 2)


def _usual_water(bread: Bread) -> tuple[int, int]:
    """Whole percentages of water that are usual for the style."""
    known = band(bread.style, "hydration")
    low, high = (known.low, known.high) if known else (60.0, 70.0)
    return max(int(low) + 1, 52), min(int(high) - 1, 80)


def _lean(bread: Bread) -> bool:
    return one_plain_flour(bread) and bread.has("yeast") and not bread.has("egg")


def _picture(kind: str, share: Fraction) -> str:
    rows = [
        ("flour in all", Fraction(100), "100 %"),
        (f"flour in the {kind}", share, amount(share, "%")),
    ]
    return bars(rows, title=f"All the flour, and the part that goes into the {kind}")


def _g(mass: Fraction) -> str:
    return f"{_n(mass)} g"


def _n(mass: Fraction) -> str:
    return decimal(mass)
