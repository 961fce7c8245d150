"""The map of styles in the ratio panel: it follows when the slider rests."""

from typing import Any

import ipywidgets as widgets

from bakelab.formula import Formula
from bakelab.panels.layout import set_html
from bakelab.panels.parts import kernel_loop
from bakelab.panels.ratio_answer import map_frame
from bakelab.panels.svg import pointed_at, svg_of

__all__ = ["StyleMapPart"]

_SETTLED_S = 0.25


class StyleMapPart:
    """The place of the map, drawn some time after the last move.

    Attributes
    ----------
    view : HTML
    """

    def __init__(self) -> None:
        self.view = widgets.HTML()
        self._timer: Any = None

    def soon(self, formula: Formula, parent: Formula) -> None:
        """Draw the formula among the styles, unless another move comes first."""
        loop = kernel_loop()
        if loop is None:
            return
        if self._timer is not None:
            self._timer.cancel()
        self._timer = loop.call_later(_SETTLED_S, self.draw, formula, parent)

    def draw(self, formula: Formula, parent: Formula) -> None:
        """Draw it now."""
        from bakelab.charts import style_map

        drawn = style_map(map_frame(formula, parent))
        set_html(self.view, pointed_at(svg_of(drawn)))
