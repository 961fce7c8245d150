"""Which bakes of a frame can be compared, and what is said of the others."""

import math
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

import pandas as pd

from bakelab.errors import BakelabError

__all__ = [
    "ComparisonError",
    "check_confidence",
    "counted",
    "joined",
    "number",
    "rounded",
    "usable",
]


class ComparisonError(BakelabError, ValueError):
    """Bakes that cannot be compared as asked; says why and what is needed."""


def usable(
    frame: pd.DataFrame, *, numbers: Sequence[str], words: Sequence[str] = ()
) -> tuple[pd.DataFrame, tuple[str, ...]]:
    """Rows in which every asked column is filled, and a remark on the rest.

    Parameters
    ----------
    frame : DataFrame
        A row per bake.
    numbers, words : sequence of str
        Columns that have to hold a finite number, or anything at all.

    Returns
    -------
    DataFrame
        A copy with a plain index, `numbers` as floats and `words` as text.
    tuple of str
        One sentence for each column that left bakes out.

    Raises
    ------
    ComparisonError
        If a column is missing, or no row is left.

    Examples
    --------
    >>> frame = pd.DataFrame({"height_cm": [9.0, None], "pan": ["a", "b"]})
    >>> usable(frame, numbers=["height_cm"], words=["pan"])[1]
    ('1 of 2 bakes has no height and stays out',)
    """
    missing = [c for c in (*numbers, *words) if c not in frame.columns]
    if missing:
        raise ComparisonError(
            f"the table of bakes has no column {', '.join(missing)}; "
            f"{_nearest(missing, frame)}"
        )
    kept = frame.copy()
    for column in numbers:
        kept[column] = pd.to_numeric(kept[column], errors="coerce").astype(float)
        kept.loc[~kept[column].abs().lt(float("inf")), column] = float("nan")
    for column in words:
        kept[column] = kept[column].map(_filled)
    remarks = tuple(
        _left_out(kept, c) for c in (*numbers, *words) if kept[c].isna().any()
    )
    kept = kept.dropna(subset=[*numbers, *words]).reset_index(drop=True)
    if kept.empty:
        raise ComparisonError(
            f"no bake has all of {joined([*numbers, *words])}; "
            "write them into the bake book first, or choose other columns"
        )
    return kept, remarks


def check_confidence(confidence: float) -> None:
    """Refuse a confidence that no interval can have, or that says nothing.

    Raises
    ------
    ComparisonError
        If it is not from 0.5 to 0.999.
    """
    if not 0.5 <= confidence <= 0.999:
        raise ComparisonError(f"got a confidence of {confidence}; give 0.5 to 0.999")


def _nearest(missing: Sequence[str], frame: pd.DataFrame) -> str:
    """The columns closest in spelling; ratios come in with `with_ratios`."""
    known = [str(column) for column in frame.columns]
    close = [c for name in missing for c in get_close_matches(name, known, 2, 0.5)]
    near = f"closest: {', '.join(dict.fromkeys(close))}; " if close else ""
    return f"{near}ratios of the formulas are added by with_ratios"


def counted(count: int, what: str) -> str:
    """`1 bake`, `3 bakes`."""
    return f"{count} {what if count == 1 else what + 's'}"


def joined(words: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    parts = [str(w) for w in words]
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if parts[1:] else parts)


def number(value: float, digits: int = 3) -> str:
    """A number to read: three figures, a true minus sign, no exponent.

    Examples
    --------
    >>> number(-0.01234), number(1234.5), number(4.0)
    ('−0.0123', '1234', '4')
    """
    if not math.isfinite(value):
        return "unknown"
    text = f"{value:.{digits}g}"
    if "e" in text or abs(value) >= 10**digits:
        text = f"{value:.0f}" if abs(value) >= 1 else f"{value:.6f}".rstrip("0")
    text = text.removesuffix(".")
    return "0" if float(text) == 0 else text.replace("-", "−")


def rounded(value: float, by: float) -> str:
    """A number with as many decimals as its uncertainty `by` leaves a meaning.

    Examples
    --------
    >>> rounded(86.8614, 7.07), rounded(1.7649, 0.25), rounded(-2.4, 30.0)
    ('86.9', '1.76', '−2')
    """
    if not math.isfinite(value):
        return "unknown"
    if not (math.isfinite(by) and by > 0):
        return number(value)
    places = min(4, max(0, 1 - math.floor(math.log10(by))))
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if float(text) == 0 else text.replace("-", "−")


def _filled(value: Any) -> str | None:
    """A value as text; None where there is nothing, as in a blank field."""
    text = "" if pd.isna(value) else str(value).strip()
    return text or None


def _left_out(frame: pd.DataFrame, column: str) -> str:
    from bakelab.comparing.names import named

    out, every = int(frame[column].isna().sum()), len(frame)
    has, stays = ("has", "stays") if out == 1 else ("have", "stay")
    bakes = "bake" if every == 1 else "bakes"
    return f"{out} of {every} {bakes} {has} no {named(column)} and {stays} out"
