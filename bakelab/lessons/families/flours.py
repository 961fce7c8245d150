"""Several flours in one bread: together they are 100 %."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, Part, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import readable_percent, weights
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import (
    TENTH,
    amount,
    and_list,
    decimal,
    digits,
    percent_step,
    step_text,
    worked,
)

__all__ = ["several_flours"]


def several_flours(draw: Draw, level: int) -> Draft:
    """Level 1 an ingredient, 2 any line, 3 from one flour to the other lines."""
    bread = draw_bread(draw, level, _mixed).together()
    if level == 3:
        return _from_one_flour(draw, bread)
    largest = max(bread.others, key=lambda p: p.mass_g)
    part = largest if level == 1 else draw.pick(bread.parts)
    return _to_percent(bread, part)


def _to_percent(bread: Bread, part: Part) -> Draft:
    answer = 100 * part.mass_g / bread.flour_g
    step = percent_step(answer)
    draft = Draft(
        question=(
            f"The recipe of *{bread.title}* has more than one flour{_starch(bread)}. "
            f"Work out the baker's percentage of the **{part.name}**. Round "
            f"{step_text(step, '%')}."
        ),
        given=weights(bread),
        answer=answer,
        unit="%",
        step=step,
        picture=_picture(bread),
        caution=_without_wheat(bread),
    )
    _help_to_percent(draft, bread, part)
    return draft


def _help_to_percent(draft: Draft, bread: Bread, part: Part) -> None:
    flour, step = amount(bread.flour_g, "g"), draft.step
    answer = draft.number
    sums = " + ".join(decimal(p.mass_g) for p in bread.flours)
    draft.hint("Which lines are flour? What are they all together?")
    draft.hint("All the flours together are 100 %; each one is a part of that.")
    draft.hint(f"Add up the flours: {sums}.")
    draft.tell(f"All flour: {sums} = {decimal(bread.flour_g)} g. That is 100 %.")
    draft.tell(
        f"The {part.name}: {amount(part.mass_g, 'g')} ÷ {flour} × 100 = "
        f"{worked(answer, '%', step)}."
    )
    for one in bread.flours:
        if one != part:
            draft.slip("one_flour_only", 100 * part.mass_g / one.mass_g, _only(one))
    draft.slip(
        "percent_of_dough",
        100 * part.mass_g / bread.dough_g,
        f"You divided by the whole dough, {amount(bread.dough_g, 'g')}. 100 % is all "
        f"the flour, {flour}.",
    )
    draft.slip("upside_down", 100 * bread.flour_g / part.mass_g)


def _from_one_flour(draw: Draw, bread: Bread) -> Draft:
    known = draw.pick(bread.flours)
    share = readable_percent(100 * known.mass_g / bread.flour_g)
    asked = draw.pick([p for p in bread.others if p.mass_g > bread.flour_g / 100])
    percent = readable_percent(100 * asked.mass_g / bread.flour_g)
    mass, answer = known.mass_g, known.mass_g * percent / share
    step = TENTH if answer < 30 else Fraction(1)
    draft = Draft(
        question=(
            f"*{bread.title}*: the **{known.name}** is {amount(share, '%')} of all "
            f"the flour, and the formula says {amount(percent, '%')} "
            f"**{asked.name}**. You have {amount(mass, 'g')} of {known.name} and want "
            f"to use it up. How many grams of {asked.name} do you need? Round "
            f"{step_text(step, 'g')}."
        ),
        given=(
            (known.name, amount(mass, "g")),
            (f"{known.name}, of all flour", amount(share, "%")),
            (asked.name, amount(percent, "%")),
        ),
        answer=answer,
        unit="g",
        step=step,
    )
    _help_from_one_flour(draft, known, asked, share, percent)
    return draft


def _help_from_one_flour(
    draft: Draft, known: Part, asked: Part, share: Fraction, percent: Fraction
) -> None:
    mass, step = known.mass_g, draft.step
    total, answer = 100 * mass / share, draft.number
    draft.hint(f"The {known.name} is not 100 %. How much flour is there in all?")
    draft.hint(f"If {amount(share, '%')} weighs {amount(mass, 'g')}, what is 1 %?")
    draft.hint(f"1 % is {amount(mass, 'g')} ÷ {decimal(share)}.")
    draft.tell(
        f"All flour: {decimal(mass)} ÷ {decimal(share)} × 100 = {_about(total)}."
    )
    draft.tell(
        f"The {asked.name}: {decimal(percent)} % of it, that is "
        f"{decimal(mass)} ÷ {decimal(share)} × {decimal(percent)} = "
        f"{worked(answer, 'g', step)}."
    )
    draft.slip("one_flour_only", mass * percent / 100, _only(known))
    draft.slip("percent_as_grams", percent)
    draft.slip(
        "percent_of_part",
        mass * share / 100 * percent / 100,
        f"You took {amount(share, '%')} of the {known.name}. Its weight is that "
        "share already; go up to all the flour.",
    )


def _mixed(bread: Bread) -> bool:
    return len({p.key for p in bread.flours}) > 1 and not bread.has("starter")


def _starch(bread: Bread) -> str:
    """Where a starch stands in for flour it counts as one; say so."""
    starches = [p.name for p in bread.flours if "flour" not in p.name]
    if not starches:
        return ""
    milled = [p.name for p in bread.others if p.name.startswith("ground")]
    not_flour = f", the {and_list(milled)} does not" if milled else ""
    return f" (the {starches[0]} counts as one{not_flour})"


def _without_wheat(bread: Bread) -> str:
    if not bread.style.startswith("gluten_free"):
        return ""
    return (
        "Without wheat is not yet gluten-free: flours and tools can carry traces, and "
        "local law says what may be called so."
    )


def _only(one: Part) -> str:
    return (
        f"You took the {one.name} alone as 100 %. All flours together are 100 %; add "
        "them up first."
    )


def _about(mass: Fraction) -> str:
    """To a tenth, with dots where more digits follow."""
    return f"{digits(mass, TENTH)} g"


def _picture(bread: Bread) -> str:
    rows = [("all flour", Fraction(100), "100 %")]
    rows += [
        (p.name, 100 * p.mass_g / bread.flour_g, "part of it") for p in bread.flours
    ]
    return bars(rows, title="All flour together is 100 %")
