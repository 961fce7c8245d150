"""Readings, photos, tags and notes of the bake at hand."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from io import StringIO
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import pandas as pd

from bakelab.bakebook.facts import READINGS
from bakelab.charts.written import plain_number, xml_text
from bakelab.errors import BakelabError, BookError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.values import as_value, clock_text, day_text, unit_label
from bakelab.panels.controls import beside, choice, field
from bakelab.panels.layout import set_html
from bakelab.sheets.bake_photos import photo_addresses

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["Extras"]

_NEW = "a new note"
_WORDS_PX = 40
_SHOWN_READINGS = 12
_THUMB_PX = 240
_KINDS = {
    "core": "core_c", "temperature": "core_c", "rise": "rise_ml", "jar": "rise_ml",
    "height": "rise_mm", "acidity": "ph", "loss": "loss_g",
}  # fmt: skip


class Extras:
    """Controls below the numbers: readings, photos, tags, and notes last.

    Attributes
    ----------
    kind, value, minute, add, pasted, take, file : widget
        Of the readings.
    photos, caption : widget
    tags, tagged : widget
    which, text : widget
        The note that is written or changed.
    told : dict of str to HTML
    """

    def __init__(self, book: "BakeBook", changed: Callable[[], None]) -> None:
        self._book, self._changed = book, changed
        self._bake: Bake | None = None
        self._quiet = False
        self._make_readings()
        self._make_rest()
        self.told = {
            name: widgets.HTML()
            for name in ("readings", "photos", "tags", "notes", "list", "shown")
        }
        self._listen()

    def show(self, bake: "Bake | None") -> None:
        """Show what a bake holds."""
        other = (bake.id if bake else "") != (self._bake.id if self._bake else "")
        self._bake = bake
        if other:
            for told in self.told.values():
                set_html(told, "")
        self._quiet = True
        try:
            self.tags.value = ", ".join(bake.tags) if bake else ""
            self._offer_notes(bake, fresh=other)
        finally:
            self._quiet = False
        if bake is not None:
            set_html(self.told["list"], _reading_rows(bake))
            set_html(self.told["shown"], self._thumbs(bake))

    def _make_readings(self) -> None:
        kinds = [(unit_label(fact), name) for name, fact in READINGS.items()]
        self.kind = choice("Reading", kinds)
        self.value = field("Value", "such as 88")
        self.minute = field("Minute", "blank is now")
        self.add = _tall("Add the reading")
        self.back = _tall("Take the last back")
        self.pasted = widgets.Textarea(
            description="Or paste readings: minute and value on each line",
            placeholder="10  54.2\n15  71,8",
            rows=3,
        )
        self.take = _tall("Take the pasted readings")
        self.file = widgets.FileUpload(
            accept=".csv,.tsv,.txt", multiple=False, description="File of a probe (CSV)"
        )
        self.file.add_class("bakelab-tall")

    def _make_rest(self) -> None:
        self.photos = widgets.FileUpload(
            accept="image/*", multiple=True, description="Add photos"
        )
        self.photos.add_class("bakelab-tall")
        self.caption = field("Words for the next photo", "such as crumb, middle slice")
        self.tags = field("Tags, with commas", "such as house, too sour")
        self.which = choice("Note", [(_NEW, "")])
        self.text = widgets.Textarea(
            description="Words in Markdown; saved when you leave the field",
            rows=5,
            continuous_update=False,
        )

    def readings_view(self) -> list[Any]:
        """The widgets of the readings."""
        return [
            beside(self.kind, self.value, self.minute, least_px=120),
            beside(self.add, self.back),
            self.told["readings"],
            self.told["list"],
            self.pasted,
            beside(self.take, self.file),
        ]

    def rest_view(self) -> list[Any]:
        """The widgets of photos, tags and notes."""
        return [
            beside(self.caption, self.photos), self.told["photos"], self.told["shown"],
            self.tags, self.told["tags"],
            self.which, self.text, self.told["notes"],
        ]  # fmt: skip

    def _listen(self) -> None:
        self.add.on_click(lambda _: self._do("readings", self._add))
        self.back.on_click(lambda _: self._do("readings", self._take_back))
        self.take.on_click(lambda _: self._do("readings", self._take_pasted))
        self.file.observe(lambda _: self._do("readings", self._take_file), "value")
        self.photos.observe(lambda _: self._do("photos", self._take_photos), "value")
        self.tags.observe(lambda _: self._do("tags", self._tag), "value")
        self.which.observe(lambda _: self._open_note(), "value")
        self.text.observe(lambda _: self._do("notes", self._keep_note), "value")

    def _do(self, where: str, act: Callable[["Bake"], str]) -> None:
        """Do something to the bake at hand, and say what came of it beside it."""
        if self._quiet or self._bake is None:
            return
        try:
            said = act(self._book.bake(self._bake.id))
        except BakelabError as error:
            set_html(self.told[where], alert([f"Not saved: {error}"]))
            return
        if said:
            words = f"{said}, saved {clock_text(datetime.now(UTC))}"
            set_html(self.told[where], note(words))
            self._changed()

    def _add(self, bake: "Bake") -> str:
        fact = READINGS[self.kind.value]
        value = as_value(fact, self.value.value)
        if value is None:
            raise BookError(f"the reading has no value; give {fact.allowed}")
        row: dict[str, Any] = {"kind": fact.name, "value": value, "unit": fact.unit}
        minute = as_value(_MINUTE, self.minute.value)
        if minute is None:
            row["at"] = datetime.now(UTC)
        else:
            row["minute"] = minute
        self._book.read(bake.id, [row])
        self.value.value = self.minute.value = ""
        return f"{fact.label} {_shown(fact.name, value)}"

    def _take_back(self, bake: "Bake") -> str:
        of_kind = bake.readings[bake.readings["kind"] == self.kind.value]
        if of_kind.empty:
            raise BookError(
                f"there is no reading of {READINGS[self.kind.value].label.lower()} yet"
            )
        last = of_kind.sort_values("minute").iloc[-1]
        self._book.retire(str(last["id"]), "taken back at the bench")
        return f"{_shown(str(last['kind']), last['value'])} taken back"

    def _take_pasted(self, bake: "Bake") -> str:
        count = self._read_text(bake, self.pasted.value)
        self.pasted.value = ""
        return f"{count} readings"

    def _take_file(self, bake: "Bake") -> str:
        if not self.file.value:
            return ""
        given = self.file.value[0]
        self.file.value = ()
        text = bytes(given["content"]).decode("utf-8-sig", "replace")
        count = self._read_text(bake, text)
        return f"{count} readings of {given['name']}"

    def _read_text(self, bake: "Bake", text: str) -> int:
        """Readings by their own headings, or two columns of the chosen kind."""
        if not text.strip():
            raise BookError("there are no readings; give a minute and a value per line")
        if any(letter.isalpha() for letter in text.splitlines()[0]):
            return self._book.read(bake.id, text)
        return self._book.read(bake.id, _two_columns(text, self.kind.value))

    def _take_photos(self, bake: "Bake") -> str:
        """Keep every photo that is one; the others are named."""
        given = list(self.photos.value)
        if not given:
            return ""
        self.photos.value = ()
        refused = []
        for file in given:
            try:
                self._take_photo(bake, file)
            except BakelabError as error:
                refused.append(f"{str(file['name'])[:60]}: {error}")
        if refused:
            self._changed()
            raise BookError("; ".join(refused))
        self.caption.value = ""
        return f"{len(given)} photo{'s' if len(given) > 1 else ''}"

    def _take_photo(self, bake: "Bake", file: Mapping[str, Any]) -> None:
        words, name = self.caption.value.strip(), str(file["name"])
        self._book.photo(bake.id, bytes(file["content"]), name=name, caption=words)

    def _thumbs(self, bake: "Bake") -> str:
        found = photo_addresses(bake, most=12, side_px=_THUMB_PX)
        shown = "".join(
            f'<figure><img src="{address}" alt="{xml_text(p.caption or p.name)}">'
            f"<figcaption>{xml_text(p.caption or p.name)}</figcaption></figure>"
            for p, address, _ in found
        )
        return f'<div class="bakelab-thumbs">{shown}</div>' if shown else ""

    def _tag(self, bake: "Bake") -> str:
        words = [w.strip() for w in self.tags.value.split(",") if w.strip()]
        gone = [w for w in bake.tags if w not in words]
        new = [w for w in words if w not in bake.tags]
        if new:
            self._book.tag(bake.id, *new)
        if gone:
            self._book.untag(bake.id, *gone)
        return "tags" if new or gone else ""

    def _offer_notes(self, bake: "Bake | None", *, fresh: bool) -> None:
        notes = bake.notes if bake else ()
        chosen = "" if fresh else self.which.value
        options = [(_NEW, ""), *((_first_words(n), n.id) for n in notes)]
        self.which.options = options
        if chosen in {value for _, value in options}:
            self.which.value = chosen
        if fresh:
            self.text.value = ""

    def _open_note(self) -> None:
        if self._quiet or self._bake is None:
            return
        self._quiet = True
        try:
            by_id: Mapping[str, str] = {n.id: n.text for n in self._bake.notes}
            self.text.value = by_id.get(self.which.value, "")
        finally:
            self._quiet = False

    def _keep_note(self, bake: "Bake") -> str:
        text, chosen = self.text.value, self.which.value
        if chosen:
            if not text.strip():
                raise BookError("a note that was kept is not emptied; write a word")
            self._book.write(chosen, text=text)
            return "note corrected"
        if not text.strip():
            return ""
        made = self._book.note(bake.id, text)
        self._offer_notes(self._book.bake(bake.id), fresh=False)
        self._quiet = True
        try:
            self.which.value = made
        finally:
            self._quiet = False
        return "note"


def _two_columns(text: str, kind: str) -> pd.DataFrame:
    """Minute and value on each line, with spaces, tabs, `;` or `,` between."""
    rows = [_pair(line) for line in StringIO(text).read().splitlines() if line.strip()]
    frame = pd.DataFrame(rows, columns=["minute", "value"])
    return frame.assign(kind=kind, unit=READINGS[kind].unit)


def _pair(line: str) -> tuple[float, float]:
    words = line.replace(";", " ").replace("\t", " ").split()
    if len(words) == 1 and line.count(",") == 1:
        words = line.split(",")
    if len(words) != 2:
        raise BookError(
            f"a line is minute and value such as '10 54.2', got {line[:40]!r}"
        )
    minute = as_value(_MINUTE, words[0])
    value = as_value(_ANY, words[1])
    if minute is None or value is None:
        raise BookError(
            f"a line is minute and value such as '10 54.2', got {line[:40]!r}"
        )
    return float(minute), float(value)


def _reading_rows(bake: "Bake") -> str:
    """The last readings as a small table, a row for each kind."""
    parts = []
    for kind, fact in READINGS.items():
        rows = bake.readings[bake.readings["kind"] == kind].sort_values("minute")
        if rows.empty:
            continue
        shown = rows.tail(_SHOWN_READINGS)
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


def _first_words(written: Any) -> str:
    words = " ".join(written.text.split())
    short = words if len(words) <= _WORDS_PX else f"{words[:_WORDS_PX]}…"
    return f"{day_text(written.at)}: {short}"


def _tall(words: str) -> Any:
    button = widgets.Button(description=words)
    button.add_class("bakelab-tall")
    return button


def _bounded(label: str, low: float, high: float) -> Any:
    from bakelab.bakebook.facts import Fact

    return Fact(
        label.lower(), label, "min" if label == "Minute" else "", low=low, high=high
    )


_MINUTE = _bounded("Minute", -10080, 10080)
_ANY = _bounded("Value", -1e6, 1e6)
