"""How heat goes into a loaf: curves over time, and a cut through the crumb."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["CURVE_NEEDS", "CUT_NEEDS", "cut_map", "heat_curves"]

CURVE_NEEDS = ("pan", "minutes", "core_c", "crust_c")
CUT_NEEDS = ("pan", "across_cm", "up_cm", "width_cm", "height_cm", "celsius")
_PARTS = ("centre", "crust")
_PX_PER_CM = 17


def heat_curves(frame: pd.DataFrame, *, ink: str = "currentColor") -> "alt.Chart":
    """Centre and crust of both loaves over time.

    Parameters
    ----------
    frame : DataFrame
        Columns `pan`, `minutes`, `core_c` and `crust_c`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.Chart
        The pans differ by line style, centre and crust by colour and name.
    """
    import altair as alt

    require_columns(frame, CURVE_NEEDS, of="table of heat")
    colours = [PALETTE["water"], PALETTE["crust"]]
    chart: alt.Chart = (
        alt.Chart(_by_part(frame), title="Centre and crust over time")
        .mark_line(strokeWidth=2.2)
        .encode(
            alt.X("minutes:Q").title("Time in the oven (min)"),
            alt.Y("celsius:Q").title("Temperature (°C)"),
            alt.Color("part:N").title("Part").scale(domain=list(_PARTS), range=colours),
            alt.StrokeDash("pan:N").title("Pan"),
            tooltip=[
                alt.Tooltip("pan:N", title="Pan"),
                alt.Tooltip("part:N", title="Part"),
                alt.Tooltip("minutes:Q", title="Minutes", format=".1f"),
                alt.Tooltip("celsius:Q", title="°C", format=".0f"),
            ],
        )
        .properties(width=430, height=240)
        .configure(**altair_config(ink=ink))
    )
    return chart


def _by_part(frame: pd.DataFrame) -> pd.DataFrame:
    """A row for centre and crust each, instead of a column."""
    return frame.rename(columns={"core_c": "centre", "crust_c": "crust"}).melt(
        id_vars=["pan", "minutes"], value_vars=list(_PARTS), var_name="part",
        value_name="celsius",
    )  # fmt: skip


def cut_map(
    frame: pd.DataFrame, *, hottest_c: float, ink: str = "currentColor"
) -> "alt.HConcatChart":
    """A cut through the middle of each loaf at one time.

    Parameters
    ----------
    frame : DataFrame
        Columns `CUT_NEEDS` of one moment; a rectangle per row.
    hottest_c : float
        Top of the scale, the same for every moment.
    ink : str
        Colour of text and axes.
    """
    import altair as alt

    require_columns(frame, CUT_NEEDS, of="table of heat")
    scale = alt.Scale(scheme="viridis", domain=[20, hottest_c])
    cuts = frame.groupby("pan", sort=False)
    parts = [_cut(str(pan), cut, scale) for pan, cut in cuts]
    chart: alt.HConcatChart = alt.hconcat(*parts).configure(**altair_config(ink=ink))
    return chart


def _cut(pan: str, cut: pd.DataFrame, scale: "alt.Scale") -> "alt.Chart":
    import altair as alt

    data = cut.assign(
        left=cut["across_cm"] - cut["width_cm"] / 2,
        right=cut["across_cm"] + cut["width_cm"] / 2,
        low=cut["up_cm"] - cut["height_cm"] / 2,
        high=cut["up_cm"] + cut["height_cm"] / 2,
    )
    span = [float(data["left"].min()), float(data["right"].max())]
    tall = float(data["high"].max())
    rects = alt.Chart(data, title=pan).mark_rect(stroke=None)
    drawn: alt.Chart = rects.encode(
        alt.X("left:Q").title("Across (cm)").scale(domain=span),
        alt.X2("right:Q"),
        alt.Y("low:Q").title("Height (cm)").scale(domain=[0, tall]),
        alt.Y2("high:Q"),
        alt.Color("celsius:Q").title("°C").scale(scale),
        tooltip=[alt.Tooltip("celsius:Q", title="°C", format=".0f")],
    )
    width = _PX_PER_CM * (span[1] - span[0])
    return drawn.properties(width=width, height=_PX_PER_CM * tall)
