"""Two sizes baked in pairs: each pair joined, and the differences beside."""

from typing import TYPE_CHECKING, cast

import pandas as pd

from bakelab.charts.thin import thinned
from bakelab.comparing import Paired, axis_title, named, unit_of
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["pairs_chart"]

_HEIGHT_PX = 280
_MOST_PAIRS = 200


def pairs_chart(found: Paired, *, ink: str = "currentColor") -> "alt.HConcatChart":
    """Pairs on the left, second minus first on the right with its interval.

    Parameters
    ----------
    found : Paired
        As of `bakelab.comparing.paired`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.HConcatChart
    """
    import altair as alt

    pairs, left_out = thinned(found.pairs, most=_MOST_PAIRS)
    parts = [_joined(pairs, found, ink), _differences(pairs, found, ink)]
    drawn = alt.hconcat(*parts, spacing=36)
    sized = drawn.properties(
        title=alt.Title(
            f"{axis_title(found.result)} in pairs",
            subtitle=[
                "left: a line joins a pair; right: second minus first",
                *([left_out] if left_out else []),
            ],
        )
    )
    return cast("alt.HConcatChart", sized.configure(**altair_config(ink=ink)))


def _joined(pairs: pd.DataFrame, found: Paired, ink: str) -> "alt.LayerChart":
    import altair as alt

    names = {"first": found.first, "second": found.second}
    long = pairs.melt(["pair"], list(names), var_name="which", value_name="y")
    long["which"] = long["which"].map(names)
    base = alt.Chart(long).encode(
        alt.X("which:N")
        .title(None)
        .sort(list(names.values()))
        .axis(labelAngle=0, labelFontSize=11, labelLimit=125),
        alt.Y("y:Q").title(axis_title(found.result)).scale(zero=False),
        alt.Detail("pair:N"),
    )
    lines = base.mark_line(color=PALETTE["water"])
    points = base.mark_point(filled=True, size=55, color=ink, opacity=0.9).encode(
        tooltip=[alt.Tooltip("pair:N", title="Pair"), alt.Tooltip("y:Q", format=".2f")]
    )
    drawn = alt.layer(lines, points).properties(width=260, height=_HEIGHT_PX)
    return cast("alt.LayerChart", drawn)


def _differences(pairs: pd.DataFrame, found: Paired, ink: str) -> "alt.LayerChart":
    import altair as alt

    unit = unit_of(found.result)
    title = f"Difference in {named(found.result)}" + (f" ({unit})" if unit else "")
    each = pairs.assign(place="each pair")
    x = alt.X("place:N").title(None).sort(None).axis(labelAngle=0, labelFontSize=11)
    points = alt.Chart(each).mark_point(filled=True, size=55, color=ink, opacity=0.9)
    span = alt.Chart(_interval(found)).encode(x)
    none = alt.Chart(pd.DataFrame({"none": [0.0]}))
    layers = [
        none.mark_rule(color=ink, strokeDash=[4, 3]).encode(
            alt.Y("none:Q").title(title)
        ),
        points.encode(x, alt.Y("difference:Q").title(title)),
        span.mark_rule(color=PALETTE["crust"], strokeWidth=5, opacity=0.8).encode(
            alt.Y("low:Q").title(title), alt.Y2("high:Q")
        ),
        span.mark_tick(color=ink, thickness=3, size=26).encode(
            alt.Y("middle:Q").title(title)
        ),
    ]
    drawn = alt.layer(*layers).properties(width=180, height=_HEIGHT_PX)
    return cast("alt.LayerChart", drawn)


def _interval(found: Paired) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "place": [f"{100 * found.attained:.1f} % interval"],
            "middle": [found.middle],
            "low": [found.low],
            "high": [found.high],
        }
    )
