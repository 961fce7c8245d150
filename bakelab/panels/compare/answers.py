"""What each comparison answers: numbers, a text, charts and tables."""

from dataclasses import dataclass
from typing import Any

import pandas as pd

from bakelab.charts import (
    against_chart,
    batch_chart,
    control_bands,
    effect_bars,
    pairs_chart,
    residual_charts,
    surface_chart,
    variant_grid,
)
from bakelab.comparing import (
    Against,
    Control,
    Mixed,
    Paired,
    Surface,
    Variants,
    named,
    unit_of,
)
from bakelab.comparing.data import rounded

__all__ = ["Found", "Shown", "shown"]

Found = Against | Variants | Paired | Control | Surface | Mixed


@dataclass(frozen=True)
class Shown:
    """An answer: big numbers, its text, charts, and a table to fold out."""

    numbers: tuple[tuple[str, str], ...]
    text: str
    charts: tuple[Any, ...]
    table: pd.DataFrame
    remarks: tuple[str, ...]


def shown(found: Found, *, ink: str = "currentColor") -> Shown:
    """The answer of any comparison, its charts in an ink."""
    if isinstance(found, Against):
        return _against(found, ink)
    if isinstance(found, Variants):
        return _variants(found, ink)
    if isinstance(found, Paired):
        return _paired(found, ink)
    if isinstance(found, Control):
        return _control(found, ink)
    return _surface(found, ink) if isinstance(found, Surface) else _mixed(found, ink)


def _against(found: Against, ink: str) -> Shown:
    by = (found.slope_high - found.slope_low) / 2
    per = f"Per 1 more in {named(found.ratio)}"
    numbers = [
        ("Bakes", str(len(found.points))),
        (_head(per, found.result), rounded(found.slope, by)),
        _interval(found.slope_low, found.slope_high, by, found.confidence),
    ]
    table = found.points.sort_values("x")[["name", "x", "y"]]
    heads = {"name": "Bake", "x": named(found.ratio), "y": named(found.result)}
    shown_numbers = numbers if not found.reason else numbers[:1]
    return Shown(
        tuple(shown_numbers), found.text, (against_chart(found, ink=ink),),
        table.rename(columns=heads), found.remarks,
    )  # fmt: skip


def _variants(found: Variants, ink: str) -> Shown:
    heads = {
        "variant": "Variant", "bakes": "Bakes", "mean": "Mean", "spread": "Spread",
        "low": "Interval from", "high": "to", "basis": "Interval from the",
    }  # fmt: skip
    numbers = (
        ("Variants", str(len(found.table))),
        ("Bakes", str(len(found.points))),
        _with("Scatter within one", found.scatter.spread, found.result),
    )
    table = found.table.rename(columns=heads)
    return Shown(
        numbers, found.text, (variant_grid(found, ink=ink),), table, found.remarks
    )


def _paired(found: Paired, ink: str) -> Shown:
    by = (found.high - found.low) / 2
    numbers = (
        ("Pairs", str(len(found.pairs))),
        (_head("Second minus first", found.result), rounded(found.middle, by)),
        _interval(found.low, found.high, by, found.attained),
    )
    heads = {"pair": "Pair", "first": found.first, "second": found.second,
             "difference": "Difference"}  # fmt: skip
    table = found.pairs.rename(columns=heads)
    return Shown(
        numbers, found.text, (pairs_chart(found, ink=ink),), table, found.remarks
    )


def _control(found: Control, ink: str) -> Shown:
    limits = f"{rounded(found.low, found.sigma)} to {rounded(found.high, found.sigma)}"
    numbers = (
        (_head("Mean", found.result), rounded(found.centre, found.sigma)),
        ("Limits", limits),
        ("To look into", str(len(found.signals))),
    )  # fmt: skip
    heads = {"order": "Bake", "name": "Name", "value": named(found.result),
             "moving_range": "Moving range", "signal": "Signal",
             "range_signal": "Jump"}  # fmt: skip
    table = found.frame[list(heads)].rename(columns=heads)
    return Shown(
        numbers, found.text, (control_bands(found, ink=ink),), table, found.remarks
    )


def _surface(found: Surface, ink: str) -> Shown:
    best, halves = found.best, found.coding.halves
    numbers = [
        (_head(f"Best {named(r)}", r), rounded(best.at[r], half))
        for r, half in zip(found.ratios, halves, strict=True)
    ]
    numbers.append(_with("Foretold there", best.value, found.result, found.spread))
    heads = {"term": "Term", "estimate": "Change over half the span",
             "low": "Interval from", "high": "to", "p_value": "Chance"}  # fmt: skip
    table = found.coefficients[list(heads)].rename(columns=heads)
    charts = (
        surface_chart(found, ink=ink),
        effect_bars(found, ink=ink),
        residual_charts(found, ink=ink),
    )
    return Shown(tuple(numbers), found.text, charts, table, found.remarks)


def _mixed(found: Mixed, ink: str) -> Shown:
    numbers = (
        ("Batches", str(found.batches)),
        ("Scatter that is the batch", f"{100 * found.batch_share:.0f} %"),
        _with("Scatter within a batch", found.bake_spread, found.result),
    )
    heads = {
        "term": "Term", "estimate": "Difference", "low": "Interval from",
        "high": "to", "degrees": "Degrees of freedom", "p_value": "Chance",
    }  # fmt: skip
    table = found.effects[list(heads)].rename(columns=heads)
    return Shown(
        numbers, found.text, (batch_chart(found, ink=ink),), table, found.remarks
    )


def _head(words: str, column: str) -> str:
    unit = unit_of(column)
    return f"{words} ({unit})" if unit else words


def _with(
    words: str, value: float, column: str, by: float | None = None
) -> tuple[str, str]:
    return _head(words, column), rounded(value, value if by is None else by)


def _interval(low: float, high: float, by: float, confidence: float) -> tuple[str, str]:
    return f"{100 * confidence:.4g} % interval", (
        f"{rounded(low, by)} to {rounded(high, by)}"
    )
