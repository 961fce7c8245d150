"""From what a family drew to a finished item that has one right answer."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeVar

from bakelab.lessons.item import Distractor, Item
from bakelab.lessons.misconceptions import look_at
from bakelab.lessons.words import rounded

__all__ = ["Draft", "Draw", "finished"]

Any_ = TypeVar("Any_")
_MOST_WRONG = 6


class Draw:
    """Numbers drawn by a seed; the same seed draws the same."""

    def __init__(self, seed: str) -> None:
        self._chance = random.Random(seed)

    def pick(self, values: Sequence[Any_]) -> Any_:
        """One of the values."""
        return values[int(self._chance.random() * len(values))]

    def whole(self, low: int, high: int, step: int = 1) -> int:
        """A whole number from `low` to `high`, both counted in."""
        return low + step * int(self._chance.random() * ((high - low) // step + 1))

    def some(self, values: Sequence[Any_], count: int) -> list[Any_]:
        """Several different ones of the values, in random order."""
        return self._chance.sample(list(values), count)

    def yes(self, one_in: int = 2) -> bool:
        """True once in `one_in` draws."""
        return self.whole(1, one_in) == 1


@dataclass
class Draft:
    """What a family gives: as `Item`, with wrong answers still to be sifted.

    A `tolerance` of None is half of the step. Where `choices` are given the
    answer is one of them.
    """

    question: str
    given: Sequence[tuple[str, ...]]
    answer: Fraction | str
    unit: str = ""
    step: Fraction = Fraction(1)
    tolerance: Fraction | None = None
    heading: Sequence[str] = ("what", "amount")
    choices: Sequence[str] = ()
    picture: str = ""
    source: str = ""
    caution: str = ""
    then: str = ""
    hints: list[str] = field(default_factory=list)
    solution: list[str] = field(default_factory=list)
    wrong: list[tuple[str, Fraction | str, str]] = field(default_factory=list)

    @property
    def number(self) -> Fraction:
        """The answer of a draft that asks for a number."""
        if isinstance(self.answer, str):
            raise TypeError(f"a number is asked for, got the answer {self.answer!r}")
        return self.answer

    def hint(self, words: str) -> None:
        """Add a hint; three, from a nudge to the first step."""
        self.hints.append(words)

    def tell(self, words: str) -> None:
        """Add a step of the worked solution."""
        self.solution.append(words)

    def slip(self, key: str, value: Fraction | str, words: str = "") -> None:
        """Add a wrong answer: its misconception, its value, what to look at.

        Without words of its own it takes the general ones of the misconception.
        """
        self.wrong.append((key, value, words))


def finished(draft: Draft, *, family: str, seed: int, level: int) -> Item | None:
    """The item, or None if nothing is to be found out.

    That is so where the answer is 0, or where no wrong answer differs enough
    from it to be told apart.
    """
    choice = bool(draft.choices)
    step = Fraction(0) if choice else draft.step
    tolerance = Fraction(0) if choice else draft.tolerance or step / 2
    wrong = _wrong_choices(draft) if choice else _wrong_numbers(draft, tolerance)
    if not wrong or (isinstance(draft.answer, Fraction) and draft.answer <= 0):
        return None
    return Item(
        family, seed, level, draft.question, tuple(draft.heading),
        tuple(draft.given), draft.answer, draft.unit, step, tolerance,
        tuple(draft.hints), tuple(draft.solution), draft.picture, wrong,
        tuple(draft.choices), draft.source, draft.caution, draft.then,
    )  # fmt: skip


def _wrong_numbers(draft: Draft, tolerance: Fraction) -> tuple[Distractor, ...]:
    """Wrong values apart from the answer, as rounded too, and from each other."""
    answer = draft.number
    taken = [answer, rounded(answer, draft.step)]
    kept = []
    for key, value, words in draft.wrong:
        if isinstance(value, str) or (value <= 0 < answer):
            continue
        if all(abs(value - other) > 2 * tolerance for other in taken):
            kept.append(Distractor(key, value, words or look_at(key)))
            taken.append(value)
    return tuple(kept[:_MOST_WRONG])


def _wrong_choices(draft: Draft) -> tuple[Distractor, ...]:
    kept = {}
    for key, value, words in draft.wrong:
        if value in draft.choices and value != draft.answer and value not in kept:
            kept[value] = Distractor(key, value, words or look_at(key))
    return tuple(kept.values())
