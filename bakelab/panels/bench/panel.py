"""The panel of the bench: start, stamp, write, find and print bakes."""

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.autosave import Autosave
from bakelab.panels.bench.books import DEMO_WORDS, book_to_open, demo_book, is_demo
from bakelab.panels.bench.browsing import Browsing
from bakelab.panels.bench.clockwork import Clockwork
from bakelab.panels.bench.extras import Extras
from bakelab.panels.bench.paging import Paging
from bakelab.panels.bench.reading_entry import ReadingEntry
from bakelab.panels.bench.stamping import is_finished
from bakelab.panels.bench.starting import Starting
from bakelab.panels.bench.telling import Telling, bake_words
from bakelab.panels.bench.values import field_groups
from bakelab.panels.bench.volume_entry import VolumeEntry
from bakelab.panels.bench.widgets import FactForm, Stamps
from bakelab.panels.controls import beside, choice, heading, show
from bakelab.panels.layout import set_html, two_columns
from bakelab.panels.style import SCOPE, panel_style

if TYPE_CHECKING:
    from bakelab.bakebook import Bake, BakeBook

__all__ = ["BenchPanel"]

_JOB = (
    "Write down a bake while you make it: every tap and every field is saved at once, "
    "old values are kept, and timers go on when the kernel is started again."
)
_WAITING = (
    "No bake is running. Start one: its times, fields, readings, photos and notes come "
    "here. Those of before are under “All bakes”."
)
TABS = (
    ("At the bench", "bench"),
    ("All bakes", "bakes"),
    ("The page of a bake", "page"),
)
_OPEN_FOR = timedelta(days=4)
_SUGGESTED = ("baker", "oven", "flour_lot", "pan", "mix_speed", "plan", "trial")
_RECENT = 60
_MOST_OPEN = 20


class BenchPanel:
    """A bake at hand, all bakes, and the page of one.

    Parameters
    ----------
    book : BakeBook, str or Path, optional
        A book, or where one is; by default the user's own book.

    Attributes
    ----------
    book : BakeBook
    tabs : ToggleButtons
    starting : Starting
    at_hand : Dropdown
        The bake that is written in.
    stamps : Stamps
    form : FactForm
    volume : VolumeEntry
    readings : ReadingEntry
    extras : Extras
    telling : Telling
    browsing : Browsing
    paging : Paging
    view : ipywidgets.Widget
    """

    def __init__(self, book: "BakeBook | str | os.PathLike[str] | None" = None) -> None:
        self.view = widgets.VBox()
        self.view.add_class(SCOPE)
        self.use(book_to_open() if book is None else _opened(book))

    def use(self, book: "BakeBook") -> None:
        """Show another book in the same place."""
        self.book = book
        self.tabs = widgets.ToggleButtons(options=list(TABS), description="Show")
        self.tabs.add_class("bakelab-tabs")
        self.stamps, self.form = Stamps(), FactForm(field_groups())
        self.at_hand = choice("Bake at hand", [("none is running", "")])
        self.other_book = widgets.Button()
        self.other_book.add_class("bakelab-tall")
        self.waiting = widgets.HTML(note(_WAITING))
        self.telling, self.book_told = Telling(), widgets.HTML()
        self._quiet = False
        self.starting = Starting(book, self._within(book, self.open))
        self.volume = VolumeEntry(book, self.refresh)
        self.readings = ReadingEntry(book, self.refresh)
        self.extras = Extras(book, self.refresh)
        self.browsing = Browsing(book, self._within(book, self._open_page))
        self.paging = Paging(book, self._within(book, self.open))
        self._autosave = Autosave(book, self.form, self.refresh)
        self._clockwork = Clockwork(book, self.stamps, self.refresh)
        self.view.children = self._layout()
        self._listen()
        self._tell_book()
        self._offer_bakes(self._newest_open())
        self._turn()

    @property
    def bake_id(self) -> str:
        """The bake at hand, or an empty text."""
        return str(self.at_hand.value)

    def open(self, bake_id: str) -> None:
        """Take a bake to the bench."""
        self.another.value = False
        self._offer_bakes(bake_id)
        self.tabs.value = "bench"
        self.starting.refresh()

    def refresh(self) -> None:
        """Show the bake at hand as the book has it now."""
        bake = self.book.bake(self.bake_id) if self.bake_id else None
        for part in self._of_bake:
            show(part, bake is not None)
        self._autosave.show(bake)
        self._clockwork.show(bake)
        self.volume.show(bake)
        self.readings.show(bake)
        self.extras.show(bake)
        if bake is not None:
            self.telling.show(bake)
        show(self.waiting, bake is None)
        show(self.another, bake is not None)
        show(self.starting.view, bake is None or self.another.value)

    def _within(
        self, book: "BakeBook", act: Callable[[str], None]
    ) -> Callable[[str], None]:
        """What a part of a book asks for; that book comes back if it was changed.

        A button may be pressed while the panel is turning to another book.
        """

        def done(bake_id: str) -> None:
            if self.book is not book:
                self.use(book)
            act(bake_id)

        return done

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)

    def _layout(self) -> tuple[Any, ...]:
        job, columns, *_ = self._bench().children
        columns.add_class("bakelab-bench")
        self._parts = {
            "bench": columns,
            "bakes": self.browsing.view,
            "page": self.paging.view,
        }
        for part in self._parts.values():
            part.add_class("bakelab-part")
        job.value = f'<p class="bakelab-job">{_JOB}</p>{panel_style()}'
        where = beside(self.book_told, self.other_book, least_px=220)
        where.add_class("bakelab-where")
        return job, where, self.tabs, *self._parts.values()

    def _bench(self) -> widgets.Box:
        """The times at the left, numbers and readings at the right."""
        tell, extras = self.telling, self.extras
        self._bench_left = widgets.VBox([
            heading("2  The times"), self.at_hand, tell.head, self.stamps,
            tell.urgent, tell.care, tell.weigh,
        ])  # fmt: skip
        numbers = widgets.VBox([
            heading("3  Numbers"), tell.numbers, self.form, *self.volume.widgets(),
            heading("4  Readings"), *self.readings.widgets(),
            heading("5  Photos, tags and notes"), *extras.widgets(),
        ])  # fmt: skip
        self._of_bake = (self._bench_left, numbers)
        self.another = widgets.ToggleButton(description="Start another bake")
        self.another.add_class("bakelab-tall")
        start = widgets.VBox(
            [heading("1  Start a bake"), self.another, self.starting.view]
        )
        left = [start, self._bench_left]
        bench = two_columns(_JOB, left, [self.waiting, numbers])
        bench.remove_class(SCOPE)
        return bench

    def _listen(self) -> None:
        self.tabs.observe(lambda _: self._turn(), "value")
        self.at_hand.observe(lambda _: self._choose(), "value")
        self.another.observe(lambda _: self.refresh(), "value")
        self.other_book.on_click(lambda _: self._turn_to_other_book())

    def _turn(self) -> None:
        """Show the part that the tab names, as the book has it now."""
        for name, part in self._parts.items():
            show(part, name == self.tabs.value)
        if self.tabs.value == "bakes":
            self.browsing.refresh()
        elif self.tabs.value == "page":
            self.paging.show(self.paging.bake_id or self.bake_id)
        else:
            self.refresh()
            self._offer_words()

    def _choose(self) -> None:
        if not self._quiet:
            self.paging.bake_id = self.bake_id
            self.refresh()

    def _open_page(self, bake_id: str) -> None:
        self.browsing.table.chosen = bake_id
        self.paging.bake_id = bake_id
        self.tabs.value = "page"

    def _newest_open(self) -> str:
        found = self._open_bakes()
        return found[0].id if found else ""

    def _open_bakes(self) -> list["Bake"]:
        """Bakes of the last days that were not finished, newest first."""
        frame = self.book.bakes(since=datetime.now(UTC) - _OPEN_FOR)
        bakes = [
            self.book.bake(str(bake_id)) for bake_id in frame["id"].head(_MOST_OPEN)
        ]
        return [bake for bake in bakes if not is_finished(bake.marks)]

    def _offer_bakes(self, chosen: str) -> None:
        bakes = self._open_bakes()
        if chosen and chosen not in {b.id for b in bakes}:
            bakes.insert(0, self.book.bake(chosen))
        options = [(bake_words(b), b.id) for b in bakes] or [("none is running", "")]
        self._quiet = True
        try:
            self.at_hand.options = options
            self.at_hand.value = chosen or options[0][1]
        finally:
            self._quiet = False
        self.paging.bake_id = self.bake_id
        self.refresh()

    def _offer_words(self) -> None:
        """Words of earlier bakes and of the house, to choose from."""
        frame = self.book.bakes(newest=_RECENT)
        offered = {
            name: [w for w in dict.fromkeys(frame[name]) if w] for name in _SUGGESTED
        }
        for kind, name in (("pan", "pan"), ("oven", "oven")):
            house = self.book.house(kind)
            own = [str(w) for w in house["name"]] if "name" in house.columns else []
            offered[name] = list(dict.fromkeys([*own, *offered[name]]))
        self.form.offered = offered

    def _tell_book(self) -> None:
        demo = is_demo(self.book)
        path = self.book.path
        where = f"Book: {path.name if path else 'shared on a server'}"
        words = note(" · ".join([where, *self.book.remarks]))
        said = f'<p class="bakelab-note">{DEMO_WORDS}</p>' if demo else ""
        place = xml_text(str(path or ""))
        set_html(self.book_told, f'{said}<div title="{place}">{words}</div>')
        self.other_book.description = "My own book" if demo else "Look at the demo book"
        show(self.other_book, demo or self.book.bakes(newest=1).empty)

    def _turn_to_other_book(self) -> None:
        """From the demo book to one's own, or back while that is empty."""
        from bakelab.bakebook import BakeBook

        try:
            self.use(BakeBook() if is_demo(self.book) else demo_book())
        except BakelabError as error:
            set_html(self.book_told, alert([str(error)]))


def _opened(book: "BakeBook | str | os.PathLike[str]") -> "BakeBook":
    from bakelab.bakebook import BakeBook

    return book if isinstance(book, BakeBook) else BakeBook(book)
