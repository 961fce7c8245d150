"""The breads of the invented mill: its formulas, their variants, its plan of trials."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from bakelab.formula import Formula
from bakelab.variants import Plan, plan_trials, set_ratios

__all__ = [
    "LARGE_TIN",
    "LIDDED_TIN",
    "PAIRS_NAME",
    "PLAN_NAME",
    "SMALL_TIN",
    "DemoFormula",
    "demo_formulas",
    "demo_plan",
]

LARGE_TIN = "loaf 9 x 5 x 2.75 in"
SMALL_TIN = "loaf 8 x 4 x 2.5 in"
LIDDED_TIN = "loaf 33 x 10 x 10 cm, lidded"
PAIRS_NAME = "Two sizes"
PLAN_NAME = "Water and yeast"
# Title, style and grams, by a short name; every bread is baked in the large tin.
_BREADS: Mapping[str, tuple[str, str, Mapping[str, float]]] = MappingProxyType(
    {
        "mill": (
            "Mill loaf", "white_pan",
            {"wheat_bread": 420, "water": 269, "butter_unsalted": 13,
             "sugar_white": 13, "salt_table": 8, "yeast_instant": 4.2},
        ),
        "rye": (
            "Ferry rye", "rye_mixed_light",
            {"wheat_bread": 240, "rye_medium": 120, "starter_rye": 160, "water": 190,
             "salt_table": 8},
        ),
        "whole": (
            "Weir whole wheat", "whole_wheat_pan",
            {"wheat_whole": 400, "water": 300, "honey": 16, "oil_olive": 12,
             "salt_table": 8, "yeast_instant": 4.4},
        ),
        "milk": (
            "Lock-keeper's milk bread", "milk_bread",
            {"wheat_bread": 400, "milk_whole": 236, "egg_whole": 50,
             "butter_unsalted": 40, "sugar_white": 36, "salt_table": 7,
             "yeast_instant": 6},
        ),
    }
)  # fmt: skip


@dataclass(frozen=True)
class DemoFormula:
    """A formula, what it was made from and why."""

    formula: Formula
    name: str
    parent: str = ""
    change: str = ""


def _formula(title: str, style: str, grams: Mapping[str, float]) -> Formula:
    made = Formula.from_pairs(list(grams.items()))
    return replace(
        made,
        title=title,
        style=style,
        stated_pan=LARGE_TIN,
        oven="220 °C",
        bake_minutes=(30.0, 36.0),
        notes="An invented bread of the invented Lindenfurt Mill.",
    )


def demo_formulas() -> Mapping[str, DemoFormula]:
    """Formulas by a short name; a variant comes after its parent."""
    made = {short: _formula(*bread) for short, bread in _BREADS.items()}
    less = replace(
        set_ratios(made["mill"], {"salt": 1.4}), title="Mill loaf, less salt"
    )
    wetter = replace(
        set_ratios(made["whole"], {"water": 80.0}), title="Weir whole wheat, wetter"
    )
    return MappingProxyType(
        {
            "mill": DemoFormula(made["mill"], "house loaf"),
            "less salt": DemoFormula(less, "less salt", "mill", "salt 1.9 % to 1.4 %"),
            "rye": DemoFormula(made["rye"], "rye of the week"),
            "whole": DemoFormula(made["whole"], "whole wheat"),
            "wetter": DemoFormula(wetter, "wetter", "whole", "water 75 % to 80 %"),
            "milk": DemoFormula(made["milk"], "for holidays"),
        }
    )


def demo_plan(mill: Formula) -> Plan:
    """Twelve trials of the house loaf in the small tin: corners, faces, middle."""
    return plan_trials(
        mill,
        {"water": (60.0, 68.0), "yeast": (0.6, 1.4)},
        kind="curved",
        pan=SMALL_TIN,
        centres=4,
        seed=17,
    )
