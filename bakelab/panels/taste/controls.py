"""The controls of the tasting panel, each with its label and unit."""

from collections.abc import Iterable
from typing import Any

import ipywidgets as widgets

from bakelab.panels.controls import SAVE_FORMATS, choice, field
from bakelab.sheets import PAPERS
from bakelab.tasting import TESTS

__all__ = ["AIM_WORDS", "AS_FILES", "USUAL_RISKS", "TasteControls"]

AIM_WORDS = (
    ("a difference", "difference"),
    ("that they are alike: few taste it", "likeness"),
)
USUAL_RISKS = {"difference": ("5", "20", "50"), "likeness": ("20", "5", "30")}
"""Risk of a false find, of missing it, and share of people; common practice."""

AS_FILES = (("PDF", "pdf"), ("web page", "html"))
_PAPER_NAMES = {"a4": "A4", "us-letter": "US Letter"}


class TasteControls:
    """Every control by name."""

    def __init__(self) -> None:
        self._what()
        self._how_sure()
        self._print()
        self._answers()
        self._decide()

    def _what(self) -> None:
        kinds = [(kind.label, name) for name, kind in TESTS.items()]
        self.kept = choice("Kept tastings", [("a new one", "")])
        self.test = choice("Test", kinds)
        self.aim = choice("To show", AIM_WORDS)
        self.samples = widgets.Textarea(
            description="Samples, one on a line (no taster sees these names)",
            value="house loaf\nless salt",
            rows=5,
            continuous_update=False,
        )
        self.add = choice("Add a formula of the bake book", [("choose", "")])
        self.title = field("Title on the slips", "Tasting")
        self.question = field("Question on the slips", "as usual for the test")
        self.expected = field(
            "Expected beforehand (names, first place first, with commas)", "nothing"
        )
        self.reference = choice("Reference", [("both samples take turns", "")])
        self.allergens = field("Other allergens (with commas)", "such as sesame")

    def _how_sure(self) -> None:
        self.alpha = field("Risk of a false find (%)", "5", "5")
        self.beta = field("Risk of missing it (%)", "20", "20")
        self.share = field("People who taste it, at least (%)", "50", "50")
        self.gap = field("Mean ranks apart, at least", "1", "1")
        self.tasters = field("Tasters (number)", "as many as needed")
        self.serve = widgets.Button(
            description="Draw codes and serve", button_style="primary"
        )
        self.another = widgets.Button(description="Plan another tasting")

    def _print(self) -> None:
        self.paper = choice("Paper", [(_PAPER_NAMES[p], p) for p in PAPERS])
        self.as_file = choice("As", AS_FILES)
        self.slips = widgets.Button(description="Slips", button_style="primary")
        self.key = widgets.Button(description="Key, apart")

    def _answers(self) -> None:
        self.slip = choice("Slip", [("1", 1)])
        self.answer = field("Answer (code)", "such as 417")
        self.answer.continuous_update = True  # whole when Enter is pressed
        self.remark = field("Remark of the taster", "if any")
        self.enter = widgets.Button(description="Enter", button_style="primary")
        self.take_back = widgets.Button(description="Take this answer back")
        self.many = widgets.Textarea(
            description="Or many at once: slip, colon, code, one slip on a line",
            placeholder="1: 417",
            rows=3,
            continuous_update=False,
        )
        self.enter_many = widgets.Button(description="Enter all")
        self.close = widgets.Button(description="Judge without the missing slips")

    def _decide(self) -> None:
        self.chosen = choice("Chosen loaf", [("nothing yet", "")])
        self.why = field("Why it was chosen", "such as liked by more, or cheaper")
        self.name = field("New name in the bake book", "as it is called")
        self.decide = widgets.Button(
            description="Keep the decision", button_style="primary"
        )
        self.print_sheet = widgets.Button(description="Print the sheet")
        self.save_as = choice("Save", SAVE_FORMATS)
        self.save = widgets.Button(description="Save")

    def planned(self) -> Iterable[Any]:
        """What a plan depends on; it stands still once the codes are drawn."""
        return (
            self.test, self.aim, self.samples, self.title, self.question, self.expected,
            self.reference, self.allergens, self.alpha, self.beta, self.share,
            self.gap, self.tasters,
        )  # fmt: skip
