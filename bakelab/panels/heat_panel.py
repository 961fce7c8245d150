"""The panel of time and heat: the recipe's pan and mine, side by side."""

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import pandas as pd

from bakelab.charts import cut_map, heat_curves
from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.oven import BakeEstimate, estimate_bake, oven, with_expected_bake
from bakelab.panels.answer_html import alert, listed, note
from bakelab.panels.controls import beside, heading
from bakelab.panels.current_recipe import formula_in
from bakelab.panels.heat_controls import degrees, heat_controls, metres, minutes
from bakelab.panels.layout import set_html, two_columns
from bakelab.panels.own_oven import OwnOven
from bakelab.panels.parts import Fold
from bakelab.panels.samples import sample_recipes
from bakelab.panels.seen_first import SeenFirst
from bakelab.panels.shelf import BookShelf
from bakelab.panels.svg import svg_of
from bakelab.pans import Pan, pan
from bakelab.reading.saved import recipe_text
from bakelab.scaling import before_fit, fit
from bakelab.units import Q_
from bakelab.variants import Variant

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["HeatPanel"]

_JOB = (
    "How long and how hot in my pan: computed by a model that first learns your oven "
    "from what the recipe says about its own pan, and always with a band."
)
_OUTPUTS = ("alert", "numbers", "text", "curves", "cut", "plan", "cautions")
_SAMPLES = 32  # the ends of the band: within half a minute of those of 256

_KEEPS = (
    "Keeps the formula for my pan with this time, named an estimate: a bake that is "
    "started from it in notebook 3 is planned by it."
)
_GIVE_TIME = "give bake_minutes, such as bake_minutes=35"
_WRITE_TIME = (
    "write it above: the time in the recipe's pan, or choose an oven of your own"
)


class HeatPanel(SeenFirst):
    """Old pan and new pan: minutes with a band, curves, a cut, a plan.

    Attributes
    ----------
    controls : dict of str to widget
        ``text``, ``from_pan``, ``to_pan``, ``oven``, ``minutes``, ``start``,
        ``core``, ``altitude``, ``surface``, ``whose``, ``moment``, ``go``.
    shelf : BookShelf
        Takes a formula out of the bake book; keeps the one for my pan, with its time.
    estimate : BakeEstimate or None
    view : ipywidgets.Widget
    """

    def __init__(
        self,
        recipe: str = "",
        *,
        pan: str = "8 x 4 x 2.5 in loaf",
        book: "BakeBook | None" = None,
    ) -> None:
        samples = list(sample_recipes().items())
        self._own = OwnOven(book)
        self.controls = heat_controls(samples, pan, whose=self._own.control)
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.assumed = Fold("What was assumed")
        self.estimate: BakeEstimate | None = None
        self._taken: Formula | None = None
        self._taken_text = self._taken_from = ""
        self._made: Formula | None = None
        self.shelf = BookShelf(self._kept, self._take)
        self.view = self._layout()
        first = samples[1][1] if len(samples) > 1 else ""
        self.controls["sample"].value = "" if recipe else first
        self.controls["text"].value = recipe or first
        self._listen()
        self._see_first(self.work_out, self.outputs["alert"])

    def work_out(self) -> None:
        """Compute the estimate for what the controls say, and show it."""
        go = self.controls["go"]
        go.description, go.disabled = "Working …", True
        set_html(self.shelf.told, "")
        self._made = None
        try:
            self.estimate = self._estimate()
            set_html(self.outputs["alert"], "")
            self._show(self.estimate)
        except BakelabError as error:
            said = str(error).replace(_GIVE_TIME, _WRITE_TIME)
            set_html(self.outputs["alert"], alert([said]))
        finally:
            go.description, go.disabled = "Work it out", False

    def _listen(self) -> None:
        c = self.controls
        c["go"].on_click(lambda _: self.work_out())
        c["moment"].observe(lambda _: self._cut(), "value")
        c["sample"].observe(self._choose, "value")

    def _choose(self, event: Any) -> None:
        if event["new"]:
            self.controls["text"].value = event["new"]
            self.work_out()

    def _take(self, formula: Formula) -> None:
        """A formula of the bake book; a fitted one as its recipe was, to my pan."""
        c, before = self.controls, before_fit(formula)
        shown = before or formula
        c["sample"].value = c["oven"].value = c["minutes"].value = ""
        c["text"].value, c["from_pan"].value = recipe_text(shown), shown.stated_pan
        if before is not None and formula.stated_pan:
            c["to_pan"].value = formula.stated_pan
        self._taken, self._taken_text = formula, c["text"].value
        self._taken_from = shown.stated_pan
        self.work_out()

    def _kept(self) -> list[Variant]:
        """The formula for my pan with its time, below the one that it was made of."""
        if self._made is None or self.estimate is None:
            return []
        made = with_expected_bake(self._made, self.estimate)
        name = f"{made.title or 'Bread'}, {made.stated_pan}, time estimated"
        why = f"time estimated for {made.stated_pan}"
        if self._taken is None or self.controls["text"].value != self._taken_text:
            return [Variant(made, name, why)]
        parent = Variant(self._taken, "")
        return [parent, parent.child(made, name, why)]

    def _for_my_pan(self, formula: Formula, old: Pan, new: Pan) -> Formula:
        """The formula as it was taken if that is for my pan, else fitted to it."""
        c, taken = self.controls, self._taken
        asked = tuple(c[name].value for name in ("text", "from_pan", "to_pan"))
        if taken is not None:
            as_taken = (self._taken_text, self._taken_from, taken.stated_pan)
            if asked == as_taken:
                return taken
        return fit(formula, to=new, from_=old).formula

    def _estimate(self) -> BakeEstimate:
        c = self.controls
        formula = formula_in(c["text"].value)
        old, new = self._pans(formula)
        made = self._for_my_pan(formula, old, new)
        setting = self._setting(formula)
        start, core = degrees(c["start"].value), degrees(c["core"].value)
        heat = self._own.heat(setting)
        found = estimate_bake(
            formula,
            from_pan=old,
            to_pan=new,
            oven=heat.setting,
            heating=heat.heating,
            bake_minutes=minutes(c["minutes"].value) or formula.bake_minutes,
            from_dough=Q_(formula.dough_g / old.count, "g"),
            to_dough=Q_(made.dough_g / new.count, "g"),
            start=start,
            core_end=core,
            altitude=metres(c["altitude"].value),
            to_surface=c["surface"].value,
            samples=_SAMPLES,
        )
        dial = c["oven"].value.strip() or formula.oven
        self._made = replace(made, oven=dial)
        return found

    def _pans(self, formula: Formula) -> tuple[Pan, Pan]:
        stated = self.controls["from_pan"].value or formula.stated_pan
        if not stated:
            raise BakelabError(
                "the recipe names no pan; write the pan it was meant for"
            )
        return pan(stated), pan(self.controls["to_pan"].value)

    def _setting(self, formula: Formula) -> Any:
        written = self.controls["oven"].value or formula.oven
        if not written:
            raise BakelabError(
                "the recipe states no oven setting; write one, such as 220 °C"
            )
        return oven(written)

    def _show(self, found: BakeEstimate) -> None:
        out, c = self.outputs, self.controls
        set_html(out["numbers"], _numbers(found))
        set_html(out["text"], f"<p>{xml_text(found.text)}</p>")
        set_html(out["curves"], svg_of(heat_curves(found.curves)))
        set_html(out["plan"], _table(found.plan))
        set_html(out["cautions"], listed(found.cautions))
        words = [*self._own.said, *found.assumed, found.balance_text]
        self.assumed.html = listed(words)
        self.assumed.title = f"What was assumed ({len(words)})"
        last = float(found.cuts["minutes"].max())
        c["moment"].max = max(1.0, round(last))
        before = c["moment"].value
        c["moment"].value = round(found.look_from_minutes)
        if c["moment"].value == before:  # a move of the slider draws it by itself
            self._cut()

    def _cut(self) -> None:
        if self.estimate is None:
            return
        cuts = self.estimate.cuts
        now = cuts[cuts["minutes"] <= self.controls["moment"].value + 1e-9]
        last = now.groupby("pan")["minutes"].transform("max")
        hottest = float(cuts["celsius"].max())
        drawn = cut_map(now[now["minutes"] == last], hottest_c=hottest)
        set_html(self.outputs["cut"], svg_of(drawn))

    def _layout(self) -> Any:
        c, out = self.controls, self.outputs
        c["moment"].add_class("bakelab-slider")
        left = [
                heading("1  The recipe, and what it says of its own bake"),
                c["sample"], self.shelf.taking, c["text"],
                beside(c["from_pan"], c["to_pan"]),
                beside(c["oven"], c["minutes"]),
                heading("2  What can differ"),
                beside(c["start"], c["core"]),
                beside(c["surface"], c["altitude"]),
                c["whose"],
                c["go"],
            ]  # fmt: skip
        right = [
                out["alert"], out["numbers"], out["text"], out["plan"],
                out["cautions"], heading("3  Plan the bake by it"),
                widgets.HTML(note(_KEEPS)), self.shelf.keeping,
                heading("4  How it bakes"), out["curves"], c["moment"],
                out["cut"], self.assumed,
            ]  # fmt: skip
        return two_columns(_JOB, left, right)


def _numbers(found: BakeEstimate) -> str:
    same = found.same_crust
    facts = [
        ("At the same setting", f"{found.middle_minutes:.0f} min"),
        ("Band", f"{found.low_minutes:.0f}–{found.high_minutes:.0f} min"),
        ("Look at it from", f"{found.look_from_minutes:.0f} min"),
    ]
    if same.reached:
        hot = f"{same.air_c:.0f} °C, {same.minutes:.0f} min"
        facts.append(("For the same crust", hot))
    cells = "".join(
        f'<div><span class="bakelab-caption">{name}</span>'
        f'<span class="bakelab-number bakelab-smaller">{value}</span></div>'
        for name, value in facts
    )
    return f'<div class="bakelab-big">{cells}</div>'


def _table(plan: pd.DataFrame) -> str:
    rows = "".join(
        f'<tr><td class="bakelab-right">{row.minutes:.0f}</td>'
        f"<td>{xml_text(str(row.what))}</td></tr>"
        for row in plan.itertuples()
    )
    return (
        '<table class="bakelab-weights"><thead><tr><th scope="col" '
        'class="bakelab-right">Minutes</th><th scope="col">What</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )
