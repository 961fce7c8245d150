"""What the oven takes away: dough, baked bread and the loss between them."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import TENTH, amount, decimal, rounded, worked
from bakelab.ranges import band

__all__ = ["baked_mass", "usual_loss"]


def baked_mass(draw: Draw, level: int) -> Draft:
    """Level 1 the loss, 2 the baked loaf, 3 the dough for a wanted loaf."""
    bread = draw_bread(draw, 1, _with_loss)
    loss = usual_loss(draw, bread)
    dough = Fraction(draw.whole(40, 190) * 10)
    loaf = rounded(dough * (100 - loss) / 100, Fraction(5))
    if level == 1:
        return _ask_loss(bread, dough, loaf)
    if level == 2:
        return _ask_loaf(bread, dough, loss)
    return _ask_dough(bread, loaf, loss)


def usual_loss(draw: Draw, bread: Bread) -> Fraction:
    """A whole percentage within the usual band of the style."""
    known = band(bread.style, "bake_loss")
    low, high = (known.low, known.high) if known else (10.0, 12.0)
    return Fraction(draw.whole(int(low + 0.99), int(high)))


def _ask_loss(bread: Bread, dough: Fraction, loaf: Fraction) -> Draft:
    answer = 100 * (dough - loaf) / dough
    draft = Draft(
        question=(
            f"*{bread.title}*: {amount(dough, 'g')} of dough goes into the oven. "
            f"Cooled, the bread weighs {amount(loaf, 'g')}. What is the **bake loss**, "
            "as a percentage of the **dough**? Round to one decimal (0.1 %)."
        ),
        given=(("dough", amount(dough, "g")), ("cooled bread", amount(loaf, "g"))),
        answer=answer,
        unit="%",
        step=TENTH,
        picture=_loss_picture(dough, loaf, "cooled bread"),
    )
    _help_with_loss(draft, dough, loaf)
    return draft


def _help_with_loss(draft: Draft, dough: Fraction, loaf: Fraction) -> None:
    lost, answer = dough - loaf, draft.number
    draft.hint("What has gone? Mostly water, as steam.")
    draft.hint(
        "Subtract the bread from the dough, then compare the loss with the dough."
    )
    draft.hint(f"Lost: {decimal(dough)} − {decimal(loaf)} grams.")
    draft.tell(f"Lost: {decimal(dough)} − {decimal(loaf)} = {amount(lost, 'g')}.")
    draft.tell(
        f"Of the dough: {decimal(lost)} ÷ {decimal(dough)} × 100 = "
        f"{worked(answer, '%', TENTH)}."
    )
    draft.slip("loss_of_loaf", 100 * lost / loaf)
    draft.slip("part_for_the_rest", 100 * loaf / dough)
    draft.slip("grams_as_percent", lost)
    draft.slip("upside_down", 100 * dough / loaf)


def _ask_loaf(bread: Bread, dough: Fraction, loss: Fraction) -> Draft:
    answer = dough * (100 - loss) / 100
    draft = Draft(
        question=(
            f"The dough of *{bread.title}* loses {amount(loss, '%')} of its weight in "
            f"the oven. You put in {amount(dough, 'g')} of dough. What does the cooled "
            "**bread** weigh? Round to a whole number (1 g)."
        ),
        given=(("dough", amount(dough, "g")), ("bake loss", amount(loss, "%"))),
        answer=answer,
        unit="g",
        picture=_loss_picture(dough, answer, "cooled bread", "cooled bread"),
    )
    _help_with_loaf(draft, dough, loss)
    return draft


def _help_with_loaf(draft: Draft, dough: Fraction, loss: Fraction) -> None:
    left = 100 - loss
    draft.hint("The bread is lighter than its dough.")
    draft.hint(f"If {amount(loss, '%')} is lost, how many percent are left?")
    draft.hint(f"Left: 100 − {decimal(loss)} percent.")
    draft.tell(f"Left: 100 − {decimal(loss)} = {amount(left, '%')}.")
    loaf = worked(draft.number, "g", Fraction(1))
    draft.tell(f"{decimal(dough)} × {decimal(left / 100)} = {loaf}.")
    draft.slip("part_for_the_rest", dough * loss / 100)
    draft.slip(
        "loss_added",
        dough * (100 + loss) / 100,
        "You added the loss. Bread is lighter than its dough: take the loss away.",
    )
    draft.slip("loss_of_loaf", dough * 100 / (100 + loss))
    draft.slip("percent_as_grams", dough - loss, _parts_of_dough(loss))


def _ask_dough(bread: Bread, loaf: Fraction, loss: Fraction) -> Draft:
    answer = loaf * 100 / (100 - loss)
    draft = Draft(
        question=(
            f"A batch of *{bread.title}* should weigh **{amount(loaf, 'g')}** once "
            f"cooled. In the oven it loses {amount(loss, '%')} of the weight of its "
            "**dough**. How many grams of dough do you put in? Round to a whole number "
            "(1 g)."
        ),
        given=(("cooled bread", amount(loaf, "g")), ("bake loss", amount(loss, "%"))),
        answer=answer,
        unit="g",
        picture=_loss_picture(answer, loaf, "cooled bread", "dough"),
        caution=(
            "Where bread is sold by weight, local law says how much a loaf must weigh: "
            "look it up before you rely on this number."
        ),
    )
    _help_with_dough(draft, loaf, loss)
    return draft


def _help_with_dough(draft: Draft, loaf: Fraction, loss: Fraction) -> None:
    left, answer = 100 - loss, draft.number
    draft.hint("The dough is heavier than the bread. Which of the two is 100 %?")
    draft.hint(f"The bread is {amount(left, '%')} of the dough. The dough is 100 %.")
    draft.hint(f"1 % of the dough is {amount(loaf, 'g')} ÷ {decimal(left)}.")
    draft.tell(
        f"The bread is 100 − {decimal(loss)} = {amount(left, '%')} of the dough."
    )
    draft.tell(
        f"Dough: {decimal(loaf)} ÷ {decimal(left / 100)} = "
        f"{worked(answer, 'g', Fraction(1))}."
    )
    draft.slip(
        "loss_added",
        loaf * (100 + loss) / 100,
        f"You added {amount(loss, '%')} of the bread. The loss is a part of the dough, "
        f"which is larger: divide by {decimal(left / 100)} instead.",
    )
    draft.slip("loss_taken_away", loaf * left / 100)
    draft.slip("loss_forgotten", loaf)
    draft.slip("percent_as_grams", loaf + loss, _parts_of_dough(loss))


def _parts_of_dough(loss: Fraction) -> str:
    return (
        f"{amount(loss, '%')} is not {amount(loss, 'g')}: it means "
        f"{amount(loss, 'g')} of every 100 g of dough."
    )


def _with_loss(bread: Bread) -> bool:
    known = band(bread.style, "bake_loss")
    return known is not None and int(known.high) > int(known.low + 0.99)


def _loss_picture(dough: Fraction, loaf: Fraction, name: str, asked: str = "") -> str:
    rows = [("dough", dough, amount(dough, "g")), (name, loaf, amount(loaf, "g"))]
    return bars(rows, title="Dough and bread by weight", asked=asked)
