"""What a scale can weigh: risk, the least amount, and a stock for tiny ones."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.words import TENTH, amount, decimal, grams, worked

__all__ = ["weighing_risk"]

_STEPS = (Fraction(1), Fraction(1), Fraction(1, 2), Fraction(2), Fraction(5))
_SCALES = tuple(Fraction(n, 10) for n in (1, 2, 5, 10, 20, 50, 100))
_LIMITS = tuple(Fraction(n, 2) for n in (2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20))


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
            f"scale with steps of {amount(step, 'g')} can be off by half a step either "
            "way. By how many **percent** of the amount can it be off at most? Round "
            "to one decimal (0.1 %)."
        ),
        given=(
            (part.name, amount(mass, "g")),
            ("step of the scale", amount(step, "g")),
        ),
        answer=answer,
        unit="%",
        step=TENTH,
    )
    _help_risk(draft, bread, mass, step)
    return draft


def _help_risk(draft: Draft, bread: Bread, mass: Fraction, step: Fraction) -> None:
    answer = draft.number
    draft.hint("How many grams is half a step?")
    draft.hint(f"Half a step is {amount(step / 2, 'g')}. Compare it with the amount.")
    draft.hint(f"Start like this: {decimal(step / 2)} ÷ {decimal(mass)}.")
    draft.tell(f"Half a step: {amount(step / 2, 'g')}.")
    draft.tell(
        f"{decimal(step / 2)} ÷ {decimal(mass)} × 100 = {worked(answer, '%', TENTH)}."
    )
    draft.tell(
        "A baker who can be off by more than 5 % takes a finer scale or a measuring "
        "spoon; for yeast also a stock: some yeast stirred into water, and a part of "
        "that weighed."
    )
    draft.slip("whole_step", 100 * step / mass)
    draft.slip(
        "percent_of_dough",
        50 * step / bread.dough_g,
        f"You divided by the whole dough. Here 100 % is {amount(mass, 'g')}, what you "
        "weigh.",
    )
    draft.slip("grams_as_percent", step / 2)
    draft.slip("upside_down", 2 * mass / step)


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
    _help_least(draft, step, limit)
    return draft


def _help_least(draft: Draft, step: Fraction, limit: Fraction) -> None:
    answer = draft.number
    draft.hint("Half a step may be only a small part of the amount.")
    draft.hint(
        f"Half a step, {amount(step / 2, 'g')}, is {amount(limit, '%')} of what?"
    )
    draft.hint(
        f"Start like this: 1 % of the amount is {decimal(step / 2)} ÷ {decimal(limit)}."
    )
    draft.tell(f"Half a step is {amount(step / 2, 'g')}.")
    draft.tell(
        f"That is {decimal(limit)} % of the amount, so all of it is "
        f"{decimal(step / 2)} ÷ {decimal(limit / 100)} = {worked(answer, 'g', TENTH)}."
    )
    draft.slip("whole_step", 100 * step / limit)
    draft.slip("upside_down", step * limit / 200)
    draft.slip(
        "percent_as_grams",
        limit,
        f"{amount(limit, '%')} is not {amount(limit, 'g')}: it is a part of the amount "
        "that you look for.",
    )


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
    _help_stock(draft, wanted, yeast, tenfold)
    return draft


def _help_stock(draft: Draft, wanted: Fraction, yeast: Fraction, tenfold: int) -> None:
    water, answer = yeast * (tenfold - 1), draft.number
    draft.hint("How much does the whole stock weigh, and how much of it is yeast?")
    draft.hint(f"The stock weighs {decimal(yeast)} + {decimal(water)} g.")
    draft.hint(f"1 g of yeast is in {decimal(yeast + water)} ÷ {decimal(yeast)} g.")
    draft.tell(
        f"The stock: {decimal(yeast)} + {decimal(water)} = {grams(yeast + water)}."
    )
    draft.tell(
        f"For 1 g of yeast: {decimal(yeast + water)} ÷ {decimal(yeast)} = {tenfold} g."
    )
    draft.tell(f"{decimal(wanted)} × {tenfold} = {worked(answer, 'g', Fraction(1))}.")
    draft.slip(
        "part_of_whole",
        wanted * (tenfold - 1),
        "You compared yeast with the water alone. The stock is water and yeast "
        "together.",
    )
    draft.slip("upside_down", wanted / tenfold)
    draft.slip("difference_for_ratio", wanted + water)
    draft.slip("one_for_one", wanted * yeast)


def _with_small(bread: Bread) -> bool:
    return bread.has("salt") and not bread.has("starter")
