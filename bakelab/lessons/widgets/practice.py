"""A few exercises one after the other, chosen by what the student can do already."""

from pathlib import Path
from typing import Any

from bakelab.errors import BakelabError
from bakelab.lessons.item import Item
from bakelab.lessons.making import family, follow_up, make
from bakelab.lessons.marking import Marked
from bakelab.lessons.progress import Progress
from bakelab.lessons.widgets.item_box import ItemBox

__all__ = ["Practice"]

_COUNT = 4


class Practice:
    """Exercises of a lesson in one box, with a friendly end.

    Answers are kept in a local file, can be forgotten with the button below
    the exercise, and decide what comes next: a family that is due for review,
    or one at the edge of what the student can do.

    Parameters
    ----------
    lesson : int, optional
        1 to 6; every lesson by default.
    count : int
        After how many exercises it says that this is enough for today.
    progress : Progress or path, optional
        Where the answers are kept; the user's own file by default.

    Attributes
    ----------
    box : ItemBox
    progress : Progress
    done : int
        Exercises finished, answered or looked up.
    """

    def __init__(
        self,
        lesson: int | None = None,
        *,
        count: int = _COUNT,
        progress: Progress | Path | str | None = None,
    ) -> None:
        self.lesson, self.count, self.done = lesson, count, 0
        kept = progress if isinstance(progress, Progress) else Progress(progress)
        self.progress = kept
        self._sure = False
        self._trouble = ""
        self._seen: set[tuple[str, int]] = set()
        first = self._next_item()
        self.box = ItemBox(
            first,
            heading=self._heading(first),
            on_marked=self._keep,
            on_next=self.go_on,
            on_forget=self.forget,
        )
        self._show_foot()

    def go_on(self) -> None:
        """Put the next exercise in the box."""
        self.done += 1
        self._sure = False
        try:
            self.progress.reload()
        except BakelabError as error:
            self._trouble = str(error)
        item = follow_up(self.box.exercise) or self._next_item()
        self.box.show(item, heading=self._heading(item))
        if self.done == self.count:
            self.box.say(
                f"{self.count} exercises are done: enough for this lesson. Here is "
                "one more, for whoever likes to go on.",
            )
        self._show_foot()

    def forget(self) -> None:
        """Forget all answers; asks once before it does."""
        if not self._sure:
            self._sure = True
            self.box.say("Press the same button again to forget all your answers.")
        else:
            self._sure = False
            self.box.say(self._forgotten())
        self._show_foot()

    def _forgotten(self) -> str:
        try:
            self.progress.delete()
        except OSError as error:
            return (
                f"Your answers are in {self.progress.path} and cannot be deleted "
                f"({error.strerror}); delete that file yourself."
            )
        return "Your answers are forgotten; the file is gone."

    def _next_item(self) -> Item:
        chosen = self.progress.next_item(lesson=self.lesson)
        self.why, item = chosen.why, chosen.item
        # Where answers cannot be kept, the file alone would give the same again.
        while (item.family, item.seed) in self._seen:
            item = make(item.family, item.seed + 1, level=item.level)
        self._seen.add((item.family, item.seed))
        return item

    def _heading(self, item: Item) -> str:
        place = f"Exercise {self.done + 1}"
        place += f" of {self.count}" if self.done < self.count else ""
        return f"{place}: {family(item.family).title}"

    def _keep(self, box: ItemBox, marked: Marked) -> None:
        try:
            self.progress.record(box.exercise, marked, hints=box.hints_shown)
        except BakelabError as error:
            self._trouble = str(error)
        self._sure = False
        self._show_foot()

    def _show_foot(self) -> None:
        answers = len(self.progress.answers)
        kept = f"{answers} {'answer is' if answers == 1 else 'answers are'} kept"
        parts = [
            self._trouble,
            self.why,
            f"{kept} on this machine only." if answers else "",
        ]
        self.box.progress = " ".join(p for p in [*parts, self.progress.remark] if p)
        words = "Yes, forget all my answers" if self._sure else "Forget my answers"
        self.box.forget_words = words if answers else ""
        self.box.refresh()

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.box._repr_mimebundle_(**options)
