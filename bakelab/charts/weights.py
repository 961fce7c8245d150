"""Charts of a formula's weights: shares, what cups cost, what a scale can tell."""

from typing import TYPE_CHECKING, cast

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.theme import PALETTE, altair_config

if TYPE_CHECKING:
    from collections.abc import Sequence

    import altair as alt

__all__ = ["cup_bands", "ingredient_shares", "weighing_risks"]

RISK_LIMIT_PCT = 5.0  # common practice, no source: past it a finer scale is offered
_ROW_PX = 24
_WIDTH_PX = 420
_BARS = {True: PALETTE["flour"], False: PALETTE["water"]}


def ingredient_shares(
    frame: pd.DataFrame, *, ink: str = "currentColor"
) -> "alt.LayerChart":
    """Baker's percentage of every ingredient, as bars with their numbers.

    Parameters
    ----------
    frame : DataFrame
        Columns `label`, `role` and `bakers_pct`, as of `Formula.frame`;
        with `low_pct` and `high_pct`, a line shows the band that cups and
        spoons leave open.
    ink : str
        Colour of text and axes; see `bakelab.theme.altair_config`.

    Returns
    -------
    alt.LayerChart
    """
    import altair as alt

    data = _needs(frame, "label", "role", "bakers_pct")
    data = data.assign(
        words=[f"{pct:.1f} %" for pct in data["bakers_pct"]],
        kind=["flour" if r == "flour" else "all else" for r in data["role"]],
        order=range(len(data)),
    )
    banded = {"low_pct", "high_pct"} <= set(data.columns)
    data["end"] = data[["bakers_pct", *(["high_pct"] if banded else [])]].max(axis=1)
    base = alt.Chart(data).encode(_labels())
    words = base.mark_text(align="left", dx=6, color=ink).encode(
        alt.X("end:Q"), text="words:N"
    )
    layers = [
        _share_bars(base),
        *([_band(base, "low_pct", "high_pct", ink)] if banded else []),
        words,
    ]
    return _finished(layers, len(data), ink)


def _share_bars(base: "alt.Chart") -> "alt.Chart":
    import altair as alt

    bars: alt.Chart = base.mark_bar(height=14).encode(
        alt.X("bakers_pct:Q").title("Baker's percentage (% of flour)"),
        alt.Color("kind:N")
        .title(None)
        .scale(domain=["flour", "all else"], range=[_BARS[True], _BARS[False]]),
        tooltip=[alt.Tooltip("label:N"), alt.Tooltip("words:N", title="of flour")],
    )
    return bars


def cup_bands(lines: pd.DataFrame, *, ink: str = "currentColor") -> "alt.LayerChart":
    """How much the same cup or spoon can weigh, line by line.

    Parameters
    ----------
    lines : DataFrame
        Columns `label`, `mass_g`, `mass_low_g`, `mass_high_g`; lines
        without a band are left out.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.LayerChart
    """
    import altair as alt

    data = _needs(lines, "label", "mass_g", "mass_low_g", "mass_high_g")
    data = data.dropna(subset=["mass_g", "mass_low_g", "mass_high_g"])
    data = data[data["mass_high_g"] > data["mass_low_g"]].reset_index(drop=True)
    data = data.assign(
        words=[
            f"{low:.0f} to {high:.0f} g"
            for low, high in zip(data["mass_low_g"], data["mass_high_g"], strict=True)
        ],
        order=range(len(data)),
    )
    base = alt.Chart(data).encode(_labels())
    points = base.mark_point(filled=True, size=70, color=PALETTE["water"]).encode(
        alt.X("mass_g:Q").title("Mass (g): taken, and lightest to heaviest usual"),
        tooltip=[alt.Tooltip("label:N"), alt.Tooltip("words:N", title="usual")],
    )
    words = base.mark_text(align="left", dx=8, color=ink).encode(
        alt.X("mass_high_g:Q"), text="words:N"
    )
    band = _band(base, "mass_low_g", "mass_high_g", ink)
    return _finished([band, points, words], len(data), ink)


def weighing_risks(
    frame: pd.DataFrame, *, ink: str = "currentColor"
) -> "alt.LayerChart":
    """How far a scale's step can put each ingredient off, against 5 %.

    Parameters
    ----------
    frame : DataFrame
        Columns `label` and `risk_pct`, as of `Weighed.frame`.
    ink : str
        Colour of text and axes.

    Returns
    -------
    alt.LayerChart
    """
    import altair as alt

    data = _needs(frame, "label", "risk_pct")
    data = data.assign(
        words=[
            f"{pct:.1f} %" + (", above 5 %" if pct > RISK_LIMIT_PCT else "")
            for pct in data["risk_pct"]
        ],
        order=range(len(data)),
    )
    base = alt.Chart(data).encode(_labels())
    bars = base.mark_bar(height=14, color=PALETTE["water"]).encode(
        alt.X("risk_pct:Q").title("Half a scale step over the amount (%)"),
        tooltip=[alt.Tooltip("label:N"), alt.Tooltip("words:N", title="risk")],
    )
    words = base.mark_text(align="left", dx=6, color=ink).encode(
        alt.X("risk_pct:Q"), text="words:N"
    )
    limit = (
        alt.Chart(pd.DataFrame({"limit": [RISK_LIMIT_PCT]}))
        .mark_rule(strokeDash=[4, 3], color=ink)
        .encode(alt.X("limit:Q"))
    )
    return _finished([bars, limit, words], len(data), ink)


def _labels() -> "alt.Y":
    import altair as alt

    axis: alt.Y = alt.Y("label:N").title(None).sort(field="order", op="min")
    return axis


def _band(base: "alt.Chart", low: str, high: str, ink: str) -> "alt.LayerChart":
    import altair as alt

    span = base.mark_rule(strokeWidth=2, color=ink).encode(
        alt.X(f"{low}:Q"), alt.X2(f"{high}:Q")
    )
    ends = [
        base.mark_tick(thickness=2, size=10, color=ink).encode(alt.X(f"{name}:Q"))
        for name in (low, high)
    ]
    return cast("alt.LayerChart", alt.layer(span, *ends))


def _finished(
    layers: "Sequence[alt.Chart | alt.LayerChart]", rows: int, ink: str
) -> "alt.LayerChart":
    import altair as alt

    chart = cast("alt.LayerChart", alt.layer(*layers))
    sized = chart.properties(width=_WIDTH_PX, height=max(rows, 1) * _ROW_PX)
    return cast("alt.LayerChart", sized.configure(**altair_config(ink=ink)))


def _needs(frame: pd.DataFrame, *columns: str) -> pd.DataFrame:
    require_columns(frame, columns, of="table")
    return frame.assign(label=_apart(frame)).reset_index(drop=True)


def _apart(frame: pd.DataFrame) -> list[str]:
    """Labels, with stage or number behind those that occur more than once."""
    labels = [str(label) for label in frame["label"]]
    if "stage" in frame.columns:
        labels = [
            f"{label} ({stage})" if labels.count(label) > 1 else label
            for label, stage in zip(labels, frame["stage"], strict=True)
        ]
    return [
        f"{label} {labels[:place].count(label) + 1}"
        if labels.count(label) > 1
        else label
        for place, label in enumerate(labels)
    ]
