"""Small parts of panels: the table of lines, folds, names of sliders, the loop."""

import asyncio
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from bakelab.panels.scripts import script
from bakelab.reading import STATES

__all__ = ["FIELDS", "Fold", "LinesTable", "SliderNames", "kernel_loop"]

FIELDS = ("text", "ingredient", "grams", "state")
"""What of a line can be corrected in place."""

_HERE = Path(__file__).parent


class LinesTable(anywidget.AnyWidget):
    """Ingredient lines, each with its state in words, corrected in place.

    `rows` are the lines as they stand (`FIELDS` and `remark`, all text);
    `names` are offered for the ingredient. A correction made in the browser
    calls every function given to `on_correction` with the row's number, the
    field and the new text. A new line that is written below the table goes to
    the functions of `on_addition`, with its stage: one of `stages`, of which
    `stage` is offered first; `answer` says whether it was taken.
    """

    _esm = script(_HERE / "lines_table.js", "element.js", "keep_keys.js")
    rows = traitlets.List(traitlets.Dict()).tag(sync=True)
    names = traitlets.List(traitlets.Unicode()).tag(sync=True)
    states = traitlets.List(list(STATES)).tag(sync=True)
    stages = traitlets.List(traitlets.Unicode()).tag(sync=True)
    stage = traitlets.Unicode().tag(sync=True)

    def __init__(self, names: Sequence[str] = ()) -> None:
        super().__init__(names=list(names))
        self._told: list[Callable[[int, str, str], None]] = []
        self._added: list[Callable[[str, str], None]] = []
        self.on_msg(self._hear)

    def on_correction(self, function: Callable[[int, str, str], None]) -> None:
        """Call `function(row, field, text)` on every correction."""
        self._told.append(function)

    def on_addition(self, function: Callable[[str, str], None]) -> None:
        """Call `function(text, stage)` on every line that is added."""
        self._added.append(function)

    def answer(self, *, taken: bool) -> None:
        """Say whether the new line was taken; its field is emptied then."""
        self.send({"taken": taken})

    def _hear(self, _widget: Any, message: Any, _buffers: Any) -> None:
        if not isinstance(message, Mapping):
            return
        if isinstance(message.get("add"), str):
            stage = str(message.get("stage", ""))
            for add in self._added:
                add(message["add"], stage if stage in self.stages else "")
            return
        row, field = message.get("row"), message.get("field")
        known = isinstance(row, int) and 0 <= row < len(self.rows) and field in FIELDS
        if known:
            for function in self._told:
                function(int(row or 0), str(field), str(message.get("value", "")))


class Fold(anywidget.AnyWidget):
    """A titled part of the answer that opens with a click, Enter or Space.

    `html` is ours and escaped; while it is empty, nothing is shown.
    """

    _esm = _HERE / "fold.js"
    title = traitlets.Unicode().tag(sync=True)
    html = traitlets.Unicode().tag(sync=True)

    def __init__(self, title: str) -> None:
        super().__init__(title=title)


class SliderNames(anywidget.AnyWidget):
    """Shows nothing; gives every slider of its panel a name for a screen reader."""

    _esm = _HERE / "slider_names.js"


def kernel_loop() -> asyncio.AbstractEventLoop | None:
    """The loop of the notebook's kernel; None outside a kernel."""
    from IPython import get_ipython

    shell = get_ipython()
    if getattr(shell, "kernel", None) is None:
        return None
    try:
        return asyncio.get_running_loop()
    except RuntimeError:
        return None
