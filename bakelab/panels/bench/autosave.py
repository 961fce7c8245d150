"""Every field saved when it is left; what cannot be saved stays and is said."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.facts import FACTS, FACTS_BY_NAME
from bakelab.errors import BakelabError, ConflictError
from bakelab.panels.bench.values import as_text, as_value, clock_text
from bakelab.panels.bench.widgets import FactForm

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["Autosave"]


class Autosave:
    """Joins the fields of a form to one bake of the book.

    Parameters
    ----------
    book : BakeBook
    form : FactForm
    saved : callable
        Called after every value that reached the book.
    """

    def __init__(
        self, book: "BakeBook", form: FactForm, saved: Callable[[], None]
    ) -> None:
        self._book, self._form, self._saved = book, form, saved
        self._bake_id = ""
        self._refused: dict[str, str] = {}
        self._mine: dict[str, Any] = {}
        form.typed = self._typed
        form.chosen = self._chosen

    def show(self, bake: "Bake | None") -> None:
        """Show a bake's facts; refused text of the same bake stays."""
        bake_id = bake.id if bake else ""
        if bake_id != self._bake_id:
            self._bake_id = bake_id
            self._refused.clear()
            self._mine.clear()
            self._form.states = {}
        facts = bake.facts if bake else {}
        stored = {f.name: as_text(f, facts.get(f.name)) for f in FACTS}
        self._form.values = stored | self._refused

    def say(self, name: str, kind: str, text: str, **more: str) -> None:
        """Say something beside a field."""
        states = dict(self._form.states)
        states[name] = {"kind": kind, "text": text, **more}
        self._form.states = states

    def _typed(self, name: str, text: str, was: str | None) -> None:
        if not self._bake_id:
            return
        fact = FACTS_BY_NAME[name]
        try:
            value = as_value(fact, text)
            facts = self._book.bake(self._bake_id).facts
            stored = as_text(fact, facts.get(name))
            changed = was is not None and was not in (stored, self._refused.get(name))
            if changed and as_text(fact, value) != stored:
                self._conflict(name, value, stored)
            else:
                self._write(name, value)
        except BakelabError as error:
            self._refuse(name, text, str(error))

    def _chosen(self, name: str, mine: bool) -> None:
        try:
            if mine and name in self._mine:
                self._write(name, self._mine[name])
                return
            self._refused.pop(name, None)
            self._mine.pop(name, None)
            self._say_saved(name, "theirs taken, ")
            self._saved()
        except BakelabError as error:
            self._refuse(
                name, as_text(FACTS_BY_NAME[name], self._mine[name]), str(error)
            )

    def _write(self, name: str, value: Any) -> None:
        bake = self._book.bake(self._bake_id)
        if bake.facts.get(name) != value:
            try:
                self._book.write(self._bake_id, version=bake.version, **{name: value})
            except ConflictError as error:
                if name in error.others:
                    stored = as_text(FACTS_BY_NAME[name], error.others[name])
                    self._conflict(name, value, stored)
                    return
                version = error.version
                self._book.write(self._bake_id, version=version, **{name: value})
        self._refused.pop(name, None)
        self._mine.pop(name, None)
        self._say_saved(name, "")
        self._saved()

    def _conflict(self, name: str, value: Any, stored: str) -> None:
        self._mine[name] = value
        mine = as_text(FACTS_BY_NAME[name], value)
        self._refused[name] = mine
        self._form.values = dict(self._form.values) | {name: mine}
        sentence = (
            f"Not saved: {FACTS_BY_NAME[name].label.lower()} was changed meanwhile to "
            f"{stored or 'blank'}; choose one."
        )
        self.say(name, "conflict", sentence, mine=mine, theirs=stored)

    def _refuse(self, name: str, text: str, sentence: str) -> None:
        self._refused[name] = text
        self._form.values = dict(self._form.values) | {name: text}
        head = sentence[:1].upper() + sentence[1:]
        self.say(name, "refused", f"Not saved: {head.rstrip('.')}.")

    def _say_saved(self, name: str, before: str) -> None:
        self.say(name, "saved", f"{before}saved {clock_text(datetime.now(UTC))}")
