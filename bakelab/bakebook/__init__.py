"""The bake book: every bake with its numbers, readings and notes, kept for good."""

from bakelab.bakebook.facts import FACTS, GROUPS, HOUSE, MARKS, READINGS, Fact

__all__ = ["FACTS", "GROUPS", "HOUSE", "MARKS", "READINGS", "Fact"]
