"""The stamps of a bake: pressed, timed, moved, taken back; and what follows."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.facts import FACTS_BY_NAME
from bakelab.errors import BakelabError, BookError, UnitError
from bakelab.panels.bench.stamping import (
    button_rows,
    live_timers,
    milliseconds,
    minutes_between,
    moved_to,
    planned_due,
    stamp_rows,
)
from bakelab.panels.bench.values import clock_text
from bakelab.panels.bench.widgets import Stamps
from bakelab.units import number, quantity

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["Clockwork"]

_LATE = timedelta(hours=1)  # a press may wait so long for a busy kernel
_EARLY = timedelta(seconds=5)
_LONGEST_MIN = 7 * 24 * 60
_LONGEST_WHAT = 80
_SAME = 1e-9


class Clockwork:
    """Joins the stamps of the panel to one bake of the book."""

    def __init__(
        self, book: "BakeBook", stamps: Stamps, changed: Callable[[], None]
    ) -> None:
        self._book, self._stamps, self._changed = book, stamps, changed
        self._bake_id = ""
        stamps.asked = self._asked

    def show(self, bake: "Bake | None") -> None:
        """Show the buttons, running timers and times of a bake."""
        bake_id = bake.id if bake else ""
        if bake_id != self._bake_id:
            self._bake_id = bake_id
            self._stamps.told = {}
        marks = bake.marks if bake else ()
        self._stamps.buttons = button_rows(marks, bake.facts if bake else {})
        self._stamps.stamps = stamp_rows(marks)
        self._stamps.timers = [
            {"id": m.id, "what": m.what, "due": milliseconds(m.due_at)}
            for m in live_timers(marks)
            if m.due_at is not None
        ]

    def _asked(self, message: Mapping[str, Any]) -> None:
        if not self._bake_id:
            return
        acts: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
            "stamp": self._stamp,
            "timer": self._timer,
            "done": self._done,
            "back": self._back,
            "move": self._move,
        }
        try:
            before = self._book.bake(self._bake_id)
            said = acts[str(message.get("do"))](message)
            follows = self._write_what_follows(before)
            words = "; ".join(w for w in (said, *follows) if w)
            self._stamps.told = {"kind": "saved", "text": words}
            self._changed()
        except BakelabError as error:
            words = f"Not written down: {error}"
            self._stamps.told = {"kind": "refused", "text": words}

    def _stamp(self, message: Mapping[str, Any]) -> str:
        what, at = _what(message), _moment(message)
        due = planned_due(what, self._book.bake(self._bake_id).facts, at)
        self._book.mark(self._bake_id, what, at=at, due_at=due)
        timed = f", timer to {clock_text(due)} as planned" if due else ""
        return f"{what} {clock_text(at)}{timed}"

    def _timer(self, message: Mapping[str, Any]) -> str:
        what, at = _what(message), _moment(message)
        minutes = _minutes(str(message.get("minutes", "")))
        due = at + timedelta(minutes=minutes)
        self._book.mark(self._bake_id, what, at=at, due_at=due)
        return f"{what}: timer runs to {clock_text(due)}"

    def _done(self, message: Mapping[str, Any]) -> str:
        timer = self._mark(message)
        at = _moment(message)
        self._book.mark(self._bake_id, f"{timer.what}: done", at=at)
        return f"{timer.what}: done {clock_text(at)}"

    def _back(self, message: Mapping[str, Any]) -> str:
        mark = self._mark(message)
        self._book.retire(mark.id, "taken back at the bench")
        return f"{mark.what} {clock_text(mark.at)} taken back"

    def _move(self, message: Mapping[str, Any]) -> str:
        mark = self._mark(message)
        words = str(message.get("clock", ""))
        at = moved_to(mark.at, words)
        if at is None:
            self._stamps.stamps = []  # so that the page shows the old time again
            self.show(self._book.bake(self._bake_id))
            raise BookError(
                f"a time is hours:minutes such as 14:05, got {words[:20]!r}"
            )
        change: dict[str, Any] = {"at": at}
        if mark.due_at is not None:
            change["due_at"] = mark.due_at + (at - mark.at)
        self._book.write(mark.id, **change)
        return f"{mark.what} moved to {clock_text(at)}"

    def _mark(self, message: Mapping[str, Any]) -> Any:
        for mark in self._book.bake(self._bake_id).marks:
            if mark.id == message.get("id"):
                return mark
        raise BookError("that time is no longer in this bake; look at the list below")

    def _write_what_follows(self, before: "Bake") -> list[str]:
        """Minutes that the stamps give, where nobody wrote something else."""
        bake = self._book.bake(self._bake_id)
        old, new = minutes_between(before.marks), minutes_between(bake.marks)
        found = {
            name: new.get(name)
            for name in (*old, *(n for n in new if n not in old))
            if old.get(name) != new.get(name)
            and _is_ours(bake.facts.get(name), old.get(name))
        }
        if found:
            self._book.write(self._bake_id, version=bake.version, **found)
        return [_told(name, value) for name, value in found.items()]


def _is_ours(written: Any, from_stamps: float | None) -> bool:
    """Whether a fact is blank, or what the stamps gave before."""
    if written is None:
        return True
    return from_stamps is not None and abs(float(written) - from_stamps) < _SAME


def _told(name: str, value: float | None) -> str:
    fact = FACTS_BY_NAME[name]
    if value is None:
        return f"{fact.label.lower()} taken out"
    return f"{fact.label.lower()} {value:g} {fact.unit}".rstrip() + " from the times"


def _what(message: Mapping[str, Any]) -> str:
    what = str(message.get("what", "")).strip()
    if not what or len(what) > _LONGEST_WHAT:
        raise BookError(
            f"a time needs a name of 1 to {_LONGEST_WHAT} letters, such as 'fold'"
        )
    return what


def _moment(message: Mapping[str, Any]) -> datetime:
    """When the button was pressed in the browser, if its clock can be right."""
    now = datetime.now(UTC)
    pressed = message.get("at")
    if isinstance(pressed, bool) or not isinstance(pressed, int | float):
        return now
    try:
        at = datetime.fromtimestamp(pressed / 1000, UTC)
    except (OverflowError, OSError, ValueError):
        return now
    return at if -_EARLY < now - at < _LATE else now


def _minutes(text: str) -> float:
    try:
        minutes = float(number(text))
    except UnitError:
        try:
            minutes = float(quantity(text, dimension="[time]").to("minute").magnitude)
        except UnitError:
            raise BookError(
                f"a timer takes minutes such as 30, got {text[:20]!r}"
            ) from None
    if not 0 < minutes <= _LONGEST_MIN:
        raise BookError(
            f"a timer takes more than 0 and up to {_LONGEST_MIN} min, got {text[:20]!r}"
        )
    return minutes
