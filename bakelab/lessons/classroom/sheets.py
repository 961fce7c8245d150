"""A class set: the same families for everyone, other numbers for each."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bakelab.errors import BakelabError, ReadError
from bakelab.lessons.classroom.roll import Student
from bakelab.lessons.item import Family, Item
from bakelab.lessons.making import families, make

__all__ = [
    "LESSONS",
    "ClassSet",
    "StudentSheet",
    "class_set",
    "load_class",
    "save_class",
]

LESSONS: Mapping[int, str] = MappingProxyType(
    {
        1: "What a ratio says",
        2: "One flour is 100 %",
        3: "Hydration",
        4: "Pans and volume",
        5: "Scaling from end to end",
        6: "Judging a formula",
    }
)
"""The lessons in their order, by number."""

_PER_LESSON = 2  # exercises from each lesson where no lesson is chosen
_ITEMS = 6
_MOST_ITEMS = 30
_LEVELS = (1, 2, 3)
_KIND = "bakelab class set"


@dataclass(frozen=True)
class StudentSheet:
    """The exercises of one student."""

    student: Student
    items: tuple[Item, ...]


@dataclass(frozen=True)
class ClassSet:
    """All sheets of a class; the same seed and names give the same set."""

    seed: int
    title: str
    sheets: tuple[StudentSheet, ...]

    def by_code(self, code: str) -> StudentSheet | None:
        """The sheet with a code; None where there is none."""
        return next((s for s in self.sheets if s.student.code == code), None)


def class_set(
    students: Sequence[Student],
    *,
    seed: int,
    lesson: int | None = None,
    items: int | None = None,
) -> ClassSet:
    """Sheets for a class.

    Parameters
    ----------
    students : sequence of Student
    seed : int
    lesson : int, optional
        1 to 6; two exercises of each lesson by default.
    items : int, optional
        Exercises on a sheet: 6 of a lesson, 12 of all of them by default.

    Raises
    ------
    BakelabError
        If there is no such lesson, or too many or no exercises are wanted.
    """
    if lesson is not None and lesson not in LESSONS:
        raise BakelabError(f"no lesson {lesson}; the lessons are 1 to 6")
    chosen = _chosen(lesson, items)
    title = f"Lesson {lesson}: {LESSONS[lesson]}" if lesson else "Bread in ratios"
    sheets = tuple(StudentSheet(s, _items(chosen, s, seed)) for s in students)
    return ClassSet(seed, title, sheets)


def save_class(made: ClassSet, path: Path) -> None:
    """Write a class set, with names and answers, for the teacher only."""
    plain = {
        "kind": _KIND,
        "seed": made.seed,
        "title": made.title,
        "sheets": [
            {
                "number": s.student.number,
                "name": s.student.name,
                "code": s.student.code,
                "items": [item.to_dict() for item in s.items],
            }
            for s in made.sheets
        ],
    }
    path.write_text(json.dumps(plain, ensure_ascii=False, indent=1), encoding="utf-8")


def load_class(path: Path) -> ClassSet:
    """The class set that `save_class` wrote.

    Raises
    ------
    ReadError
        If the file is none.
    """
    try:
        plain: Any = json.loads(path.read_text(encoding="utf-8"))
        if plain["kind"] != _KIND:
            raise ValueError("another kind of file")
        sheets = tuple(_sheet(one) for one in plain["sheets"])
        return ClassSet(int(plain["seed"]), str(plain["title"]), sheets)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        raise ReadError(
            f"{path.name} is damaged or no class list; "
            "make it again with bakelab class, with the same seed and names"
        ) from None


def _sheet(plain: Any) -> StudentSheet:
    student = Student(int(plain["number"]), str(plain["name"]), str(plain["code"]))
    return StudentSheet(student, tuple(Item.from_dict(i) for i in plain["items"]))


def _chosen(lesson: int | None, items: int | None) -> list[tuple[Family, int]]:
    """Families with their levels, in the order of the sheet."""
    wanted = [lesson] if lesson else sorted({f.lesson for f in families()})
    each = _ITEMS if lesson else _PER_LESSON
    if items is not None:
        if not 1 <= items <= _MOST_ITEMS:
            raise BakelabError(
                f"{items} exercises do not go on a sheet; give 1 to {_MOST_ITEMS}"
            )
        each = -(-items // len(wanted))
    found = [one for number in wanted for one in _of_lesson(number, each)]
    return found if items is None else _evenly(found, items)


def _of_lesson(lesson: int, count: int) -> list[tuple[Family, int]]:
    known = [f for f in families() if f.lesson == lesson]
    if not known:
        raise BakelabError(f"lesson {lesson} has no exercises yet; choose another")
    taken = [known[n % len(known)] for n in range(count)]
    level = [_LEVELS[min(n // len(known), len(_LEVELS) - 1)] for n in range(count)]
    order = {f.key: n for n, f in enumerate(known)}
    both = zip(taken, level, strict=True)
    return sorted(both, key=lambda t: (order[t[0].key], t[1]))


def _evenly(found: list[tuple[Family, int]], count: int) -> list[tuple[Family, int]]:
    return [found[n * len(found) // count] for n in range(count)]


def _items(
    chosen: Sequence[tuple[Family, int]], student: Student, seed: int
) -> tuple[Item, ...]:
    return tuple(
        make(family.key, _seed(seed, student, number), level=level)
        for number, (family, level) in enumerate(chosen)
    )


def _seed(seed: int, student: Student, number: int) -> int:
    text = f"{seed}\x1f{student.name}\x1f{student.code}\x1f{number}"
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:4], "big")
