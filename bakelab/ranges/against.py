"""A formula placed on the usual bands of a style."""

import math
from collections.abc import Mapping

import pandas as pd

from bakelab.formula import Formula
from bakelab.ranges.measures import Measured, measured
from bakelab.ranges.table import (
    MEASURES,
    NO_BAND,
    RangeRow,
    place,
    range_rows,
    style_name,
)

__all__ = ["AGAINST_COLUMNS", "against_ranges"]

AGAINST_COLUMNS = (
    "measure",
    "label",
    "value",
    "low",
    "high",
    "unit",
    "state",
    "text",
    "counted",
    "basis",
    "source",
)


def against_ranges(
    formula: Formula,
    style: str,
    *,
    readings: Mapping[str, float] | None = None,
    widest: bool = False,
) -> pd.DataFrame:
    """Each measure of a formula on every band of a style.

    Parameters
    ----------
    formula : Formula
    style : str
        Key or printed name of a style.
    readings : mapping of str to float, optional
        Measures that a formula does not hold: ``loading_cm3_g``,
        ``dough_c``, ``core_end_c``, ``bake_loss`` (of the dough). They
        also stand in for a measure of the formula of the same name.
    widest : bool
        One row per measure, on the band that all its sources span.

    Returns
    -------
    DataFrame
        Columns `AGAINST_COLUMNS`; one row per measure and source, so
        sources that differ stand side by side. `state` is the place in
        words, `text` the whole finding as a sentence, `counted` how the
        value was counted. A measure without a band for the style has the
        state "no usual band" and blank ends.

    Raises
    ------
    FormulaError
        If the formula has no flour, or there is no such style.
    """
    name = style_name(style)
    values = measured(formula)
    for measure, value in (readings or {}).items():
        values[measure] = Measured(float(value), "given")
    by_measure: dict[str, list[RangeRow]] = {}
    for row in range_rows(style):
        by_measure.setdefault(row.measure, []).append(row)
    if widest:
        by_measure = {m: [_span(rows)] for m, rows in by_measure.items()}
    records: list[dict[str, object]] = []
    for measure, found in _ordered(values).items():
        rows = by_measure.get(measure)
        if rows:
            records.extend(_placed(found, row) for row in rows)
        else:
            records.append(_bare(measure, found, name))
    return pd.DataFrame(records, columns=list(AGAINST_COLUMNS))


def _ordered(values: Mapping[str, Measured]) -> dict[str, Measured]:
    known = [name for name in MEASURES if name in values]
    return {n: values[n] for n in (*known, *(v for v in values if v not in MEASURES))}


def _span(rows: list[RangeRow]) -> RangeRow:
    return rows[0]._replace(
        low=min(row.low for row in rows),
        high=max(row.high for row in rows),
        basis="; ".join(dict.fromkeys(row.basis for row in rows)),
        source="; ".join(dict.fromkeys(row.source for row in rows)),
    )


def _placed(found: Measured, row: RangeRow) -> dict[str, object]:
    state = place(found.value, row.low, row.high)
    label = MEASURES[row.measure]
    value = f"{_number(found.value)} {row.unit}"
    return {
        "measure": row.measure,
        "label": label,
        "value": found.value,
        "low": row.low,
        "high": row.high,
        "unit": row.unit,
        "state": state,
        "text": f"{label} {value}: {state} {_ends(row)} ({row.source})",
        "counted": found.note,
        "basis": row.basis,
        "source": row.source,
    }


def _ends(row: RangeRow) -> str:
    if row.low < row.high:
        return f"{row.low:g} to {row.high:g}"
    return "0" if row.low == 0 else f"single value {row.low:g}"


def _bare(name: str, found: Measured, style: str) -> dict[str, object]:
    label = MEASURES.get(name, name)
    text = f"{label} {_number(found.value)}: {NO_BAND} for {style}"
    nothing = {"low": math.nan, "high": math.nan, "unit": "", "basis": "", "source": ""}
    return {
        "measure": name,
        "label": label,
        "value": found.value,
        **nothing,
        "state": NO_BAND,
        "text": text,
        "counted": found.note,
    }


def _number(value: float) -> str:
    return f"{value:.2f}" if abs(value) < 10 else f"{value:.1f}"
