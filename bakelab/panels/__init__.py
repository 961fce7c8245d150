"""Panels: controls and answer on one screen of a notebook."""

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
