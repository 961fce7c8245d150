"""Water from every ingredient: true hydration, and water for a dough temperature."""

from __future__ import annotations

from fractions import Fraction

from bakelab.ingredients import ingredient
from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import TENTH, amount, capital, decimal, grams, worked

__all__ = ["true_hydration", "water_percent"]

_DRY = 10  # percent of water; drier ingredients are left out of the question


def true_hydration(draw: Draw, level: int) -> Draft:
    """All added water over flour; more wet ingredients at higher levels."""
    bread = draw_bread(draw, level, (_few, _some, _many)[level - 1]).together()
    wet = [p for p in bread.others if water_percent(p) >= _DRY]
    water = sum((p.mass_g * water_percent(p) / 100 for p in wet), Fraction(0))
    flour, answer = bread.flour_g, 100 * water / bread.flour_g
    draft = Draft(
        question=(
            f"Some ingredients of *{bread.title}* are only partly water. Work out the "
            "**true hydration**: the water from all of them, as a percentage of the "
            "flour. (What is not in the table brings next to no water; the moisture "
            "inside the flour is not counted.) Round to one decimal (0.1 %)."
        ),
        heading=("what", "amount", "water in it"),
        given=(("flour", amount(flour, "g"), "not counted"), *map(_row, wet)),
        answer=answer,
        unit="%",
        step=TENTH,
        picture=_picture(wet, flour),
        caution=_raw_egg(wet),
    )
    _help(draft, bread, wet, water)
    return draft


def _help(draft: Draft, bread: Bread, wet: list[Part], water: Fraction) -> None:
    first = next((p for p in wet if p.role != "water"), wet[0])
    flour, answer = bread.flour_g, draft.number
    draft.hint("Not everything that is wet is all water. How much of each is water?")
    draft.hint("Work out the grams of water in each line, then add them up.")
    draft.hint(f"The {first.name} brings {_working(first)} g of water.")
    for part in wet:
        draft.tell(f"{capital(part.name)}: {_working(part)} = {grams(_water(part))}.")
    draft.tell(f"All the water: {grams(water)}.")
    working = f"{grams(water)} ÷ {amount(flour, 'g')} × 100"
    draft.tell(f"{working} = {worked(answer, '%', TENTH)}.")
    _slips(draft, bread, wet, water)


def water_percent(part: Part) -> Fraction:
    """Water in 100 g, rounded as a person would remember it."""
    return Fraction(round(ingredient(part.key).water_g))


def _slips(draft: Draft, bread: Bread, wet: list[Part], water: Fraction) -> None:
    flour = bread.flour_g
    plain = sum((p.mass_g for p in wet if p.role == "water"), Fraction(0))
    liquid = sum((p.mass_g for p in wet if p.role in _LIQUID), Fraction(0))
    names = [p.name for p in wet if p.role in ("dairy", "egg")]
    part_wet = " and ".join(names) or "the liquids"
    draft.slip(
        "milk_as_water",
        100 * liquid / flour,
        f"You counted all the weight of {part_wet} as water. Part of it is fat, sugar "
        "and protein; take only the water.",
    )
    draft.slip("everything_as_water", 100 * sum(p.mass_g for p in wet) / flour)
    draft.slip("liquids_forgotten", 100 * plain / flour)
    draft.slip(
        "hidden_water_forgotten",
        100 * sum((_water(p) for p in wet if p.role in _LIQUID), Fraction(0)) / flour,
        "Look at the solid ingredients again: butter, honey or yeast bring some "
        "water as well.",
    )
    draft.slip(
        "percent_of_dough",
        100 * water / bread.dough_g,
        "You divided by the whole dough. Hydration compares with the flour alone, "
        f"{amount(flour, 'g')}.",
    )


_LIQUID = ("water", "dairy", "egg")


def _water(part: Part) -> Fraction:
    return part.mass_g * water_percent(part) / 100


def _working(part: Part) -> str:
    return f"{decimal(part.mass_g)} × {decimal(water_percent(part) / 100)}"


def _row(part: Part) -> tuple[str, str, str]:
    return part.name, amount(part.mass_g, "g"), amount(water_percent(part), "%")


def _wet_count(bread: Bread) -> int:
    moist = any(
        p.role in ("dairy", "egg") and water_percent(p) >= _DRY for p in bread.parts
    )
    plain = not bread.has("starter") and moist
    return sum(water_percent(p) >= _DRY for p in bread.others) if plain else 0


def _few(bread: Bread) -> bool:
    return 1 <= _wet_count(bread) <= 3


def _some(bread: Bread) -> bool:
    return 2 <= _wet_count(bread) <= 4


def _many(bread: Bread) -> bool:
    return _wet_count(bread) >= 4


def _raw_egg(wet: list[Part]) -> str:
    if any(p.role == "egg" for p in wet):
        return "Raw egg and raw flour are not for tasting: bake the dough first."
    return ""


def _picture(wet: list[Part], flour: Fraction) -> str:
    rows = [("flour", Fraction(100), "100 %")]
    rows += [
        (p.name, 100 * p.mass_g / flour, f"{decimal(water_percent(p))} % of it water")
        for p in wet
    ]
    inner = {p.name: water_percent(p) / 100 for p in wet}
    return bars(rows, title="Flour, and how much of each is water", filled=inner)
