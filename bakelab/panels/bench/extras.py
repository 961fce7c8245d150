"""Photos, tags and notes of the bake at hand."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError, BookError, ConflictError
from bakelab.panels.bench.part import BenchPart
from bakelab.panels.bench.values import day_text
from bakelab.panels.controls import beside, choice, field
from bakelab.panels.layout import set_html
from bakelab.sheets.bake_photos import photo_addresses
from bakelab.sheets.notes import notes_html

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook, Note

__all__ = ["Extras"]

_NEW = "a new note"
_SHORT = 40
_MOST_THUMBS = 12
_THUMB_PX = 240


class Extras(BenchPart):
    """Controls below the numbers; notes last.

    Attributes
    ----------
    photos, caption, tags : widget
    which, text : widget
        The note that is written or changed, and its words.
    """

    places = ("photos", "shown", "tags", "notes", "note")

    def __init__(self, book: "BakeBook", changed: Callable[[], None]) -> None:
        super().__init__(book, changed)
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
        self._seen: Note | None = None
        self.photos.observe(lambda _: self._do("photos", self._take_photos), "value")
        self.tags.observe(lambda _: self._do("tags", self._tag), "value")
        self.which.observe(lambda _: self._open_note(), "value")
        self.text.observe(lambda _: self._do("notes", self._keep_note), "value")

    def widgets(self) -> list[Any]:
        """The controls in order."""
        return [
            beside(self.caption, self.photos), self.told["photos"], self.told["shown"],
            self.tags, self.told["tags"],
            self.which, self.text, self.told["notes"], self.told["note"],
        ]  # fmt: skip

    def _draw(self, bake: "Bake | None", *, other: bool) -> None:
        self.tags.value = ", ".join(bake.tags) if bake else ""
        if other:
            self._seen = None
            self.text.value = self.caption.value = ""
        self._offer_notes(bake)
        set_html(self.told["shown"], _thumbs(bake) if bake else "")

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

    def _tag(self, bake: "Bake") -> str:
        words = [w.strip() for w in self.tags.value.split(",") if w.strip()]
        gone = [w for w in bake.tags if w not in words]
        new = [w for w in words if w not in bake.tags]
        if new:
            self._book.tag(bake.id, *new)
        if gone:
            self._book.untag(bake.id, *gone)
        return f"tags {', '.join(words) or 'taken off'}" if new or gone else ""

    def _offer_notes(self, bake: "Bake | None") -> None:
        notes = bake.notes if bake else ()
        chosen = self._seen.id if self._seen else ""
        self.which.options = [(_NEW, ""), *((_first_words(n), n.id) for n in notes)]
        if chosen in {n.id for n in notes}:
            self.which.value = chosen

    def _open_note(self) -> None:
        if self._is_quiet or self._bake is None:
            return
        bake = self._book.bake(self._bake.id)
        found = [n for n in bake.notes if n.id == self.which.value]
        self._seen = found[0] if found else None
        with self._quiet():
            self.text.value = self._seen.text if self._seen else ""
        self._show_note()

    def _keep_note(self, bake: "Bake") -> str:
        text = self.text.value
        if not text.strip():
            if self._seen is not None:
                raise BookError("a note that was kept is not emptied; write a word")
            return ""
        said = "note corrected" if self._seen else "note"
        note_id = (
            self._corrected(text) if self._seen else self._book.note(bake.id, text)
        )
        notes = self._book.bake(bake.id).notes
        self._seen = next(n for n in notes if n.id == note_id)
        self._show_note()
        return said

    def _corrected(self, text: str) -> str:
        """Write over the note that was seen; another's words are kept beside."""
        seen = self._seen
        assert seen is not None  # only called for a note that is open
        if seen.text == text:
            return seen.id
        try:
            self._book.write(seen.id, version=seen.version, text=text)
        except ConflictError as error:
            theirs = str(error.others.get("text", ""))
            both = f"{theirs}\n\n{text}"
            self._book.write(seen.id, version=error.version, text=both)
            with self._quiet():
                self.text.value = both
        return seen.id

    def _show_note(self) -> None:
        words = notes_html(self._seen.text) if self._seen else ""
        set_html(self.told["note"], words)


def _thumbs(bake: "Bake") -> str:
    found = photo_addresses(bake, most=_MOST_THUMBS, side_px=_THUMB_PX)
    shown = "".join(
        f'<figure><img src="{address}" alt="{xml_text(p.caption or p.name)}">'
        f"<figcaption>{xml_text(p.caption or p.name)}</figcaption></figure>"
        for p, address, _ in found
    )
    return f'<div class="bakelab-thumbs">{shown}</div>' if shown else ""


def _first_words(written: "Note") -> str:
    words = " ".join(written.text.split())
    short = words if len(words) <= _SHORT else f"{words[:_SHORT]}…"
    return f"{day_text(written.at)}: {short}"
