"""How much dough: pieces of a weight, and what the oven takes away."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import TENTH, readable_percent
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import amount, decimal, rounded, worked
from bakelab.ranges import band

__all__ = ["baked_mass", "pieces"]

_PIECES = {
    "dinner_rolls": ("rolls", (40, 70, 5), (8, 36)),
    "crusty_rolls": ("rolls", (60, 100, 5), (6, 30)),
    "burger_buns": ("buns", (70, 110, 5), (4, 24)),
    "bagel": ("bagels", (90, 130, 5), (4, 24)),
    "pretzel": ("pretzels", (80, 120, 5), (6, 24)),
    "sweet_dough": ("rolls", (60, 100, 5), (8, 24)),
    "pizza_thin": ("pizza bases", (200, 300, 10), (2, 16)),
    "pita": ("breads", (80, 120, 5), (6, 20)),
    "naan": ("breads", (90, 140, 5), (4, 16)),
    "baguette": ("baguettes", (250, 400, 10), (2, 12)),
    "hearth_white": ("loaves", (400, 900, 50), (2, 8)),
    "white_pan": ("loaves", (450, 900, 50), (2, 8)),
    "doughnut": ("doughnuts", (40, 60, 5), (8, 30)),
    "english_muffin": ("muffins", (60, 90, 5), (6, 24)),
}


def pieces(draw: Draw, level: int) -> Draft:
    """Flour for so many pieces: level 1 total given, 2 to add up, 3 baked weight."""
    bread = draw_bread(draw, level, _in_pieces)
    name, weights, counts = _PIECES[bread.style]
    each, count = Fraction(draw.whole(*weights)), Fraction(draw.whole(*counts))
    lines = _percent_lines(bread)
    total = sum((p for _, p in lines), Fraction(0))
    loss = _loss(draw, bread) if level == 3 else Fraction(0)
    dough = count * each * 100 / (100 - loss)
    weighed = " each after baking" if loss else " of dough each"
    draft = Draft(
        question=(
            f"You want **{decimal(count)} {name}** of {amount(each, 'g')}{weighed}. "
            f"The formula of *{bread.title}* is in the table{_loss_words(loss)}. How "
            "many grams of **flour** do you weigh? Round to a whole number (1 g)."
        ),
        given=_given(level, lines, total, name, count, each, loss),
        answer=100 * dough / total,
        unit="g",
        picture=_picture(total, told=level == 1),
    )
    _solve_pieces(draft, lines, total, count, each, loss)
    _piece_slips(draft, total, count * each, each, loss)
    return draft


def _given(
    level: int,
    lines: list[tuple[str, Fraction]],
    total: Fraction,
    name: str,
    count: Fraction,
    each: Fraction,
    loss: Fraction,
) -> list[tuple[str, str]]:
    rows = [(label, amount(p, "%")) for label, p in lines]
    if level == 1:
        rows = [("flour", "100 %"), ("everything together", amount(total, "%"))]
    rows += [(f"number of {name}", decimal(count)), ("each", amount(each, "g"))]
    if loss:
        rows.append(("lost in the oven, of the dough", amount(loss, "%")))
    return rows


def _solve_pieces(
    draft: Draft,
    lines: list[tuple[str, Fraction]],
    total: Fraction,
    count: Fraction,
    each: Fraction,
    loss: Fraction,
) -> None:
    more = ", and some more, because they are weighed after baking" if loss else ""
    draft.hint("How much dough do you need in all?")
    draft.hint("The flour alone is 100 %. What percentage is the whole dough?")
    draft.hint(f"The dough: {decimal(count)} × {amount(each, 'g')}{more}.")
    wanted = count * each
    dough, sums = wanted * 100 / (100 - loss), " + ".join(decimal(p) for _, p in lines)
    draft.tell(f"Wanted: {decimal(count)} × {decimal(each)} = {amount(wanted, 'g')}.")
    if loss:
        draft.tell(
            f"What is left after baking is {decimal(100 - loss)} %, so the dough "
            "weighs "
            f"{decimal(wanted)} ÷ {decimal((100 - loss) / 100)} = "
            f"{amount(rounded(dough, TENTH), 'g')}."
        )
    if len(draft.given) > 4:
        draft.tell(f"All percentages: {sums} = {amount(total, '%')}.")
    draft.tell(
        f"The dough is {amount(total, '%')}, the flour 100 %: "
        f"{decimal(rounded(dough, TENTH))} ÷ {decimal(total / 100)} = "
        f"{worked(100 * dough / total, 'g', Fraction(1))}."
    )


def _piece_slips(
    draft: Draft, total: Fraction, wanted: Fraction, each: Fraction, loss: Fraction
) -> None:
    dough = wanted * 100 / (100 - loss)
    if loss:
        draft.slip("loss_forgotten", 100 * wanted / total)
        draft.slip("loss_added", wanted * (100 + loss) / total)
        draft.slip("loss_taken_away", wanted * (100 - loss) / total)
    draft.slip(
        "dough_taken_as_flour",
        dough,
        f"That is the dough. The flour is only 100 % of its {decimal(total)} %.",
    )
    draft.slip("sum_is_100", dough * (200 - total) / 100)
    draft.slip("flour_left_out_of_sum", 100 * dough / (total - 100))
    draft.slip("one_piece_only", 100 * each / total)
    draft.slip("upside_down", dough * total / 100)


def baked_mass(draw: Draw, level: int) -> Draft:
    """Level 1 the loss, 2 the baked loaf, 3 the dough for a wanted loaf."""
    bread = draw_bread(draw, 1, _with_loss)
    loss = _loss(draw, bread)
    dough = Fraction(draw.whole(40, 190) * 10)
    loaf = rounded(dough * (100 - loss) / 100, Fraction(5))
    if level == 1:
        return _ask_loss(bread, dough, loaf)
    if level == 2:
        return _ask_loaf(bread, dough, loss)
    return _ask_dough(bread, loaf, loss)


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


def _percent_lines(bread: Bread) -> list[tuple[str, Fraction]]:
    flour = bread.flour_g
    lines = [("flour", Fraction(100))]
    for part in bread.others:
        name = part.name if part.stage == "dough" else f"{part.name} ({part.stage})"
        lines.append((name, readable_percent(100 * part.mass_g / flour)))
    return lines


def _loss(draw: Draw, bread: Bread) -> Fraction:
    """A whole percentage within the usual band of the style."""
    known = band(bread.style, "bake_loss")
    low, high = (known.low, known.high) if known else (10.0, 12.0)
    return Fraction(draw.whole(int(low + 0.99), int(high)))


def _parts_of_dough(loss: Fraction) -> str:
    return (
        f"{amount(loss, '%')} is not {amount(loss, 'g')}: it means "
        f"{amount(loss, 'g')} of every 100 g of dough."
    )


def _loss_words(loss: Fraction) -> str:
    return f"; {amount(loss, '%')} of the dough is lost in the oven" if loss else ""


def _in_pieces(bread: Bread) -> bool:
    usual = band(bread.style, "bake_loss") is not None
    return bread.style in _PIECES and usual


def _with_loss(bread: Bread) -> bool:
    known = band(bread.style, "bake_loss")
    return known is not None and int(known.high) > int(known.low + 0.99)


def _picture(total: Fraction, *, told: bool) -> str:
    rows = [
        ("the whole dough", total, amount(total, "%")),
        ("flour in it", Fraction(100), "100 %"),
    ]
    asked = "" if told else "the whole dough"
    return bars(rows, title="The flour inside the whole dough", asked=asked)


def _loss_picture(dough: Fraction, loaf: Fraction, name: str, asked: str = "") -> str:
    rows = [("dough", dough, amount(dough, "g")), (name, loaf, amount(loaf, "g"))]
    return bars(rows, title="Dough and bread by weight", asked=asked)
