"""A plan of trials in the ratio panel: what moves, how far, in which pan."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Formula
from bakelab.panels.answer_html import alert, note
from bakelab.panels.controls import beside, choice, field, show
from bakelab.panels.layout import set_html
from bakelab.panels.ratio_controls import Ratio, ratio_pct, ratios_of
from bakelab.panels.saving import download_link
from bakelab.sheets import bench_html
from bakelab.units import number
from bakelab.variants import PLANS, Plan, plan_trials

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["Trials"]

_KINDS = tuple((words, kind) for kind, words in PLANS.items() if kind != "blend")
_RANGE = 0.1  # our own: a tenth of the ratio to either side, until somebody says
_KEPT = (
    "Kept in your bake book as “{name}”. Start the trials in notebook 3, in this "
    "order; notebook 4 compares them as a plan of trials."
)


class Trials:
    """The part of the panel that plans trials around the formula at hand.

    Parameters
    ----------
    formula : function
        Gives the formula at hand.
    book : function
        Gives the user's bake book, opened when the plan is kept.

    Attributes
    ----------
    first, second : Dropdown
        What moves; `low`, `high` and `low_2`, `high_2` say how far.
    kind, centres, pan, name : widget
    make, keep, print_plan : Button
    plan : Plan or None
    view : widget
    """

    def __init__(
        self, formula: Callable[[], Formula], book: Callable[[], "BakeBook"]
    ) -> None:
        self._formula, self._book = formula, book
        self.plan: Plan | None = None
        self.first = choice("What moves", [("-", "")])
        self.low, self.high = field("from (% of flour)", ""), field("to (%)", "")
        self.second = choice("and what else", [("nothing", "")])
        self.low_2, self.high_2 = field("from (% of flour)", ""), field("to (%)", "")
        self.kind = choice("Which trials", _KINDS)
        self.kind.value = "full"
        self.centres = field("Middle baked (times)", "0", "0")
        self.pan = field("Pan of each trial", "as large as the formula")
        self.make = widgets.Button(description="Plan the trials")
        self.name = field("Name of the plan", "such as salt and water")
        self.keep = widgets.Button(description="Keep the plan in my bake book")
        self.print_plan = widgets.Button(description="Print the plan")
        self.told, self.shown = widgets.HTML(), widgets.HTML()
        self._layout()
        self._listen()

    def _layout(self) -> None:
        self._after = widgets.VBox(
            [self.name, beside(self.keep, self.print_plan, least_px=110)]
        )
        self.view = widgets.VBox([
            beside(self.first, self.low, self.high, least_px=95),
            beside(self.second, self.low_2, self.high_2, least_px=95),
            self.kind, beside(self.centres, self.pan), self.make,
            self.shown, self._after, self.told,
        ])  # fmt: skip
        for box in (self.view, self._after):
            box.layout.grid_gap = "8px"
        show(self._after, False)

    def offer(self) -> None:
        """Offer the ratios of a new formula; a plan of the last one goes."""
        options = [(r.label.partition(" (")[0], r) for r in ratios_of(self._formula())]
        self.first.options = options or [("-", "")]
        self.second.options = [("nothing", ""), *options]
        self._forget()
        self._usual(self.first, self.low, self.high)

    def _listen(self) -> None:
        rows = (
            (self.first, self.low, self.high),
            (self.second, self.low_2, self.high_2),
        )
        for row in rows:
            row[0].observe(lambda _, row=row: self._usual(*row), "value")
        self.make.on_click(lambda _: self._try(self._make))
        self.keep.on_click(lambda _: self._try(self._keep))
        self.print_plan.on_click(lambda _: self._try(self._print))

    def _usual(self, what: Any, low: Any, high: Any) -> None:
        """A band to begin with, to be written over."""
        ratio = what.value
        if not isinstance(ratio, Ratio):
            low.value = high.value = ""
            return
        value = ratio_pct(self._formula(), ratio.what)
        low.value = f"{value * (1 - _RANGE):.3g}"
        high.value = f"{value * (1 + _RANGE):.3g}"

    def _make(self) -> None:
        self._forget()
        moved = {
            what.value.what: (_percent(low), _percent(high))
            for what, low, high in (
                (self.first, self.low, self.high),
                (self.second, self.low_2, self.high_2),
            )
            if isinstance(what.value, Ratio)
        }
        self.plan = plan_trials(
            self._formula(), moved, kind=str(self.kind.value),
            pan=self.pan.value.strip() or None, centres=_count(self.centres),
        )  # fmt: skip
        set_html(self.shown, _plan_html(self.plan))
        show(self._after, True)

    def _keep(self) -> None:
        if self.plan is not None:
            name = self.name.value.strip()
            self._book().plan(self.plan, name)
            set_html(self.told, note(_KEPT.format(name=name)))

    def _print(self) -> None:
        if self.plan is not None:
            title = self.name.value.strip() or "Plan of trials"
            page = bench_html(self.plan, title=title)
            set_html(self.told, download_link(page, "plan-of-trials.html", "html"))

    def _forget(self) -> None:
        self.plan = None
        set_html(self.shown, "")
        show(self._after, False)

    def _try(self, action: Callable[[], None]) -> None:
        set_html(self.told, "")
        try:
            action()
        except BakelabError as error:
            set_html(self.told, alert([f"Trials: {error}"]))


def _plan_html(plan: Plan) -> str:
    """The trials in their order, and what they take."""
    trials = "".join(
        f"<li>{xml_text(str(row['name']))}: {row['dough_g']:.0f} g of dough</li>"
        for row in plan.frame.to_dict("records")
    )
    count = len(plan.formulas)
    words = f"{count} trials in a drawn order, {plan.flour_g:.0f} g of flour in all:"
    said = "".join(note(remark) for remark in plan.remarks)
    return f"<p>{words}</p><ol>{trials}</ol>{said}"


def _percent(control: Any) -> float:
    try:
        return float(number(control.value))
    except BakelabError:
        raise FormulaError(
            f"{control.value!r} is no percentage of flour; write a number such as 2"
        ) from None


def _count(control: Any) -> int:
    text = control.value.strip() or "0"
    if not text.isdigit() or len(text) > 2:
        raise FormulaError(f"the middle cannot be baked {text!r} times; give 0 to 99")
    return int(text)
