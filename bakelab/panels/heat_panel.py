"""The panel of time and heat: the recipe's pan and mine, side by side."""

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets
import pandas as pd

from bakelab.charts import cut_map, heat_curves
from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.oven import PAN_SURFACES, BakeEstimate, estimate_bake, oven
from bakelab.panels.answer_html import alert, listed
from bakelab.panels.controls import beside, choice, field, heading
from bakelab.panels.layout import set_html, two_columns
from bakelab.panels.own_oven import OwnOven
from bakelab.panels.parts import Fold
from bakelab.panels.samples import sample_recipes
from bakelab.panels.svg import svg_of
from bakelab.pans import pan
from bakelab.reading import read_recipe
from bakelab.scaling import fit
from bakelab.units import Q_, quantity

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["HeatPanel"]

_JOB = (
    "How long and how hot in my pan: computed by a model that first learns your oven "
    "from what the recipe says about its own pan, and always with a band."
)
_OUTPUTS = ("alert", "numbers", "text", "curves", "cut", "plan", "cautions")
_SAMPLES = 64
_METALS = ("dark", "grey", "bright")
_SURFACES = [
    (f"{s} metal" if s in _METALS else s, s)
    for s in sorted(PAN_SURFACES, key=lambda s: s != "grey")  # as the recipe's pan
]


class HeatPanel:
    """Old pan and new pan: minutes with a band, curves, a cut, a plan.

    Attributes
    ----------
    controls : dict of str to widget
        ``text``, ``from_pan``, ``to_pan``, ``oven``, ``minutes``, ``start``,
        ``core``, ``altitude``, ``surface``, ``whose``, ``moment``, ``go``.
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
        self.controls: dict[str, Any] = {
            "sample": choice("Sample recipe", [*samples, ("my own text", "")]),
            "text": widgets.Textarea(
                description="Recipe as written", rows=6, continuous_update=False
            ),
            "from_pan": field("The recipe's pan", "as the recipe says"),
            "to_pan": field("My pan", "8 x 4 x 2.5 in loaf", pan),
            "oven": field("Oven setting (°C or °F)", "as the recipe says"),
            "minutes": field("Time in the recipe's pan (min)", "as the recipe says"),
            "start": field("Dough going in (°C)", "30 °C"),
            "core": field("Done at, in the centre (°C)", "usual for the style"),
            "altitude": field("Altitude (m)", "0 m"),
            "surface": choice("My pan is", _SURFACES),
            "whose": self._own.control,
            "go": widgets.Button(description="Work it out", button_style="primary"),
            "moment": widgets.FloatSlider(
                description="Look at the cut after (min)",
                min=0,
                max=60,
                step=1,
                readout_format=".0f",
            ),
        }
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.assumed = Fold("What was assumed")
        self.estimate: BakeEstimate | None = None
        self.view = self._layout()
        first = samples[1][1] if len(samples) > 1 else ""
        self.controls["sample"].value = "" if recipe else first
        self.controls["text"].value = recipe or first
        self._listen()
        self.work_out()

    def work_out(self) -> None:
        """Compute the estimate for what the controls say, and show it."""
        go = self.controls["go"]
        go.description, go.disabled = "Working …", True
        try:
            self.estimate = self._estimate()
            set_html(self.outputs["alert"], "")
            self._show(self.estimate)
        except BakelabError as error:
            set_html(self.outputs["alert"], alert([str(error)]))
        finally:
            go.description, go.disabled = "Work it out", False

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.view._repr_mimebundle_(**options)

    def _listen(self) -> None:
        c = self.controls
        c["go"].on_click(lambda _: self.work_out())
        c["moment"].observe(lambda _: self._cut(), "value")
        c["sample"].observe(self._choose, "value")

    def _choose(self, event: Any) -> None:
        if event["new"]:
            self.controls["text"].value = event["new"]
            self.work_out()

    def _estimate(self) -> BakeEstimate:
        c = self.controls
        recipe = read_recipe(c["text"].value)
        if recipe.formula is None:
            raise BakelabError("no line of this recipe could be weighed")
        formula = recipe.formula
        stated = c["from_pan"].value or formula.stated_pan
        if not stated:
            raise BakelabError(
                "the recipe names no pan; write the pan it was meant for"
            )
        old = pan(stated)
        new = pan(c["to_pan"].value)
        fitted = fit(formula, to=new, from_=old)
        setting = c["oven"].value or formula.oven
        if not setting:
            raise BakelabError("the recipe states no oven setting; write one, as 220 C")
        lead = {name: self._degrees(name) for name in ("start", "core")}
        heat = self._own.heat(oven(setting))
        return estimate_bake(
            formula,
            from_pan=old,
            to_pan=new,
            oven=heat.setting,
            heating=heat.heating,
            bake_minutes=_minutes(c["minutes"].value) or formula.bake_minutes,
            from_dough=Q_(formula.dough_g / old.count, "g"),
            to_dough=Q_(fitted.doled[0].dough_g, "g"),
            start=lead["start"],
            core_end=lead["core"],
            altitude=_metres(c["altitude"].value),
            to_surface=c["surface"].value,
            samples=_SAMPLES,
        )

    def _degrees(self, name: str) -> Any:
        text = self.controls[name].value.strip()
        if not text:
            return None
        bare = text.lstrip("-−").replace(",", ".").replace(".", "", 1).isdigit()
        return quantity(f"{text} °C" if bare else text, dimension="[temperature]")

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
                c["sample"], c["text"],
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
                out["cautions"], out["curves"], c["moment"], out["cut"], self.assumed,
            ]  # fmt: skip
        return two_columns(_JOB, left, right)


def _minutes(text: str) -> tuple[float, float] | None:
    """`35`, `35-40` or `35 to 40 min` as low and high."""
    if text.strip().startswith(("-", "−")):
        raise BakelabError(f"a time is above 0 min, got {text!r}; write 35 or 35-40")
    parts = [
        p for p in text.replace("to", "-").replace("–", "-").split("-") if p.strip()
    ]
    if not parts:
        return None
    values = []
    for part in parts[:2]:
        bare = part.strip().replace(",", ".").replace(".", "", 1).isdigit()
        amount = quantity(f"{part} min" if bare else part, dimension="[time]")
        values.append(float(amount.to("minute").magnitude))
    return min(values), max(values)


def _metres(text: str) -> Any:
    bare = text.strip().removesuffix("m").strip()
    if not bare:
        return None
    if not bare.lstrip("-").replace(".", "", 1).isdigit():
        raise BakelabError(f"altitude is in metres such as 1200, got {text!r}")
    return Q_(float(bare), "m")


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
