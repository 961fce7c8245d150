"""The page of one bake: to look at, to print, to retire and to bring back."""

import re
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.part import tall_button
from bakelab.panels.controls import beside, choice, field, show
from bakelab.panels.layout import set_html
from bakelab.panels.saving import download_link
from bakelab.sheets import PAPERS, bake_html, bake_part_html, bake_pdf, bake_sheet

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Paging"]

_PAPER_NAMES = {"a4": "A4", "us-letter": "US Letter"}
_NONE = "Choose a bake under “All bakes”, or start one at the bench."


class Paging:
    """A bake's page with its buttons.

    Attributes
    ----------
    paper, print_page, save_page, write_in, reason, retire, restore : widget
    page, told : HTML widget
    view : widget
    """

    def __init__(self, book: "BakeBook", to_bench: Callable[[str], None]) -> None:
        self._book, self._to_bench = book, to_bench
        self.bake_id = ""
        self.paper = choice("Paper", [(_PAPER_NAMES.get(p, p), p) for p in PAPERS])
        self.print_page = tall_button("Print the page (PDF)", "primary")
        self.save_page = tall_button("Save as a web page")
        self.write_in = tall_button("Write in this bake")
        self.reason = field("Why it is retired", "such as wrong flour")
        self.retire = tall_button("Retire this bake")
        self.restore = tall_button("Bring it back")
        self.told = widgets.HTML()
        self.page = widgets.HTML()
        self._set_aside = beside(self.reason, self.retire, self.restore)
        self.view = widgets.VBox([
            beside(self.write_in, self.paper, self.print_page, self.save_page,
                   least_px=130),
            self.told, self.page, self._set_aside,
        ])  # fmt: skip
        self.write_in.on_click(lambda _: self._to_bench(self.bake_id))
        self.print_page.on_click(lambda _: self._do(self._print))
        self.save_page.on_click(lambda _: self._do(self._save))
        self.retire.on_click(lambda _: self._do(self._retire))
        self.restore.on_click(lambda _: self._do(self._restore))

    def show(self, bake_id: str) -> None:
        """Show the page of a bake; without one, say how to get there."""
        if bake_id != self.bake_id:
            set_html(self.told, "")
        self.bake_id = bake_id
        for control in (self.write_in, self.print_page, self.save_page):
            control.disabled = not bake_id
        show(self._set_aside, bool(bake_id))
        if not bake_id:
            set_html(self.page, note(_NONE))
            return
        try:
            self._offer_retiring(self._book.bake(bake_id).retired)
            if "altair" not in sys.modules:  # drawings take a while the first time
                quick = bake_sheet(self._book, bake_id, drawn=False)
                set_html(self.page, bake_part_html(quick))
            sheet = bake_sheet(self._book, bake_id, ink="currentColor")
        except BakelabError as error:
            set_html(self.page, alert([str(error)]))
            return
        set_html(self.page, bake_part_html(sheet))

    def _offer_retiring(self, retired: bool) -> None:
        show(self.retire, not retired)
        show(self.reason, not retired)
        show(self.restore, retired)

    def _do(self, act: Callable[[], str]) -> None:
        if not self.bake_id:
            return
        try:
            set_html(self.told, act())
        except BakelabError as error:
            set_html(self.told, alert([str(error)]))

    def _print(self) -> str:
        sheet = bake_sheet(self._book, self.bake_id)
        pdf = bake_pdf(sheet, paper=self.paper.value)
        return download_link(pdf, f"{_stem(sheet.title)}-{self.bake_id[:8]}.pdf", "pdf")

    def _save(self) -> str:
        sheet = bake_sheet(self._book, self.bake_id)
        name = f"{_stem(sheet.title)}-{self.bake_id[:8]}.html"
        return download_link(bake_html(sheet), name, "html")

    def _retire(self) -> str:
        self._book.retire(self.bake_id, self.reason.value.strip())
        self.reason.value = ""
        self.show(self.bake_id)
        return note("Retired: out of the lists, never deleted; it can be brought back.")

    def _restore(self) -> str:
        self._book.restore(self.bake_id)
        self.show(self.bake_id)
        return note("Brought back.")


def _stem(title: str) -> str:
    words = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")
    return words[:60] or "bake"
