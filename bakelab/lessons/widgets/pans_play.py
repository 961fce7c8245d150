"""Playgrounds of pans and of scaling from end to end."""

from typing import Any

import ipywidgets as widgets

from bakelab.charts import PanFill, pan_svg
from bakelab.charts.written import plain_number, xml_text
from bakelab.formula import Formula
from bakelab.lessons.widgets.playground import Playground, Shown, slider, table
from bakelab.panels.controls import choice
from bakelab.pans import Pan, pan
from bakelab.scaling import fit
from bakelab.sheets.kitchen import RAW_DOUGH_G_CM3
from bakelab.weighing import Scale, round_to_scale

__all__ = ["PanPlayground", "ScalingPlayground"]

_FIRST = Pan("loaf", length_cm=20, width_cm=10, depth_cm=7)
_PANS = (
    "loaf 8 x 4 x 2.5 in",
    "loaf 9 x 5 x 2.75 in",
    "loaf 13 x 4 x 4 in, lidded",
    "loaf 30 x 11 x 7 cm",
    "round 20 x 5 cm",
    "2 round 8 x 2 in",
)
_STEPS = (("1 g", 1.0), ("0.1 g", 0.1), ("5 g", 5.0))
_LOAF = (("wheat_bread", 500.0), ("water", 325.0), ("oil_olive", 15.0),
         ("salt_table", 10.0), ("yeast_instant", 5.0))  # fmt: skip


class PanPlayground(Playground):
    """Length, width, depth, taper, lid: what each does to the volume."""

    job = "Stretch the pan on the right and watch its volume, not its length."

    def __init__(self) -> None:
        lid = widgets.Checkbox(value=False, description="It has a lid", indent=False)
        super().__init__(
            {
                "length": slider("Length at the rim (cm)", 25, low=8, high=40),
                "width": slider("Width at the rim (cm)", 10, low=5, high=20),
                "depth": slider("Depth (cm)", 7, low=3, high=14, step=0.5),
                "taper": slider(
                    "Base shorter and narrower by (cm)", 0, low=0, high=4, step=0.5
                ),
                "lid": lid,
            }
        )

    @property
    def pan(self) -> Pan:
        """The pan as the sliders make it."""
        length, width = self.value("length"), self.value("width")
        taper = self.value("taper")
        base: dict[str, Any] = (
            {"base_length_cm": length - taper, "base_width_cm": width - taper}
            if taper
            else {}
        )
        return Pan(
            "loaf",
            length_cm=length,
            width_cm=width,
            depth_cm=self.value("depth"),
            lidded=self.value("lid"),
            **base,
        )

    def work_out(self) -> Shown:
        """Both pans to one scale, and their volumes, dome and ratios."""
        mine = self.pan
        drawn = pan_svg(
            [PanFill(_FIRST, None, "First pan"), PanFill(mine, None, "Mine")]
        )
        rows = [
            [name, *(f"{plain_number(v, 0)} cm³" for v in _room(one))]
            for name, one in (("first pan", _FIRST), ("mine", mine))
        ]
        first, now = _room(_FIRST), _room(mine)
        said = (
            f"My pan is {plain_number(self.value('length') / 20, 2)} times as long as "
            f"the first, and holds {plain_number(now[0] / first[0], 2)} times as much "
            f"to the rim. With room for the dome, "
            f"{'none under the lid, ' if mine.lidded else ''}it takes "
            f"{plain_number(now[2] / first[2], 2)} times the dough."
        )
        heads = ("Pan", "To the rim", "Room for the dome", "In all")
        return drawn + table(heads, rows, caption="Volumes"), said


class ScalingPlayground(Playground):
    """From one pan to another: the whole way, step by step."""

    job = "A loaf of 500 g of flour moves to another pan. Follow the five steps."

    def __init__(self) -> None:
        to = choice("My pan", [(p, p) for p in _PANS])
        to.value = _PANS[2]
        start = choice("The recipe's pan", [(p, p) for p in _PANS])
        start.value = _PANS[1]
        step = choice("My scale shows steps of", _STEPS)
        super().__init__({"from": start, "to": to, "step": step})

    def work_out(self) -> Shown:
        """Volumes, their ratio, the new flour, and what the scale can show."""
        old, new = pan(self.value("from")), pan(self.value("to"))
        loaf = Formula.from_pairs(_LOAF)
        fitted = fit(loaf, to=new, from_=old)
        scale = Scale(((float("inf"), self.value("step")),), "one step")
        weighed = round_to_scale(fitted.formula, scale)
        told = weighed.frame[["label", "exact_g", "weigh_g", "off_pct"]].to_numpy()
        rows = [
            [label, _g(mass, 0), _g(exact, 2), _g(weigh, 1), _signed(off)]
            for (label, exact, weigh, off), (_, mass) in zip(told, _LOAF, strict=True)
        ]
        heads = ("Ingredient", "Recipe", "Exact", "Weigh", "Rounding")
        steps = _steps(old, new, fitted.factor)
        drawn = pan_svg(
            [
                PanFill(old, _dough_cm3(loaf, old), "The recipe's"),
                PanFill(new, _dough_cm3(fitted.formula, new), "Mine"),
            ]
        )
        said = (
            f"Every weight times {plain_number(fitted.factor, 3)}: 500 g of flour "
            f"become {_g(fitted.formula.flour_g, 0)}, and every percentage stays."
        )
        return steps + table(heads, rows, caption="Weights for my pan") + drawn, said


def _room(one: Pan) -> tuple[float, float, float]:
    rim = float(one.total_volume.to("cm^3").magnitude)
    usable = float(one.usable_volume("fixed").to("cm^3").magnitude) * one.count
    return rim, usable - rim, usable


def _dough_cm3(formula: Formula, one: Pan) -> float:
    return formula.dough_g / RAW_DOUGH_G_CM3 / one.count


def _steps(old: Pan, new: Pan, factor: float) -> str:
    was, now = _room(old)[2], _room(new)[2]
    dome = "no dome under the lid" if new.lidded else f"with its dome {_cm3(now)}"
    times = plain_number(factor, 3)
    ratio = f"{plain_number(now, 0)} ÷ {plain_number(was, 0)} = {times}"
    steps = (
        f"The recipe's pan: {old.describe()}; with its dome {_cm3(was)}.",
        f"My pan: {new.describe()}; {dome}.",
        f"The ratio of volumes: {ratio}.",
        f"The flour: 500 g × {times} = {plain_number(500 * factor, 1)} g.",
        "Everything else by its percentage of the flour, then to what my scale shows:",
    )
    return f"<ol>{''.join(f'<li>{xml_text(s)}</li>' for s in steps)}</ol>"


def _g(mass: float, decimals: int) -> str:
    return f"{plain_number(mass, decimals)} g"


def _signed(pct: float) -> str:
    text = f"{pct:+.1f}".replace("-", "−")
    return "0.0 %" if text[1:] == "0.0" else f"{text} %"


def _cm3(volume: float) -> str:
    return f"{plain_number(volume, 0)} cm³"
