"""Two published bread cards of an army kitchen, and what can be checked on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families import manual
from bakelab.lessons.words import CENT, TENTH, amount, decimal, worked

__all__ = ["CARDS", "published"]

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
    draft.hint(f"Start like this: {_oz(batches * ounces)} ÷ {_oz(flour)}.")
    draft.tell(f"All the flour: {_oz(flour)} oz is 100 %.")
    draft.tell(
        f"{_oz(batches * ounces)} ÷ {_oz(flour)} × 100 = {worked(answer, '%', CENT)}."
    )
    draft.slip("percent_of_dough", 100 * ounces / card.total)
    draft.slip("upside_down", 100 * card.flour / ounces)
    for flour_name, mass in card.ounces:
        if "flour" in flour_name and mass != card.flour and flour_name != name:
            draft.slip("one_flour_only", 100 * ounces / mass)
    return draft


def _from_card(card: Card, batches: Fraction, name: str) -> Draft:
    times = (
        ""
        if batches == 1
        else f" The weights are {decimal(batches)} times those of the card."
    )
    return Draft(
        question=(
            f"A card of the US Army: *{card.name}*.{times} Work out the baker's "
            f"percentage of the **{name}**. Round to two decimals (0.01 %)."
        ),
        given=[(n, f"{_oz(batches * m)} oz") for n, m in card.ounces],
        answer=F(1),
        unit="%",
        step=CENT,
        source=card.source,
    )


def _batch_check(draw: Draw) -> Draft:
    """What is left of the dough; printed: 8 loaves of 28 oz from one batch."""
    card = CARDS[0]
    batches, loaves, loaf = _loaves_of_a_batch(draw, card.total)
    dough = batches * card.total
    times = "" if batches == 1 else f", {decimal(batches)} times the card"
    draft = Draft(
        question=(
            f"*{card.name}*{times}: all the ingredients "
            f"together weigh {decimal(dough)} oz. {decimal(loaves)} loaves of "
            f"{amount(loaf, 'oz')} of dough are cut from it. What **share of the "
            "dough**, in percent, is left over? Round to one decimal (0.1 %)."
        ),
        given=(
            ("all ingredients", amount(dough, "oz")),
            ("loaves", decimal(loaves)),
            ("dough for one loaf", amount(loaf, "oz")),
        ),
        answer=100 * (dough - loaves * loaf) / dough,
        unit="%",
        step=TENTH,
        source=card.source,
    )
    _help_with_batch(draft, dough, loaves, loaf)
    return draft


def _loaves_of_a_batch(
    draw: Draw, total: Fraction
) -> tuple[Fraction, Fraction, Fraction]:
    """Batches, how many loaves are cut from them, and ounces of dough in a loaf."""
    batches, loaf = F(draw.whole(1, 6)), F(draw.whole(20, 30))
    most = int(batches * total / loaf)
    loaves = F(draw.whole(max(1, most - 3), most))
    if draw.yes(8):
        batches, loaves, loaf = F(1), F(8), F(28)
    return batches, loaves, loaf


def _help_with_batch(
    draft: Draft, dough: Fraction, loaves: Fraction, loaf: Fraction
) -> None:
    used = loaves * loaf
    answer = 100 * (dough - used) / dough
    draft.hint("How much dough do the loaves take?")
    draft.hint(f"The loaves: {decimal(loaves)} × {decimal(loaf)} oz.")
    draft.hint(
        "Subtract that from the dough, then compare what is left with the dough."
    )
    draft.tell(f"The loaves: {decimal(loaves)} × {decimal(loaf)} = {decimal(used)} oz.")
    draft.tell(
        f"Left: {decimal(dough)} − {decimal(used)} = {decimal(dough - used)} oz."
    )
    draft.tell(
        f"{decimal(dough - used)} ÷ {decimal(dough)} × 100 = "
        f"{worked(answer, '%', TENTH)}."
    )
    draft.slip("part_for_the_rest", 100 * used / dough)
    draft.slip("percent_of_part", 100 * (dough - used) / used)
    draft.slip("grams_as_percent", dough - used)


def _spoon_check(draw: Draw) -> Draft:
    """The sugar of card D 009: half a cup is 3 1/2 oz, one tablespoon 3/4 oz?"""
    spoons = F(draw.whole(2, 24), 2)
    answer = spoons * F(7, 2) / 8
    draft = Draft(
        question=(
            "On the card *White bread (short-time)*, ½ cup of sugar weighs 3.5 oz. On "
            "another line 1 tablespoon of sugar is said to weigh 0.75 oz: that cannot "
            "be true as well. A cup has 16 tablespoons. By the first line, how many "
            f"ounces of sugar are in **{_spoons(spoons)}**? Round to two "
            "decimals (0.01 oz)."
        ),
        given=(
            ("half a cup of sugar", "3.5 oz"),
            ("tablespoons in half a cup", "8"),
            ("tablespoons wanted", decimal(spoons)),
        ),
        answer=answer,
        unit="oz",
        step=CENT,
        source=CARDS[0].source,
    )
    _help_with_spoons(draft, spoons)
    return draft


def _spoons(count: Fraction) -> str:
    return f"{decimal(count)} tablespoon{'s' if count > 1 else ''}"


def _help_with_spoons(draft: Draft, spoons: Fraction) -> None:
    answer = worked(spoons * F(7, 2) / 8, "oz", CENT)
    draft.hint("How many tablespoons are in half a cup?")
    draft.hint("8 tablespoons weigh 3.5 oz. What does one weigh?")
    draft.hint("One tablespoon: 3.5 ÷ 8.")
    draft.tell("One tablespoon: 3.5 ÷ 8 = 0.4375 oz, not 0.75 oz.")
    draft.tell(f"{decimal(spoons)} × 0.4375 = {answer}.")
    draft.slip("printed_believed", spoons * F(3, 4))
    draft.slip("half_cup_as_cup", spoons * F(7, 2) / 16)
    draft.slip("upside_down", spoons * 8 / F(7, 2))


def _oz(ounces: Fraction) -> str:
    """Ounces as the cards print them: eighths as decimals, thirds as fractions."""
    if 1000 % ounces.denominator == 0:
        return decimal(ounces)
    whole, rest = divmod(ounces, 1)
    return f"{whole} {rest.numerator}/{rest.denominator}" if whole else str(rest)


_TASKS: dict[int, tuple[Callable[[Draw], Draft], ...]] = {
    1: (manual.portions, manual.stock_on_hand, manual.portion_size),
    2: (_card_percent,),
    3: (manual.quarter_ounces, manual.gallons, _batch_check, _spoon_check),
}
