"""Readings of one bake as curves, a panel for each kind."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.bakebook.facts import READINGS
from bakelab.errors import FormulaError
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["READING_NEEDS", "reading_curves"]

READING_NEEDS = ("kind", "minute", "value")
_SINCE = {"core_c": "in the oven", "loss_g": "in the oven"}
_HEIGHT_PX = 100


def reading_curves(
    readings: pd.DataFrame, *, width_px: int = 440, ink: str = "currentColor"
) -> "alt.VConcatChart":
    """Points over time for every kind of reading, joined by a line.

    Parameters
    ----------
    readings : DataFrame
        Columns `kind` (a key of `READINGS`), `minute` and `value`; rows
        without a minute are left out.
    width_px : int
    ink : str
        Colour of text and axes.
    """
    import altair as alt

    missing = [c for c in READING_NEEDS if c not in readings.columns]
    if missing:
        raise FormulaError(f"the readings lack the columns {missing}")
    known = readings.dropna(subset=["minute", "value"])
    drawn = [
        _curve(known[known["kind"] == kind], kind).properties(
            width=width_px, height=_HEIGHT_PX
        )
        for kind in READINGS
        if (known["kind"] == kind).any()
    ]
    both: alt.VConcatChart = alt.vconcat(*drawn).configure(**altair_config(ink=ink))
    return both


def _curve(rows: pd.DataFrame, kind: str) -> "alt.Chart":
    import altair as alt

    fact = READINGS[kind]
    since = _SINCE.get(kind, "mixed")
    data = rows[["minute", "value"]].astype(float).sort_values("minute")
    drawn: alt.Chart = (
        alt.Chart(data)
        .mark_line(
            color=PALETTE["water"], point=alt.OverlayMarkDef(color=PALETTE["water"])
        )
        .encode(
            alt.X("minute:Q").title(f"Minutes after “{since}”"),
            alt.Y("value:Q").title(f"{fact.label} ({fact.unit})").scale(zero=False),
        )
    )
    return drawn
