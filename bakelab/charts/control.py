"""Control chart of the house loaf: single bakes above, moving ranges below."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

import pandas as pd

from bakelab.charts.thin import thinned
from bakelab.comparing import Control, axis_title, named, unit_of
from bakelab.comparing.data import rounded
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    import altair as alt

__all__ = ["control_bands"]

_WIDTH_PX = 430
_MOST_BAKES = 200
_STEADY, _SIGNAL = "as usual", "to look into"


def control_bands(found: Control, *, ink: str = "currentColor") -> "alt.VConcatChart":
    """Bakes in order between their limits, and how far each is from the last.

    Parameters
    ----------
    found : Control
        As of `bakelab.comparing.control_chart`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.VConcatChart
        A bake that stands out is a large diamond with its number beside.
    """
    import altair as alt

    frame, left_out = thinned(
        found.frame.drop(columns="at"), most=_MOST_BAKES, newest=True
    )
    lines = {
        "upper limit": found.high, "mean": found.centre, "lower limit": found.low,
    }  # fmt: skip
    ranges = {"upper limit": found.range_high, "mean": found.range_centre}
    unit = unit_of(found.result)
    jump = "Moving range" + (f" ({unit})" if unit else "")
    drawing = _Drawing(frame, found.sigma, ink)
    parts = [
        drawing.part("value", "signal", lines, axis_title(found.result), 220),
        drawing.part("moving_range", "range_signal", ranges, jump, 120),
    ]
    drawn = alt.vconcat(*parts).properties(title=_title(found, left_out))
    return cast("alt.VConcatChart", drawn.configure(**altair_config(ink=ink)))


def _title(found: Control, left_out: str) -> "alt.Title":
    import altair as alt

    return alt.Title(
        f"Control chart of {named(found.result)}",
        subtitle=(
            f"disc: {_STEADY}; diamond with its number: {_SIGNAL}; "
            "dashed: limits, 3 sigma from the mean"
            + (f"; {left_out}" if left_out else "")
        ),
    )


@dataclass(frozen=True)
class _Drawing:
    frame: pd.DataFrame
    sigma: float
    ink: str

    def part(
        self,
        column: str,
        signal: str,
        lines: dict[str, float],
        title: str,
        height_px: int,
    ) -> "alt.LayerChart":
        """One of the two charts: limits, bakes in order, and what stands out."""
        import altair as alt

        first, last = self.frame["order"].min() - 0.5, self.frame["order"].max() + 0.5
        data = self.frame.dropna(subset=[column])
        states = [_SIGNAL if words else _STEADY for words in data[signal]]
        x = alt.X("order:Q").title("Bake, in order").axis(tickMinStep=1, format="d")
        y = alt.Y(f"{column}:Q").title(title).scale(zero=False)
        base = alt.Chart(data.assign(state=states)).encode(
            x.scale(domain=[float(first), float(last)], nice=False), y
        )
        told = base.transform_filter(f"datum.state == '{_SIGNAL}'").mark_text(
            color=self.ink, dy=-13, fontWeight=600
        )
        layers = [
            *self._limits(lines, float(last), title),
            base.mark_line(color=PALETTE["water"], strokeWidth=1.4),
            _bakes(base, column, signal),
            told.encode(text="order:Q"),
        ]
        drawn = alt.layer(*layers).properties(width=_WIDTH_PX, height=height_px)
        return cast("alt.LayerChart", drawn)

    def _limits(
        self, lines: dict[str, float], last: float, title: str
    ) -> "list[alt.Chart]":
        import altair as alt

        table = pd.DataFrame(
            {
                "at": list(lines.values()),
                "end": last,
                "words": [f"{n} {rounded(v, self.sigma)}" for n, v in lines.items()],
                "dash": ["mean" if n == "mean" else "limit" for n in lines],
            }
        )
        base = alt.Chart(table)
        height = alt.Y("at:Q").title(title).scale(zero=False)
        dash = alt.StrokeDash("dash:N").legend(None)
        dash = dash.scale(domain=["mean", "limit"], range=[[1, 0], [6, 4]])
        words = base.mark_text(align="left", dx=6, color=self.ink)
        return [
            base.mark_rule(color=self.ink, opacity=0.8).encode(height, dash),
            words.encode(alt.X("end:Q"), height, text="words:N"),
        ]


def _bakes(base: "alt.Chart", column: str, signal: str) -> "alt.Chart":
    import altair as alt

    states = [_STEADY, _SIGNAL]
    shape = alt.Shape("state:N").legend(None)
    size = alt.Size("state:N").legend(None)
    colour = alt.Color("state:N").legend(None)
    hues = [PALETTE["water"], PALETTE["crust"]]
    drawn = base.mark_point(filled=True, opacity=1).encode(
        shape.scale(domain=states, range=["circle", "diamond"]),
        size.scale(domain=states, range=[45, 150]),
        colour.scale(domain=states, range=hues),
        tooltip=[
            alt.Tooltip("order:Q", title="Bake"),
            alt.Tooltip("name:N", title="Name"),
            alt.Tooltip(f"{column}:Q", format=".2f"),
            alt.Tooltip(f"{signal}:N", title="Signal"),
        ],
    )
    return cast("alt.Chart", drawn)
