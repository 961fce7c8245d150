"""A bake's stages on a clock, drawn as a timeline."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["TIMELINE_NEEDS", "timeline"]

TIMELINE_NEEDS = ("what", "start", "end", "minutes")
_ROW_PX = 30


def timeline(frame: pd.DataFrame, *, ink: str = "currentColor") -> "alt.LayerChart":
    """A bar for each stage, in the order of work, with its length in words.

    Parameters
    ----------
    frame : DataFrame
        Columns `what`, `start` and `end` (times) and `minutes`, as of a
        schedule's frame.
    ink : str
        Colour of text and axes.
    """
    import altair as alt

    require_columns(frame, TIMELINE_NEEDS, of="schedule")
    data = frame.assign(words=[f"{m:.0f} min" for m in frame["minutes"]])
    base = alt.Chart(data, title="Stages by the clock").encode(
        alt.Y("what:N").title(None).sort(None).axis(labelLimit=220),
        tooltip=[
            alt.Tooltip("what:N", title="Stage"),
            alt.Tooltip("start:T", title="From", format="%a %H:%M"),
            alt.Tooltip("end:T", title="To", format="%a %H:%M"),
        ],
    )
    bars = base.mark_bar(height=16, color=PALETTE["flour"]).encode(
        alt.X("start:T").title("Clock (hours and minutes)").axis(format="%H:%M"),
        alt.X2("end:T"),
    )
    words = base.mark_text(align="left", dx=5, color=ink).encode(
        alt.X("end:T"), text="words:N"
    )
    drawn: alt.LayerChart = (
        alt.layer(bars, words)
        .properties(width=480, height=_ROW_PX * max(1, len(data)))
        .configure(**altair_config(ink=ink))
    )
    return drawn
