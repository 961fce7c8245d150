"""All bakes of the book: what they are found by, and the table of them."""

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import pandas as pd

from bakelab.charts.written import plain_number
from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.widgets import BakesTable
from bakelab.panels.controls import beside, choice, field
from bakelab.panels.layout import set_html

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Browsing"]

_MOST_ROWS = 200
_OFFERED_FROM = 2000  # newest bakes whose words are offered; text finds the rest
_ANY = ("any", "")
_COLUMNS = (
    ("started_at", "Started", None),
    ("title", "Bread", None),
    ("pan", "Pan", None),
    ("dough_c", "Dough (°C)", 1),
    ("proof_min", "Proof (min)", 0),
    ("bake_min", "Bake (min)", 0),
    ("bake_loss_pct", "Loss (%)", 1),
    ("specific_volume_cm3_g", "Volume (cm³/g)", 2),
    ("taste_1_9", "Taste of 9", 0),
    ("tags", "Tags", None),
)


class Browsing:
    """Filters and the table they leave.

    Attributes
    ----------
    formula, tag, pan, baker, since, until, text, retired : widget
    table : BakesTable
    view : widget
    """

    def __init__(self, book: "BakeBook", opened: Callable[[str], None]) -> None:
        self._book = book
        self._quiet = False
        self.formula = choice("Formula", [_ANY])
        self.tag = choice("Tag", [_ANY])
        self.pan = choice("Pan", [_ANY])
        self.baker = choice("Baker", [_ANY])
        self.since = field("From (year-month-day)", "such as 2026-09-01")
        self.until = field("Until (year-month-day)", "such as 2026-12-31")
        self.text = field("Words in notes, tags or facts", "such as dense")
        self.retired = widgets.Checkbox(description="Also retired ones", indent=False)
        self.clear = widgets.Button(description="Show all")
        self.told = widgets.HTML()
        self.count = widgets.HTML()
        self.table = BakesTable(
            [
                {"key": key, "label": label, "right": places is not None}
                for key, label, places in _COLUMNS
            ]
        )
        self.table.opened = opened
        self.view = self._layout()
        self._listen()

    def refresh(self) -> None:
        """Offer what the book holds, and find again."""
        self._quiet = True
        try:
            self._offer()
        finally:
            self._quiet = False
        self.find()

    def find(self) -> None:
        """Show the bakes that the filters leave."""
        if self._quiet:
            return
        try:
            frame = self._book.bakes(
                formula=self.formula.value or None,
                tag=self.tag.value or None,
                pan=self.pan.value or None,
                baker=self.baker.value or None,
                since=self.since.value.strip() or None,
                until=self.until.value.strip() or None,
                text=self.text.value.strip() or None,
                retired=self.retired.value,
                newest=_MOST_ROWS + 1,
            )
        except BakelabError as error:
            set_html(self.told, alert([str(error)]))
            return
        set_html(self.told, "")
        shown = frame.head(_MOST_ROWS)
        self.table.rows = [_row(record) for record in shown.to_dict("records")]
        set_html(self.count, note(_count(len(frame))))

    def _layout(self) -> Any:
        return widgets.VBox([
            beside(self.formula, self.tag, self.pan, self.baker, least_px=170),
            beside(self.since, self.until, self.text, self.retired, self.clear,
                   least_px=150),
            self.told, self.count, self.table,
        ])  # fmt: skip

    def _filters(self) -> tuple[Any, ...]:
        return (
            self.formula, self.tag, self.pan, self.baker, self.since, self.until,
            self.text, self.retired,
        )  # fmt: skip

    def _listen(self) -> None:
        for control in self._filters():
            control.observe(lambda _: self.find(), "value")
        self.clear.on_click(lambda _: self._clear())

    def _clear(self) -> None:
        self._quiet = True
        try:
            for control in self._filters():
                control.value = False if control is self.retired else ""
        finally:
            self._quiet = False
        self.find()

    def _offer(self) -> None:
        kept = self._book.formulas(retired=True)
        frame = self._book.bakes(retired=True, newest=_OFFERED_FROM)
        used = set(frame["formula_key"])
        formulas = [
            (_formula_words(row), str(row["key"]))
            for row in kept.to_dict("records")
            if row["key"] in used
        ]
        tags = sorted({w for words in frame["tags"] for w in words.split(", ") if w})
        offers = [
            (self.formula, formulas),
            (self.tag, [(w, w) for w in tags]),
            (self.pan, [(w, w) for w in sorted(set(frame["pan"]) - {""})]),
            (self.baker, [(w, w) for w in sorted(set(frame["baker"]) - {""})]),
        ]
        for control, options in offers:
            chosen = control.value
            control.options = [_ANY, *options]
            control.value = chosen if chosen in {v for _, v in options} else ""


def _row(record: dict[Any, Any]) -> dict[str, Any]:
    cells, keys = [], []
    for key, _, places in _COLUMNS:
        text, order = _cell(record.get(key), key, places)
        cells.append(text)
        keys.append(order)
    return {"id": str(record["id"]), "cells": cells, "keys": keys}


def _cell(value: Any, key: str, places: int | None) -> tuple[str, Any]:
    if pd.isna(value) or value == "":
        return "", ""
    if key == "started_at":
        return _short_day(value.to_pydatetime()), value.timestamp()
    if places is not None:
        number = float(value)
        return plain_number(number, places), number
    return str(value), str(value).casefold()


def _short_day(at: datetime) -> str:
    local = at.astimezone()
    return f"{local.day} {local:%b %Y, %H:%M}"


def _count(found: int) -> str:
    if not found:
        return "No bake is found; take a filter away."
    if found > _MOST_ROWS:
        return (
            f"More than {_MOST_ROWS} bakes, the newest {_MOST_ROWS} shown; a filter "
            "narrows them."
        )
    return f"{found} bake{'s' if found > 1 else ''}"


def _formula_words(row: dict[Any, Any]) -> str:
    name, title = str(row.get("name") or ""), str(row.get("title") or "Bread")
    return f"{name} ({title})" if name and name != title else title
