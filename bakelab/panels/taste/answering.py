"""Entering the answers of the tasting panel: slip after slip, or many at once."""

from collections.abc import Callable, Mapping
from typing import Any

from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert
from bakelab.panels.controls import show
from bakelab.panels.layout import set_html
from bakelab.panels.taste.arrangement import slip_words
from bakelab.panels.taste.controls import TasteControls
from bakelab.panels.taste.keeping import Kept
from bakelab.tasting import read_answer, read_answers

__all__ = ["Answering", "clicked"]

_ORDER = "Answer (codes, first place first)"
_ONE = "Answer (code)"


class Answering:
    """Takes answers into the tasting that is served.

    Parameters
    ----------
    controls : TasteControls
    told : HTML widget
        Refusals, beside the field they are about.
    after : function
        Called after every change of the answers.
    """

    def __init__(
        self, controls: TasteControls, told: Any, after: Callable[[], None]
    ) -> None:
        self._c, self._told, self._after = controls, told, after
        self._kept: Kept | None = None
        self._last = 0  # the slip that was entered last
        self._quiet = False
        c = controls
        c.slip.observe(lambda _: self._choose(), "value")
        c.answer.on_msg(self.hear)
        for button, action in (
            (c.enter, self.enter), (c.take_back, self.take_back),
            (c.enter_many, self.enter_many), (c.close, self.close),
        ):  # fmt: skip
            button.on_click(clicked(action))

    def begin(self, kept: Kept) -> None:
        """Take the slips of another tasting."""
        self._kept, self._last = kept, 0
        ranks = kept.tasting.kind.ranks
        self._c.answer.description = _ORDER if ranks else _ONE
        self._c.many.placeholder = "1: 417 302 655=918" if ranks else "1: 417"
        set_html(self._told, "")
        self._offer()

    def leave(self) -> None:
        """Take no more answers: a press that comes late is refused."""
        self._kept = None

    def enter(self) -> None:
        """Take the answer of one slip, and go on to the next open one."""

        def take(kept: Kept) -> None:
            c, number = self._c, int(self._c.slip.value)
            answer = read_answer(kept.tasting, number, c.answer.value, c.remark.value)
            kept.add({number: answer})
            self._last = number

        self._change(take)

    def enter_many(self) -> None:
        """Take the answers of many slips; all or none."""

        def take(kept: Kept) -> None:
            kept.add(read_answers(kept.tasting, self._c.many.value))
            self._c.many.value = ""

        self._change(take)

    def take_back(self) -> None:
        """Leave out the answer of the slip that is chosen."""

        def back(kept: Kept) -> None:
            kept.take_back(int(self._c.slip.value))
            kept.reopened()
            self._last = int(self._c.slip.value) - 1

        self._change(back)

    def close(self) -> None:
        """Judge without the slips that nobody will hand in."""

        def close(kept: Kept) -> None:
            kept.closed = True

        self._change(close)

    def hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        """Enter in the field of the answer is the button."""
        if isinstance(message, Mapping) and message.get("event") == "submit":
            self.enter()

    def _change(self, action: Callable[[Kept], None]) -> None:
        """Do something to the answers; a refusal is shown and all stays."""
        if self._kept is None:
            self._after()
            return
        try:
            action(self._kept)
        except BakelabError as error:
            set_html(self._told, alert([str(error)]))
            return
        set_html(self._told, "")
        self._offer()
        self._after()

    def _offer(self) -> None:
        """The slips with their answers, the next open one chosen."""
        kept, c = self._kept, self._c
        if kept is None:
            return
        slips = [s.taster for s in kept.tasting.slips]
        still_open = [n for n in slips if n not in kept.answers]
        after = [n for n in still_open if n > self._last] or still_open or slips
        self._quiet = True
        c.slip.options = [(slip_words(kept, n), n) for n in slips]
        c.slip.value = after[0]
        self._quiet = False
        show(c.close, bool(kept.answers) and not kept.complete)
        self._choose()

    def _choose(self) -> None:
        """Show what the chosen slip has, so that it can be corrected."""
        if self._quiet or self._kept is None:
            return
        answer = self._kept.answers.get(int(self._c.slip.value))
        self._c.answer.value = answer.text if answer else ""
        self._c.remark.value = answer.remark if answer else ""
        show(self._c.take_back, answer is not None)


def clicked(action: Callable[[], None]) -> Callable[[Any], None]:
    """What a button calls: an action that does not ask which button it was."""
    return lambda _button: action()
