"""A response surface in pictures: a map over two ratios, a curve over one."""

from typing import TYPE_CHECKING, Any, cast

import pandas as pd

from bakelab.charts.thin import thinned
from bakelab.comparing import Surface, axis_title, named, surface_curve, surface_map
from bakelab.comparing.data import rounded
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["surface_chart"]

_SIDE_PX = 340
_DRAWS = 80  # so many of the drawn best points are shown
_NUMBERS = 4  # printed values along each side of the map


def surface_chart(
    found: Surface,
    *,
    across: str | None = None,
    up: str | None = None,
    ink: str = "currentColor",
) -> "alt.LayerChart":
    """The surface over two of its ratios, or the curve over its only one.

    Parameters
    ----------
    found : Surface
        As of `bakelab.comparing.response_surface`.
    across, up : str, optional
        Which ratios; the first two by default. The others stand at the best
        point.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.LayerChart
        Values are printed on the map, so that no colour is needed.
    """
    across = across or found.ratios[0]
    if len(found.ratios) == 1:
        drawn = _curve(found, across, ink)
    else:
        other = next(r for r in found.ratios if r != across)
        drawn = _map(found, across, up or other)
    return cast("alt.LayerChart", drawn.configure(**altair_config(ink=ink)))


def _curve(found: Surface, ratio: str, ink: str) -> "alt.LayerChart":
    import altair as alt

    title = axis_title(found.result)
    base, water = alt.Chart(surface_curve(found, ratio)), PALETTE["water"]
    x = alt.X("x:Q").title(axis_title(ratio)).scale(zero=False)
    some, _ = thinned(found.trials)
    trials = alt.Chart(pd.DataFrame({"x": some[ratio], "y": some[found.result]}))
    layers = [
        base.mark_area(color=water, opacity=0.28).encode(
            x, alt.Y("low:Q").title(title).scale(zero=False), alt.Y2("high:Q")
        ),
        base.mark_line(color=water).encode(x, alt.Y("fitted:Q").title(title)),
        trials.mark_point(filled=True, size=55, color=ink, opacity=0.9).encode(
            x, alt.Y("y:Q").title(title)
        ),
        *_best_spot(found, ratio, x, ink),
    ]
    head = alt.Title(
        f"{title} over {named(ratio)}",
        subtitle="disc: a trial; band: the mean; cross with bar: best point, interval",
    )
    drawn = alt.layer(*layers).properties(width=500, height=280, title=head)
    return cast("alt.LayerChart", drawn)


def _best_spot(found: Surface, ratio: str, x: "alt.X", ink: str) -> "list[alt.Chart]":
    """A cross at the best point, on a bar over its interval."""
    import altair as alt

    best = pd.DataFrame(
        {
            "x": [found.best.at[ratio]], "low": [found.best.low[ratio]],
            "high": [found.best.high[ratio]], "value": [found.best.value],
        }
    )  # fmt: skip
    spot = alt.Chart(best).encode(alt.Y("value:Q").title(axis_title(found.result)))
    return [
        spot.mark_rule(color=PALETTE["crust"], strokeWidth=4).encode(
            alt.X("low:Q").title(axis_title(ratio)), alt.X2("high:Q")
        ),
        spot.mark_point(shape="cross", filled=True, size=170, color=ink).encode(x),
    ]


def _map(found: Surface, across: str, up: str) -> "alt.LayerChart":
    import altair as alt

    data = surface_map(found, across, up)
    inside = data[data["inside"]]
    span = [float(inside["value"].min()), float(inside["value"].max())]
    colour = alt.Color("value:Q").title(axis_title(found.result))
    rects = alt.Chart(inside).mark_rect().encode(
        alt.X("left:Q").title(axis_title(across)).scale(zero=False, nice=False),
        alt.X2("right:Q"),
        alt.Y("low:Q").title(axis_title(up)).scale(zero=False, nice=False),
        alt.Y2("high:Q"),
        colour.scale(scheme="viridis", domain=span),
    )  # fmt: skip
    marks = _marks(found, across, up)
    layers = [rects, _printed(found, across, up, span), *marks]
    head = _map_title(found, across, up)
    drawn = alt.layer(*layers).properties(width=_SIDE_PX, height=_SIDE_PX, title=head)
    return cast("alt.LayerChart", drawn)


def _map_title(found: Surface, across: str, up: str) -> "alt.Title":
    """What the signs mean, and where the ratios that are not drawn stand."""
    import altair as alt

    rest = [r for r in found.ratios if r not in (across, up)]
    held = "".join(f"; {named(r)} at {rounded(found.best.at[r], 1)}" for r in rest)
    return alt.Title(
        f"{axis_title(found.result)}, fitted",
        subtitle=[
            "numbers: fitted value; disc: a trial; large cross: best point",
            f"small crosses: where else it could lie{held}",
        ],
    )


def _printed(found: Surface, across: str, up: str, span: list[float]) -> "alt.Chart":
    """Values on the map, dark on light and light on dark."""
    import altair as alt

    table = surface_map(found, across, up, steps=_NUMBERS)
    table = table[table["inside"]]
    by = max(found.spread, (span[1] - span[0]) / 50, 1e-9)
    half = (span[0] + span[1]) / 2
    table = table.assign(
        words=[rounded(v, by) for v in table["value"]],
        ground=["light" if v > half else "dark" for v in table["value"]],
    )
    colours = [PALETTE["ink"], PALETTE["paper"]]
    shade = alt.Color("ground:N").legend(None)
    drawn = alt.Chart(table).mark_text(fontSize=12).encode(
        alt.X("x:Q"), alt.Y("y:Q"), text="words:N",
        color=shade.scale(domain=["light", "dark"], range=colours),
    )  # fmt: skip
    return cast("alt.Chart", drawn)


def _marks(found: Surface, across: str, up: str) -> "list[alt.Chart]":
    """Trials as rings, other best points as small crosses, the best as a large one."""
    import altair as alt

    sides = [across, up]
    ink, paper = PALETTE["ink"], PALETTE["paper"]
    trials, _ = thinned(found.trials[sides])
    draws = found.best.draws[sides].head(_DRAWS)
    best = found.best.at[sides].to_frame().T
    plain = {"fill": paper, "stroke": ink}
    kinds: list[tuple[pd.DataFrame, dict[str, Any]]] = [
        (trials, {"shape": "circle", "size": 65, "strokeWidth": 2, **plain}),
        (draws, {"shape": "cross", "size": 12, **plain}),
        (best, {"shape": "cross", "size": 260, **plain}),
    ]
    drawn = []
    for table, look in kinds:
        data = pd.DataFrame(table.to_numpy(dtype=float), columns=["x", "y"])
        chart = alt.Chart(data).encode(alt.X("x:Q"), alt.Y("y:Q"))
        drawn.append(chart.mark_point(opacity=0.9, **look))
    return drawn
