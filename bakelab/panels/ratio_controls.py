"""The controls of the ratio panel: a slider for each ratio of the formula."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import ipywidgets as widgets

from bakelab.formula import Formula
from bakelab.panels.controls import choice
from bakelab.panels.samples import sample_recipes
from bakelab.ranges import styles

__all__ = [
    "HOLDS",
    "RATIOS",
    "Ratio",
    "RatioControls",
    "ratio_pct",
    "ratios_of",
    "set_sliders",
    "slider",
]

HOLDS = (
    ("the flour's weight", "flour"),
    ("the dough's weight", "dough"),
    ("all the water: plain water makes up", "liquids"),
    ("the sweetness: sweeteners make up", "sweetness"),
    ("all the fat: fats make up", "fat"),
    ("the dry solids: all is scaled", "solids"),
)


@dataclass(frozen=True)
class Ratio:
    """One ratio that a slider moves, in percent of flour.

    `what` is what `bakelab.variants.change` knows it by, `step` what a
    baker would change it by.
    """

    what: str
    label: str
    step: float
    most: float


RATIOS = (
    Ratio("water", "Water as written (% of flour)", 0.5, 120.0),
    Ratio("salt", "Salt (% of flour)", 0.1, 4.0),
    Ratio("yeast", "Yeast (% of flour)", 0.1, 8.0),
    Ratio("sweetener", "Sugar and other sweeteners (% of flour)", 0.5, 40.0),
    Ratio("fat", "Fat (% of flour)", 0.5, 80.0),
    Ratio("egg", "Egg (% of flour)", 0.5, 80.0),
    Ratio("dairy", "Milk and dairy (% of flour)", 0.5, 100.0),
    Ratio("starter", "Starter (% of flour)", 0.5, 100.0),
)
_FLOUR_STEP = 1.0


def ratio_pct(formula: Formula, what: str) -> float:
    """A ratio as it stands, in percent of flour: of a role, or of one flour."""
    is_key = any(r.ingredient == what for r in formula.rows)
    if is_key and what != "water":
        return formula.pct(what)
    return formula.role_pct(what)


def ratios_of(*formulas: Formula) -> tuple[Ratio, ...]:
    """The ratios that any of the formulas has, and the share of each flour."""
    found = [r for r in RATIOS if any(f.role_g(r.what) > 0 for f in formulas)]
    flours = [r for f in formulas for r in f.rows if r.role == "flour"]
    keys = dict.fromkeys(r.ingredient for r in flours)
    names = {r.ingredient: r.label for r in flours}
    if len(keys) > 1:
        found += [
            Ratio(key, f"{names[key]} (% of flour)", _FLOUR_STEP, 100.0) for key in keys
        ]
    return tuple(found)


def slider(ratio: Ratio, value: float) -> Any:
    """A slider with its number, which can be typed as well."""
    made = widgets.FloatSlider(
        value=value,
        min=0.0,
        max=max(ratio.most, value),
        step=ratio.step,
        description=ratio.label,
        readout_format=".1f",
        continuous_update=True,
    )
    made.add_class("bakelab-slider")
    return made


def set_sliders(sliders: Mapping[str, Any], formula: Formula) -> None:
    """Show the ratios of a formula; where one is past its slider, that grows."""
    for what, made in sliders.items():
        value = ratio_pct(formula, what)
        made.max = max(made.max, value)
        if abs(made.value - value) > 1e-9:
            made.value = value


class RatioControls:
    """Every control of the panel but the sliders, by name."""

    def __init__(self) -> None:
        samples = list(sample_recipes().items())
        self.sample = choice("Sample recipe", [*samples, ("my own text", "")])
        self.text = widgets.Textarea(
            description="Recipe as written", rows=6, continuous_update=False
        )
        table = styles()
        named = list(zip(table["name"], table["style"], strict=True))
        self.style = choice(
            "Style of bread", [("as the formula suggests", ""), *sorted(named)]
        )
        self.hold = choice("Keep as it is", list(HOLDS))
        self.undo = widgets.Button(description="Undo")
        self.redo = widgets.Button(description="Redo")
        self.back = widgets.Button(description="Back to the parent")
        self.name = widgets.Text(description="Name of the variant")
        self.why = widgets.Text(description="Why I try it")
        self.keep = widgets.Button(
            description="Keep as a variant", button_style="primary"
        )
        self.family = choice("Go on from", [("the recipe", "")])

    def buttons(self) -> Iterable[Any]:
        """Undo, redo and back, in their order."""
        return (self.undo, self.redo, self.back)
