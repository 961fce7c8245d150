"""Estimate first: any exercise with a number, to be answered in the head."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from bakelab.lessons.drafting import Draft
from bakelab.lessons.item import Item
from bakelab.lessons.words import amount, decimal, rounded

__all__ = ["ESTIMATED", "estimate_of"]

_ROUNDING = re.compile(r" Round to [^.]*?(?:\(0?\.?\d+(?:\.\d+)? ?[^)]*\)|\d+ \S+)\.")
_WITHIN = Fraction(1, 10)


def estimate_of(item: Item) -> Draft:
    """The same question, within a tenth of the exact answer and without paper."""
    question = _ROUNDING.sub("", item.question)
    draft = Draft(
        question=(
            f"**In your head first.** {question} An estimate within a tenth of the "
            "exact answer counts as right."
        ),
        heading=item.heading,
        given=item.given,
        answer=item.answer_value,
        unit=item.unit,
        step=item.rounding,
        tolerance=abs(item.answer_value) * _WITHIN,
        then=item.family,
        caution=item.caution,
        source=item.source,
    )
    draft.hint("Make the numbers easy: one or two digits of each are enough.")
    draft.hint(item.hints[1])
    draft.hint(item.hints[2])
    draft.tell(_easy_way(item))
    for step in item.solution:
        draft.tell(step)
    for one in item.distractors:
        draft.slip(one.misconception, one.value, one.look_at)
    return draft


def _easy_way(item: Item) -> str:
    """A route in easy numbers that ends within the tenth."""
    answer = item.answer_value
    for digits in (1, 2, 3):
        words, about = ESTIMATED[item.family](item, digits)
        if abs(about - answer) <= abs(answer) * _WITHIN * 4 / 5:
            break
    return f"In easy numbers: {words}, about {amount(_easy(about, 2), item.unit)}."


def _part_of_flour(item: Item, digits: int) -> tuple[str, Fraction]:
    flour, percent = (_easy(_number(row[1]), digits) for row in item.given)
    return f"{decimal(percent)} % of {decimal(flour)} g", flour * percent / 100


def _percentage(item: Item, digits: int) -> tuple[str, Fraction]:
    name = re.findall(r"\*\*(.+?)\*\*", item.question)[0]
    flour, part = Fraction(0), Fraction(0)
    for label, mass in item.given:
        flour += _number(mass) if "flour" in label else 0
        part += _number(mass) if label == name else 0
    flour, part = _easy(flour, digits), _easy(part, digits)
    return _in_hundredths(part, flour)


def _in_hundredths(part: Fraction, whole: Fraction) -> tuple[str, Fraction]:
    """By way of one percent, which is easy to take of any number."""
    one = amount(whole / 100, "g")
    times = decimal(_easy(100 * part / whole, 2))
    words = (
        f"1 % of {decimal(whole)} g is {one}; {decimal(part)} g is {times} times that"
    )
    return words, 100 * part / whole


def _loss(item: Item, digits: int) -> tuple[str, Fraction]:
    first, second = (_easy(_number(row[1]), digits) for row in item.given)
    if item.unit == "%":
        first, second = (_number(row[1]) for row in item.given)
        lost, whole = _easy(first - second, digits), _easy(first, digits)
        return _in_hundredths(lost, whole)
    if item.given[0][0] == "dough":
        return _less(first, second)
    return (
        f"{decimal(first)} g and a little over {decimal(second)} % more",
        first * 100 / (100 - second),
    )


def _less(dough: Fraction, loss: Fraction) -> tuple[str, Fraction]:
    words = f"{decimal(dough)} g less {decimal(loss)} % of it"
    return words, dough * (100 - loss) / 100


def _same_dough(item: Item, digits: int) -> tuple[str, Fraction]:
    flour, water, third = (_easy(_number(row[1]), digits) for row in item.given)
    if item.level == 2:
        times = decimal(_easy(third / flour, 2))
        words = f"{decimal(third)} is about {times} times {decimal(flour)}"
        return f"{words}, so that many times {decimal(water)} g", water * third / flour
    words = f"{decimal(water)} g of water takes {decimal(flour)} g of flour, so "
    words += f"{decimal(third)} g of water takes its share of that"
    return words, third * flour / water


ESTIMATED: Mapping[str, Callable[[Item, int], tuple[str, Fraction]]] = {
    "percent_to_weight": _part_of_flour,
    "weight_to_percent": _percentage,
    "baked_mass": _loss,
    "compare_ratios": _same_dough,
}
"""Families that are estimated, each with its way in easy numbers."""


def _easy(value: Fraction, digits: int) -> Fraction:
    """A number with only its first digits kept, rounded."""
    if not value:
        return value
    power = Fraction(10) ** (len(str(int(abs(value)))) - digits)
    if abs(value) < 1:
        power = Fraction(1, 10 ** (digits + 1 if abs(value) < _WITHIN else digits))
    return rounded(value, power)


def _number(text: str) -> Fraction:
    return Fraction(text.split(maxsplit=1)[0])
