"""The best point of a plan of trials, kept as a formula for the next notebook."""

from typing import TYPE_CHECKING

import ipywidgets as widgets

from bakelab.comparing import (
    Surface,
    best_formula,
    best_words,
    nearest_trial,
    none_inside,
)
from bakelab.panels.answer_html import note
from bakelab.panels.bench.books import is_demo
from bakelab.panels.compare.source import Source
from bakelab.panels.controls import heading, show
from bakelab.panels.layout import set_html
from bakelab.panels.shelf import BookShelf
from bakelab.variants import Variant

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["BestPart"]

_NONE = "There is no best point to keep: {why}."
_IN_DEMO = (
    "Kept in this copy of the demo book as “{name}”. As long as you have no book of "
    "your own, notebook 3 starts its bakes and notebook 5 tastes them."
)


class BestPart:
    """Shows whether a surface has a best point to keep, and keeps it.

    Parameters
    ----------
    source : Source
        The book that is compared, where the formula is kept as well.

    Attributes
    ----------
    words : HTML
        The point with its interval, or why there is none.
    shelf : BookShelf
        Its row for keeping is shown where there is a best point.
    view : widget
    """

    def __init__(self, source: Source) -> None:
        self._source, self._plan = source, ""
        self._found: Surface | None = None
        self.words = widgets.HTML()
        self.shelf = BookShelf(self._variants, book=self._book)
        if is_demo(source.book):
            self.shelf.kept_words = _IN_DEMO
            self.shelf.keep.description = "Keep in the demo book"
        self.view = widgets.VBox(
            [heading("The best point as a formula"), self.words, self.shelf.keeping]
        )
        self.view.layout.grid_gap = "6px"
        show(self.view, False)

    def show(self, found: object, source: Source, plan: str) -> None:
        """Tell of an answer; anything but a surface has no best point."""
        self._source, self._plan = source, plan
        self._found = found if isinstance(found, Surface) else None
        show(self.view, self._found is not None)
        set_html(self.shelf.told, "")
        if self._found is not None:
            why = none_inside(self._found)
            said = _NONE.format(why=why) if why else best_words(self._found)
            set_html(self.words, note(said))
            show(self.shelf.keeping, not why)

    def _book(self) -> "BakeBook":
        return self._source.book

    def _variants(self) -> list[Variant]:
        """The trial that lies nearest, which is kept already, and its child."""
        if self._found is None:
            return []
        found, row = self._found, self._source.plan(self._plan)
        key = str(found.trials["formula_key"].iloc[nearest_trial(found)])
        trial = self._source.formula(key)
        name = str(row["name"])
        moved = self._source.moved(self._plan)
        made = best_formula(found, trial, moved=moved, kind=str(row["kind"]), plan=name)
        near = Variant(trial, self._source.names.get(key, ""))
        return [near, near.child(made, f"computed best of {name}", best_words(found))]
