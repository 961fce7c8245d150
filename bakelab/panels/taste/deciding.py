"""After the verdict: one loaf is chosen, kept, printed and saved."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from bakelab.errors import BakelabError, UnknownEntryError
from bakelab.formula import Formula
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.books import is_demo
from bakelab.panels.layout import set_html
from bakelab.panels.saving import saved_formula, saved_sheet
from bakelab.panels.shelf import keep_variants
from bakelab.panels.taste.controls import TasteControls
from bakelab.panels.taste.keeping import Kept
from bakelab.variants import Variant

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Deciding"]

_APART = (
    "This test shows whether the loaves can be told apart, not which one is better. "
)
_YOURS = "The choice is yours; it is kept beside the verdict, which stays as it is."
_KEPT = (
    "Kept beside the verdict; the formula stands in your bake book as “{name}”, where "
    "notebooks 1, 2, 3 and 7 find it."
)
_KEPT_IN_DEMO = "Kept beside the verdict, the formula as “{name}”, in the demo book."
_REOPENED = (
    "An answer was taken back, so no decision stands beside the verdict any more; keep "
    "it again if it still holds."
)
_NOTHING = ("nothing yet", "")


class Deciding:
    """The last step of a tasting.

    Parameters
    ----------
    controls : TasteControls
    outputs : mapping of str to HTML widget
        ``yours`` has what the verdict leaves to whoever decides, ``decided`` what was
        kept or saved, or a refusal.
    formulas : mapping of str to Formula
        Of samples, by name, as they were given.
    book : BakeBook or None
        Keeps the formula of the winner.
    changed : function
        Called when the book holds other formulas or names.
    """

    def __init__(
        self,
        controls: TasteControls,
        outputs: Mapping[str, Any],
        formulas: Mapping[str, Formula],
        book: "BakeBook | None",
        changed: Callable[[], None],
    ) -> None:
        self._c, self._formulas = controls, formulas
        self._told, self._words = outputs["decided"], outputs["yours"]
        self._book, self._changed = book, changed
        self._kept: Kept | None = None
        self._names: dict[str, str] = {}
        self._is_kept = False
        c = controls
        for button, action in (
            (c.decide, self.decide), (c.print_sheet, self.print_sheet),
            (c.save, self.save),
        ):  # fmt: skip
            button.on_click(_clicked(self._try, action))

    def begin(self, kept: Kept) -> None:
        """Offer the samples of a tasting, with what was decided before."""
        c, (chosen, why) = self._c, kept.decision
        self._kept, self._names, self._is_kept = kept, {}, bool(chosen)
        c.chosen.options = [_NOTHING, *((name, name) for name in kept.tasting.samples)]
        c.chosen.value = chosen if chosen in kept.tasting.samples else ""
        c.why.value, c.name.value = why, ""
        apart = kept.tasting.test in ("triangle", "duo-trio")
        set_html(self._words, note(f"{_APART if apart else ''}{_YOURS}"))
        set_html(self._told, "")

    def reopen(self) -> None:
        """Say that a decision went with its verdict; what was chosen stays chosen."""
        if self._is_kept:
            set_html(self._told, note(_REOPENED))
        self._is_kept = False

    def decide(self) -> None:
        """Write the choice beside the verdict, and keep the formula of the winner."""
        kept, chosen = self._served(), self._chosen()
        formula, said = self._formula(chosen), f"Decided: {chosen}. "
        kept.decided(chosen, self._c.why.value.strip())
        self._is_kept = True
        if self._book is None:
            said += "Nothing is kept, as this panel has no bake book."
        elif formula is None:
            said += f"Kept beside the verdict. {_unknown(chosen)}"
        else:
            variants = [Variant(formula, chosen)]
            name = keep_variants(self._book, variants, self._c.name.value)
            self._names[chosen] = name
            words = _KEPT_IN_DEMO if is_demo(self._book) else _KEPT
            said += words.format(name=name)
            self._changed()
        self._c.name.value = ""
        set_html(self._told, note(said))

    def print_sheet(self) -> None:
        """A link to the winner's sheet for the kitchen."""
        formula, paper = self._winner(), str(self._c.paper.value)
        link = saved_sheet(formula, paper=paper, title=self._title())
        set_html(self._told, link)

    def save(self) -> None:
        """A link to the winner's formula as a file."""
        formula, format_ = self._winner(), str(self._c.save_as.value)
        link = saved_formula(formula, format_=format_, title=self._title())
        set_html(self._told, link)

    def _chosen(self) -> str:
        chosen = str(self._c.chosen.value)
        if not chosen:
            raise BakelabError("no loaf is chosen yet; choose one in the list above")
        return chosen

    def _title(self) -> str:
        """What the winner is called: by its new name, or as a sample."""
        chosen = self._chosen()
        return self._names.get(chosen, chosen)

    def _served(self) -> Kept:
        if self._kept is None:
            raise BakelabError("no tasting is served yet; draw the codes first")
        return self._kept

    def _formula(self, sample: str) -> Formula | None:
        """The formula of a sample: as it was given, or as the bake book has it."""
        key = self._served().tasting.formulas.get(sample, "")
        given = self._formulas.get(sample)
        if given is not None and given.key == key:
            return given
        if key and self._book is not None:
            with suppress(UnknownEntryError):  # given by hand, and never kept
                return self._book.formula(key)
        return None

    def _winner(self) -> Formula:
        chosen = self._chosen()
        formula = self._formula(chosen)
        if formula is None:
            raise BakelabError(_unknown(chosen))
        return formula

    def _try(self, action: Callable[[], None]) -> None:
        try:
            action()
        except BakelabError as error:
            set_html(self._told, alert([str(error)]))


def _unknown(name: str) -> str:
    return (
        f"The formula of {name} is not known here, as only its name was written into "
        "the plan; add loaves from the list of the bake book to print them here."
    )


def _clicked(
    run: Callable[[Callable[[], None]], None], action: Callable[[], None]
) -> Callable[[Any], None]:
    return lambda _button: run(action)
