"""Marking an answer: right, nearly, or which misconception it shows."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from bakelab.errors import UnitError
from bakelab.lessons.answers import Typed, in_units_of, read_answer, same_kind, tidied
from bakelab.lessons.item import LETTERS, Distractor, Item
from bakelab.lessons.misconceptions import look_at
from bakelab.lessons.words import amount, decimal, rounded, shown, step_text

__all__ = ["STATES", "Marked", "mark"]

STATES = ("right", "misconception", "rounding", "unit", "wrong", "not understood")
_LONGEST = 200
_REASON = re.compile(r"[\s,;:.(–-]+(?:because|since)\b", re.IGNORECASE)
_SPOKEN = re.compile(
    r"(?:(?:my |the )?(?:answer|choice|option)(?: is)?|it is|it's|i think)?[\s:]*"
    r"\(?([a-h])\b[).:]?(?:\s+(.*))?"
)
_SLIPS = tuple(Fraction(10) ** power for power in (1, 2, 3, -1, -2, -3))


@dataclass(frozen=True)
class Marked:
    """What an answer was: one of `STATES`, and one sentence or two about it.

    `misconception` is a key of :func:`misconceptions`, else empty; `value` is
    what was understood, in the unit of the item.
    """

    state: str
    misconception: str
    sentence: str
    value: Fraction | str | None

    @property
    def is_right(self) -> bool:
        """Whether it counts as right."""
        return self.state == "right"


def mark(item: Item, text: str) -> Marked:
    """Mark what a student typed.

    Parameters
    ----------
    item : Item
    text : str
        Any sensible form: ``2,5``, ``2.5 g``, ``5/2``, ``1 1/2 cups``; for a
        choice its letter or its words.

    Returns
    -------
    Marked
        Never an error: nonsense is "not understood" with a friendly sentence.
    """
    if not text.strip():
        return _unclear("Nothing is written yet", item)
    if len(text) > _LONGEST:
        return _unclear("That is a long text", item)
    if item.is_choice:
        return _mark_choice(item, text)
    try:
        typed = tidied(read_answer(text), item.unit)
    except UnitError:
        return _unclear(f"There is no single number in “{text.strip()[:40]}”", item)
    return _naming(item, typed, _mark_number(item, typed))


def _naming(item: Item, typed: Typed, marked: Marked) -> Marked:
    """The mark; where words stood behind the number, it says which one was taken."""
    if not typed.left or marked.value is None:
        return marked
    taken = amount(typed.numbers[0], typed.unit or item.unit)
    return replace(marked, sentence=f"Taken as {taken}. {marked.sentence}")


def _mark_number(item: Item, typed: Typed) -> Marked:
    raw = typed.numbers[0]
    if not same_kind(typed.unit, item.unit):
        return _other_kind(item, typed)
    values = [in_units_of(n, typed.unit, item.unit) for n in typed.numbers]
    for value in values:
        if _near(value, item.answer_value, item.tolerance):
            return _right(item, value)
    for value in values:
        found = _recognised(item, value)
        if found is not None:
            return Marked("misconception", found.misconception, found.look_at, value)
    return _not_recognised(item, values, raw, typed.unit)


def _not_recognised(
    item: Item, values: list[Fraction], raw: Fraction, unit: str
) -> Marked:
    answer = item.answer_value
    value = min(values, key=lambda v: abs(v - answer))
    if unit and value != raw and _near(raw, answer, item.tolerance):
        sentence = (
            f"The number fits, the unit does not: {decimal(raw)} {unit} is "
            f"{_short(value)} {item.unit}. Write the answer in {item.unit}."
        )
        return Marked("unit", "mixed_units", sentence, value)
    if item.unit == "%" and _near(100 * value, answer, item.tolerance):
        sentence = f"{_short(value)} is the ratio. {look_at('ratio_for_percent')}"
        return Marked("misconception", "ratio_for_percent", sentence, value)
    if any(_near(value * slip, answer, item.tolerance) for slip in _SLIPS):
        sentence = look_at("decimal_slip")
        return Marked("misconception", "decimal_slip", sentence, value)
    if _is_coarser(value, item):
        return Marked("rounding", "rounded_too_early", _coarse_words(item), value)
    if abs(value - answer) <= _rounding_room(item):
        return Marked("rounding", "rounded_too_early", _rounding_words(item), value)
    return Marked("wrong", "", f"Not this time. {item.hints[0]}", value)


def _is_coarser(value: Fraction, item: Item) -> bool:
    """Whether it is the answer rounded, or cut off, at a coarser step."""
    answer = item.answer_value
    if abs(value - answer) > abs(answer) / 20:
        return False
    steps = (10 * item.rounding, 100 * item.rounding)
    return any(value in (rounded(answer, s), answer // s * s) for s in steps)


def _coarse_words(item: Item) -> str:
    return (
        "Right as far as it goes, but rounded too coarsely: the question asks to round "
        f"{step_text(item.rounding, item.unit)}."
    )


def _rounding_room(item: Item) -> Fraction:
    """How far off a rounding on the way may bring an answer."""
    return max(2 * item.rounding, abs(item.answer_value) / 200, item.tolerance * 3 / 2)


def _rounding_words(item: Item) -> str:
    if item.then:
        return "Close, but a little too far off for this estimate. Round less roughly."
    return (
        "Very near: it looks like a number rounded on the way. Keep all digits until "
        f"the end, then round {step_text(item.rounding, item.unit)}."
    )


def _right(item: Item, value: Fraction) -> Marked:
    exact = f"{shown(item.answer_value, item.rounding)} {item.unit}".strip()
    if item.then:
        return Marked("right", "", f"A good estimate: it comes to {exact}.", value)
    return Marked("right", "", f"Right: {exact}.", value)


def _recognised(item: Item, value: Fraction) -> Distractor | None:
    for one in item.distractors:
        if isinstance(one.value, Fraction) and _near(value, one.value, item.tolerance):
            return one
    return None


def _other_kind(item: Item, typed: Typed) -> Marked:
    wanted = _asked(item)
    if same_kind(typed.unit, "g") or same_kind(typed.unit, "cm") or _is_unit(typed):
        sentence = f"“{typed.unit}” is another kind of unit here; {wanted}."
        return Marked("unit", "mixed_units", sentence, typed.numbers[0])
    if any(map(str.isdigit, typed.unit)):
        return _unclear("There is more than one number in the answer", item)
    return _unclear(f"“{typed.unit[:30]}” behind the number is not a unit known", item)


def _is_unit(typed: Typed) -> bool:
    return any(same_kind(typed.unit, u) for u in ("%", "cm³", "°C", "min"))


def _mark_choice(item: Item, text: str) -> Marked:
    choice = _chosen(item.choices, text)
    if choice is None:
        front = _REASON.split(text, maxsplit=1)[0]
        if front != text and front.strip():
            return _mark_reasoned(item, text, front)
        return _unclear(f"“{text.strip()[:40]}” is none of the choices", item)
    if choice == item.answer:
        return Marked("right", "", f"Right: {item.answer_text}.", choice)
    for one in item.distractors:
        if one.value == choice:
            return Marked("misconception", one.misconception, one.look_at, choice)
    return Marked("wrong", "", f"Not this time. {item.hints[0]}", choice)


def _mark_reasoned(item: Item, text: str, front: str) -> Marked:
    """A choice with its reason behind it: the choice alone is marked, and named."""
    choice = _chosen(item.choices, front)
    if choice is None:
        return _unclear(f"“{text.strip()[:40]}” is none of the choices", item)
    marked = _mark_choice(item, front)
    taken = f"Taken as {item.letter(choice)}. {marked.sentence}"
    return replace(marked, sentence=taken)


def _chosen(choices: tuple[str, ...], text: str) -> str | None:
    bare = " ".join(text.split()).casefold()
    letter = re.fullmatch(r"\(?([a-h])[).:]?|\(?([a-h])[).:]\s.*", bare)
    if letter:
        place = LETTERS.index((letter.group(1) or letter.group(2)).upper())
        return choices[place] if place < len(choices) else None
    words = bare.strip(" .!")
    same = [c for c in choices if c.casefold().strip(" .") == words]
    starts = [c for c in choices if len(words) > 2 and words in c.casefold()]
    found = same or starts or _said_with_letter(choices, bare)
    return found[0] if len(found) == 1 else None


def _said_with_letter(choices: tuple[str, ...], bare: str) -> list[str]:
    """`answer B`, and `B salt` where B is salt."""
    spoken = _SPOKEN.fullmatch(bare)
    if spoken is None:
        return []
    place = LETTERS.index(spoken[1].upper())
    here = list(choices[place : place + 1])
    words = (spoken[2] or "").strip(" .!")
    return here if not words else [c for c in here if c.casefold().strip(" .") == words]


def _unclear(got: str, item: Item) -> Marked:
    return Marked("not understood", "", f"{got}; {_asked(item)}.", None)


def _asked(item: Item) -> str:
    if item.is_choice:
        last = LETTERS[len(item.choices) - 1]
        return f"answer with one letter from A to {last}"
    unit = f" in {item.unit}" if item.unit else ""
    example = f"{amount(Fraction(5, 2), item.unit)}"
    return f"write one number{unit}, such as {example} or 5/2"


def _near(value: Fraction, other: Fraction, tolerance: Fraction) -> bool:
    return abs(value - other) <= tolerance + abs(other) / 10**9


def _short(value: Fraction) -> str:
    return f"{float(value):.6g}"
