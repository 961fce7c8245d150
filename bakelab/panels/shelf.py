"""From a panel into the bake book and back: formulas are kept there and taken out."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.errors import BakelabError, BookError
from bakelab.formula import Formula
from bakelab.panels.answer_html import alert, note
from bakelab.panels.controls import beside, choice, field, show
from bakelab.panels.layout import set_html
from bakelab.variants import Variant

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["BookShelf", "keep_variants"]

_NONE = ("no formula is kept yet", "")
_KEPT = (
    "Kept in your bake book as “{name}”. Notebook 2 changes it from there, notebook 3 "
    "starts its bakes, notebook 5 tastes them."
)


class BookShelf:
    """The row of a panel that keeps a formula, and the one that takes one out.

    The book is opened when a button is pressed, not before: a panel that never
    asks makes no book.

    Parameters
    ----------
    variants : function
        Gives what is to be kept, parents first; the last one gets the name.
    taken : function, optional
        Gets the formula that was chosen; none where nothing is taken out.
    named : bool
        Whether the last one can be given a name here.
    book : function, optional
        Gives another book than the user's own.

    Attributes
    ----------
    kept_words : str
        What is said when a formula was kept as ``{name}``.
    look, offered : Button, Dropdown
    name, keep : Text, Button
    told, told_taken : HTML
    taking, keeping : widget
        The two rows, to stand where the panel wants them.
    """

    def __init__(
        self,
        variants: Callable[[], Iterable[Variant]],
        taken: Callable[[Formula], None] | None = None,
        *,
        named: bool = True,
        book: "Callable[[], BakeBook] | None" = None,
    ) -> None:
        self._variants, self._taken = variants, taken
        self._book: BakeBook | None = None
        self._other, self.kept_words = book, _KEPT
        self.look = widgets.Button(description="Look in my bake book")
        self.offered = choice("Formula of the bake book", [_NONE])
        self.name = field("Name in the bake book", "its title")
        self.keep = widgets.Button(description="Keep in my bake book")
        self.told, self.told_taken = widgets.HTML(), widgets.HTML()
        self.taking = widgets.VBox([beside(self.look, self.offered), self.told_taken])
        self.keeping = widgets.VBox(
            [beside(self.name, self.keep, least_px=110), self.told]
        )
        self.taking.layout.grid_gap = self.keeping.layout.grid_gap = "6px"
        show(self.offered, False)
        show(self.name, named)
        self.look.on_click(lambda _: self._try(self.told_taken, self._look))
        self.keep.on_click(lambda _: self._try(self.told, self._keep))
        self.offered.observe(lambda change: self._choose(change["new"]), "value")

    def book(self) -> "BakeBook":
        """The other book, or the user's own: opened once, made if it is not there."""
        from bakelab.bakebook import BakeBook

        if self._other is not None:
            return self._other()
        if self._book is None:
            self._book = BakeBook()
        return self._book

    def _look(self) -> None:
        frame = self.book().formulas()
        if frame.empty:
            raise BookError("it holds no formula yet; keep one first")
        named = frame["name"].where(frame["name"] != "", frame["title"])
        pairs = zip(named, frame["dough_g"], frame["key"], strict=True)
        options = [(f"{n or 'Bread'}, {g:.0f} g", key) for n, g, key in pairs]
        self.offered.options = [("choose", ""), *options]
        show(self.offered, True)

    def _choose(self, key: str) -> None:
        taken = self._taken
        if key and taken is not None:
            self._try(self.told_taken, lambda: taken(self.book().formula(key)))

    def _keep(self) -> None:
        name = keep_variants(self.book(), list(self._variants()), self.name.value)
        self.name.value = ""
        set_html(self.told, note(self.kept_words.format(name=name)))

    def _try(self, told: Any, action: Callable[[], Any]) -> None:
        """Do something with the book; a refusal stands below its row."""
        set_html(told, "")
        try:
            action()
        except BakelabError as error:
            set_html(told, alert([f"Bake book: {error}"]))


def keep_variants(book: "BakeBook", variants: list[Variant], name: str = "") -> str:
    """Keep variants with their parents; the last one gets the name, which is given.

    Raises
    ------
    BakelabError
        If there is nothing to keep, or the book refuses it.
    """
    if not variants:
        raise BookError("there is no formula yet; see what is missing above")
    keys: dict[str, str] = {}
    called = ""
    for variant in variants:
        last = variant is variants[-1]
        called = (name.strip() if last else "") or variant.name
        parent = keys.get(variant.parent_key or "")
        keys[variant.key] = key = book.keep(
            variant.formula, parent=parent, change=variant.why, name=called
        )
        if last and name.strip():
            _call(book, key, called)
    return called or "bread"


def _call(book: "BakeBook", key: str, name: str) -> None:
    """Give a formula that was kept before its new name; the old one stays in `past`."""
    kept = book.formulas(retired=True)
    if (kept.loc[kept["key"] == key, "name"] != name).any():
        book.write(key, name=name)
