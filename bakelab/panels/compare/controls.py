"""Controls of the comparing panel: what against what, among which bakes."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import ipywidgets as widgets

from bakelab.comparing.surface_terms import SHAPES
from bakelab.panels.controls import SCALES, choice, field, show

__all__ = ["KINDS", "SAVE_AS", "CompareControls", "offer"]

_PAIRS = ("by", "first", "second", "pair", "confidence")
KINDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "a result against a ratio": ("ratio", "shape", "scale", "confidence"),
        "variants side by side": ("by", "confidence"),
        "two of a kind, baked in pairs": _PAIRS,
        "a house loaf over time": ("baseline", "rules"),
        "a plan of trials": ("plan", "aim", "surface", "confidence"),
        "variants over several batches": ("by", "batch", "confidence"),
    }
)
"""What can be compared, and which controls it needs beside the result."""

SAVE_AS = (("the table, as CSV", "csv"), ("the picture, as SVG", "svg"))
"""What of an answer can be taken along."""

_NONE = [("none in these bakes", "")]
_CONFIDENCES = [("95 %", 0.95), ("90 %", 0.90), ("99 %", 0.99)]


class CompareControls:
    """Every control by name, each with a label in whole words."""

    def __init__(self) -> None:
        self.kind = choice("Compare", [(kind, kind) for kind in KINDS])
        self.result = choice("Result", _NONE)
        self.ratio = choice("Against", _NONE)
        self.shape = choice(
            "Line", [("straight", "straight"), ("curved", "curved"), ("none", "none")]
        )
        self.scale = choice("The scale it was weighed on shows", list(SCALES.items()))
        self.by = choice("What is compared", _NONE)
        self.first = choice("First", _NONE)
        self.second = choice("Second", _NONE)
        self.pair = choice("Pairs are bakes of one dough and the same", _NONE)
        self.batch = choice("A batch is", _NONE)
        self.baseline = field(
            "Limits from the first bakes only (number)", "all of them"
        )
        self.rules = choice("Look for", [
            ("single bakes outside, long runs on one side", "few"),
            ("also small shifts and drifts", "all"),
        ])  # fmt: skip
        self._trials()
        self.confidence = choice("Intervals hold with", _CONFIDENCES)
        self._filters()

    def _trials(self) -> None:
        self.plan = choice("Plan", _NONE)
        self.aim = choice(
            "Best is the", [("largest", "largest"), ("smallest", "smallest")]
        )
        fullest = [("the fullest that the trials carry", "")]
        self.surface = choice("Surface", [*fullest, *((k, k) for k in SHAPES)])

    def _filters(self) -> None:
        every: Sequence[tuple[str, str]] = [("all", "")]
        self.formula = choice("Variant", every)
        self.pan = choice("Pan", every)
        self.since = field("From (date)", "2026-01-31")
        self.until = field("To (date)", "2026-12-31")
        self.tag = field("Only with the tag", "any")
        self.without = field("Leave out the tag", "none")
        self.text = field("Words in notes and facts", "any")
        self.save_as = choice("Take along", SAVE_AS)
        self.save = widgets.Button(description="Save")
        self.again = widgets.Button(description="Read the book again")

    def asked(self) -> Iterable[Any]:
        """The controls whose value the answer depends on."""
        return (
            self.kind, self.result, self.ratio, self.shape, self.scale, self.by,
            self.first, self.second, self.pair, self.batch, self.baseline, self.rules,
            self.plan, self.aim, self.surface, self.confidence, self.formula, self.pan,
            self.since, self.until, self.tag, self.without,
            self.text,
        )  # fmt: skip

    def filters(self) -> dict[str, str]:
        """What `BakeBook.bakes` takes, blank where all bakes are meant."""
        names = ("formula", "pan", "since", "until", "tag", "without", "text")
        return {name: getattr(self, name).value.strip() for name in names}

    def show_needed(self) -> None:
        """Show the controls that the chosen comparison needs, and hide the others."""
        every = {name for needed in KINDS.values() for name in needed}
        for name in every:
            show(getattr(self, name), name in KINDS[self.kind.value])


def offer(control: Any, options: Sequence[tuple[str, Any]]) -> None:
    """Other options; the value stays where it is still among them."""
    options = list(options) or _NONE
    before = control.value
    if list(control.options) != options:
        control.options = options
        values = [value for _, value in options]
        control.value = before if before in values else values[0]
