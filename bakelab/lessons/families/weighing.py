"""What a scale shows: the cost of rounding, and the risk of small amounts."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import TENTH, one_plain_flour
from bakelab.lessons.tins import LIDDED, draw_tin
from bakelab.lessons.words import amount, decimal, rounded, shown

__all__ = ["rounding_cost", "weighing_risk"]

_STEPS = (Fraction(1), Fraction(1), Fraction(1, 2), Fraction(2), Fraction(5))
_SCALES = tuple(Fraction(n, 10) for n in (1, 2, 5, 10, 20, 50, 100))
_LIMITS = tuple(Fraction(n, 2) for n in (2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20))
_CENT = Fraction(1, 100)


def rounding_cost(draw: Draw, level: int) -> Draft:
    """Level 1 off by how much, 2 the percentage after it, 3 a factor rounded early."""
    if level == 3:
        return _factor_cost(draw)
    bread = draw_bread(draw, level, _salted)
    part = next(p for p in bread.parts if p.role == "salt")
    flour = Fraction(draw.whole(230, 780))
    percent = rounded(100 * part.mass_g / bread.flour_g, TENTH)
    weighed = flour * percent / 100
    step = draw.pick(_STEPS[:3])
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
    off = abs(shows - mass)
    draft.hint("How many grams are you off?")
    draft.hint("Compare those grams with what you wanted.")
    draft.hint(f"Off by {amount(off, 'g')} of {amount(mass, 'g')}.")
    draft.tell(f"Off by: {amount(off, 'g')}.")
    draft.tell(f"{decimal(off)} ÷ {decimal(mass)} × 100 = {shown(answer, TENTH)} %.")
    draft.slip("percent_of_flour", 100 * off / bread.flour_g)
    draft.slip("grams_as_percent", off)
    draft.slip("part_for_the_rest", 100 * shows / mass)
    draft.slip("upside_down", mass / off if off else Fraction(0))
    return draft


def _percent_after(
    bread: Bread, part: Part, flour: Fraction, percent: Fraction, step: Fraction
) -> Draft:
    mass = flour * percent / 100
    shows = rounded(mass, step)
    answer = 100 * shows / flour
    draft = Draft(
        question=(
            f"*{bread.title}*: {amount(flour, 'g')} of flour and "
            f"{amount(percent, '%')} "
            f"**{part.name}**. Work out the {part.name}, round it to what your scale "
            f"shows (steps of {amount(step, 'g')}), and say which baker's percentage "
            "you **really** weigh. Round to two decimals (0.01 %)."
        ),
        given=(
            ("flour", amount(flour, "g")),
            (part.name, amount(percent, "%")),
            ("step of the scale", amount(step, "g")),
        ),
        answer=answer,
        unit="%",
        step=_CENT,
    )
    draft.hint("First the exact weight, then what the scale can show.")
    draft.hint(f"The exact weight is {amount(percent, '%')} of {amount(flour, 'g')}.")
    draft.hint(f"That is {decimal(mass)} g. What does the scale show?")
    draft.tell(
        f"Exact: {decimal(flour)} × {decimal(percent / 100)} = {decimal(mass)} g."
    )
    draft.tell(f"The scale shows {amount(shows, 'g')}.")
    draft.tell(f"{decimal(shows)} ÷ {decimal(flour)} × 100 = {shown(answer, _CENT)} %.")
    draft.slip("rounding_forgotten", percent)
    down = mass // step * step
    draft.slip("rounded_down", 100 * (down if down != shows else down + step) / flour)
    draft.slip("upside_down", flour / shows)
    draft.slip(
        "percent_of_dough", 100 * shows / (flour * bread.dough_g / bread.flour_g)
    )
    return draft


def _factor_cost(draw: Draw) -> Draft:
    old, new = draw_tin(draw, LIDDED[:8]), draw_tin(draw, LIDDED[:8])
    flour = Fraction(draw.whole(30, 90) * 10)
    ratio = new.usable / old.usable
    early = rounded(ratio, TENTH)
    answer = abs(early - ratio) * flour
    draft = Draft(
        question=(
            f"The old tin holds {amount(old.usable, 'cm³')}, the new one "
            f"{amount(new.usable, 'cm³')}; the old recipe takes {amount(flour, 'g')} "
            "of "
            "flour. Someone rounds the ratio of the volumes to **one decimal** before "
            "multiplying. By how many grams of **flour** is that off? Keep all digits "
            "of the exact way. Round to one decimal (0.1 g)."
        ),
        given=(
            ("old tin", amount(old.usable, "cm³")),
            ("new tin", amount(new.usable, "cm³")),
            ("flour", amount(flour, "g")),
        ),
        answer=answer,
        unit="g",
        step=TENTH,
    )
    digits = _digits(ratio)
    right, off = rounded(flour * ratio, _CENT), flour * early
    draft.hint("Do it both ways: with all digits, and with the rounded ratio.")
    draft.hint("The ratio is new volume over old volume.")
    draft.hint(f"The ratio is {digits}; rounded early it is {decimal(early)}.")
    draft.tell(f"Exact: {decimal(flour)} × {digits} = {decimal(right)} g.")
    draft.tell(
        f"Rounded early: {decimal(flour)} × {decimal(early)} = {decimal(off)} g."
    )
    draft.tell(f"Off by {shown(answer, TENTH)} g. Round once, at the end.")
    draft.slip("ratio_for_grams", 100 * abs(early - ratio))
    draft.slip("upside_down", abs(rounded(1 / ratio, TENTH) - 1 / ratio) * flour)
    draft.slip("answer_of_the_other_question", off)
    draft.slip("answer_of_the_other_question", flour * ratio)
    return draft


def weighing_risk(draw: Draw, level: int) -> Draft:
    """Level 1 the risk, 2 the least amount to weigh, 3 a stock of yeast in water."""
    bread = draw_bread(draw, level, _with_small)
    if level == 2:
        return _least(draw)
    if level == 3:
        return _stock(draw)
    part = draw.pick([p for p in bread.others if p.mass_g < 25])
    return _risk(bread, part, draw.pick(_STEPS))


def _risk(bread: Bread, part: Part, step: Fraction) -> Draft:
    mass = part.mass_g
    answer = 50 * step / mass
    draft = Draft(
        question=(
            f"*{bread.title}*: you need {amount(mass, 'g')} of **{part.name}**. A "
            "scale "
            f"with steps of {amount(step, 'g')} can be off by half a step either way. "
            "By how many **percent** of the amount can it be off? Round to one decimal "
            "(0.1 %)."
        ),
        given=(
            (part.name, amount(mass, "g")),
            ("step of the scale", amount(step, "g")),
        ),
        answer=answer,
        unit="%",
        step=TENTH,
    )
    draft.hint("How many grams is half a step?")
    draft.hint(f"Half a step is {amount(step / 2, 'g')}. Compare it with the amount.")
    draft.hint(f"Start so: {decimal(step / 2)} ÷ {decimal(mass)}.")
    draft.tell(f"Half a step: {amount(step / 2, 'g')}.")
    draft.tell(
        f"{decimal(step / 2)} ÷ {decimal(mass)} × 100 = {shown(answer, TENTH)} %."
    )
    draft.tell("Over 5 % is worth a finer scale, a spoon, or a stock.")
    draft.slip("whole_step", 100 * step / mass)
    draft.slip("percent_of_dough", 50 * step / bread.dough_g)
    draft.slip("grams_as_percent", step / 2)
    draft.slip("upside_down", 2 * mass / step)
    return draft


def _least(draw: Draw) -> Draft:
    step, limit = draw.pick(_SCALES), draw.pick(_LIMITS)
    answer = 50 * step / limit
    draft = Draft(
        question=(
            f"A scale shows steps of {amount(step, 'g')} and can be off by half a "
            "step. "
            f"You accept being off by at most **{amount(limit, '%')}**. What is the "
            "**smallest amount** you may weigh on it? Round to one decimal (0.1 g)."
        ),
        given=(
            ("step of the scale", amount(step, "g")),
            ("at most", amount(limit, "%")),
        ),
        answer=answer,
        unit="g",
        step=TENTH,
    )
    draft.hint("Half a step may be only a small part of the amount.")
    draft.hint(
        f"Half a step, {amount(step / 2, 'g')}, is {amount(limit, '%')} of what?"
    )
    draft.hint(f"Start so: {decimal(step / 2)} ÷ {decimal(limit)} is 1 %.")
    draft.tell(f"Half a step is {amount(step / 2, 'g')}.")
    draft.tell(
        f"That is {decimal(limit)} % of the amount, so all of it is "
        f"{decimal(step / 2)} ÷ {decimal(limit / 100)} = {shown(answer, TENTH)} g."
    )
    draft.slip("whole_step", 100 * step / limit)
    draft.slip("upside_down", step * limit / 200)
    draft.slip("percent_as_grams", limit)
    return draft


def _stock(draw: Draw) -> Draft:
    yeast, tenfold = Fraction(draw.whole(3, 12)), draw.pick((10, 20, 25))
    water = yeast * (tenfold - 1)
    wanted = Fraction(draw.whole(2, 18), 10)
    answer = wanted * tenfold
    draft = Draft(
        question=(
            f"A dough needs only {amount(wanted, 'g')} of instant yeast. You stir "
            f"{amount(yeast, 'g')} of yeast into {amount(water, 'g')} of water and "
            "weigh out a part of that **stock**. How many grams of stock hold the "
            "yeast you need? Round to a whole number (1 g)."
        ),
        given=(
            ("yeast wanted", amount(wanted, "g")),
            ("yeast in the stock", amount(yeast, "g")),
            ("water in the stock", amount(water, "g")),
        ),
        answer=answer,
        unit="g",
        caution="Use the stock at once, and take its water off the dough's water.",
    )
    draft.hint("How much does the whole stock weigh, and how much of it is yeast?")
    draft.hint(f"The stock weighs {decimal(yeast)} + {decimal(water)} g.")
    draft.hint(f"1 g of yeast is in {decimal(yeast + water)} ÷ {decimal(yeast)} g.")
    draft.tell(f"The stock: {decimal(yeast)} + {decimal(water)} = {_g(yeast + water)}.")
    draft.tell(
        f"For 1 g of yeast: {decimal(yeast + water)} ÷ {decimal(yeast)} = {tenfold} g."
    )
    draft.tell(f"{decimal(wanted)} × {tenfold} = {shown(answer, Fraction(1))} g.")
    draft.slip(
        "part_of_whole",
        wanted * (tenfold - 1),
        "You compared yeast with the water alone. The stock is water and yeast "
        "together.",
    )
    draft.slip("upside_down", wanted / tenfold)
    draft.slip("difference_for_ratio", wanted + water)
    draft.slip("one_for_one", wanted * yeast)
    return draft


def _salted(bread: Bread) -> bool:
    return one_plain_flour(bread) and bread.has("salt")


def _with_small(bread: Bread) -> bool:
    return bread.has("salt") and not bread.has("starter")


def _digits(ratio: Fraction) -> str:
    """Four digits after the point, with dots where there are more."""
    return f"{decimal(ratio)}{'' if 10000 % ratio.denominator == 0 else '…'}"


def _g(mass: Fraction) -> str:
    return amount(mass, "g")
