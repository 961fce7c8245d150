"""Starter and final dough are weighed: what is the hydration of it all?"""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import TENTH, amount, decimal, worked

__all__ = ["sourdough"]

# Water on the starter's own flour; common practice, no source.
_KINDS = {"levain": 100, "stiff levain": 50}


def sourdough(draw: Draw) -> Draft:
    """Starter and final dough are weighed; what is the hydration of it all?"""
    kind = draw.pick(("levain", "stiff levain"))
    wet = Fraction(_KINDS[kind])
    own_flour = Fraction(draw.whole(40, 200, 10))
    starter = own_flour * (100 + wet) / 100
    flour = own_flour * draw.whole(3, 8) + draw.whole(0, 4) * 5
    water = Fraction(round(flour * draw.whole(62, 76) / 500) * 5)
    return _ask(kind, flour, water, starter, wet)


def _ask(
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
        picture=_picture(kind, flour, water, own_water),
    )
    _help(draft, kind, flour, water, starter, wet)
    return draft


def _picture(kind: str, flour: Fraction, water: Fraction, own_water: Fraction) -> str:
    """Bars of what is weighed; what is inside the starter is asked for."""
    rows = [
        ("flour", flour, amount(flour, "g")),
        ("water", water, amount(water, "g")),
        (f"water in the {kind}", own_water, ""),
    ]
    title = "Flour and water of the dough, and the water inside the starter"
    return bars(rows, title=title, asked=f"water in the {kind}")


def _help(
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
        f"{amount(own_flour, 'g')}; water in it: {amount(own_water, 'g')}."
    )
    draft.tell(
        f"All flour: {decimal(flour)} + {decimal(own_flour)} = {decimal(all_flour)} g."
    )
    draft.tell(
        f"All water: {decimal(water)} + {decimal(own_water)} = {decimal(all_water)} g."
    )
    draft.tell(
        f"{decimal(all_water)} ÷ {decimal(all_flour)} × 100 = "
        f"{worked(answer, '%', TENTH)}."
    )
    _slips(draft, kind, flour, water, starter, all_water)


def _slips(
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
