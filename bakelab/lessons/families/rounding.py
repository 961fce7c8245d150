"""The cost of rounding: off by how much, what is really weighed, a rounded factor."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import one_plain_flour
from bakelab.lessons.tins import LIDDED, draw_tin
from bakelab.lessons.words import (
    CENT,
    TENTH,
    amount,
    decimal,
    digits,
    rounded,
    shown,
    worked,
)

__all__ = ["rounding_cost"]

_STEPS = (Fraction(1), Fraction(1), Fraction(1, 2))


def rounding_cost(draw: Draw, level: int) -> Draft:
    """Level 1 off by how much, 2 the percentage after it, 3 a factor rounded early."""
    if level == 3:
        return _factor_cost(draw)
    bread = draw_bread(draw, level, _salted)
    part = next(p for p in bread.parts if p.role == "salt")
    flour = Fraction(draw.whole(230, 780))
    percent = rounded(100 * part.mass_g / bread.flour_g, TENTH)
    weighed = flour * percent / 100
    step = draw.pick(_STEPS)
    if level == 1:
        return _off_by(bread, part, rounded(weighed, TENTH), step)
    return _percent_after(bread, part, flour, percent, step)


def _off_by(bread: Bread, part: Part, mass: Fraction, step: Fraction) -> Draft:
    shows = rounded(mass, step)
    answer = 100 * abs(shows - mass) / mass
    draft = Draft(
        question=(
            f"*{bread.title}*: you need {amount(mass, 'g')} of **{part.name}**. Your "
            "scale "
            f"shows steps of {amount(step, 'g')}, so you weigh "
            f"{amount(shows, 'g')}. By how many **percent** of the wanted {part.name} "
            "are you off? Round to one decimal (0.1 %)."
        ),
        given=(("wanted", amount(mass, "g")), ("weighed", amount(shows, "g"))),
        answer=answer,
        unit="%",
        step=TENTH,
    )
    _help_off_by(draft, bread, mass, shows)
    return draft


def _help_off_by(draft: Draft, bread: Bread, mass: Fraction, shows: Fraction) -> None:
    off, answer = abs(shows - mass), draft.number
    draft.hint("How many grams are you off?")
    draft.hint("Compare those grams with what you wanted.")
    draft.hint(f"Off by {amount(off, 'g')} of {amount(mass, 'g')}.")
    draft.tell(f"Off by: {amount(off, 'g')}.")
    draft.tell(
        f"{decimal(off)} ÷ {decimal(mass)} × 100 = {worked(answer, '%', TENTH)}."
    )
    draft.slip(
        "percent_of_flour",
        100 * off / bread.flour_g,
        f"You divided by the flour. Here 100 % is {amount(mass, 'g')}, as wanted.",
    )
    draft.slip("grams_as_percent", off)
    draft.slip("part_for_the_rest", 100 * shows / mass)
    draft.slip("upside_down", mass / off if off else Fraction(0))


def _percent_after(
    bread: Bread, part: Part, flour: Fraction, percent: Fraction, step: Fraction
) -> Draft:
    mass = flour * percent / 100
    shows = rounded(mass, step)
    answer = 100 * shows / flour
    draft = Draft(
        question=(
            f"*{bread.title}*: {amount(flour, 'g')} of flour and "
            f"{amount(percent, '%')} **{part.name}**. Work out the {part.name}, round "
            f"it to what your scale shows (steps of {amount(step, 'g')}), and work out "
            "the baker's percentage that you **really** weigh. Round to two decimals "
            "(0.01 %)."
        ),
        given=(
            ("flour", amount(flour, "g")),
            (part.name, amount(percent, "%")),
            ("step of the scale", amount(step, "g")),
        ),
        answer=answer,
        unit="%",
        step=CENT,
    )
    _help_percent_after(draft, bread, flour, percent, step)
    return draft


def _help_percent_after(
    draft: Draft, bread: Bread, flour: Fraction, percent: Fraction, step: Fraction
) -> None:
    mass, answer = flour * percent / 100, draft.number
    shows = rounded(mass, step)
    draft.hint("First the exact weight, then what the scale can show.")
    draft.hint(f"The exact weight is {amount(percent, '%')} of {amount(flour, 'g')}.")
    draft.hint(f"That is {decimal(mass)} g. What does the scale show?")
    draft.tell(
        f"Exact: {decimal(flour)} × {decimal(percent / 100)} = {decimal(mass)} g."
    )
    draft.tell(f"The scale shows {amount(shows, 'g')}.")
    draft.tell(
        f"{decimal(shows)} ÷ {decimal(flour)} × 100 = {worked(answer, '%', CENT)}."
    )
    draft.slip("rounding_forgotten", percent)
    down = mass // step * step
    draft.slip("rounded_down", 100 * (down if down != shows else down + step) / flour)
    draft.slip("upside_down", flour / shows)
    draft.slip(
        "percent_of_dough", 100 * shows / (flour * bread.dough_g / bread.flour_g)
    )


def _factor_cost(draw: Draw) -> Draft:
    old, new = draw_tin(draw, LIDDED[:8]), draw_tin(draw, LIDDED[:8])
    fills = draw.whole(14, 17)  # g of flour for 100 cm³ of a lidded tin
    flour = rounded(old.usable * fills / 100, Fraction(10))
    ratio = new.usable / old.usable
    draft = Draft(
        question=(
            f"The old pan holds {amount(old.usable, 'cm³')}, the new one "
            f"{amount(new.usable, 'cm³')}; the old recipe takes {amount(flour, 'g')} "
            "of flour. Someone rounds the ratio of the volumes to **one decimal** "
            "before multiplying. By how many grams of **flour** is that off? Keep all "
            "digits of the exact way. Round to one decimal (0.1 g)."
        ),
        given=(
            ("old pan", amount(old.usable, "cm³")),
            ("new pan", amount(new.usable, "cm³")),
            ("flour", amount(flour, "g")),
        ),
        answer=abs(rounded(ratio, TENTH) - ratio) * flour,
        unit="g",
        step=TENTH,
    )
    _help_factor_cost(draft, ratio, flour)
    return draft


def _help_factor_cost(draft: Draft, ratio: Fraction, flour: Fraction) -> None:
    early, answer = rounded(ratio, TENTH), draft.number
    exact, right = digits(ratio), digits(flour * ratio, CENT)
    off = flour * early
    draft.hint("Do it both ways: with all digits, and with the rounded ratio.")
    draft.hint("The ratio is the new volume divided by the old volume.")
    draft.hint(f"The ratio is {exact}; rounded early it is {decimal(early)}.")
    draft.tell(f"Exact: {decimal(flour)} × {exact} = {right} g.")
    draft.tell(
        f"Rounded early: {decimal(flour)} × {decimal(early)} = {decimal(off)} g."
    )
    draft.tell(f"Off by {shown(answer, TENTH)} g. Round once, at the end.")
    draft.slip("ratio_for_grams", 100 * abs(early - ratio))
    draft.slip("upside_down", abs(rounded(1 / ratio, TENTH) - 1 / ratio) * flour)
    draft.slip("answer_of_the_other_question", off)
    draft.slip("answer_of_the_other_question", flour * ratio)


def _salted(bread: Bread) -> bool:
    return one_plain_flour(bread) and bread.has("salt")
