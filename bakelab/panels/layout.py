"""Where the parts of the fitting panel stand: controls left, answer right."""

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.panels import answer_html as html
from bakelab.panels.controls import Controls, beside, heading
from bakelab.panels.parts import Fold, LinesTable, SliderNames
from bakelab.panels.style import SCOPE, panel_style

__all__ = ["Layout", "Told", "set_html", "two_columns"]

_JOB = (
    "Paste a recipe and name your pan: this fits the recipe to the pan, gives weights "
    "for your scale, and says what was assumed."
)
_OUTPUTS = (
    "alert", "headline", "table", "drawing", "remarks", "read_note", "from_note",
    "to_note", "cups", "saved", "kitchen_note", "added",
)  # fmt: skip


class Layout:
    """The outputs of the panel, and its view on one screen.

    Attributes
    ----------
    outputs : dict of str to HTML widget
    likely, working, assumed : Fold
    own : widget
        The row where a weight of one's own kitchen is set.
    view : widget
        Everything.
    """

    def __init__(
        self, controls: Controls, lines: LinesTable, *, taking: Any, keeping: Any
    ) -> None:
        self.outputs = {name: widgets.HTML() for name in _OUTPUTS}
        self.likely = Fold("Other pans the recipe may have been meant for")
        self.working = Fold("The working, step by step")
        self.assumed = Fold("What was assumed")
        self.own = beside(
            controls.measure, controls.own_g, controls.keep, controls.forget
        )
        left = [*self._recipe(controls, lines, taking), *self._aims(controls)]
        right = self._right(controls, keeping)
        self.view = two_columns(_JOB, left, right)

    def empty_answer(self) -> None:
        """Leave nothing where an answer stood."""
        for name in ("headline", "table", "drawing", "remarks"):
            set_html(self.outputs[name], "")
        for fold in (self.likely, self.assumed, self.working):
            fold.html = ""

    def _recipe(self, c: Controls, lines: LinesTable, taking: Any) -> list[Any]:
        out = self.outputs
        return [
            heading("1  The recipe"),
            beside(c.sample, c.upload),
            taking,
            c.text,
            heading("2  Lines as they were read"),
            out["read_note"],
            lines,
            out["added"],
            c.market,
            out["cups"],
            self.own,
            out["kitchen_note"],
        ]

    def _aims(self, c: Controls) -> list[Any]:
        out = self.outputs
        return [
            heading("3  The pans"),
            beside(c.from_pan, c.from_usual),
            out["from_note"],
            beside(c.to_pan, c.to_usual),
            out["to_note"],
            beside(c.water_g, c.water_c),
            heading("4  How to fit, and my scale"),
            beside(c.aim, c.amount, c.pieces, c.loss),
            beside(c.by, c.dome),
            beside(c.style, c.scale),
            c.sticking,
        ]

    def _right(self, c: Controls, keeping: Any) -> list[Any]:
        out = self.outputs
        for button in (c.print_sheet, c.save):
            button.button_style = "primary"
        return [
            out["alert"],
            out["headline"],
            out["table"],
            beside(c.paper, c.print_sheet, c.save_as, c.save, least_px=110),
            out["saved"],
            keeping,
            out["drawing"],
            out["remarks"],
            self.likely,
            self.assumed,
            self.working,
        ]


def two_columns(job: str, left: Sequence[Any], right: Sequence[Any]) -> Any:
    """A panel: what it does in one sentence, controls left, answer right.

    Where it is narrow, the answer stands below the controls.
    """
    controls, answer = widgets.VBox(list(left)), widgets.VBox(list(right))
    controls.add_class("bakelab-controls")
    answer.add_class("bakelab-answer")
    columns = widgets.HBox([controls, answer])
    columns.add_class("bakelab-columns")
    head = widgets.HTML(f'<p class="bakelab-job">{job}</p>{panel_style()}')
    view = widgets.VBox([head, columns, SliderNames()])
    view.add_class(SCOPE)
    return view


class Told:
    """Shows a refusal in place instead of raising it."""

    def __init__(self, output: Any, label: str) -> None:
        self._output, self._label = output, label

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, error: BaseException | None, _: object) -> bool:
        if isinstance(error, BakelabError):
            set_html(self._output, html.alert([f"{self._label}: {error}"]))
            return True
        return False


def set_html(output: Any, value: str) -> None:
    """Show other HTML, only where it differs."""
    if output.value != value:
        output.value = value
