"""What an exercise is: the family it comes from, its question, answer and help."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from bakelab.errors import BakelabError
from bakelab.lessons.words import shown

__all__ = ["LETTERS", "Distractor", "Family", "Item"]

LETTERS = "ABCDEFGH"
_NUMBERS = ("tolerance", "rounding")
_TEXTS = ("family", "question", "unit", "picture", "source", "caution", "then")
_LISTS = ("heading", "hints", "solution", "choices")


@dataclass(frozen=True)
class Family:
    """A family of exercises: `lesson` is 1 to 6, `trains` says what for."""

    key: str
    title: str
    lesson: int
    trains: str


@dataclass(frozen=True)
class Distractor:
    """A wrong answer that a known misconception makes, and what to look at."""

    misconception: str
    value: Fraction | str
    look_at: str


@dataclass(frozen=True)
class Item:
    """One exercise with its answer, its hints and its worked solution.

    Parameters
    ----------
    family, seed, level
        What :func:`bakelab.lessons.make` needs to make it again.
    question : str
        Markdown text, complete with the rounding that is asked for.
    heading, given
        A table of what is known: names of the columns, and rows of texts such
        as ``("water", "305 g")``. The answer follows from these numbers.
    answer : Fraction or str
        The exact number, in `unit`; for a choice the text of the right one.
    unit : str
        Such as ``"g"`` or ``"%"``; empty for a choice or a bare number.
    rounding : Fraction
        The step that the answer is rounded to; 0 for a choice.
    tolerance : Fraction
        How far from the exact answer still counts as right: half of the step,
        or a share of the answer where an estimate is asked for.
    hints : tuple of 3 str
        From a nudge to the first step.
    solution : tuple of str
        Steps, in the numbers of this item.
    picture : str
        SVG with a title and a description in words, or empty.
    distractors : tuple of Distractor
        Wrong answers that are recognised.
    choices : tuple of str
        What to choose from; empty where a number is asked for.
    source : str
        Where a published number is from; empty for numbers of our own.
    caution : str
        What to be careful about in a kitchen; often empty.
    then : str
        Family that computes what was estimated here, with the same numbers.
    """

    family: str
    seed: int
    level: int
    question: str
    heading: tuple[str, ...]
    given: tuple[tuple[str, ...], ...]
    answer: Fraction | str
    unit: str
    rounding: Fraction
    tolerance: Fraction
    hints: tuple[str, ...]
    solution: tuple[str, ...]
    picture: str = ""
    distractors: tuple[Distractor, ...] = ()
    choices: tuple[str, ...] = ()
    source: str = ""
    caution: str = ""
    then: str = ""

    @property
    def is_choice(self) -> bool:
        """Whether one of `choices` is asked for."""
        return bool(self.choices)

    @property
    def answer_value(self) -> Fraction:
        """The exact number of an item that asks for one.

        Raises
        ------
        BakelabError
            If it asks for a choice.
        """
        if isinstance(self.answer, str):
            raise BakelabError(f"{self.family} asks for a choice, not for a number")
        return self.answer

    @property
    def answer_text(self) -> str:
        """The answer as a person writes it: ``61 %``, or ``B: milk``."""
        if isinstance(self.answer, str):
            return f"{self.letter(self.answer)}: {self.answer}"
        return f"{shown(self.answer, self.rounding)} {self.unit}".strip()

    def letter(self, choice: str) -> str:
        """The letter of one of the choices."""
        return LETTERS[self.choices.index(choice)]

    def to_dict(self) -> dict[str, Any]:
        """The item as plain texts, numbers and lists, for JSON; nothing is lost."""
        plain: dict[str, Any] = {n: getattr(self, n) for n in (*_TEXTS, *_LISTS)}
        plain |= {n: list(plain[n]) for n in _LISTS}
        plain |= {n: str(getattr(self, n)) for n in _NUMBERS}
        plain |= {"seed": self.seed, "level": self.level}
        plain["given"] = [list(row) for row in self.given]
        plain["answer"] = str(self.answer)
        plain["distractors"] = [
            {"misconception": d.misconception, "value": str(d.value)}
            | {"look_at": d.look_at}
            for d in self.distractors
        ]
        return plain

    @classmethod
    def from_dict(cls, plain: Mapping[str, Any]) -> Item:
        """The item that :meth:`to_dict` wrote.

        Raises
        ------
        BakelabError
            If a part is missing or is not what it should be.
        """
        try:
            return cls(**_fields(plain))
        except (KeyError, TypeError, ValueError, ZeroDivisionError) as error:
            raise BakelabError(
                f"this is not an exercise as bakelab writes them ({error}); "
                "make it again from its family and seed"
            ) from error


def _fields(plain: Mapping[str, Any]) -> dict[str, Any]:
    choices = tuple(map(str, plain["choices"]))
    read = str if choices else Fraction
    return {
        **{n: str(plain[n]) for n in _TEXTS},
        **{n: tuple(map(str, plain[n])) for n in _LISTS},
        **{n: Fraction(plain[n]) for n in _NUMBERS},
        "seed": int(plain["seed"]),
        "level": int(plain["level"]),
        "given": tuple(tuple(map(str, row)) for row in plain["given"]),
        "answer": read(plain["answer"]),
        "distractors": tuple(
            Distractor(str(d["misconception"]), read(d["value"]), str(d["look_at"]))
            for d in plain["distractors"]
        ),
    }
