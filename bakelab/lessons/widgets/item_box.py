"""One exercise on the page: question, answer, hints, solution, feedback in words."""

from collections.abc import Callable, Mapping
from typing import Any

import anywidget
import traitlets

from bakelab.charts.written import xml_text
from bakelab.lessons.item import Item
from bakelab.lessons.marking import Marked, mark
from bakelab.lessons.prose import given_html, html_of
from bakelab.lessons.widgets.assets import lesson_css, script
from bakelab.lessons.widgets.playground import with_still

__all__ = ["ItemBox", "still_html"]


class ItemBox(anywidget.AnyWidget):
    """An exercise that can be done by keyboard alone and read aloud.

    Parameters
    ----------
    exercise : Item
    heading : str
        Stands above the question, such as "Exercise 2 of 5".
    on_marked : callable, optional
        Called with this box and the mark, each time an answer is marked.
    on_next : callable, optional
        Called when the next exercise is asked for; without it there is no
        such button.
    on_forget : callable, optional
        Called when the answers that were kept are to be forgotten.

    Attributes
    ----------
    exercise : Item
    marked : Marked or None
        The last mark.
    tries, hints_shown : int
    solved, told : bool
        Whether it was answered right, and whether the solution was shown.
    """

    _esm = script("item_box.js")
    _css = lesson_css()
    item = traitlets.Dict().tag(sync=True)
    state = traitlets.Dict().tag(sync=True)

    def __init__(
        self,
        exercise: Item,
        *,
        heading: str = "Exercise",
        on_marked: Callable[["ItemBox", Marked], None] | None = None,
        on_next: Callable[[], None] | None = None,
        on_forget: Callable[[], None] | None = None,
    ) -> None:
        super().__init__()
        self._on_marked = on_marked
        self._asked = {"next": on_next, "forget": on_forget}
        self._on_next = on_next
        self.progress = self.forget_words = ""
        self.show(exercise, heading=heading)
        self.on_msg(self._hear)

    def show(self, exercise: Item, *, heading: str) -> None:
        """Put another exercise in the place of this one."""
        self.exercise, self.heading = exercise, heading
        self.marked: Marked | None = None
        self.tries = self.hints_shown = 0
        self.solved = self.told = False
        self._said, self._kind = "", ""
        with self.hold_sync():
            self.item = _item_words(exercise, heading)
            self._show_state()

    def check(self, text: str) -> Marked:
        """Mark an answer and say so; what is no answer counts as no try."""
        found = self.marked = mark(self.exercise, text)
        counted = found.state != "not understood"
        if counted and not self.told and self._on_marked is not None:
            self._on_marked(self, found)
        self.tries += counted
        self.solved = self.solved or found.is_right
        self._say(_sentence(found), _kind(found))
        return found

    def hint(self) -> None:
        """Show the next hint, and read it aloud."""
        if self.hints_shown < len(self.exercise.hints):
            self.hints_shown += 1
            text = self.exercise.hints[self.hints_shown - 1]
            self._say(f"Hint {self.hints_shown}: {_plain(text)}", "hint")

    def show_solution(self) -> None:
        """Show the worked solution; without a try before, it counts as missed."""
        if not (self.tries or self.told) and self._on_marked is not None:
            self._on_marked(self, Marked("wrong", "", "The solution was read.", None))
        self.told = True
        answer = self.exercise.answer_text
        self._say(f"The answer is {answer}. The steps stand below.", "told")

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if not isinstance(message, Mapping):
            return
        asked = message.get("do")
        if asked == "check":
            self.check(str(message.get("text", ""))[:200])
        elif asked == "hint":
            self.hint()
        elif asked == "solution":
            self.show_solution()
        elif isinstance(asked, str):
            function = self._asked.get(asked)
            if function is not None:
                function()

    def refresh(self) -> None:
        """Show what has changed."""
        self._show_state()

    def say(self, sentence: str, kind: str = "hint") -> None:
        """Show a sentence and read it aloud."""
        self._say(sentence, kind)

    def _say(self, sentence: str, kind: str) -> None:
        self._said, self._kind = sentence, kind
        self._show_state()

    def _show_state(self) -> None:
        hints = self.exercise.hints
        left = len(hints) - self.hints_shown
        done = self.solved or self.told
        shown = self.solved or self.told
        self.state = {
            "told": self._said,
            "kind": self._kind,
            "hints": [html_of(h) for h in hints[: self.hints_shown]],
            "hint_button": f"Hint ({left} left)" if left and not done else "",
            "solve_button": "" if shown else "Show the solution",
            "solution": _solution_html(self.exercise) if shown else "",
            "next": done and self._on_next is not None,
            "forget": self.forget_words,
            "progress": self.progress,
        }

    def _repr_mimebundle_(self, **options: Any) -> Any:
        bundle = super()._repr_mimebundle_(**options)
        return with_still(bundle, still_html(self.exercise, self.heading))


def still_html(item: Item, heading: str = "Exercise") -> str:
    """An exercise as a page shows it where nothing can be written."""
    choices = "".join(
        f"<li>{xml_text(item.letter(c))}: {xml_text(c)}</li>" for c in item.choices
    )
    options = f"<ul>{choices}</ul>" if choices else ""
    return (
        f"<p><b>{xml_text(heading)}</b></p>{html_of(item.question)}"
        f"{given_html(item)}{item.picture}{options}"
        f"<p><i>{xml_text(_answer_label(item))}: write it in the lab, where it is "
        "marked and hints can be had.</i></p>"
    )


def _item_words(item: Item, heading: str) -> dict[str, Any]:
    choices = [
        {"value": item.letter(c), "text": f"{item.letter(c)}: {c}"}
        for c in item.choices
    ]
    return {
        "heading": heading,
        "question": html_of(item.question) + given_html(item) + _caution(item),
        "picture": item.picture,
        "label": _answer_label(item),
        "unit": item.unit,
        "choices": choices,
        "check": "Check my answer",
        "next": "Next exercise",
    }


def _answer_label(item: Item) -> str:
    if item.choices:
        return "My answer (choose one)"
    return f"My answer ({item.unit})" if item.unit else "My answer (a number)"


def _caution(item: Item) -> str:
    parts = (
        [f"<p><b>Take care:</b> {xml_text(item.caution)}</p>"] if item.caution else []
    )
    if item.source:
        parts.append(f'<p class="item-progress">Numbers: {xml_text(item.source)}</p>')
    return "".join(parts)


def _solution_html(item: Item) -> str:
    steps = "".join(f"<li>{html_of(step)}</li>" for step in item.solution)
    return f"<h4>Worked solution: {xml_text(item.answer_text)}</h4><ol>{steps}</ol>"


def _sentence(found: Marked) -> str:
    sign = {"right": "✓ ", "wrong": "✗ Not yet. "}.get(_kind(found), "")
    return f"{sign}{found.sentence.replace('Not this time. ', '', 1)}"


def _kind(found: Marked) -> str:
    if found.is_right:
        return "right"
    return "unread" if found.state == "not understood" else "wrong"


def _plain(markdown: str) -> str:
    return markdown.replace("**", "").replace("*", "").replace("`", "")
