"""The panel that compares bakes: what against what, among which bakes."""

from bakelab.panels.compare.panel import ComparePanel

__all__ = ["ComparePanel"]
