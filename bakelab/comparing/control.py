"""Control chart of the house loaf: single bakes and their moving range."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pandas as pd

from bakelab.comparing.data import ComparisonError, counted, rounded, usable
from bakelab.comparing.names import named, with_unit

__all__ = ["RULES", "Control", "control_chart"]

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.1 and 6.3.2.2: ranges of two.
D2 = 1.128
D4 = 3.267
_LEAST = 3
_MOST_TOLD = 6
_ENOUGH = 20  # common practice, no source: fewer bakes give provisional limits

RULES = {
    "few": "outside the limits; 8 in a row on one side of the mean",
    "all": "also 2 of 3 beyond two thirds of the way to a limit, 4 of 5 beyond one "
    "third, 6 in a row rising or falling",
}
"""Which patterns are signals: those that the e-Handbook, 6.3.2, lists."""


@dataclass(frozen=True)
class Control:
    """Individuals and moving range.

    `frame` has a row per bake in order: `order`, `at`, `name`, `value`,
    `moving_range`, `signal` (words, empty where there is none),
    `range_signal`, `sets_limits`.
    """

    result: str
    frame: pd.DataFrame
    centre: float
    low: float
    high: float
    sigma: float
    range_centre: float
    range_high: float
    rules: str
    remarks: tuple[str, ...]

    @property
    def signals(self) -> pd.DataFrame:
        """The bakes that stand out."""
        either = (self.frame["signal"] != "") | (self.frame["range_signal"] != "")
        return self.frame[either].reset_index(drop=True)

    @property
    def text(self) -> str:
        """What was found in plain sentences."""
        return " ".join(_sentences(self))


def control_chart(
    frame: pd.DataFrame,
    *,
    result: str,
    at: str = "started_at",
    name: str = "title",
    baseline: int | None = None,
    rules: str = "few",
) -> Control:
    """Is the house loaf steady, and which bakes were not like the others?

    Parameters
    ----------
    frame : DataFrame
        A row per bake of one and the same loaf.
    result : str
    at : str
        Column to order by, where there is one.
    name : str
        Column that names a bake, where there is one.
    baseline : int, optional
        Only so many first bakes set the limits; the others are judged.
    rules : str
        A key of `RULES`.

    References
    ----------
    NIST/SEMATECH, e-Handbook of Statistical Methods, 6.3.2 and 6.3.2.2.

    Examples
    --------
    >>> frame = pd.DataFrame({"height_cm": [9.0, 9.2, 9.1, 9.3, 9.0]})
    >>> round(control_chart(frame, result="height_cm").high, 2)
    9.65
    """
    if rules not in RULES:
        raise ComparisonError(f"no rules {rules!r}; use one of {', '.join(RULES)}")
    kept, remarks = usable(frame, numbers=[result])
    if at in kept.columns:
        kept = kept.sort_values(at, kind="stable").reset_index(drop=True)
    table = _table(kept, result, at, name)
    first = _baseline(len(table), baseline)
    values = table["value"].to_numpy()
    mean_range = float(np.abs(np.diff(values[:first])).mean())
    centre, sigma = float(values[:first].mean()), mean_range / D2
    top = D4 * mean_range
    table["sets_limits"] = table["order"] <= first
    table["signal"] = _signals(values, centre, sigma, rules)
    over = table["moving_range"] > top if sigma > 0 else [False] * len(table)
    table["range_signal"] = ["jump from the bake before" if o else "" for o in over]
    return Control(
        result, table, centre, centre - 3 * sigma, centre + 3 * sigma, sigma,
        mean_range, top, rules, remarks,
    )  # fmt: skip


def _table(kept: pd.DataFrame, result: str, at: str, name: str) -> pd.DataFrame:
    values = kept[result]
    return pd.DataFrame(
        {
            "order": range(1, len(kept) + 1),
            "at": kept[at] if at in kept.columns else range(1, len(kept) + 1),
            "name": kept[name].astype(str) if name in kept.columns else "",
            "value": values,
            "moving_range": values.diff().abs(),
        }
    )


def _baseline(bakes: int, baseline: int | None) -> int:
    first = bakes if baseline is None else baseline
    if bakes < _LEAST or not _LEAST <= first <= bakes:
        raise ComparisonError(
            f"limits from {counted(min(first, bakes), 'bake')} are not possible; a "
            f"control chart needs {_LEAST} at least, and the book has {bakes}"
        )
    return first


def _signals(
    values: npt.NDArray[np.float64], centre: float, sigma: float, rules: str
) -> list[str]:
    said: list[list[str]] = [[] for _ in values]
    if sigma <= 0:
        return [""] * len(values)
    away = (values - centre) / sigma
    for sign, side in ((1, "above"), (-1, "below")):
        far = sign * away
        _mark(said, far > 3, 1, 1, f"{side} the limit")
        _mark(said, far > 0, 8, 8, f"8 in a row {side} the mean")
        if rules == "all":
            _mark(said, far > 2, 2, 3, f"2 of 3 far {side} the mean")
            _mark(said, far > 1, 4, 5, f"4 of 5 {side} the mean by a third")
            steps = sign * np.diff(values, prepend=math.nan) > 0
            _mark(
                said, steps, 5, 5, f"6 in a row {'rising' if sign > 0 else 'falling'}"
            )
    return ["; ".join(words) for words in said]


def _mark(
    said: list[list[str]],
    hits: npt.NDArray[np.bool_],
    least: int,
    window: int,
    words: str,
) -> None:
    """Add words where the bake and enough of the ones before it are hits."""
    for place, hit in enumerate(hits):
        start = max(0, place - window + 1)
        if hit and hits[start : place + 1].sum() >= least:
            said[place].append(words)


def _sentences(found: Control) -> list[str]:
    bakes = counted(len(found.frame), "bake")
    limits = f"{rounded(found.low, found.sigma)} to {rounded(found.high, found.sigma)}"
    mean = with_unit(rounded(found.centre, found.sigma), found.result)
    said = [
        (
            f"{bakes}, {named(found.result)} {mean} on average; a steady kitchen stays "
            f"within {limits} (mean ± 2.66 times the mean moving range)."
        )
    ]
    if found.sigma <= 0:
        return [*said, "All values are alike, so there is nothing to judge."]
    said += _signal_words(found)
    first = int(found.frame["sets_limits"].sum())
    if first < _ENOUGH:
        said.append(
            f"The limits rest on {first} bakes and are provisional; "
            f"{_ENOUGH} or more make them firm."
        )
    return said


def _signal_words(found: Control) -> list[str]:
    signals = found.signals
    if signals.empty:
        return ["No bake stands out: what differs from loaf to loaf is the usual."]
    told = _runs(signals)
    shown = ", ".join(told[:_MOST_TOLD]) + (", …" if len(told) > _MOST_TOLD else "")
    said = [f"To look into: {shown}."]
    if found.rules == "all":
        said.append(
            "With all rules even a steady kitchen gives a false alarm about once in "
            "92 bakes (e-Handbook, 6.3.2)."
        )
    return said


def _runs(signals: pd.DataFrame) -> list[str]:
    """Bakes that stand out, those in a row for the same reason told together."""
    words = (signals["signal"] + "; " + signals["range_signal"]).str.strip("; ")
    runs: list[tuple[int, int, str]] = []
    for order, what in zip(signals["order"], words, strict=True):
        if runs and runs[-1][1] == order - 1 and runs[-1][2] == what:
            runs[-1] = (runs[-1][0], order, what)
        else:
            runs.append((order, order, what))
    return [
        f"bake {first} ({what})"
        if first == last
        else f"bakes {first} to {last} ({what})"
        for first, last, what in runs
    ]
