"""The panel that compares bakes of the book."""

import os
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import pandas as pd

from bakelab.comparing import ComparisonError
from bakelab.errors import BakelabError
from bakelab.panels.answer_html import alert, listed, note
from bakelab.panels.bench.books import DEMO_WORDS, book_to_open, is_demo
from bakelab.panels.compare import source as reading
from bakelab.panels.compare.answers import Found, shown
from bakelab.panels.compare.best_part import BestPart
from bakelab.panels.compare.compared import compared
from bakelab.panels.compare.controls import KINDS, CompareControls, offer
from bakelab.panels.compare.html import big_numbers, paragraph, table_html
from bakelab.panels.compare.saved import saved_comparison
from bakelab.panels.controls import beside, heading
from bakelab.panels.layout import set_html, two_columns
from bakelab.panels.parts import Fold
from bakelab.panels.seen_first import SeenFirst
from bakelab.panels.svg import svg_of

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["ComparePanel"]

_JOB = (
    "Choose what is compared with what, and among which bakes; the answer says how "
    "sure it is, and what the bakes cannot tell."
)
_OUTPUTS = (
    "demo", "alert", "count", "numbers", "text", "chart", "remarks", "saved"
)  # fmt: skip


class ComparePanel(SeenFirst):
    """Bakes of the book against each other.

    Parameters
    ----------
    book : BakeBook, or path or URL of one, optional
        By default the user's own, else a copy of the demo book.

    Attributes
    ----------
    controls : CompareControls
    best : BestPart
        Keeps the best point of a plan of trials as a formula.
    found : Against, Variants, Paired, Control, Surface, Mixed or None
        The last answer.
    view : ipywidgets.Widget
    """

    def __init__(self, book: "BakeBook | str | os.PathLike[str] | None" = None) -> None:
        self.controls = CompareControls()
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.table, self.more = Fold("The numbers"), Fold("More pictures")
        self.found: Found | None = None
        self._busy, self._kind, self._chosen_for_control = False, "", False
        self._source = reading.Source(_opened(book))
        self.best = BestPart(self._source)
        self.view = self._layout()
        if is_demo(self._source.book):
            set_html(self.outputs["demo"], note(DEMO_WORDS))
        for control in self.controls.asked():
            control.observe(lambda _: self.refresh(), "value")
        self.controls.again.on_click(lambda _: self.read_again())
        self.controls.save.on_click(lambda _: self.save())
        self.controls.show_needed()
        self._see_first(self.refresh, self.outputs["alert"])

    def read_again(self) -> None:
        """Take what others wrote into the book meanwhile."""
        self._source = reading.Source(self._source.book)
        self.refresh()

    def save(self) -> None:
        """Offer the answer as a file."""
        c = self.controls
        if self.found is not None:
            link = saved_comparison(
                self.found, kind=c.kind.value, format_=c.save_as.value
            )
            set_html(self.outputs["saved"], link)

    def refresh(self) -> None:
        """Offer what there is, compare what is chosen, and show the answer."""
        if self._busy:
            return
        self._busy = True
        try:
            self.controls.show_needed()
            self._answer()
            set_html(self.outputs["alert"], "")
        except BakelabError as error:
            self.found = None
            self._clear()
            set_html(self.outputs["alert"], alert([str(error)]))
        finally:
            self._busy = False

    def _answer(self) -> None:
        c = self.controls
        self._offer_filters(self._source.every)
        self._usual()
        bakes = self._source.bakes(c.scale.value, **c.filters())
        if c.kind.value == "a plan of trials":
            bakes = self._planned(bakes)
        if bakes.empty:
            raise ComparisonError(
                "no bake in the book is like that; widen the filters, or log a bake "
                "first"
            )
        set_html(self.outputs["count"], f"<p>{_bakes(len(bakes))} in this choice.</p>")
        self._offer(bakes)
        self.found = compared(c, self._source, bakes)
        self._show(self.found)

    def _planned(self, bakes: pd.DataFrame) -> pd.DataFrame:
        plans = self._source.plans
        named = [(f"{p.name} ({p.kind})", p.id) for p in plans.itertuples()]
        offer(self.controls.plan, named)
        if plans.empty:
            raise ComparisonError(
                "the book has no plan of trials; make one with plan_trials and keep it "
                "with book.plan"
            )
        return self._source.trials(bakes, self.controls.plan.value)

    def _offer_filters(self, bakes: pd.DataFrame) -> None:
        c = self.controls
        keys = bakes.drop_duplicates("formula_key")
        variants = sorted(zip(keys["variant"], keys["formula_key"], strict=True))
        offer(c.formula, [("all", ""), *variants])
        pans = sorted(reading.values_in(bakes, "pan"))
        offer(c.pan, [("all", ""), *((p, p) for p in pans)])

    def _usual(self) -> None:
        """What a comparison is mostly wanted for, when it is chosen anew."""
        c = self.controls
        if c.kind.value == self._kind:
            return
        self._kind = c.kind.value
        kind, every = list(KINDS).index(self._kind), self._source.every
        offer(c.by, reading.groups_in(every))
        wanted = "pan" if kind == 2 else "variant"
        if wanted in dict(c.by.options).values():
            c.by.value = wanted
        if kind == 3 and not c.formula.value and not every.empty:
            c.formula.value = every["formula_key"].value_counts().index[0]
        elif kind != 3 and self._chosen_for_control:
            c.formula.value = ""
        self._chosen_for_control = kind == 3

    def _offer(self, bakes: pd.DataFrame) -> None:
        c = self.controls
        offer(c.result, reading.results_of(bakes))
        offer(c.ratio, reading.ratios_in(bakes))
        groups = reading.groups_in(bakes)
        offer(c.by, groups)
        values = [(v, v) for v in reading.values_in(bakes, c.by.value)]
        offer(c.first, values)
        offer(c.second, [*values[1:], *values[:1]])
        rest = [g for g in groups if g[1] != c.by.value]
        days_first = sorted(rest, key=lambda g: g[1] != "day")
        offer(c.pair, days_first)
        offer(c.batch, days_first)

    def _show(self, found: Found) -> None:
        answer, out = shown(found), self.outputs
        set_html(out["saved"], "")
        set_html(out["numbers"], big_numbers(answer.numbers))
        set_html(out["text"], paragraph(answer.text))
        set_html(out["chart"], svg_of(answer.charts[0]))
        set_html(out["remarks"], listed(answer.remarks))
        self.table.html = table_html(answer.table)
        self.more.html = "".join(svg_of(chart) for chart in answer.charts[1:])
        self.best.show(found, self._source, str(self.controls.plan.value))

    def _clear(self) -> None:
        for name in ("count", "numbers", "text", "chart", "remarks", "saved"):
            set_html(self.outputs[name], "")
        self.table.html = self.more.html = ""
        self.best.show(None, self._source, "")

    def _layout(self) -> Any:
        c, out = self.controls, self.outputs
        left = [
            heading("1  What against what"),
            beside(c.kind, c.result, least_px=210),
            beside(c.ratio, c.by, c.plan, c.rules),
            beside(c.first, c.second), beside(c.pair, c.batch),
            beside(c.shape, c.aim, c.surface, c.baseline, c.confidence),
            c.scale,
            heading("2  Among which bakes"),
            beside(c.formula, c.pan), beside(c.since, c.until, c.tag, c.without),
            beside(c.text, c.again), out["count"],
        ]  # fmt: skip
        right = [
            out["demo"], out["alert"], out["numbers"], out["text"],
            self.best.view, out["chart"], out["remarks"], self.more, self.table,
            beside(c.save_as, c.save), out["saved"],
        ]  # fmt: skip
        return two_columns(_JOB, left, right)


def _opened(book: Any) -> "BakeBook":
    from bakelab.bakebook import BakeBook

    if book is None:
        return book_to_open()
    return book if isinstance(book, BakeBook) else BakeBook(book)


def _bakes(count: int) -> str:
    return f"{count} bake{'' if count == 1 else 's'}"
