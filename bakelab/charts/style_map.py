"""Where a formula stands among the styles: hydration against fat and sugar."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["MAP_COLUMNS", "style_map"]

MAP_COLUMNS = ("name", "what", "hydration_pct", "rich_pct")
_KINDS = ("style", "parent", "now")
_SHAPES = ("circle", "diamond", "cross")
_KEY = "Circles: an example of each style; diamond: the parent; cross: your dough"


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
        Shapes as well as colours tell the three kinds apart; hover to read.
    """
    import altair as alt

    require_columns(frame, MAP_COLUMNS, of="table of formulas")
    colours = [PALETTE["steam"], PALETTE["crust"], PALETTE["berry"]]
    kinds = list(_KINDS)
    chart: alt.Chart = (
        alt.Chart(frame, title=alt.Title("Among the styles", subtitle=_KEY))
        .mark_point(filled=True, size=90, opacity=0.9)
        .encode(
            alt.X("hydration_pct:Q")
            .title("True hydration (% of flour)")
            .scale(zero=False, nice=True),
            alt.Y("rich_pct:Q").title("Fat + sugar (% of flour)"),
            alt.Shape("what:N").title(None).scale(domain=kinds, range=list(_SHAPES)),
            alt.Color("what:N").legend(None).scale(domain=kinds, range=colours),
            alt.Size("what:N").scale(domain=kinds, range=[70, 150, 190]),
            tooltip=[
                alt.Tooltip("name:N", title="Formula"),
                alt.Tooltip(
                    "hydration_pct:Q", title="True hydration (%)", format=".1f"
                ),
                alt.Tooltip("rich_pct:Q", title="Fat + sugar (%)", format=".1f"),
            ],
        )
        .properties(width=460, height=250)
        .configure(**altair_config(ink=ink))
    )
    return chart
