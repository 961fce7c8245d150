"""A question to guess before anything is worked out: choosing is what counts."""

from collections.abc import Mapping, Sequence
from typing import Any

import anywidget
import traitlets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.lessons.item import LETTERS
from bakelab.lessons.prose import html_of
from bakelab.lessons.widgets.assets import lesson_css, script
from bakelab.lessons.widgets.playground import with_still

__all__ = ["Guess"]

_HEADING = "Guess first"


class Guess(anywidget.AnyWidget):
    """A question with choices; the answer is left to the box that follows.

    Parameters
    ----------
    question : str
        Markdown.
    choices : sequence of str
        2 to 8 of them.

    Attributes
    ----------
    guessed : str
        What was chosen; empty before.

    Raises
    ------
    BakelabError
        If there are fewer than 2 or more than 8 choices.
    """

    _esm = script("item_box.js")
    _css = lesson_css()
    item = traitlets.Dict().tag(sync=True)
    state = traitlets.Dict().tag(sync=True)

    def __init__(self, question: str, choices: Sequence[str]) -> None:
        super().__init__()
        if not 2 <= len(choices) <= len(LETTERS):
            raise BakelabError(
                f"{len(choices)} choices; give between 2 and {len(LETTERS)}"
            )
        self.question, self.choices, self.guessed = question, tuple(choices), ""
        named = zip(LETTERS, self.choices, strict=False)
        self.item = {
            "heading": _HEADING,
            "question": html_of(question),
            "label": "My guess (choose one)",
            "choices": [{"value": key, "text": text} for key, text in named],
            "check": "This is my guess",
        }
        self.on_msg(self._hear)

    def guess(self, letter: str) -> None:
        """Take a guess by its letter; it can be changed as often as one likes."""
        named = dict(zip(LETTERS, self.choices, strict=False))
        self.guessed = named.get(letter, "")
        told = (
            f"Your guess: {self.guessed}. The next box works it out."
            if self.guessed
            else "Choose one of the answers first; any guess is a good start."
        )
        self.state = {"told": told, "kind": "hint"}

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if isinstance(message, Mapping) and message.get("do") == "check":
            self.guess(str(message.get("text", "")))

    def _repr_mimebundle_(self, **options: Any) -> Any:
        listed = "".join(f"<li>{xml_text(c)}</li>" for c in self.choices)
        still = f"<p><b>{_HEADING}</b></p>{html_of(self.question)}<ul>{listed}</ul>"
        return with_still(super()._repr_mimebundle_(**options), still)
