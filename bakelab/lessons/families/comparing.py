"""The same ratio or not: two doughs side by side, and a dough put right again."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bakelab.lessons.bread import Bread, draw_bread
from bakelab.lessons.drafting import Draft, Draw
from bakelab.lessons.families.percentages import one_plain_flour
from bakelab.lessons.pictures import bars
from bakelab.lessons.words import decimal, grams, rounded, shown, worked

__all__ = ["BOTH", "compare_ratios"]

BOTH = "both are equally soft"
_A, _B = "dough A", "dough B"


@dataclass(frozen=True)
class _Dough:
    flour: Fraction
    water: Fraction

    @property
    def ratio(self) -> Fraction:
        return self.water / self.flour


def compare_ratios(draw: Draw, level: int) -> Draft:
    """Level 1 which is softer, 2 the same dough again, 3 too much water put right."""
    bread = draw_bread(draw, level, _plain)
    first = _Dough(bread.flour_g, _water(bread))
    other = Fraction(draw.whole(4, 30) * 50)
    if other == first.flour:
        other += 250
    if level == 1:
        return _softer(draw, first, other)
    return _again(first, other) if level == 2 else _put_right(draw, bread, first)


def _softer(draw: Draw, first: _Dough, flour: Fraction) -> Draft:
    moved = Fraction(draw.pick((-6, -5, -4, 0, 4, 5, 6)), 100)
    second = _Dough(flour, rounded(flour * (first.ratio + moved), Fraction(5)))
    if not moved:
        times = draw.pick((Fraction(2), Fraction(3), Fraction(3, 2)))
        second = _Dough(first.flour * times, first.water * times)
    apart = second.ratio - first.ratio
    draft = Draft(
        question=(
            "Two doughs are mixed with the same kind of flour, water, and nothing else "
            "that matters. The more water for each gram of flour, the softer the "
            "dough. **Which one is softer?**"
        ),
        heading=("what", _A, _B),
        given=(
            ("flour", grams(first.flour), grams(second.flour)),
            ("water", grams(first.water), grams(second.water)),
        ),
        answer=BOTH if not apart else _B if apart > 0 else _A,
        choices=(_A, _B, BOTH),
        picture=_two_bars(first, second),
    )
    _help_softer(draft, first, second)
    return draft


def _help_softer(draft: Draft, first: _Dough, second: _Dough) -> None:
    places = Fraction(1, 1000)
    draft.hint("More water alone does not make a dough softer: look at the flour too.")
    draft.hint("How much water is there for each gram of flour?")
    draft.hint(f"Start like this: {decimal(first.water)} ÷ {decimal(first.flour)}.")
    for name, one in ((_A, first), (_B, second)):
        draft.tell(
            f"For {name}: {decimal(one.water)} ÷ {decimal(one.flour)} = "
            f"{shown(one.ratio, places)} g of water for each gram of flour."
        )
    draft.tell(f"So: {draft.answer}.")
    _slips_softer(draft, first, second)


def _slips_softer(draft: Draft, first: _Dough, second: _Dough) -> None:
    places = Fraction(1, 1000)
    wetter = _A if first.water > second.water else _B
    draft.slip(
        "one_amount_only",
        wetter,
        "You looked at the water alone. Ask how much water each gram of flour gets.",
    )
    draft.slip(
        "difference_for_ratio",
        _B if wetter == _A else _A,
        "Compare how many times, not how many grams less: divide water by flour.",
    )
    draft.slip(
        "difference_overlooked",
        BOTH,
        f"Divide for both: {shown(first.ratio, places)} and "
        f"{shown(second.ratio, places)}. They are not the same.",
    )


def _again(first: _Dough, flour: Fraction) -> Draft:
    draft = Draft(
        question=(
            f"One dough has {grams(first.flour)} of flour and {grams(first.water)} of "
            f"water. You want the **same dough** with {grams(flour)} of flour. How "
            "many grams of **water** does it need? Round to a whole number (1 g)."
        ),
        given=(
            ("flour", grams(first.flour)),
            ("water", grams(first.water)),
            ("flour of the new dough", grams(flour)),
        ),
        answer=flour * first.ratio,
        unit="g",
        picture=_old_and_new(first, flour),
    )
    draft.hint("The same dough means: the same water for each gram of flour.")
    draft.hint("How many times as much flour is it? The water takes the same factor.")
    draft.hint(f"The factor: {decimal(flour)} ÷ {decimal(first.flour)}.")
    _help_again(draft, first, flour)
    return draft


def _old_and_new(first: _Dough, flour: Fraction) -> str:
    rows = [
        ("flour", first.flour, grams(first.flour)),
        ("water", first.water, grams(first.water)),
        ("flour, new dough", flour, grams(flour)),
        ("water, new dough", flour * first.ratio, ""),
    ]
    title = "The first dough and the new one"
    return bars(rows, title=title, asked="water, new dough")


def _help_again(draft: Draft, first: _Dough, flour: Fraction) -> None:
    division = f"{decimal(first.water)} ÷ {decimal(first.flour)}"
    draft.tell(f"Water for each gram of flour: {division}.")
    draft.tell(
        f"{division} × {decimal(flour)} = {worked(draft.number, 'g', Fraction(1))}."
    )
    draft.slip("difference_for_ratio", first.water + flour - first.flour)
    draft.slip("upside_down", flour / first.ratio)
    draft.slip("factor_the_wrong_way", first.water * first.flour / flour)
    draft.slip("one_amount_only", first.water)


def _put_right(draw: Draw, bread: Bread, first: _Dough) -> Draft:
    spilt = Fraction(draw.whole(2, 16) * 5)
    draft = Draft(
        question=(
            f"The dough of *{bread.title}* takes {grams(first.flour)} of flour and "
            f"{grams(first.water)} of water. By mistake {grams(spilt)} **too much "
            "water** has gone in. How many grams of **flour** must be added so that "
            "the ratio is right again? Round to a whole number (1 g)."
        ),
        given=(
            ("flour", grams(first.flour)),
            ("water as planned", grams(first.water)),
            ("too much water", grams(spilt)),
        ),
        answer=spilt / first.ratio,
        unit="g",
    )
    _help_put_right(draft, first, spilt)
    return draft


def _help_put_right(draft: Draft, first: _Dough, spilt: Fraction) -> None:
    division = f"{decimal(first.flour)} ÷ {decimal(first.water)}"
    answer = worked(draft.number, "g", Fraction(1))
    draft.hint("The extra water needs flour of its own, in the same ratio.")
    draft.hint("How much flour goes with one gram of water in this dough?")
    draft.hint(f"For one gram of water: {division} g of flour.")
    draft.tell(f"Flour for each gram of water: {division}.")
    draft.tell(f"{decimal(spilt)} × {division} = {answer}.")
    draft.tell("Salt, yeast and the rest grow by the same factor as the flour.")
    draft.slip("difference_for_ratio", spilt)
    draft.slip("upside_down", spilt * first.ratio)
    draft.slip(
        "answer_of_the_other_question",
        first.flour + spilt / first.ratio,
        "That is all the flour of the new dough. The question asks what is added.",
    )


def _plain(bread: Bread) -> bool:
    """Flour and plain water, and no other liquid."""
    wet = bread.has("dairy") or bread.has("egg")
    return one_plain_flour(bread) and bread.has("water") and not wet


def _water(bread: Bread) -> Fraction:
    return sum((p.mass_g for p in bread.parts if p.role == "water"), Fraction(0))


def _two_bars(first: _Dough, second: _Dough) -> str:
    rows = [
        (f"{kind}, {name}", size, grams(size))
        for name, one in ((_A, first), (_B, second))
        for kind, size in (("flour", one.flour), ("water", one.water))
    ]
    return bars(rows, title="Flour and water of both doughs")
