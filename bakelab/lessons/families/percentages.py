"""Weight to percentage, percentage to weight, and share of the dough."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import (
    TENTH,
    amount,
    decimal,
    grams,
    percent_step,
    rounded,
    shown,
    step_text,
    worked,
)

__all__ = ["dough_share", "one_plain_flour", "percent_to_weight", "weight_to_percent"]


def weight_to_percent(draw: Draw, level: int) -> Draft:
    """One flour; which percentage of it is an ingredient?"""
    bread = draw_bread(draw, level, one_plain_flour)
    part = draw.pick(_asked_parts(bread, level))
    answer = 100 * part.mass_g / bread.flour_g
    step = percent_step(answer)
    draft = Draft(
        question=(
            f"The recipe of *{bread.title}* is in grams. Work out the **{part.name}** "
            f"as a percentage of the flour. Round {step_text(step, '%')}."
        ),
        given=weights(bread),
        answer=answer,
        unit="%",
        step=step,
        picture=_two_bars(part.name, answer, "100 %"),
    )
    _help_to_percent(draft, bread, part)
    return draft


def _help_to_percent(draft: Draft, bread: Bread, part: Part) -> None:
    mass, flour = amount(part.mass_g, "g"), amount(bread.flour_g, "g")
    draft.hint("Which ingredient is always 100 % in a baker's formula?")
    draft.hint("Flour is 100 %. So compare with the flour alone, not with the dough.")
    draft.hint(f"Start like this: {mass} ÷ {flour}.")
    draft.tell(f"The flour is 100 %: {flour}.")
    draft.tell(
        f"The {part.name}, divided by the flour, times 100: "
        f"{mass} ÷ {flour} × 100 = {worked(draft.number, '%', draft.step)}."
    )
    _percent_slips(draft, bread, part)


def percent_to_weight(draw: Draw, level: int) -> Draft:
    """Flour and a percentage; how many grams is that?"""
    bread = draw_bread(draw, level, one_plain_flour)
    part = draw.pick(_asked_parts(bread, level))
    flour = bread.flour_g
    percent = readable_percent(100 * part.mass_g / flour)
    answer = percent * flour / 100
    step = TENTH if answer < 30 else Fraction(1)
    draft = Draft(
        question=(
            f"You bake *{bread.title}* with {amount(flour, 'g')} of flour. The "
            f"formula says {amount(percent, '%')} **{part.name}**. How many grams is "
            f"that? Round {step_text(step, 'g')}."
        ),
        given=(("flour", amount(flour, "g")), (part.name, amount(percent, "%"))),
        answer=answer,
        unit="g",
        step=step,
        picture=_two_bars(part.name, percent, f"100 % = {amount(flour, 'g')}"),
    )
    _help_to_weigh(draft, part, flour, percent)
    return draft


def _help_to_weigh(
    draft: Draft, part: Part, flour: Fraction, percent: Fraction
) -> None:
    answer, step = draft.number, draft.step
    draft.hint("Percent means: so many parts for every 100 parts of flour.")
    draft.hint(f"With 100 g of flour it would be {amount(percent, 'g')}.")
    draft.hint(f"How many times 100 g is {amount(flour, 'g')}? Multiply by that.")
    draft.tell(f"For 100 g of flour: {amount(percent, 'g')} of {part.name}.")
    draft.tell(f"{amount(flour, 'g')} is {decimal(flour / 100)} times 100 g.")
    draft.tell(
        f"{decimal(percent)} × {decimal(flour / 100)} = {worked(answer, 'g', step)}."
    )
    _weight_slips(draft, part, flour, percent)


def dough_share(draw: Draw, level: int) -> Draft:
    """Share of the dough, kept apart from baker's percent."""
    bread = draw_bread(draw, level, one_plain_flour)
    part = draw.pick(bread.parts if level > 1 else bread.flours + bread.others[:1])
    answer = 100 * part.mass_g / bread.dough_g
    step = percent_step(answer)
    liquids = [p for p in bread.others if p.key in _OR]
    either = liquids[0] if level == 3 and len(liquids) == 1 else None
    draft = Draft(
        question=(
            f"All the ingredients of *{bread.title}* go into one bowl. Work out the "
            f"**{part.name}** as a share of the **whole dough**, in percent."
            f"{_or_words(either)} Round {step_text(step, '%')}."
        ),
        given=(*weights(bread), *_or_row(either)),
        answer=answer,
        unit="%",
        step=step,
    )
    _share_solution(draft, bread, part, step)
    _share_slips(draft, bread, part)
    if either is not None:
        both = bread.dough_g + _instead(either)
        draft.slip("summed_alternatives", 100 * part.mass_g / both)
    return draft


def one_plain_flour(bread: Bread) -> bool:
    """One flour, nothing with flour hidden in it, one stage."""
    return (
        len({p.key for p in bread.flours}) == 1
        and len(bread.stages) == 1
        and not bread.has("starter")
    )


def weights(bread: Bread) -> tuple[tuple[str, str], ...]:
    """The recipe as a table of weights."""
    return tuple((p.name, amount(p.mass_g, "g")) for p in bread.parts)


def readable_percent(percent: Fraction) -> Fraction:
    """As a formula prints it: whole percent, tenths of the small ones."""
    step = Fraction(1) if percent >= 12 else TENTH
    return rounded(percent, step) or Fraction(1, 10)


def _asked_parts(bread: Bread, level: int) -> list[Part]:
    """At first an ingredient of some weight; later any but the flour."""
    least = bread.flour_g / (10 if level == 1 else 1000)
    return [p for p in bread.others if p.mass_g >= least]


def _two_bars(name: str, percent: Fraction, flour: str) -> str:
    rows = [("flour", Fraction(100), flour), (name, percent, "")]
    return bars(rows, title=f"Flour and {name} as bars", asked=name)


def _percent_slips(draft: Draft, bread: Bread, part: Part) -> None:
    flour = amount(bread.flour_g, "g")
    draft.slip(
        "percent_of_dough",
        100 * part.mass_g / bread.dough_g,
        f"You divided by all of the dough, {amount(bread.dough_g, 'g')}. 100 % is "
        f"the flour alone, {flour}.",
    )
    draft.slip(
        "upside_down",
        100 * bread.flour_g / part.mass_g,
        f"You divided the flour by the {part.name}. Turn it round: divide by the "
        "flour, which is 100 %.",
    )
    draft.slip(
        "percent_of_the_rest",
        100 * part.mass_g / (bread.dough_g - part.mass_g),
        f"You divided by everything else in the bowl. 100 % is the flour alone, "
        f"{flour}.",
    )
    draft.slip(
        "sum_is_100",
        100 * part.mass_g / (bread.flour_g + part.mass_g),
        f"You divided by flour and {part.name} together. 100 % is the flour alone, "
        f"{flour}.",
    )


def _weight_slips(draft: Draft, part: Part, flour: Fraction, percent: Fraction) -> None:
    draft.slip("percent_as_grams", percent)
    draft.slip(
        "upside_down",
        100 * flour / percent,
        "You divided by the percentage. Less than 100 % must give less than the "
        "flour, more than 100 % gives more.",
    )
    draft.slip(
        "sum_is_100",
        flour * percent / (100 + percent),
        f"You took flour and {part.name} together as 100 %. The flour alone is 100 %.",
    )
    draft.slip(
        "left_over",
        flour * (100 - percent) / 100,
        "You took the percentage away from the flour. Nothing is taken away: the "
        f"flour stays {amount(flour, 'g')}, and the weight of the {part.name} is "
        "added.",
    )


_OR = {
    "water": ("whole milk", Fraction(11, 10)),
    "milk_whole": ("water", Fraction(9, 10)),
}


def _instead(part: Part) -> Fraction:
    """Weight of the other liquid that the recipe leaves a choice of."""
    return rounded(part.mass_g * _OR[part.key][1], Fraction(5))


def _or_words(part: Part | None) -> str:
    if part is None:
        return ""
    other = _OR[part.key][0]
    return (
        f" The recipe leaves a choice between {part.name} and {other}; you take the "
        f"{part.name}."
    )


def _or_row(part: Part | None) -> tuple[tuple[str, str], ...]:
    if part is None:
        return ()
    return ((f"or, instead of {part.name}: {_OR[part.key][0]}", grams(_instead(part))),)


def _share_solution(draft: Draft, bread: Bread, part: Part, step: Fraction) -> None:
    dough = amount(bread.dough_g, "g")
    total = " + ".join(decimal(p.mass_g) for p in bread.parts)
    draft.hint("Here 100 % is everything in the bowl, not the flour.")
    draft.hint("Add up all the weights first.")
    draft.hint(f"The dough weighs {dough}. Divide by that.")
    draft.tell(f"The dough: {total} = {dough}.")
    draft.tell(
        f"{amount(part.mass_g, 'g')} ÷ {dough} × 100 = "
        f"{worked(100 * part.mass_g / bread.dough_g, '%', step)}."
    )
    draft.tell(
        "Baker's percent would compare with the flour: "
        f"{shown(100 * part.mass_g / bread.flour_g, step)} %. Always say which of "
        "the two you mean."
    )


def _share_slips(draft: Draft, bread: Bread, part: Part) -> None:
    flour, dough = amount(bread.flour_g, "g"), amount(bread.dough_g, "g")
    draft.slip(
        "percent_of_flour",
        100 * part.mass_g / bread.flour_g,
        f"That is baker's percent: you divided by the flour, {flour}. The dough "
        f"weighs {dough}.",
    )
    draft.slip(
        "forgot_itself",
        100 * part.mass_g / (bread.dough_g - part.mass_g),
        f"The dough holds the {part.name} as well. Add this weight to the sum before "
        "you divide.",
    )
    draft.slip("upside_down", 100 * bread.dough_g / part.mass_g)
