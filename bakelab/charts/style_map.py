"""Where a formula stands among the styles: hydration against fat and sugar."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["MAP_COLUMNS", "style_map"]

MAP_COLUMNS = ("name", "what", "hydration_pct", "rich_pct")
_KINDS = ("style", "parent", "now")
_SHAPES = ("circle", "diamond", "cross")
_KEY = "Circles: styles, named when pointed at; diamond: the parent; cross: your dough"


def style_map(frame: pd.DataFrame, *, ink: str = "currentColor") -> "alt.Chart":
    """Points of formulas by true hydration and by fat + sugar.

    Parameters
    ----------
    frame : DataFrame
        Columns `name`, `what` ("style", "parent" or "now"),
        `hydration_pct` and `rich_pct` (fat + sugar), both percent of flour.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.Chart
        Shapes as well as colours tell the three kinds apart; each point says what
        it is when it is pointed at.
    """
    import altair as alt

    require_columns(frame, MAP_COLUMNS, of="table of formulas")
    colours = [PALETTE["steam"], PALETTE["crust"], PALETTE["berry"]]
    kinds = list(_KINDS)
    shown = frame.assign(said=[_said(row) for row in frame.to_dict("records")])
    chart: alt.Chart = (
        alt.Chart(shown, title=alt.Title("Among the styles", subtitle=_KEY))
        .mark_point(filled=True, size=90, opacity=0.9)
        .encode(
            alt.X("hydration_pct:Q")
            .title("True hydration (% of flour)")
            .scale(zero=False, nice=True),
            alt.Y("rich_pct:Q").title("Fat + sugar (% of flour)"),
            alt.Shape("what:N").title(None).scale(domain=kinds, range=list(_SHAPES)),
            alt.Color("what:N").legend(None).scale(domain=kinds, range=colours),
            alt.Size("what:N").scale(domain=kinds, range=[70, 150, 190]),
            alt.Tooltip("said:N"),
            alt.Description("said:N"),
        )
        .properties(width=460, height=250)
        .configure(**altair_config(ink=ink))
    )
    return chart


def _said(point: Mapping[Any, Any]) -> str:
    return (
        f"{point['name']}: true hydration {point['hydration_pct']:.1f} %, "
        f"fat + sugar {point['rich_pct']:.1f} %"
    )
