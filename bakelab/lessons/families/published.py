"""Published kitchen arithmetic: two army bread cards and the manual's conversions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import TENTH
from bakelab.lessons.words import amount, decimal, rounded, shown

__all__ = ["CARDS", "published"]

_CENT, _QUARTER = Fraction(1, 100), Fraction(1, 4)
_ARITHMETIC = "US Army TM 10-412 (2003), cards A-1(2) and A-1(3)"
F = Fraction


@dataclass(frozen=True)
class Card:
    """A published formula for 100 portions, in ounces."""

    name: str
    source: str
    ounces: tuple[tuple[str, Fraction], ...]

    @property
    def flour(self) -> Fraction:
        return sum((m for n, m in self.ounces if "flour" in n), F(0))

    @property
    def total(self) -> Fraction:
        return sum((m for _, m in self.ounces), F(0))


# Weights as printed on the cards, pounds and ounces turned into ounces.
CARDS = (
    Card(
        "White bread (short-time), for 100 portions",
        "US Army TM 10-412 (2003), card D 009 00, en.wikisource.org",
        (
            ("active dry yeast", F(3)), ("water", 16 + F(66)),
            ("sugar", F(3, 4) + F(7, 2)), ("nonfat dry milk", F(29, 8)),
            ("bread flour", F(116) + F(38)), ("shortening (solid fat)", F(47, 8)),
            ("salt", F(15, 8)),
        ),
    ),
    Card(
        "Whole-wheat bread, for 100 portions",
        "US Army TM 10-412 (2003), card D 055 00, en.wikisource.org",
        (
            ("active dry yeast", F(5, 3)), ("water", F(25, 2) + F(66)),
            ("nonfat dry milk", F(9, 2)), ("sugar", F(85, 8)), ("salt", F(5, 2)),
            ("bread flour", F(68)), ("whole-wheat flour", F(56)),
            ("shortening (solid fat)", F(29, 4)),
        ),
    ),
)  # fmt: skip


def published(draw: Draw, level: int) -> Draft:
    """Level 1 working factors, 2 percentages of the cards, 3 ounces and checks."""
    return draw.pick(_TASKS[level])(draw)


def _portions(draw: Draw) -> Draft:
    portions = F(draw.whole(104, 480))
    pounds = F(draw.whole(5, 160), 20)
    answer = portions / 100 * pounds
    draft = Draft(
        question=(
            f"A recipe card is written for 100 portions. You need "
            f"**{decimal(portions)} portions**. The card says {amount(pounds, 'lb')} "
            "of "
            "flour. How many pounds (lb) do you take? Round to two decimals (0.01 lb)."
        ),
        given=(
            ("portions on the card", "100"),
            ("portions needed", decimal(portions)),
            ("flour on the card", amount(pounds, "lb")),
        ),
        answer=answer,
        unit="lb",
        step=_CENT,
        source=_ARITHMETIC,
    )
    factor = portions / 100
    draft.hint("How many times the card do you bake?")
    draft.hint("The working factor is portions needed over portions on the card.")
    draft.hint(f"The factor: {decimal(portions)} ÷ 100 = {decimal(factor)}.")
    draft.tell(f"Working factor: {decimal(portions)} ÷ 100 = {decimal(factor)}.")
    draft.tell(f"{decimal(pounds)} lb × {decimal(factor)} = {shown(answer, _CENT)} lb.")
    draft.slip("upside_down", pounds / factor)
    draft.slip("increase_only", pounds * (factor - 1))
    draft.slip("difference_for_ratio", pounds + factor)
    return draft


def _stock_on_hand(draw: Draw) -> Draft:
    needed, factor = F(draw.whole(20, 60)), F(draw.whole(110, 480), 100)
    on_hand = rounded(needed * factor, F(1))
    answer = on_hand / needed
    draft = Draft(
        question=(
            f"100 portions of a recipe take {amount(needed, 'lb')} of flour. There are "
            f"{amount(on_hand, 'lb')} in store, to be used up. What is the **working "
            "factor** for all the other ingredients? Round to two decimals (0.01)."
        ),
        given=(("for 100 portions", amount(needed, "lb")),
               ("in store", amount(on_hand, "lb"))),
        answer=answer,
        step=_CENT,
        source=_ARITHMETIC,
    )  # fmt: skip
    draft.hint("How often does the recipe's flour go into the store?")
    draft.hint("The factor is what you have over what the recipe takes.")
    draft.hint(f"Start so: {decimal(on_hand)} ÷ {decimal(needed)}.")
    draft.tell("Factor: what is in store over what the recipe takes.")
    draft.tell(f"{decimal(on_hand)} ÷ {decimal(needed)} = {shown(answer, _CENT)}.")
    draft.slip("upside_down", needed / on_hand)
    draft.slip("difference_for_ratio", on_hand - needed)
    draft.slip("increase_only", answer - 1)
    return draft


def _portion_size(draw: Draw) -> Draft:
    small, large = draw.pick(((2, 3), (3, 4), (2, 4), (3, 5), (4, 5), (2, 5)))
    new, old = (small, large) if draw.yes() else (large, small)
    portions, pounds = F(draw.whole(120, 400, 4)), F(draw.whole(4, 40), 4)
    factor = portions * new / old / 100
    answer = pounds * factor
    draft = Draft(
        question=(
            f"A card gives 100 portions of {old} oz. You serve {decimal(portions)} "
            f"portions of **{new} oz** each. The card says {amount(pounds, 'lb')} of "
            "flour. How many pounds (lb) do you take? Round to two decimals (0.01 lb)."
        ),
        given=(
            ("portion on the card", f"{old} oz"),
            ("your portion", f"{new} oz"),
            ("number of your portions", decimal(portions)),
            ("flour on the card", amount(pounds, "lb")),
        ),
        answer=answer,
        unit="lb",
        step=_CENT,
        source=_ARITHMETIC,
    )
    draft.hint("Two things change: the number of portions and their size.")
    draft.hint(f"One of your portions is {new} ÷ {old} of one on the card.")
    draft.hint(f"In portions of the card: {decimal(portions)} × {new} ÷ {old}.")
    draft.tell(
        f"In portions of the card: {decimal(portions)} × {new} ÷ {old} = "
        f"{decimal(portions * new / old)}."
    )
    draft.tell(
        f"Factor {decimal(factor)}; {decimal(pounds)} lb × {decimal(factor)} = "
        f"{shown(answer, _CENT)} lb."
    )
    draft.slip("size_forgotten", pounds * portions / 100)
    draft.slip("upside_down", pounds * portions / 100 * old / new)
    draft.slip("number_forgotten", pounds * new / old)
    return draft


def _card_percent(draw: Draw) -> Draft:
    card = draw.pick(CARDS)
    name, ounces = draw.pick([row for row in card.ounces if row[0] != "bread flour"])
    batches = F(draw.whole(1, 8))
    answer = 100 * ounces / card.flour
    draft = _from_card(card, batches, name)
    draft.answer = answer
    flour = batches * card.flour
    draft.hint("Which lines are flour? They are 100 % together.")
    draft.hint(f"All the flour weighs {_oz(flour)} oz.")
    draft.hint(f"Start so: {_oz(batches * ounces)} ÷ {_oz(flour)}.")
    draft.tell(f"All the flour: {_oz(flour)} oz is 100 %.")
    draft.tell(
        f"{_oz(batches * ounces)} ÷ {_oz(flour)} × 100 = {shown(answer, _CENT)} %."
    )
    draft.slip("percent_of_dough", 100 * ounces / card.total)
    draft.slip("upside_down", 100 * card.flour / ounces)
    for flour_name, mass in card.ounces:
        if "flour" in flour_name and mass != card.flour and flour_name != name:
            draft.slip("one_flour_only", 100 * ounces / mass)
    return draft


def _from_card(card: Card, batches: Fraction, name: str) -> Draft:
    times = "" if batches == 1 else f" Here it is {decimal(batches)} times the card."
    return Draft(
        question=(
            f"A card of the US Army: *{card.name}*.{times} Which baker's percentage is "
            f"the **{name}**? Round to two decimals (0.01 %)."
        ),
        given=[(n, f"{_oz(batches * m)} oz") for n, m in card.ounces],
        answer=F(1),
        unit="%",
        step=_CENT,
        source=card.source,
    )


def _quarter_ounces(draw: Draw) -> Draft:
    pounds = F(draw.whole(6, 94), 100)
    exact_oz = pounds * 16
    answer = rounded(exact_oz, _QUARTER)
    draft = Draft(
        question=(
            f"The factor gave **{amount(pounds, 'lb')}** of yeast. Turn that into "
            "ounces "
            "(a pound, lb, has 16 ounces, oz) and round to the nearest **quarter "
            "ounce**, as the manual asks."
        ),
        given=(("yeast", amount(pounds, "lb")), ("known", "16 oz in 1 lb")),
        answer=answer,
        unit="oz",
        step=_QUARTER,
        tolerance=_CENT,
        source=_ARITHMETIC,
    )
    draft.hint("First ounces, then quarters.")
    draft.hint(f"In ounces: {decimal(pounds)} × 16.")
    draft.hint(f"That is {decimal(exact_oz)} oz. Quarters end in .00, .25, .50, .75.")
    draft.tell(f"{decimal(pounds)} × 16 = {decimal(exact_oz)} oz.")
    draft.tell(f"The nearest quarter is {shown(answer, _QUARTER)} oz.")
    draft.slip("ounces_as_tenths", rounded(pounds * 10, _QUARTER))
    draft.slip(
        "rounding_forgotten",
        exact_oz,
        "It is still to be rounded to a quarter ounce: .00, .25, .50 or .75.",
    )
    down = exact_oz // _QUARTER * _QUARTER
    draft.slip("rounded_down", down if down != answer else down + _QUARTER)
    draft.slip("rounded_to_whole", rounded(exact_oz, F(1)))
    return draft


def _batch_check(draw: Draw) -> Draft:
    """Does the dough suffice for the loaves that are to be scaled?"""
    card = CARDS[0]
    batches, loaf = F(draw.whole(1, 6)), F(draw.whole(20, 30))
    most = int(batches * card.total / loaf)
    loaves = F(draw.whole(max(1, most - 3), most))
    dough, used = batches * card.total, loaves * loaf
    answer = 100 * (dough - used) / dough
    draft = Draft(
        question=(
            f"*{card.name}*, {decimal(batches)} times the card: all the ingredients "
            f"together weigh {decimal(dough)} oz. {decimal(loaves)} loaves of "
            f"{amount(loaf, 'oz')} of dough are cut from it. Which **share of the "
            "dough** is left over? Round to one decimal (0.1 %)."
        ),
        given=(
            ("all ingredients", amount(dough, "oz")),
            ("loaves", decimal(loaves)),
            ("dough for one loaf", amount(loaf, "oz")),
        ),
        answer=answer,
        unit="%",
        step=TENTH,
        source=card.source,
    )
    draft.hint("How much dough do the loaves take?")
    draft.hint(f"The loaves: {decimal(loaves)} × {decimal(loaf)} oz.")
    draft.hint("Take that from the dough and compare with the dough.")
    draft.tell(f"The loaves: {decimal(loaves)} × {decimal(loaf)} = {decimal(used)} oz.")
    draft.tell(
        f"Left: {decimal(dough)} − {decimal(used)} = {decimal(dough - used)} oz."
    )
    draft.tell(
        f"{decimal(dough - used)} ÷ {decimal(dough)} × 100 = {shown(answer, TENTH)} %."
    )
    draft.slip("part_for_the_rest", 100 * used / dough)
    draft.slip("percent_of_part", 100 * (dough - used) / used)
    draft.slip("grams_as_percent", dough - used)
    return draft


def _spoon_check(draw: Draw) -> Draft:
    """The sugar of card D 009: half a cup is 3 1/2 oz, one tablespoon 3/4 oz?"""
    spoons = F(draw.whole(2, 24), 2)
    answer = spoons * F(7, 2) / 8
    draft = Draft(
        question=(
            "On the card *White bread (short-time)*, ½ cup of sugar weighs 3.5 oz. On "
            "another line 1 tablespoon of sugar is said to weigh 0.75 oz: that cannot "
            "be true as well. A cup has 16 tablespoons. By the first line, how many "
            f"ounces are **{decimal(spoons)} tablespoons** of sugar? Round to two "
            "decimals (0.01 oz)."
        ),
        given=(
            ("half a cup of sugar", "3.5 oz"),
            ("tablespoons in half a cup", "8"),
            ("tablespoons wanted", decimal(spoons)),
        ),
        answer=answer,
        unit="oz",
        step=_CENT,
        source=CARDS[0].source,
    )
    draft.hint("How many tablespoons are half a cup?")
    draft.hint("8 tablespoons weigh 3.5 oz. What does one weigh?")
    draft.hint("One tablespoon: 3.5 ÷ 8.")
    draft.tell("One tablespoon: 3.5 ÷ 8 = 0.4375 oz, not 0.75 oz.")
    draft.tell(f"{decimal(spoons)} × 0.4375 = {shown(answer, _CENT)} oz.")
    draft.slip("printed_believed", spoons * F(3, 4))
    draft.slip("half_cup_as_cup", spoons * F(7, 2) / 16)
    draft.slip("upside_down", spoons * 8 / F(7, 2))
    return draft


def _oz(ounces: Fraction) -> str:
    """Ounces as the cards print them: eighths as decimals, thirds as fractions."""
    if 1000 % ounces.denominator == 0:
        return decimal(ounces)
    whole, rest = divmod(ounces, 1)
    return f"{whole} {rest.numerator}/{rest.denominator}" if whole else str(rest)


_TASKS: dict[int, tuple[Callable[[Draw], Draft], ...]] = {
    1: (_portions, _stock_on_hand, _portion_size),
    2: (_card_percent,),
    3: (_quarter_ounces, _batch_check, _spoon_check),
}
