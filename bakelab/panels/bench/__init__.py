"""The bench: a bake written down while it is made."""

from bakelab.panels.bench.panel import BenchPanel

__all__ = ["BenchPanel"]
