"""Panels: controls and answer on one screen of a notebook."""

from typing import TYPE_CHECKING

from bakelab.later import later, listed

if TYPE_CHECKING:
    from bakelab.panels.bench import BenchPanel
    from bakelab.panels.check_panel import CheckPanel
    from bakelab.panels.compare import ComparePanel
    from bakelab.panels.fit_panel import FitPanel
    from bakelab.panels.heat_panel import HeatPanel
    from bakelab.panels.ratio_panel import RatioPanel
    from bakelab.panels.taste import TastePanel

__all__ = [
    "BenchPanel",
    "CheckPanel",
    "ComparePanel",
    "FitPanel",
    "HeatPanel",
    "RatioPanel",
    "TastePanel",
]
__getattr__ = later(
    __name__,
    {
        "BenchPanel": "bakelab.panels.bench",
        "CheckPanel": "bakelab.panels.check_panel",
        "ComparePanel": "bakelab.panels.compare",
        "FitPanel": "bakelab.panels.fit_panel",
        "HeatPanel": "bakelab.panels.heat_panel",
        "RatioPanel": "bakelab.panels.ratio_panel",
        "TastePanel": "bakelab.panels.taste",
    },
)
__dir__ = listed(__name__)
