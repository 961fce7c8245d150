"""What a ratio says: parts of flour to parts of water, before any percent."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import one_plain_flour
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import amount, decimal

__all__ = ["parts"]

# Flour to water in small whole numbers, by water as percent of flour.
_RATIOS = {
    Fraction(100 * water, flour): (flour, water)
    for flour, water in (
        (2, 1), (5, 3), (3, 2), (10, 7), (4, 3), (5, 4), (8, 5), (20, 13), (20, 11),
    )
}  # fmt: skip
_FARTHEST = 5
_STARTERS = (1, 2)


def parts(draw: Draw, level: int) -> Draft:
    """Level 1 from flour to water, 2 from the whole to a part, 3 with three parts."""
    bread = draw_bread(draw, level, _lean if level == 3 else _only_water)
    flour, water = _ratio(bread)
    if level == 1:
        return _from_flour(draw, bread.title, flour, water)
    starter = draw.pick(_STARTERS) * max(1, flour // 5) if level == 3 else 0
    return _from_whole(draw, bread.title, {"flour": flour, "water": water}, starter)


def _from_flour(draw: Draw, title: str, flour: int, water: int) -> Draft:
    part = Fraction(draw.whole(-(-200 // flour), 1500 // flour))
    known = part * flour
    draft = Draft(
        question=(
            f"For *{title}* the ratio of flour to water is **{flour} : {water}**. "
            f"You take {amount(known, 'g')} of flour. How many grams of **water** "
            "go with it? Round to a whole number (1 g)."
        ),
        given=(
            ("parts of flour", str(flour)),
            ("parts of water", str(water)),
            ("flour", amount(known, "g")),
        ),
        answer=part * water,
        unit="g",
        picture=_bars({"flour": flour, "water": water}),
    )
    _help_from_flour(draft, flour, water, part)
    return draft


def _help_from_flour(draft: Draft, flour: int, water: int, part: Fraction) -> None:
    known, answer = flour * part, draft.number
    draft.hint(f"The ratio says: for every {flour} parts of flour, {water} of water.")
    draft.hint("How much does one part weigh?")
    draft.hint(f"Start like this: {amount(known, 'g')} ÷ {flour} is one part.")
    draft.tell(f"One part weighs {decimal(known)} ÷ {flour} = {amount(part, 'g')}.")
    draft.tell(f"Water: {water} × {amount(part, 'g')} = {amount(answer, 'g')}.")
    draft.slip(
        "upside_down",
        known * flour / water,
        "You turned the ratio round: that would be more water than flour. Flour has "
        f"{flour} parts, water {water}.",
    )
    draft.slip(
        "part_of_whole",
        known * water / (flour + water),
        f"You shared the flour out into {flour + water} parts. The flour alone is "
        f"{flour} parts.",
    )
    draft.slip(
        "difference_for_ratio",
        known - (flour - water),
        "A ratio is not a difference: it says how many times, not how much less.",
    )


def _from_whole(draw: Draw, title: str, ratio: dict[str, int], starter: int) -> Draft:
    if starter:
        ratio = {**ratio, "starter": starter}
    asked = draw.pick(list(ratio))
    total = sum(ratio.values())
    part = Fraction(draw.whole(-(-400 // total), 3000 // total))
    whole = part * total
    sour = "starter is sourdough kept from the last bake; " if starter else ""
    names, numbers = " : ".join(ratio), " : ".join(map(str, ratio.values()))
    draft = Draft(
        question=(
            f"The dough of *{title}* is mixed in the ratio {names} = **{numbers}** "
            f"({sour}all the rest comes later). Together these must weigh "
            f"{amount(whole, 'g')}. How many grams of **{asked}** do you take? Round "
            "to a whole number (1 g)."
        ),
        given=(
            *((f"parts of {name}", str(count)) for name, count in ratio.items()),
            ("all together", amount(whole, "g")),
        ),
        answer=part * ratio[asked],
        unit="g",
        picture=_bars(ratio),
    )
    _help_from_whole(draft, ratio, asked, part)
    return draft


def _help_from_whole(
    draft: Draft, ratio: dict[str, int], asked: str, part: Fraction
) -> None:
    total = sum(ratio.values())
    whole, answer = part * total, draft.number
    draft.hint("How many parts are there in all?")
    sum_text = " + ".join(map(str, ratio.values()))
    draft.hint(f"All parts together: {sum_text}. What does one part weigh?")
    draft.hint(f"One part is {amount(whole, 'g')} divided by {total}.")
    draft.tell(f"Parts in all: {sum_text} = {total}.")
    draft.tell(f"One part weighs {decimal(whole)} ÷ {total} = {amount(part, 'g')}.")
    count = ratio[asked]
    draft.tell(
        f"{asked.capitalize()}: {count} × {decimal(part)} = {decimal(answer)} g."
    )
    _whole_slips(draft, ratio, asked, whole)


def _whole_slips(
    draft: Draft, ratio: dict[str, int], asked: str, whole: Fraction
) -> None:
    flour, count, total = ratio["flour"], ratio[asked], sum(ratio.values())
    draft.slip(
        "whole_as_flour",
        whole * count / flour,
        f"You took {amount(whole, 'g')} as the flour alone. It is everything "
        f"together, {total} parts.",
    )
    draft.slip(
        "equal_parts",
        whole / len(ratio),
        "You shared it out evenly. The parts are not alike: the ratio says how many "
        "each one gets.",
    )
    draft.slip(
        "part_of_whole",
        whole / total,
        f"That is one part. {asked.capitalize()} has {count} parts.",
    )
    draft.slip(
        "upside_down",
        whole * (total - count) / total,
        f"That is everything but the {asked}. Count the parts of {asked} alone.",
    )


def _ratio(bread: Bread) -> tuple[int, int]:
    water = sum(p.mass_g for p in bread.parts if p.role == "water")
    percent = 100 * water / bread.flour_g
    return _RATIOS[min(_RATIOS, key=lambda known: abs(known - percent))]


def _only_water(bread: Bread) -> bool:
    """Plain water alone makes the dough, near enough to a ratio of small numbers."""
    water = sum(p.mass_g for p in bread.parts if p.role == "water")
    percent = 100 * water / bread.flour_g
    near = min(abs(known - percent) for known in _RATIOS) <= _FARTHEST
    wet = bread.has("dairy") or bread.has("egg")
    return one_plain_flour(bread) and near and not wet


def _lean(bread: Bread) -> bool:
    """Yeast bread of flour, water and little else: it would rise on a starter too."""
    rich = bread.has("sweetener") or bread.has("dairy") or not bread.has("yeast")
    return _only_water(bread) and not rich


def _bars(ratio: dict[str, int]) -> str:
    rows = [
        (name, Fraction(count), f"{count} part{'s' if count > 1 else ''}")
        for name, count in ratio.items()
    ]
    return bars(rows, title=f"Parts of {', '.join(ratio)} as bars")
