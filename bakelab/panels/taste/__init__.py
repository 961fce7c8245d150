"""The panel of a tasting: planned, served blind, answered, judged."""

from bakelab.panels.taste.panel import TastePanel

__all__ = ["TastePanel"]
