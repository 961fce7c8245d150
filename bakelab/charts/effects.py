"""What the terms of a comparison do, and what a surface leaves over."""

from typing import TYPE_CHECKING, cast

import pandas as pd

from bakelab.charts.thin import thinned
from bakelab.comparing import Mixed, Surface, axis_title, named, unit_of
from bakelab.comparing.data import rounded
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["batch_chart", "effect_bars", "residual_charts"]


def effect_bars(found: Surface, *, ink: str = "currentColor") -> "alt.LayerChart":
    """What each term does over half of what was baked, with its interval."""
    unit = unit_of(found.result)
    title = f"Change of {named(found.result)} over half the span"
    title += f" ({unit})" if unit else ""
    sure = f"bar: {100 * found.confidence:g} % interval; dashed: no effect"
    drawn = _bars(found.coefficients.iloc[1:], title, "What each ratio does", sure, ink)
    return cast("alt.LayerChart", drawn.configure(**altair_config(ink=ink)))


def batch_chart(found: Mixed, *, ink: str = "currentColor") -> "alt.VConcatChart":
    """Bakes of each variant, joined within a batch, and the differences below.

    Parameters
    ----------
    found : Mixed
        As of `bakelab.comparing.mixed_comparison`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.VConcatChart
    """
    import altair as alt

    unit = unit_of(found.result)
    title = f"Difference in {named(found.result)}" + (f" ({unit})" if unit else "")
    levels = list(dict.fromkeys(found.points["level"]))
    table = found.effects[found.effects["term"].isin(levels[1:])]
    sure = f"bar: {100 * found.confidence:g} % interval; dashed: no difference"
    below = _bars(table, title, f"Against {found.reference}, batches apart", sure, ink)
    drawn = alt.vconcat(_batches(found, levels, ink), below, spacing=28)
    return cast("alt.VConcatChart", drawn.configure(**altair_config(ink=ink)))


def residual_charts(found: Surface, *, ink: str = "currentColor") -> "alt.HConcatChart":
    """Residuals over the fitted value, in the order of trials, and their spread.

    Parameters
    ----------
    found : Surface
    ink : str

    Returns
    -------
    alt.HConcatChart
        Standardised residuals; beyond 2 is seen once in 20, beyond 3 rarely.
    """
    import altair as alt

    data = found.residuals.dropna(subset=["standardised"])
    data = data.assign(place=range(1, len(data) + 1))
    sides = [
        ("fitted", f"Fitted {axis_title(found.result)}", "Is the scatter even?"),
        ("place", "Trial, in the order of the table", "Is there a drift?"),
        ("normal", "Expected of normal scatter", "Do the ends stand out?"),
    ]
    parts = [_residual(data, *side, ink) for side in sides]
    drawn = alt.hconcat(*parts).properties(
        title=alt.Title(
            "What the surface leaves over", subtitle="standardised; dashed at ±2"
        )
    )
    return cast("alt.HConcatChart", drawn.configure(**altair_config(ink=ink)))


def _residual(
    data: pd.DataFrame, column: str, title: str, ask: str, ink: str
) -> "alt.LayerChart":
    import altair as alt

    left = "Standardised residual"
    y = alt.Y("standardised:Q").title(left)
    x = alt.X(f"{column}:Q").title(title).scale(zero=False)
    points = alt.Chart(data).mark_point(filled=True, size=50, color=ink, opacity=0.9)
    lines = pd.DataFrame({"at": [-2.0, 0.0, 2.0], "kind": ["two", "none", "two"]})
    dash = alt.StrokeDash("kind:N").legend(None)
    rules = (
        alt.Chart(lines)
        .mark_rule(color=ink, opacity=0.6)
        .encode(
            alt.Y("at:Q").title(left),
            dash.scale(domain=["none", "two"], range=[[1, 0], [5, 4]]),
        )
    )
    layers = [rules, points.encode(x, y, tooltip=["trial:N", "name:N"])]
    if column == "normal":
        layers.insert(1, points.mark_line(color=ink, opacity=0.4).encode(
            x, alt.Y("normal:Q").title(left)))  # fmt: skip
    drawn = alt.layer(*layers).properties(
        width=170, height=180, title=alt.Title(ask, fontSize=13)
    )
    return cast("alt.LayerChart", drawn)


def _bars(
    table: pd.DataFrame, title: str, head: str, legend: str, ink: str
) -> "alt.LayerChart":
    """Estimates with their intervals around a dashed line at 0."""
    import altair as alt

    by = float((table["high"] - table["low"]).median() / 2)
    table = table.assign(words=[rounded(v, by) for v in table["estimate"]])
    x = alt.X("estimate:Q").title(title)
    base = alt.Chart(table).encode(alt.Y("term:N").title(None).sort(None))
    layers = [
        alt.Chart(pd.DataFrame({"none": [0.0]}))
        .mark_rule(color=ink, strokeDash=[4, 3])
        .encode(alt.X("none:Q").title(title)),
        base.mark_rule(color=PALETTE["water"], strokeWidth=4).encode(
            alt.X("low:Q").title(title), alt.X2("high:Q")
        ),
        base.mark_point(filled=True, size=70, color=ink, opacity=1).encode(x),
        base.mark_text(align="left", dx=7, dy=-9, color=ink).encode(x, text="words:N"),
    ]
    size = alt.Title(head, subtitle=legend)
    drawn = alt.layer(*layers).properties(width=420, height=alt.Step(34), title=size)
    return cast("alt.LayerChart", drawn)


def _batches(found: Mixed, levels: list[str], ink: str) -> "alt.LayerChart":
    import altair as alt

    some, left_out = thinned(found.points)
    base = alt.Chart(some).encode(
        alt.X("level:N").title(None).sort(levels).axis(labelAngle=0, labelLimit=150),
        alt.Y("y:Q").title(axis_title(found.result)).scale(zero=False),
    )
    lines = base.mark_line(color=PALETTE["water"], opacity=0.8).encode(
        alt.Detail("batch:N"), alt.Y("mean(y):Q").title(axis_title(found.result))
    )
    points = base.mark_point(filled=True, size=40, color=ink, opacity=0.55).encode(
        tooltip=[alt.Tooltip("batch:N", title="Batch"), alt.Tooltip("y:Q")]
    )
    head = alt.Title(
        f"{axis_title(found.result)} by batch",
        subtitle="a line joins a batch" + (f"; {left_out}" if left_out else ""),
    )
    drawn = alt.layer(lines, points).properties(width=420, height=230, title=head)
    return cast("alt.LayerChart", drawn)
