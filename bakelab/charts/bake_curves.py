"""Readings of one bake as a curve over time, for one kind of reading."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.bakebook.facts import READINGS
from bakelab.charts.columns import require_columns
from bakelab.errors import FormulaError
from bakelab.theme import FONT_SIZES, PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["READING_NEEDS", "reading_curve"]

READING_NEEDS = ("kind", "minute", "value")
_SINCE = {"core_c": "in the oven", "loss_g": "in the oven"}
_HEIGHT_PX = 110


def reading_curve(
    readings: pd.DataFrame,
    kind: str,
    *,
    width_px: int = 440,
    ink: str = "currentColor",
) -> "alt.Chart":
    """Points over time, joined by a line.

    Parameters
    ----------
    readings : DataFrame
        Columns `kind`, `minute` and `value`; rows of another kind, or
        without a minute, are left out.
    kind : str
        A key of `READINGS`.
    width_px : int
    ink : str
        Colour of text and axes.

    Raises
    ------
    FormulaError
        If a column is missing or the kind is unknown.
    """
    import altair as alt

    require_columns(readings, READING_NEEDS, of="table of readings")
    if kind not in READINGS:
        raise FormulaError(
            f"no kind of reading {kind!r}; use one of {', '.join(READINGS)}"
        )
    fact = READINGS[kind]
    known = readings[readings["kind"] == kind].dropna(subset=["minute", "value"])
    data = known[["minute", "value"]].astype(float).sort_values("minute")
    size = FONT_SIZES["label"]
    title = alt.TitleParams(f"{fact.label} ({fact.unit})", fontSize=size)
    point = alt.OverlayMarkDef(color=PALETTE["water"])
    drawn: alt.Chart = (
        alt.Chart(data, title=title)
        .mark_line(color=PALETTE["water"], point=point)
        .encode(
            alt.X("minute:Q").title(f"Minutes after “{_SINCE.get(kind, 'mixed')}”"),
            alt.Y("value:Q").title(fact.unit).scale(zero=False).axis(tickCount=4),
        )
        .properties(width=width_px, height=_HEIGHT_PX)
        .configure(**altair_config(ink=ink))
    )
    return drawn
