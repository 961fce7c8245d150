"""Playgrounds of the first three lessons: ratio, flour = 100 %, hydration."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import ipywidgets as widgets

from bakelab.charts.written import plain_number
from bakelab.formula import Formula
from bakelab.formula.contents import contents
from bakelab.lessons.widgets.bars import Bar, Part, bars_svg, parts_svg
from bakelab.lessons.widgets.playground import Playground, Shown, slider, table

__all__ = ["FlourPlayground", "HydrationPlayground", "RatioPlayground"]

_WATER_OF = (
    ("water", "water", "water", 180.0, 500.0),
    ("milk_whole", "milk", "steam", 150.0, 500.0),
    ("egg_whole", "egg", "herb", 50.0, 250.0),
    ("butter_unsalted", "butter", "berry", 50.0, 250.0),
    ("honey", "honey", "crust", 0.0, 150.0),
)
_FLOUR_G = 500.0


class RatioPlayground(Playground):
    """Flour and water: when does the ratio change, and when does it stay?"""

    job = "Move the flour. The water follows as long as the ratio is kept."

    def __init__(self) -> None:
        self._moving = False
        self._kept = Fraction(13, 20)
        keep = widgets.Checkbox(
            value=True, description="Keep the ratio when the flour moves", indent=False
        )
        super().__init__(
            {
                "flour": slider("Flour (g)", 500, low=100, high=2000, step=20),
                "water": slider("Water (g)", 325, low=20, high=2000, step=1),
                "keep": keep,
            }
        )

    def _moved(self, event: Any) -> None:
        if self._moving:
            return
        moved = event["owner"]
        if moved is self.controls["flour"] and self.value("keep"):
            self._moving = True
            water = self._kept * Fraction(str(moved.value))
            self.controls["water"].value = round(float(water))
            self._moving = False
        else:
            flour = Fraction(str(self.value("flour")))
            self._kept = Fraction(str(self.value("water"))) / flour
        self._refresh()

    def work_out(self) -> Shown:
        """Both bars, the ratio in whole numbers, and the same dough in other sizes."""
        flour, water = self.value("flour"), self.value("water")
        pct = 100 * water / flour
        ratio = Fraction(round(water), round(flour))
        drawn = bars_svg(
            [
                Bar(f"flour {flour:.0f} g", 100.0, "flour"),
                Bar(f"water {water:.0f} g", pct, "water"),
            ],
            title="Flour and water side by side",
        )
        sizes = [
            [
                f"{size} g of flour",
                f"{plain_number(size * water / flour, 1)} g of water",
            ]
            for size in (100, 250, 1000)
        ]
        said = (
            f"{water:.0f} g of water to {flour:.0f} g of flour is the ratio "
            f"{ratio.numerator} to {ratio.denominator}, or "
            f"{plain_number(pct, 1)} g of water for each 100 g of flour."
        )
        same = table(("The same dough with", "takes"), sizes, caption="Other sizes")
        return drawn + same, said


class FlourPlayground(Playground):
    """A formula by its percentages: the flour is the measure of everything."""

    job = "All the flour together is 100 %. Everything else is measured against it."

    def __init__(self) -> None:
        super().__init__(
            {
                "flour": slider("All the flour (g)", 500, low=100, high=2000, step=50),
                "wheat": slider(
                    "Whole wheat (% of flour)", 30, low=0, high=100, step=5
                ),
                "water": slider("Water (% of flour)", 65, low=40, high=100, step=1),
                "salt": slider("Salt (% of flour)", 2.0, low=0, high=4, step=0.1),
                "yeast": slider("Dry yeast (% of flour)", 1.0, low=0, high=4, step=0.1),
            }
        )

    def work_out(self) -> Shown:
        """A bar and a row for each ingredient; of flour beside of dough."""
        pct = {
            "white flour": 100 - self.value("wheat"),
            "whole wheat flour": self.value("wheat"),
            **{name: self.value(name) for name in ("water", "salt", "yeast")},
        }
        flour, total = self.value("flour"), sum(pct.values())
        hues = ("flour", "crust", "water", "herb", "berry")
        drawn = bars_svg(
            [Bar(n, p, hue) for (n, p), hue in zip(pct.items(), hues, strict=True)],
            title="Every ingredient against all the flour",
        )
        rows = _rows(pct, flour)
        heads = ("Ingredient", "Weight", "% of flour", "% of the dough")
        said = (
            f"The percentages of flour add up to {plain_number(total, 1)} %, and the "
            f"dough weighs {plain_number(flour * total / 100, 0)} g. Salt is "
            f"{plain_number(pct['salt'], 1)} % of the flour, but "
            f"{plain_number(100 * pct['salt'] / total, 1)} % of the dough."
        )
        return drawn + table(heads, rows, caption="Weights and percentages"), said


class HydrationPlayground(Playground):
    """Where the water of a dough comes from, ingredient by ingredient."""

    job = "A dough of 500 g of flour. Find the water that does not look like water."

    def __init__(self) -> None:
        super().__init__(
            {
                key: slider(f"{name.capitalize()} (g)", start, low=0, high=most, step=5)
                for key, name, _, start, most in _WATER_OF
            }
        )

    @property
    def formula(self) -> Formula:
        """The dough as it stands."""
        pairs = [("wheat_bread", _FLOUR_G)]
        pairs += [(key, self.value(key)) for key, *_ in _WATER_OF if self.value(key)]
        return Formula.from_pairs(pairs)

    def work_out(self) -> Shown:
        """Water as written above true hydration, and grams of water in each."""
        dough = self.formula
        water = {r.ingredient: _water_g(r) for r in dough.rows if r.role != "flour"}
        parts = [
            Part(f"water in {name}" if key != "water" else "plain water",
                 100 * water.get(key, 0.0) / _FLOUR_G, hue)
            for key, name, hue, *_ in _WATER_OF
        ]  # fmt: skip
        drawn = parts_svg(
            [("water as written", parts[:1]), ("true hydration", parts)],
            title="Water over flour, counted both ways",
            whole_pct=max(100.0, dough.hydration_pct),
        )
        rows = [
            [name, f"{self.value(key):.0f} g", f"{plain_number(water[key], 1)} g"]
            for key, name, *_ in _WATER_OF
            if key in water
        ]
        said = (
            f"Water as written is {plain_number(dough.water_pct, 1)} %, true hydration "
            f"{plain_number(dough.hydration_pct, 1)} %: "
            f"{plain_number(dough.water_g, 0)} g of water in all for 500 g of flour."
        )
        heads = ("Ingredient", "Weight", "Water in it")
        return drawn + table(heads, rows, caption="Where the water is"), said


def _rows(pct: Mapping[str, float], flour: float) -> list[list[str]]:
    """Weight, percent of flour and share of the dough of each, and of the dough."""
    total = sum(pct.values())
    return [
        [
            name,
            f"{plain_number(flour * p / 100, 1)} g",
            f"{plain_number(p, 1)} %",
            f"{plain_number(100 * p / total, 1)} %",
        ]
        for name, p in {**pct, "the dough": total}.items()
    ]


def _water_g(row: Any) -> float:
    return contents(row.ingredient, row.role, row.mass_g, None).water_g
