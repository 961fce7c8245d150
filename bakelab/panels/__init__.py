"""Panels: controls and answer on one screen of a notebook."""

from bakelab.panels.fit_panel import FitPanel

__all__ = ["FitPanel"]
