"""What a student has answered, kept in a local file, and what follows from it."""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Iterable
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bakelab.errors import BakelabError
from bakelab.lessons.choosing import Next, choose_next
from bakelab.lessons.item import Item
from bakelab.lessons.making import LEVELS, families
from bakelab.lessons.marking import STATES, Marked
from bakelab.lessons.standing import Answer, Standing, standings

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Progress", "progress_path"]


class Progress:
    """Everything answered so far: one line of a local file for each answer.

    Lines are only ever added. A line that cannot be read is left where it is
    and told in `remark`; nothing is overwritten. Nothing leaves the machine.

    Parameters
    ----------
    path : Path or str, optional
        The file; :func:`progress_path` by default.
    """

    def __init__(self, path: Path | str | None = None) -> None:
        self.path = Path(path).expanduser() if path else progress_path()
        self._answers: list[Answer] = []
        self.remark = ""
        self.reload()

    def reload(self) -> None:
        """Read the file again, such as after another notebook added to it."""
        lines = _lines_of(self.path)
        read = [(number, _answer(line)) for number, line in lines]
        self._answers = [answer for _, answer in read if answer]
        lost = [str(number) for number, answer in read if answer is None]
        self.remark = _remark(lost, self.path)

    @property
    def answers(self) -> tuple[Answer, ...]:
        """Every answer, oldest first."""
        return tuple(self._answers)

    def record(
        self,
        item: Item,
        marked: Marked,
        *,
        hints: int = 0,
        at: datetime | None = None,
    ) -> None:
        """Keep an answer; only the first one to an exercise moves the mastery.

        Parameters
        ----------
        item, marked
            What was asked and how it was marked. "not understood" is not kept.
        hints : int
            How many hints were looked at before.
        at : datetime, optional
            Now by default; with its time zone.
        """
        if marked.state == "not understood":
            return
        answer = Answer(
            _utc(at), item.family, item.seed, item.level,
            marked.state, marked.misconception, hints,
        )  # fmt: skip
        _append(self.path, answer)
        self._answers.append(answer)

    def standing(self, family_key: str) -> Standing:
        """How a student stands in one family, from 0 to 1 in `mastery`."""
        return self.standings()[family_key]

    def standings(self) -> dict[str, Standing]:
        """How a student stands in every family, in the order of the lessons."""
        return standings(self._answers)

    def next_item(
        self, *, at: datetime | None = None, lesson: int | None = None
    ) -> Next:
        """The next exercise and, in one sentence, why this one.

        An old family that is due for review comes first, then the next one at
        the edge of what the student can do. The same file gives the same.
        """
        return choose_next(self._answers, self.standings(), _utc(at), lesson)

    def table(self) -> pd.DataFrame:
        """One row a family: lesson, title, tries, right, mastery, level, due."""
        import pandas as pd

        found = self.standings()
        rows = [
            {"lesson": f.lesson, "family": f.key, "title": f.title}
            | {"tries": s.tries, "right": s.right, "mastery": s.mastery}
            | {"level": s.level, "due": s.due}
            for f in families()
            for s in (found[f.key],)
        ]
        return pd.DataFrame(rows)

    def misconceptions(self) -> Counter[str]:
        """How often each misconception was seen, by key."""
        return Counter(a.misconception for a in self._answers if a.misconception)

    def delete(self) -> None:
        """Delete the file and forget everything."""
        self.path.unlink(missing_ok=True)
        self._answers, self.remark = [], ""


def progress_path() -> Path:
    """The file of answers: `BAKELAB_PROGRESS`, else with the user's data."""
    chosen = os.environ.get("BAKELAB_PROGRESS")
    if chosen:
        return Path(chosen).expanduser()
    from platformdirs import user_data_dir

    return Path(user_data_dir("bakelab", appauthor=False)) / "progress.jsonl"


def _lines_of(path: Path) -> list[tuple[int, bytes]]:
    try:
        text = path.read_bytes()
    except FileNotFoundError:
        return []
    except OSError as error:
        raise BakelabError(
            f"the file of your answers, {path}, cannot be read ({error.strerror}); "
            "name another one in BAKELAB_PROGRESS"
        ) from error
    return [(n, line) for n, line in enumerate(text.splitlines(), 1) if line.strip()]


def _answer(line: bytes) -> Answer | None:
    """One answer, or None where the line is broken or of another kind."""
    try:
        row = json.loads(line)
        at = datetime.fromisoformat(row["at"]).astimezone(UTC)
        texts = [str(row[name]) for name in ("state", "misconception")]
        answer = Answer(
            at, str(row["family"]), int(row["seed"]), int(row["level"]),
            texts[0], texts[1], int(row["hints"]),
        )  # fmt: skip
    except (ValueError, KeyError, TypeError, OverflowError):
        return None
    return answer if answer.state in STATES and answer.level in LEVELS else None


def _append(path: Path, answer: Answer) -> None:
    row: dict[str, Any] = asdict(answer) | {"at": answer.at.isoformat()}
    line = json.dumps(row, ensure_ascii=False)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a+b") as file:
            file.write(_break_before(path) + line.encode() + b"\n")
    except OSError as error:
        raise BakelabError(
            f"your answer cannot be kept in {path} ({error.strerror}); make room or "
            "name another file in BAKELAB_PROGRESS"
        ) from error


def _break_before(path: Path) -> bytes:
    """A line break where a line was cut off by a crash, so that none is joined."""
    end = path.read_bytes()[-1:]
    return b"\n" if end not in (b"", b"\n") else b""


def _remark(lost: Iterable[str], path: Path) -> str:
    numbers = ", ".join(lost)
    if not numbers:
        return ""
    return (
        f"In {path.name}, line {numbers} cannot be read and is left as it is; "
        "all other answers count."
    )


def _utc(at: datetime | None) -> datetime:
    return (at or datetime.now(UTC)).astimezone(UTC)
