"""How much dough: so many pieces of a weight."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.bake_loss import usual_loss
from bakelab.lessons.families.percentages import readable_percent
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import TENTH, amount, decimal, rounded, worked
from bakelab.ranges import band

__all__ = ["pieces"]

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
    loss = usual_loss(draw, bread) if level == 3 else Fraction(0)
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


def _percent_lines(bread: Bread) -> list[tuple[str, Fraction]]:
    flour = bread.flour_g
    lines = [("flour", Fraction(100))]
    for part in bread.others:
        name = part.name if part.stage == "dough" else f"{part.name} ({part.stage})"
        lines.append((name, readable_percent(100 * part.mass_g / flour)))
    return lines


def _loss_words(loss: Fraction) -> str:
    return f"; {amount(loss, '%')} of the dough is lost in the oven" if loss else ""


def _in_pieces(bread: Bread) -> bool:
    usual = band(bread.style, "bake_loss") is not None
    return bread.style in _PIECES and usual


def _picture(total: Fraction, *, told: bool) -> str:
    rows = [
        ("the whole dough", total, amount(total, "%")),
        ("flour in it", Fraction(100), "100 %"),
    ]
    asked = "" if told else "the whole dough"
    return bars(rows, title="The flour inside the whole dough", asked=asked)
