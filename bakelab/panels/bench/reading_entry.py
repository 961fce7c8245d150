"""Readings of the bake at hand: typed, pasted, or from the file of a probe."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.bakebook.facts import READINGS, Fact
from bakelab.charts.written import plain_number, xml_text
from bakelab.errors import BookError
from bakelab.panels.bench.part import BenchPart, tall_button
from bakelab.panels.bench.values import as_value, unit_label
from bakelab.panels.controls import beside, choice, field
from bakelab.panels.layout import set_html

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook
    from bakelab.bakebook.readings import ReadingsRead

__all__ = ["ReadingEntry"]

_SHOWN = 12
_WEEK_MIN = 10_080
_MINUTE = Fact("minute", "Minute", "min", low=-_WEEK_MIN, high=_WEEK_MIN)


class ReadingEntry(BenchPart):
    """Controls for readings.

    Attributes
    ----------
    kind, value, minute, add, back : widget
        One reading, now or at a minute.
    pasted, take, file : widget
        Many readings.
    """

    places = ("readings", "list")

    def __init__(self, book: "BakeBook", changed: Callable[[], None]) -> None:
        super().__init__(book, changed)
        kinds = [(unit_label(fact), name) for name, fact in READINGS.items()]
        self.kind = choice("Reading", kinds)
        self.value = field("Value", "such as 88")
        self.minute = field("Minute", "blank is now")
        self.add = tall_button("Add the reading")
        self.back = tall_button("Take the last back")
        self.pasted = widgets.Textarea(
            description="Or paste readings: time and value on each line",
            placeholder="10  54.2\n15  71,8",
            rows=3,
        )
        self.take = tall_button("Take the pasted readings")
        self.file = widgets.FileUpload(
            accept=".csv,.tsv,.txt", multiple=False, description="File of a probe (CSV)"
        )
        self.file.add_class("bakelab-tall")
        self.add.on_click(lambda _: self._do("readings", self._add))
        self.back.on_click(lambda _: self._do("readings", self._take_back))
        self.take.on_click(lambda _: self._do("readings", self._take_pasted))
        self.file.observe(lambda _: self._do("readings", self._take_file), "value")

    def widgets(self) -> list[Any]:
        """The controls in order."""
        return [
            beside(self.kind, self.value, self.minute, least_px=120),
            beside(self.add, self.back),
            self.told["readings"],
            self.told["list"],
            self.pasted,
            beside(self.take, self.file),
        ]

    def _draw(self, bake: "Bake | None", *, other: bool) -> None:
        set_html(self.told["list"], _rows(bake) if bake else "")
        if other:
            self.pasted.value = self.value.value = self.minute.value = ""

    def _add(self, bake: "Bake") -> str:
        fact = READINGS[self.kind.value]
        value = as_value(fact, self.value.value)
        if value is None:
            raise BookError(f"the reading has no value; give {fact.allowed}")
        row: dict[str, Any] = {"kind": fact.name, "value": value, "unit": fact.unit}
        minute = as_value(_MINUTE, self.minute.value)
        row |= {"at": datetime.now(UTC)} if minute is None else {"minute": minute}
        self._book.read(bake.id, [row])
        self.value.value = self.minute.value = ""
        return f"{fact.label.lower()} {_shown(fact.name, value)}"

    def _take_back(self, bake: "Bake") -> str:
        of_kind = bake.readings[bake.readings["kind"] == self.kind.value]
        if of_kind.empty:
            label = READINGS[self.kind.value].label.lower()
            raise BookError(f"there is no reading of {label} yet")
        last = of_kind.sort_values("minute").iloc[-1]
        self._book.retire(str(last["id"]), "taken back at the bench")
        return f"{_shown(str(last['kind']), last['value'])} taken back"

    def _take_pasted(self, bake: "Bake") -> str:
        """Keep what is understood; other lines stay in the field."""
        said, left = self._take(bake, f"{self.pasted.value}\n")
        self.pasted.value = left
        return said

    def _take_file(self, bake: "Bake") -> str:
        if not self.file.value:
            return ""
        given = self.file.value[0]
        self.file.value = ()
        said, left = self._take(bake, bytes(given["content"]))
        if left:
            self.pasted.value = left
        return f"{given['name']}: {said}"

    def _take(self, bake: "Bake", what: str | bytes) -> tuple[str, str]:
        """What was kept, in words, and the lines that were not understood."""
        from bakelab.bakebook.readings import read_readings

        day = bake.started_at.astimezone().date()
        found = read_readings(what, kind=self.kind.value, day=day)
        if not found.readings:
            raise BookError(_none(found))
        count = self._book.read(bake.id, found.frame)
        left = "\n".join(line.text for line in found.unread)
        return _words(found, count), left


def _none(found: "ReadingsRead") -> str:
    allowed = "give a time and a value on each line, such as '10 54.2'"
    if not found.unread:
        return f"there are no readings; {allowed}"
    first = found.unread[0]
    return f"line {first.line_no} ({first.text.strip()[:40]!r}) {first.why}; {allowed}"


def _words(found: "ReadingsRead", count: int) -> str:
    """How many are new, what was taken for granted, what is left to mend."""
    there = len(found.readings) - count
    parts = [f"{count} readings"]
    parts += [f"{there} were there already"] if there else []
    parts += list(found.remarks)
    if found.unread:
        first = found.unread[0]
        parts.append(
            f"{len(found.unread)} lines are not understood and stay in the field "
            f"(line {first.line_no} {first.why})"
        )
    return "; ".join(parts)


def _rows(bake: "Bake") -> str:
    """The last readings, a line for each kind."""
    parts = []
    for kind, fact in READINGS.items():
        rows = bake.readings[bake.readings["kind"] == kind].sort_values("minute")
        if rows.empty:
            continue
        shown = rows.tail(_SHOWN)
        more = f"{len(rows) - len(shown)} earlier, " if len(rows) > len(shown) else ""
        pairs = zip(shown["value"], shown["minute"], strict=True)
        values = ", ".join(
            f"{plain_number(value, 2)} ({plain_number(minute, 0)} min)"
            for value, minute in pairs
        )
        parts.append(
            f'<p><span class="bakelab-caption">{xml_text(unit_label(fact))}:</span> '
            f"{more}{values}</p>"
        )
    return "".join(parts)


def _shown(kind: str, value: Any) -> str:
    return f"{plain_number(float(value), 2)} {READINGS[kind].unit}"
