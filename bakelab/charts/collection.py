"""A collection of recipes in pictures: cups, hydration by style, findings."""

from typing import TYPE_CHECKING

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["author_cups", "findings_by_recipe", "hydration_by_style"]

_CUP_NEEDS = ("ingredient", "recipe", "cup_g", "low_g", "high_g", "state")
_KINDS = ("conflict", "unlikely", "missing", "note")
_LETTER_PX, _WIDEST_PX = 7.2, 300
_STATES = ("below the usual", "in the usual band", "above the usual")


def author_cups(frame: pd.DataFrame, *, ink: str = "currentColor") -> "alt.LayerChart":
    """What a cup weighs by each line, on the usual band of the ingredient.

    Parameters
    ----------
    frame : DataFrame
        Columns `ingredient`, `recipe`, `cup_g`, `low_g`, `high_g`, `state`,
        as of `bakelab.checking.collection.cup_weights`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.LayerChart
        A grey bar is the band; a mark's shape says where it lies on it.
    """
    import altair as alt

    require_columns(frame, _CUP_NEEDS, of="table")
    y = _names("ingredient", frame["ingredient"])
    layers = (_usual_bands(frame, y), _cup_marks(frame, y, ink))
    chart: alt.LayerChart = (
        alt.layer(*layers).properties(width=430).configure(**altair_config(ink=ink))
    )
    return chart


def _usual_bands(frame: pd.DataFrame, y: "alt.Y") -> "alt.Chart":
    import altair as alt

    usual = alt.Chart(frame.drop_duplicates("ingredient"))
    bars = usual.mark_bar(color=PALETTE["ash"], opacity=0.5, height=16)
    bands: alt.Chart = bars.encode(
        alt.X("low_g:Q")
        .title("Weight of a US cup (g)")
        .scale(zero=False, padding=12)
        .axis(tickCount=6),
        alt.X2("high_g:Q"), y,
    )  # fmt: skip
    return bands


def _cup_marks(frame: pd.DataFrame, y: "alt.Y", ink: str) -> "alt.Chart":
    import altair as alt

    shape = (
        alt.Shape("state:N")
        .title("Against the usual band")
        .scale(domain=list(_STATES),
               range=["triangle-left", "circle", "triangle-right"])
        .legend(columns=1)
    )  # fmt: skip
    points = alt.Chart(frame).mark_point(size=70, filled=True, color=ink, opacity=0.9)
    marks: alt.Chart = points.encode(
        alt.X("cup_g:Q"), y, shape,
        tooltip=[alt.Tooltip("recipe:N"), alt.Tooltip("cup_g:Q", format=".0f")],
    )  # fmt: skip
    return marks


def hydration_by_style(
    frame: pd.DataFrame, *, ink: str = "currentColor"
) -> "alt.Chart":
    """True hydration of each recipe, by the style that its title claims.

    Parameters
    ----------
    frame : DataFrame
        Columns `style`, `recipe` and `hydration_pct`, as of
        `bakelab.checking.collection.recipe_table`.
    ink : str
        Colour of text and axes.
    """
    import altair as alt

    require_columns(frame, ("style", "recipe", "hydration_pct"), of="table")
    shown = frame.assign(style=frame["style"].replace("", "no style claimed"))
    chart: alt.Chart = (
        alt.Chart(shown, title="True hydration by the style of the title")
        .mark_point(size=70, filled=True, color=ink, opacity=0.9)
        .encode(
            alt.X("hydration_pct:Q")
            .title("True hydration (% of flour)")
            .scale(zero=False, padding=12)
            .axis(tickCount=6),
            _names("style", shown["style"]),
            tooltip=[
                alt.Tooltip("recipe:N"),
                alt.Tooltip("hydration_pct:Q", format=".0f"),
            ],
        )
        .properties(width=430)
        .configure(**altair_config(ink=ink))
    )
    return chart


def findings_by_recipe(
    frame: pd.DataFrame, *, ink: str = "currentColor"
) -> "alt.Chart":
    """How many findings of each kind a recipe has, the worst on top.

    Parameters
    ----------
    frame : DataFrame
        Columns `recipe`, `conflict`, `unlikely`, `missing` and `note`.
    ink : str
        Colour of text and axes.
    """
    import altair as alt

    require_columns(frame, ("recipe", *_KINDS), of="table")
    long = frame.melt(["recipe"], list(_KINDS), var_name="kind", value_name="count")
    chart: alt.Chart = (
        alt.Chart(long[long["count"] > 0], title="Findings by recipe")
        .mark_text(fontSize=13, fontWeight="bold", color=ink)
        .encode(
            alt.X("kind:N")
            .title(None)
            .sort(list(_KINDS))
            .axis(orient="top", labelAngle=0),
            _names("recipe", frame["recipe"]).sort(list(frame["recipe"])),
            alt.Text("count:Q"),
        )
        .properties(width=430)
        .configure(**altair_config(ink=ink))
    )
    return chart


def _names(column: str, names: "pd.Series[str]") -> "alt.Y":
    """The names down the side, with room for the longest in any font."""
    import altair as alt

    longest = max((len(str(name)) for name in names), default=0)
    wide = min(_LETTER_PX * longest, _WIDEST_PX) + 12
    axis = alt.Axis(labelLimit=_WIDEST_PX, minExtent=wide)
    return alt.Y(f"{column}:N").title(None).axis(axis)
