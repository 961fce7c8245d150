"""Conversion arithmetic of an army kitchen manual, with its printed examples."""

from __future__ import annotations

from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.words import CENT, amount, decimal, digits, rounded, shown, worked

__all__ = ["gallons", "portion_size", "portions", "quarter_ounces", "stock_on_hand"]

_QUARTER = Fraction(1, 4)
_SOURCE = "US Army TM 10-412 (2003), cards A-1(2) and A-1(3)"
_PRINTED_ONE_IN = 8
_SIZES = ((2, 3), (3, 4), (2, 4), (3, 5), (4, 5), (2, 5))


def portions(draw: Draw) -> Draft:
    """A card for 100 portions, another number wanted; printed: 348 and 1.25 lb."""
    wanted, pounds = Fraction(draw.whole(104, 480)), Fraction(draw.whole(5, 160), 20)
    if draw.yes(_PRINTED_ONE_IN):
        wanted, pounds = Fraction(348), Fraction(5, 4)
    draft = Draft(
        question=(
            f"A recipe card is written for 100 portions. You need **{decimal(wanted)} "
            f"portions**. The card says {amount(pounds, 'lb')} of flour. How many "
            "pounds (lb) do you take? Round to two decimals (0.01 lb)."
        ),
        given=(
            ("portions on the card", "100"),
            ("portions needed", decimal(wanted)),
            ("flour on the card", amount(pounds, "lb")),
        ),
        answer=wanted / 100 * pounds,
        unit="lb",
        step=CENT,
        source=_SOURCE,
    )
    _help_with_portions(draft, wanted / 100, pounds)
    return draft


def _help_with_portions(draft: Draft, factor: Fraction, pounds: Fraction) -> None:
    division = f"{decimal(100 * factor)} ÷ 100 = {decimal(factor)}"
    answer = worked(factor * pounds, "lb", CENT)
    draft.hint("How many times the card do you bake?")
    draft.hint(
        "The working factor is the portions needed divided by those on the card."
    )
    draft.hint(f"The factor: {division}.")
    draft.tell(f"Working factor: {division}.")
    draft.tell(f"{decimal(pounds)} lb × {decimal(factor)} = {answer}.")
    draft.slip("upside_down", pounds / factor)
    draft.slip("increase_only", pounds * (factor - 1))
    draft.slip("difference_for_ratio", pounds + factor)
    draft.slip("rounded_too_early", pounds * rounded(factor, Fraction(1)))


def stock_on_hand(draw: Draw) -> Draft:
    """The factor from what is in store; printed: 102 lb over 30 lb."""
    needed = Fraction(draw.whole(20, 60))
    in_store = rounded(needed * draw.whole(110, 480) / 100, Fraction(1))
    if draw.yes(_PRINTED_ONE_IN):
        needed, in_store = Fraction(30), Fraction(102)
    draft = Draft(
        question=(
            f"100 portions of a recipe take {amount(needed, 'lb')} of flour. There are "
            f"{amount(in_store, 'lb')} in store, to be used up. What is the **working "
            "factor**, the number that every other amount is multiplied by? Round to "
            "two decimals (0.01)."
        ),
        given=(
            ("for 100 portions", amount(needed, "lb")),
            ("in store", amount(in_store, "lb")),
        ),
        answer=in_store / needed,
        step=CENT,
        source=_SOURCE,
    )
    _help_with_stock(draft, needed, in_store)
    return draft


def _help_with_stock(draft: Draft, needed: Fraction, in_store: Fraction) -> None:
    factor = draft.number
    draft.hint("How many times the flour of the recipe is in store?")
    draft.hint("The factor is what you have, divided by what the recipe takes.")
    draft.hint(f"Start like this: {decimal(in_store)} ÷ {decimal(needed)}.")
    draft.tell("Factor: what is in store, divided by what the recipe takes.")
    draft.tell(f"{decimal(in_store)} ÷ {decimal(needed)} = {worked(factor, '', CENT)}.")
    draft.slip("upside_down", needed / in_store)
    draft.slip("difference_for_ratio", in_store - needed)
    draft.slip("increase_only", factor - 1)


def portion_size(draw: Draw) -> Draft:
    """Portions of another size; printed: 348 of 3 oz for 4 oz, 2 lb."""
    small, large = draw.pick(_SIZES)
    new, old = (small, large) if draw.yes() else (large, small)
    count, pounds = Fraction(draw.whole(120, 400, 4)), Fraction(draw.whole(4, 40), 4)
    if draw.yes(_PRINTED_ONE_IN):
        new, old, count, pounds = 3, 4, Fraction(348), Fraction(2)
    draft = Draft(
        question=(
            f"A card gives 100 portions of {old} oz. You serve {decimal(count)} "
            f"portions of **{new} oz** each. The card says {amount(pounds, 'lb')} of "
            "flour. How many pounds (lb) do you take? Round to two decimals (0.01 lb)."
        ),
        given=(
            ("portion on the card", f"{old} oz"),
            ("your portion", f"{new} oz"),
            ("number of your portions", decimal(count)),
            ("flour on the card", amount(pounds, "lb")),
        ),
        answer=pounds * count * new / old / 100,
        unit="lb",
        step=CENT,
        source=_SOURCE,
    )
    _help_with_size(draft, Fraction(new, old), count, pounds)
    return draft


def _help_with_size(
    draft: Draft, size: Fraction, count: Fraction, pounds: Fraction
) -> None:
    new, old = size.numerator, size.denominator
    of_card = count * size
    working = f"{decimal(count)} × {new} ÷ {old}"
    draft.hint("Two things change: the number of portions and their size.")
    draft.hint(f"One of your portions is {new} ÷ {old} of one on the card.")
    draft.hint(f"In portions of the card: {working}.")
    draft.tell(f"In portions of the card: {working} = {digits(of_card)}.")
    draft.tell(
        f"Factor {digits(of_card / 100)}; {decimal(pounds)} lb × "
        f"{digits(of_card / 100)} = {worked(pounds * of_card / 100, 'lb', CENT)}."
    )
    draft.slip("size_forgotten", pounds * count / 100)
    draft.slip("upside_down", pounds * count / 100 / size)
    draft.slip("number_forgotten", pounds * size)


def quarter_ounces(draw: Draw) -> Draft:
    """Decimal pounds into ounces and quarters; printed: 0.35 lb."""
    pounds = Fraction(draw.whole(6, 94), 100)
    if draw.yes(_PRINTED_ONE_IN):
        pounds = Fraction(35, 100)
    answer = rounded(pounds * 16, _QUARTER)
    draft = Draft(
        question=(
            f"The working factor gave **{amount(pounds, 'lb')}** of yeast. Turn that "
            "into ounces (a pound, lb, has 16 ounces, oz) and round to the nearest "
            "**quarter ounce**, as the manual asks."
        ),
        given=(("yeast", amount(pounds, "lb")), ("known", "16 oz in 1 lb")),
        answer=answer,
        unit="oz",
        step=_QUARTER,
        tolerance=CENT,
        source=_SOURCE,
    )
    _help_with_quarters(draft, pounds, answer)
    return draft


def _help_with_quarters(draft: Draft, pounds: Fraction, answer: Fraction) -> None:
    ounces = pounds * 16
    draft.hint("First ounces, then quarters.")
    draft.hint(f"In ounces: {decimal(pounds)} × 16.")
    draft.hint(f"That is {decimal(ounces)} oz. Quarters end in .00, .25, .50, .75.")
    draft.tell(f"{decimal(pounds)} × 16 = {decimal(ounces)} oz.")
    draft.tell(f"The nearest quarter is {shown(answer, _QUARTER)} oz.")
    draft.slip("ounces_as_tenths", rounded(pounds * 10, _QUARTER))
    draft.slip(
        "rounding_forgotten",
        ounces,
        "It is still to be rounded to a quarter ounce: .00, .25, .50 or .75.",
    )
    down = ounces // _QUARTER * _QUARTER
    draft.slip("rounded_down", down if down != answer else down + _QUARTER)
    draft.slip("rounded_to_whole", rounded(ounces, Fraction(1)))


def gallons(draw: Draw) -> Draft:
    """Decimal gallons into quarts; printed: 6 gal times 3.33."""
    card, factor = Fraction(draw.whole(2, 9)), Fraction(draw.whole(105, 450), 100)
    if draw.yes(_PRINTED_ONE_IN):
        card, factor = Fraction(6), Fraction(333, 100)
    draft = Draft(
        question=(
            f"A card says {amount(card, 'gal')} of water. Every amount is multiplied "
            f"by the working factor **{decimal(factor)}**. How many **quarts** is "
            "that? A gallon (gal) has 4 quarts. Round to two decimals (0.01)."
        ),
        given=(
            ("water on the card", amount(card, "gal")),
            ("working factor", decimal(factor)),
            ("quarts in a gallon", "4"),
        ),
        answer=4 * card * factor,
        unit="quarts",
        step=CENT,
        source=_SOURCE,
    )
    _help_with_gallons(draft, card, factor)
    return draft


def _help_with_gallons(draft: Draft, card: Fraction, factor: Fraction) -> None:
    answer = draft.number
    in_gallons = f"{decimal(card)} × {decimal(factor)}"
    draft.hint("First the gallons you need, then smaller measures.")
    draft.hint(f"Gallons: {in_gallons}.")
    draft.hint("Each gallon is 4 quarts.")
    draft.tell(f"Gallons: {in_gallons} = {decimal(card * factor)}.")
    draft.tell(f"{decimal(card * factor)} × 4 = {worked(answer, 'quarts', CENT)}.")
    draft.slip("factor_the_wrong_way", card * factor / 4)
    draft.slip("unit_swapped_only", card * factor)
    draft.slip("upside_down", 4 * card / factor)
