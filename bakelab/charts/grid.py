"""Small multiples: a result of each variant, bake by bake, on one scale."""

from typing import TYPE_CHECKING, cast

import pandas as pd

from bakelab.charts.thin import thinned
from bakelab.comparing import Variants, axis_title
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["MOST_SHOWN", "variant_grid"]

MOST_SHOWN = 12
"""So many variants are drawn; those with the most bakes."""

_COLUMNS = 3
_WIDTH_PX, _HEIGHT_PX = 165, 120


def variant_grid(found: Variants, *, ink: str = "currentColor") -> "alt.FacetChart":
    """A small chart for each variant: its bakes, its mean and the interval.

    Parameters
    ----------
    found : Variants
        As of `bakelab.comparing.by_variant`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.FacetChart
    """
    import altair as alt

    data, shown = _shown(found)
    title = axis_title(found.result)
    layers = _layers(title, last=float(data["order"].max()), ink=ink)
    grid = (
        alt.layer(*layers, data=data)
        .properties(width=_WIDTH_PX, height=_HEIGHT_PX)
        .facet(
            facet=alt.Facet("variant:N").title(None).sort(shown),
            columns=_COLUMNS,
            title=alt.Title(f"{title} of each variant", subtitle=_legend(found, shown)),
        )
        .configure(**altair_config(ink=ink))
        .configure_header(labelColor=ink, labelFontSize=13, labelLimit=_WIDTH_PX + 20)
    )
    return cast("alt.FacetChart", grid)


def _layers(title: str, *, last: float, ink: str) -> "list[alt.Chart]":
    """What stands in each small chart: interval, mean, and the bakes in order."""
    import altair as alt

    base = alt.Chart()
    y = alt.Y("y:Q").title(title).scale(zero=False)
    band = base.mark_rect(color=PALETTE["water"], opacity=0.28).encode(
        alt.Y("min(low):Q").title(title).scale(zero=False), alt.Y2("max(high):Q")
    )
    mean = base.mark_rule(color=PALETTE["water"], strokeWidth=2).encode(
        alt.Y("mean(mean):Q").title(title)
    )
    x = alt.X("order:Q").title("Bake of the variant").axis(tickMinStep=1, format="d")
    x = x.scale(domain=[0.5, last + 0.5], nice=False)
    line = base.mark_line(color=ink, opacity=0.6).encode(x, y)
    points = base.mark_point(filled=True, size=55, color=ink, opacity=0.9).encode(x, y)
    return [band, mean, line, points]


def _shown(found: Variants) -> tuple[pd.DataFrame, list[str]]:
    order = found.table["bakes"].sort_values(ascending=False, kind="stable").index
    most = order[:MOST_SHOWN].sort_values()
    table = found.table.loc[most]
    columns = ["variant", "mean", "low", "high"]
    points = found.points.drop(columns="at")
    data = points.merge(table[columns], on="variant", how="inner")
    data, _ = thinned(data)
    return data, table["variant"].tolist()


def _legend(found: Variants, shown: list[str]) -> str:
    said = "line: mean"
    if found.scatter.degrees:
        said += f"; band: its {100 * found.confidence:g} % interval"
    left = len(found.table) - len(shown)
    return f"{said}; {left} with fewer bakes not drawn" if left else said
