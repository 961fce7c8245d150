"""Widgets of the bench: fields of a bake, time stamps with timers, a table of bakes."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from bakelab.panels.scripts import script

__all__ = ["BakesTable", "FactForm", "Stamps"]

_HERE = Path(__file__).parent
_ASKS = ("stamp", "timer", "done", "back", "move")


class FactForm(anywidget.AnyWidget):
    """Labelled fields in groups; each is sent when it is left.

    `groups` are titles with their fields, `values` the text of each field,
    `states` what is said beside it, `offered` words to choose from.
    """

    _esm = script(_HERE / "form.js", "element.js", "keep_keys.js")
    groups = traitlets.List(traitlets.Dict()).tag(sync=True)
    values = traitlets.Dict().tag(sync=True)
    states = traitlets.Dict().tag(sync=True)
    offered = traitlets.Dict().tag(sync=True)

    def __init__(self, groups: list[dict[str, Any]]) -> None:
        super().__init__(groups=groups)
        self.typed: Callable[[str, str, str | None], None] | None = None
        self.chosen: Callable[[str, bool], None] | None = None
        self._names = {f["name"] for group in groups for f in group["fields"]}
        self.on_msg(self._hear)

    def type(self, name: str, text: str, *, was: str | None = None) -> None:
        """What the browser sends when a field is left; `was` is what it showed."""
        if self.typed is not None and name in self._names:
            self.typed(name, text, was)
        self.send({"answered": name})

    def choose(self, name: str, *, mine: bool) -> None:
        """Settle a conflict: keep what was typed here, or take the other's."""
        if self.chosen is not None and name in self._names:
            self.chosen(name, mine)
        self.send({"answered": name})

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if not isinstance(message, Mapping):
            return
        name = str(message.get("name", ""))
        if "choose" in message:
            self.choose(name, mine=message["choose"] == "mine")
        elif "value" in message:
            was = message.get("was")
            told = None if was is None else str(was)
            self.type(name, str(message["value"]), was=told)


class Stamps(anywidget.AnyWidget):
    """Large buttons that write down the time, timers, and the times so far.

    Moments are milliseconds since 1970, as a browser counts them.
    """

    _esm = script(_HERE / "stamps.js", "element.js")
    buttons = traitlets.List(traitlets.Dict()).tag(sync=True)
    timers = traitlets.List(traitlets.Dict()).tag(sync=True)
    stamps = traitlets.List(traitlets.Dict()).tag(sync=True)
    told = traitlets.Dict().tag(sync=True)

    def __init__(self) -> None:
        super().__init__()
        self.asked: Callable[[Mapping[str, Any]], None] | None = None
        self.on_msg(self._hear)

    def ask(self, do: str, **more: Any) -> None:
        """What the browser sends when a button is pressed."""
        if self.asked is not None and do in _ASKS:
            self.asked({"do": do, **more})
        self.send({"answered": do})

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if isinstance(message, Mapping):
            more = {str(k): v for k, v in message.items() if k != "do"}
            self.ask(str(message.get("do", "")), **more)


class BakesTable(anywidget.AnyWidget):
    """One row for each bake; a heading sorts, the first cell opens."""

    _esm = script(_HERE / "bakes_table.js", "element.js")
    columns = traitlets.List(traitlets.Dict()).tag(sync=True)
    rows = traitlets.List(traitlets.Dict()).tag(sync=True)
    chosen = traitlets.Unicode().tag(sync=True)

    def __init__(self, columns: list[dict[str, Any]]) -> None:
        super().__init__(columns=columns)
        self.opened: Callable[[str], None] | None = None
        self.on_msg(self._hear)

    def open_row(self, bake_id: str) -> None:
        """What the browser sends when a row is opened."""
        if self.opened is not None and any(r["id"] == bake_id for r in self.rows):
            self.opened(bake_id)

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if isinstance(message, Mapping) and "open" in message:
            self.open_row(str(message["open"]))
