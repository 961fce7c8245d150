"""A part of the bench that writes to the bake at hand and says what came of it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.values import clock_text
from bakelab.panels.layout import set_html

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["BenchPart", "tall_button"]


class BenchPart:
    """What such parts share: the book, the bake at hand, and where words go.

    Attributes
    ----------
    told : dict of str to HTML
        Beside each control: what was saved, or why not.
    """

    places: tuple[str, ...] = ()

    def __init__(self, book: "BakeBook", changed: Callable[[], None]) -> None:
        self._book, self._changed = book, changed
        self._bake: Bake | None = None
        self._is_quiet = False
        self.told = {name: widgets.HTML() for name in self.places}

    def show(self, bake: "Bake | None") -> None:
        """Show what a bake holds; what was said of another one goes away."""
        other = (bake.id if bake else "") != (self._bake.id if self._bake else "")
        self._bake = bake
        if other:
            for told in self.told.values():
                set_html(told, "")
        with self._quiet():
            self._draw(bake, other=other)

    def _draw(self, bake: "Bake | None", *, other: bool) -> None:
        """Fill the controls; `other` if it is not the bake of before."""

    def _do(self, where: str, act: Callable[["Bake"], str]) -> None:
        """Do something to the bake at hand, and say what came of it beside it."""
        if self._is_quiet or self._bake is None:
            return
        try:
            said = act(self._book.bake(self._bake.id))
        except BakelabError as error:
            set_html(self.told[where], alert([f"Not saved: {error}"]))
            return
        if said:
            words = f"saved {clock_text(datetime.now(UTC))}: {said}"
            set_html(self.told[where], note(words))
            self._changed()

    @contextmanager
    def _quiet(self) -> Iterator[None]:
        """Set controls without taking it for something that was typed."""
        before, self._is_quiet = self._is_quiet, True
        try:
            yield
        finally:
            self._is_quiet = before


def tall_button(words: str, style: str = "") -> Any:
    """A button large enough for a thumb with flour on it."""
    button = widgets.Button(description=words, button_style=style)
    button.add_class("bakelab-tall")
    return button
