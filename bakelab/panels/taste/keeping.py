"""Tastings in the bake book: kept when they are served, answer by answer."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import pandas as pd

from bakelab.charts.written import xml_clean
from bakelab.errors import BakelabError, ConflictError
from bakelab.tasting import Answer, Tasting, Verdict, answers_from_data

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Kept", "kept_tastings"]


def kept_tastings(book: "BakeBook") -> list[tuple[str, str]]:
    """Title with test and time, and id, of every tasting, the newest first."""
    return [
        (f"{row['name']} · {row['kind']} · {_when(row['planned_at'])}", str(row["id"]))
        for _, row in book.tastings().iterrows()
    ]


class Kept:
    """One tasting, with its answers; in the book if there is one.

    Every answer is written at once. If another panel answered the same slip in the
    meantime, that answer is shown and nothing is written over it.

    Attributes
    ----------
    tasting : Tasting
    answers : mapping of int to Answer
    entry : str
        Its id in the book, or nothing.
    closed : bool
        Judged without the slips that are missing.
    """

    def __init__(
        self, tasting: Tasting, book: "BakeBook | None" = None, entry: str = ""
    ) -> None:
        self.tasting, self._book, self.entry = tasting, book, entry
        self.answers: Mapping[int, Answer] = {}
        self.closed = False
        self._verdict: Mapping[str, Any] = {}

    @classmethod
    def serve(cls, tasting: Tasting, book: "BakeBook | None") -> "Kept":
        """A tasting that has just been drawn."""
        if book is None:
            return cls(tasting)
        data = tasting.to_data()
        entry = book.serve(
            data["kind"], data["plan"], key=data["key"], name=tasting.title
        )
        return cls(tasting, book, entry)

    @classmethod
    def open(cls, book: "BakeBook", entry: str) -> "Kept":
        """A tasting of the book, with the answers it has.

        Raises
        ------
        BakelabError
            If it is not there, or was kept by something else than a plan.
        """
        row = _row(book, entry)
        kept = cls(Tasting.from_data(row), book, entry)
        kept.answers = answers_from_data(kept.tasting, row["answers"])
        kept._verdict = row["verdict"]
        kept.closed = bool(kept._verdict) and not kept.complete
        return kept

    @property
    def is_kept(self) -> bool:
        """Whether a book holds it."""
        return self._book is not None

    @property
    def complete(self) -> bool:
        """Whether every slip has its answer."""
        return len(self.answers) == len(self.tasting.slips)

    def add(self, answers: Mapping[int, Answer]) -> None:
        """Take answers, and write them down.

        Raises
        ------
        ConflictError
            If somebody else answered one of the slips meanwhile.
        """
        self._write({str(n): a.to_data() for n, a in answers.items()}, set(answers))
        self.answers = {**self.answers, **answers}

    def take_back(self, taster: int) -> None:
        """Leave an answer out again; the book keeps what it was."""
        self._write({str(taster): {"answer": "", "remark": ""}}, {taster})
        self.answers = {n: a for n, a in self.answers.items() if n != taster}

    def judged(self, verdict: Verdict) -> None:
        """Keep the verdict beside the answers, unless it is there already."""
        data = {**verdict.to_data(), **self._decision()}
        if self._book is not None and data != self._verdict:
            self._book.answer(self.entry, {}, verdict=data)
        self._verdict = data

    @property
    def decision(self) -> tuple[str, str]:
        """The sample that was chosen after the verdict, and why; empty if none was."""
        return str(self._verdict.get("chosen", "")), str(self._verdict.get("why", ""))

    def decided(self, chosen: str, why: str) -> None:
        """Keep beside the verdict which sample was chosen, and why."""
        data = {**self._verdict, "chosen": chosen, "why": xml_clean(why)}
        if self._book is not None:
            self._book.answer(self.entry, {}, verdict=data)
        self._verdict = data

    def reopened(self) -> None:
        """The verdict no longer holds: an answer was taken back."""
        if self._book is not None and self._verdict:
            self._book.answer(self.entry, {}, verdict={})
        self._verdict, self.closed = {}, False

    def _decision(self) -> Mapping[str, str]:
        chosen, why = self.decision
        return {"chosen": chosen, "why": why} if chosen else {}

    def _write(self, data: Mapping[str, Mapping[str, str]], slips: set[int]) -> None:
        if self._book is None:
            return
        row = _row(self._book, self.entry)
        there = answers_from_data(self.tasting, row["answers"])
        other = sorted(n for n in slips if there.get(n) != self.answers.get(n))
        if other:
            self.answers = there
            taken = there.get(other[0])
            now = f"it reads {taken.text}" if taken else "it was taken back"
            raise ConflictError(
                f"slip {other[0]} was entered somewhere else meanwhile: {now}; nothing "
                "was written, so enter it again if yours is right"
            )
        clean = {
            slip: {name: xml_clean(text) for name, text in answer.items()}
            for slip, answer in data.items()
        }
        self._book.answer(self.entry, clean, version=int(row["version"]))


def _row(book: "BakeBook", entry: str) -> Mapping[str, Any]:
    found = book.tastings()
    rows = found[found["id"] == entry]
    if rows.empty:
        raise BakelabError(
            "this tasting is not in the book, it may have been retired; choose another"
        )
    return {str(name): value for name, value in rows.iloc[0].items()}


def _when(moment: pd.Timestamp) -> str:
    """Local day and time."""
    return f"{moment.to_pydatetime().astimezone():%Y-%m-%d %H:%M}"
