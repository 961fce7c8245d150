"""A result against a ratio, drawn with everything that is uncertain in it."""

from typing import TYPE_CHECKING, cast

from bakelab.charts.thin import thinned
from bakelab.comparing import Against, axis_title, named
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["against_chart"]

_WIDTH_PX, _HEIGHT_PX = 480, 290


def against_chart(found: Against, *, ink: str = "currentColor") -> "alt.LayerChart":
    """Bakes as discs, the line with its band, and what the scale leaves open.

    Parameters
    ----------
    found : Against
        As of `bakelab.comparing.against`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.LayerChart
        The band is where the mean lies, dashed lines are where one more bake
        would lie, level whiskers are half a step of the scale.
    """
    import altair as alt

    x = alt.X("x:Q").title(axis_title(found.ratio)).scale(zero=False)
    y = alt.Y("y:Q").title(axis_title(found.result)).scale(zero=False)
    some, left_out = thinned(found.points)
    layers = [] if found.line.empty else _band(found, x)
    layers += _bakes(found, alt.Chart(some), x, y, ink)
    title = alt.Title(
        f"{axis_title(found.result)} against {named(found.ratio)}",
        subtitle=_legend(found, left_out),
    )
    drawn = alt.layer(*layers).properties(
        width=_WIDTH_PX, height=_HEIGHT_PX, title=title
    )
    return cast("alt.LayerChart", drawn.configure(**altair_config(ink=ink)))


def _bakes(
    found: Against, points: "alt.Chart", x: "alt.X", y: "alt.Y", ink: str
) -> "list[alt.Chart | alt.LayerChart]":
    """Discs, and under each a whisker where the scale leaves something open."""
    import altair as alt

    across, up = axis_title(found.ratio), axis_title(found.result)
    discs = points.mark_point(filled=True, size=60, color=ink, opacity=0.9).encode(
        x,
        y,
        tooltip=[
            alt.Tooltip("name:N", title="Bake"),
            alt.Tooltip("x:Q", title=across, format=".2f"),
            alt.Tooltip("y:Q", title=up, format=".2f"),
        ],
    )
    if found.widest_doubt <= 0:
        return [discs]
    whiskers = points.mark_rule(color=ink, strokeWidth=1.2).encode(
        alt.X("x_low:Q").title(across), alt.X2("x_high:Q"), y
    )
    return [whiskers, discs]


def _band(found: Against, x: "alt.X") -> "list[alt.Chart | alt.LayerChart]":
    import altair as alt

    base, water = alt.Chart(found.line), PALETTE["water"]
    title = axis_title(found.result)
    return [
        base.mark_area(color=water, opacity=0.28).encode(
            x, alt.Y("low:Q").title(title).scale(zero=False), alt.Y2("high:Q")
        ),
        *(
            base.mark_line(color=water, strokeDash=[5, 4], strokeWidth=1.3).encode(
                x, alt.Y(f"{end}:Q").title(title)
            )
            for end in ("new_low", "new_high")
        ),
        base.mark_line(color=water, strokeWidth=2.4).encode(
            x, alt.Y("fitted:Q").title(title)
        ),
    ]


def _legend(found: Against, left_out: str) -> list[str]:
    said = ["disc: a bake"]
    if not found.line.empty:
        sure = f"{100 * found.confidence:g} %"
        said.append(f"band: the mean, {sure}; dashed: one more bake, {sure}")
    if found.widest_doubt > 0:
        said.append("level whisker: left open by the scale")
    return [*said, *([left_out] if left_out else [])]
