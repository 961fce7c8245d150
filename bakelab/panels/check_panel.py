"""The panel that checks published quantities: a text left, its findings right."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from bakelab.checking import (
    KINDS,
    Report,
    check_piece,
    corrected_copy,
    marked_text,
    to_html,
)
from bakelab.checking.source import split
from bakelab.errors import BakelabError, ReadError
from bakelab.panels.answer_html import alert, note
from bakelab.panels.controls import beside, choice, heading
from bakelab.panels.layout import two_columns
from bakelab.panels.parts import Fold
from bakelab.panels.samples import sample_recipes
from bakelab.ranges import styles
from bakelab.reading import MARKETS

__all__ = ["CheckPanel"]

_JOB = (
    "Paste an article or a recipe: this marks the numbers that cannot all be true, "
    "says why, and proposes each line in grams."
)
_SHOWN = (
    ("conflicts", 1),
    ("conflicts, unlikely", 2),
    ("conflicts, unlikely, missing", 3),
    ("everything, notes as well", 4),
)
_WORDS = {"conflict": "in conflict", "unlikely": "unlikely", "missing": "missing",
          "note": "notes"}  # fmt: skip


class CheckPanel:
    """Controls and findings on one screen.

    Attributes
    ----------
    text, sample, market, style, show, page_name, save : widget
        The controls, by what they hold.
    answer, refused, saved : widget
        The marked text, a refusal in place, and what was saved.
    copy : Fold
        The lines in house style, as a difference.
    reports : tuple of Report
        Of the last check; empty where the text could not be read.
    """

    def __init__(self, text: str = "") -> None:
        self.reports: tuple[Report, ...] = ()
        samples = [("my own, pasted below", ""), *sample_recipes().items()]
        self.sample = choice("Sample text", samples)
        self.text = widgets.Textarea(
            value=text,
            description="Article or recipe as written",
            placeholder="Paste a text here; several recipes are told by their titles",
            rows=16,
            continuous_update=False,
        )
        self.market, self.style = _market_choice(), _style_choice()
        self.show = choice("Show", _SHOWN)
        self.show.value = 3
        self.page_name = widgets.Text(
            value="findings.html", description="Save the findings as a page"
        )
        self.save = widgets.Button(description="Save")
        self.refused, self.counted = widgets.HTML(), widgets.HTML()
        self.answer, self.saved = widgets.HTML(), widgets.HTML()
        self.copy = Fold("Each line in grams, with cups and spoons that exist")
        self._watch()
        self.view = two_columns(_JOB, self._left(), self._right())
        self._refresh()

    def _left(self) -> list[Any]:
        return [
            heading("1  The text"),
            self.sample,
            self.text,
            heading("2  How to read it"),
            beside(self.market, self.style),
            self.show,
            heading("3  For an editor"),
            beside(self.page_name, self.save),
            self.saved,
        ]

    def _right(self) -> list[Any]:
        return [heading("Findings"), self.refused, self.counted, self.answer, self.copy]

    def _watch(self) -> None:
        self.sample.observe(self._take_sample, "value")
        for control in (self.text, self.market, self.style, self.show):
            control.observe(lambda _: self._refresh(), "value")
        self.save.on_click(lambda _: self._save())

    def _take_sample(self, change: Any) -> None:
        if change["new"]:
            self.text.value = change["new"]

    def _refresh(self) -> None:
        """Check the text again, and show what was found or why not."""
        self.saved.value = ""
        try:
            self.reports = self._checked() if self.text.value.strip() else ()
            self.refused.value = ""
        except BakelabError as error:
            self.reports = ()
            self.refused.value = alert([str(error)])
        shown = KINDS[: self.show.value]
        self.counted.value = note(_counted(self.reports))
        self.answer.value = "".join(marked_text(r, shown) for r in self.reports)
        self.copy.html = self._proposed()

    def _checked(self) -> tuple[Report, ...]:
        asked = {"market": self.market.value or None, "style": self.style.value or None}
        found = []
        for piece in split(f"{self.text.value}\n", ""):
            try:
                found.append(check_piece(piece, **asked))
            except ReadError:
                continue
        if not found:
            raise ReadError(
                "no recipe was found in the text; give its ingredients with their "
                "amounts, one on each line"
            )
        return tuple(found)

    def _proposed(self) -> str:
        if not self.reports:
            return ""
        made = corrected_copy(f"{self.text.value}\n", market=self.market.value or None)
        return made._repr_html_() if made.changes else ""

    def _save(self) -> None:
        """Write the findings as one page; the name must be new or a page."""
        path = Path(self.page_name.value.strip() or "findings.html")
        try:
            if not self.reports:
                raise ReadError("there is nothing to save; paste a text with a recipe")
            if path.suffix.casefold() not in (".html", ".htm"):
                raise ReadError(
                    f"{path.name} is no name of a page; give one that ends in .html"
                )
            path.write_text(to_html(self.reports), encoding="utf-8")
        except BakelabError as error:
            self.saved.value = alert([str(error)])
        except OSError as error:
            self.saved.value = alert([f"cannot write {path}: {error.strerror}"])
        else:
            self.saved.value = note(f"saved as {path}")

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)


def _counted(reports: Sequence[Report]) -> str:
    """How many findings there are, in a sentence."""
    if not reports:
        return "Paste a text, or choose a sample."
    total = {k: sum(len(r.by_kind(k)) for r in reports) for k in KINDS}
    told = [f"{n} {_WORDS[k]}" for k, n in total.items() if n]
    count = len(reports)
    noun = "recipe" if count == 1 else "recipes"
    return f"{count} {noun}: {', '.join(told) or 'nothing found'}."


def _market_choice() -> Any:
    known = [(f"{m.name}, cup {m.cup_ml:.0f} mL", key) for key, m in MARKETS.items()]
    return choice("Cups and spoons are", [("as the words suggest", ""), *known])


def _style_choice() -> Any:
    named = [(r["name"], r["style"]) for _, r in styles().iterrows()]
    return choice("Style of bread", [("as the title claims", ""), *named])
