"""The panel of a tasting: plan, slips and key, answers, verdict."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Literal

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.panels.answer_html import alert, note
from bakelab.panels.bench.books import DEMO_WORDS, book_to_open, is_demo
from bakelab.panels.controls import show
from bakelab.panels.layout import set_html
from bakelab.panels.parts import Fold
from bakelab.panels.seen_first import SeenFirst
from bakelab.panels.taste.answer_html import answers_table, served_words
from bakelab.panels.taste.answering import Answering, clicked
from bakelab.panels.taste.arrangement import distinct, taste_layout
from bakelab.panels.taste.controls import USUAL_RISKS, TasteControls
from bakelab.panels.taste.deciding import Deciding
from bakelab.panels.taste.keeping import Kept, kept_tastings
from bakelab.panels.taste.showing import (
    file_link,
    offer_references,
    show_controls,
    show_plan,
    show_verdict,
)
from bakelab.panels.taste.wish import PlanWish, names_of, read_wish
from bakelab.tasting import Verdict, judge

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["TastePanel"]

_WAITS = (
    "The verdict waits for every slip: who looks early and stops when it suits finds "
    "differences that are not there."
)
_EXAMPLE = ("house loaf", "less salt")
_OUTPUTS = (
    "book", "alert", "state", "chart", "verdict", "saved", "told", "yours", "decided"
)  # fmt: skip


class TastePanel(SeenFirst):
    """A tasting from plan to verdict.

    Parameters
    ----------
    book : BakeBook or False, optional
        Keeps the tasting and offers its formulas; by default the user's own book.
        With ``False`` nothing is kept.
    formulas : mapping of str to Formula, optional
        Of samples, by name: allergens of the slips come from them.

    Attributes
    ----------
    controls : TasteControls
    answering : Answering
        Takes the answers, one slip or many at once.
    deciding : Deciding
        Keeps, prints and saves the loaf that is chosen.
    outputs : dict of str to HTML widget
        ``book``, ``alert``, ``state``, ``chart``, ``verdict``, ``saved``, ``told``,
        ``yours``, ``decided``.
    kept : Kept or None
        The tasting that is served, with its answers.
    verdict : Verdict or None
    view : ipywidgets.Widget
    """

    def __init__(
        self,
        book: "BakeBook | Literal[False] | None" = None,
        *,
        formulas: Mapping[str, Formula] | None = None,
    ) -> None:
        self.controls = TasteControls()
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.answered = Fold("Answers by slip")
        self.kept: Kept | None = None
        self.verdict: Verdict | None = None
        self._book = self._opened() if book is None else book or None
        self._formulas = dict(formulas or {})
        self._quiet = False
        told = self.outputs["told"]
        self.answering = Answering(
            self.controls, told, lambda: self._try(self._after_answers)
        )
        self.deciding = Deciding(
            self.controls, self.outputs, self._formulas, self._book, self._offer_anew
        )
        self._parts, self.view = taste_layout(
            self.controls, self.outputs, self.answered
        )
        if formulas:
            self.controls.samples.value = "\n".join(formulas)
        self._offer_book()
        self._listen()
        self._arrange()
        self._see_first(self._refresh, self.outputs["alert"])

    def serve(self) -> None:
        """Draw the codes of the plan and keep it; from then on it stands still."""

        def draw() -> None:
            wish = self._wish()
            self._take(Kept.serve(wish.draw(), self._book))
            self._offer_book()
            self._set(self.controls.kept, self._served().entry)

        self._try(draw)

    def open(self, entry: str) -> None:
        """Open a tasting of the book again."""

        def look() -> None:
            assert self._book is not None  # only a book offers tastings
            self._take(Kept.open(self._book, entry))

        self._try(look)

    def plan_another(self) -> None:
        """Leave the tasting that is served and plan a new one."""
        self.kept = self.verdict = None
        self.answering.leave()
        self._set(self.controls.kept, "")
        self._refresh()

    def print_slips(self) -> None:
        """A link to the slips."""
        self._print("slips")

    def print_key(self) -> None:
        """A link to the key, in a file of its own."""
        self._print("key")

    def _listen(self) -> None:
        c = self.controls
        for control in c.planned():
            control.observe(lambda _: self._replan(), "value")
        c.aim.observe(lambda change: self._usual_risks(change["old"]), "value")
        c.kept.observe(lambda change: self._choose_kept(change["new"]), "value")
        c.add.observe(lambda change: self._add_formula(change["new"]), "value")
        for button, action in (
            (c.serve, self.serve), (c.another, self.plan_another),
            (c.slips, self.print_slips), (c.key, self.print_key),
        ):  # fmt: skip
            button.on_click(clicked(action))

    def _usual_risks(self, before: str) -> None:
        """The usual risks of the other aim, unless somebody set their own."""
        c = self.controls
        fields = (c.alpha, c.beta, c.share)
        if tuple(field.value for field in fields) == USUAL_RISKS[before]:
            self._quiet = True
            usual = USUAL_RISKS[str(c.aim.value)]
            for field, value in zip(fields, usual, strict=True):
                field.value = value
            self._quiet = False
            self._replan()

    def _choose_kept(self, entry: str) -> None:
        if self._quiet:
            return
        if entry:
            self.open(entry)
        else:
            self.plan_another()

    def _add_formula(self, key: str) -> None:
        if not key or self._book is None:
            return
        label = next(n for n, k in self.controls.add.options if k == key)
        self._formulas[label] = self._book.formula(key)
        before = names_of(self.controls.samples.value)
        untouched = before == _EXAMPLE
        names = [*(() if untouched else before), label]
        self.controls.samples.value = "\n".join(dict.fromkeys(names))
        self.controls.add.value = ""

    def _offer_anew(self) -> None:
        """The formulas of the book, after one was kept or called otherwise."""
        self.controls.add.options = self.controls.add.options[:1]
        self._offer_book()

    def _opened(self) -> "BakeBook | None":
        """The user's own book; where there can be none, that is said."""
        try:
            return book_to_open()
        except BakelabError as error:
            set_html(self.outputs["book"], alert([str(error)]))
            return None

    def _offer_book(self) -> None:
        c = self.controls
        if self._book is None:
            return
        if is_demo(self._book):
            set_html(self.outputs["book"], note(DEMO_WORDS))
        kept = kept_tastings(self._book)
        chosen = c.kept.value
        self._quiet = True
        c.kept.options = [("a new one", ""), *kept]
        c.kept.value = chosen if chosen in [entry for _, entry in kept] else ""
        self._quiet = False
        if len(c.add.options) == 1:
            frame = self._book.formulas()
            names = distinct(frame["name"].where(frame["name"] != "", frame["title"]))
            pairs = zip(names, frame["key"], strict=True)
            c.add.options = [("choose", ""), *pairs]

    def _replan(self) -> None:
        if not self._quiet and self.kept is None:
            self._refresh()

    def _arrange(self) -> None:
        """Show the controls that are needed now."""
        c = self.controls
        has_book = self._book is not None
        show_controls(c, self._parts, served=self.kept is not None, book=has_book)
        self._quiet = True
        offer_references(c)
        self._quiet = False

    def _refresh(self) -> None:
        self._arrange()
        set_html(self.outputs["saved"], "")
        if self.kept is None:
            self.answered.html = ""
            set_html(self.outputs["verdict"], "")
            self._try(lambda: show_plan(self.outputs, self._wish()))
        else:
            self._after_answers()

    def _wish(self) -> PlanWish:
        names = names_of(self.controls.samples.value)
        known = {n: f for n, f in self._formulas.items() if n in names}
        return read_wish(self.controls, known)

    def _take(self, kept: Kept) -> None:
        self.kept, self.verdict = kept, None
        self.answering.begin(kept)
        self.deciding.begin(kept)
        self._refresh()

    def _served(self) -> Kept:
        if self.kept is None:
            raise BakelabError("no tasting is served yet; draw the codes first")
        return self.kept

    def _after_answers(self) -> None:
        kept = self._served()
        set_html(self.outputs["state"], served_words(kept))
        self.answered.title = (
            f"Answers by slip ({len(kept.answers)} of {len(kept.tasting.slips)})"
        )
        if kept.complete or (kept.closed and kept.answers):
            self._judge(kept)
        else:
            self.verdict = None
            self.deciding.reopen()
            set_html(self.outputs["verdict"], f"<p>{_WAITS}</p>")
            set_html(self.outputs["chart"], "")
        self.answered.html = answers_table(kept, named=self.verdict is not None)
        show(self._parts["decide"], self.verdict is not None)

    def _judge(self, kept: Kept) -> None:
        verdict = judge(kept.tasting, kept.answers, closed=kept.closed)
        kept.judged(verdict)
        self.verdict = verdict
        show_verdict(self.outputs, kept.tasting, verdict)

    def _print(self, what: str) -> None:
        def save() -> None:
            c, tasting = self.controls, self._served().tasting
            format_, paper = str(c.as_file.value), str(c.paper.value)
            link = file_link(tasting, what, format_=format_, paper=paper)
            set_html(self.outputs["saved"], link)

        self._try(save)

    def _try(self, action: Callable[[], None]) -> None:
        """Do something; a refusal is shown in place, and what was there stays."""
        try:
            action()
        except BakelabError as error:
            set_html(self.outputs["alert"], alert([str(error)]))
        else:
            set_html(self.outputs["alert"], "")

    def _set(self, control: Any, value: Any) -> None:
        self._quiet = True
        control.value = value
        self._quiet = False
