"""Each ratio of a formula on its usual band, as plain SVG text."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from bakelab.charts.columns import require_columns
from bakelab.charts.written import plain_number, xml_text
from bakelab.theme import PALETTE

__all__ = ["band_strips"]

_NEEDED = ("measure", "label", "value", "low", "high", "unit", "state")
_ROW_PX = 34.0
_HEAD_PX = 26.0
_LABEL_PX = 212.0
_STATE_PX = 132.0
_ROOM = 1.18  # the scale ends this much past the largest mark


@dataclass(frozen=True)
class _Scale:
    """Pixels of a value; every row has a scale of its own, from 0."""

    left: float
    right: float
    end: float

    def at(self, value: float) -> float:
        share = min(1.0, max(0.0, value / self.end))
        return self.left + share * (self.right - self.left)


def band_strips(
    frame: pd.DataFrame,
    *,
    parent: Mapping[str, float] | None = None,
    width_px: int = 660,
    title: str = "Each ratio on its usual band",
    ink: str = "currentColor",
) -> str:
    """One strip per measure: the usual band, the value, and the parent's.

    Parameters
    ----------
    frame : DataFrame
        Columns `measure`, `label`, `value`, `low`, `high`, `unit` and
        `state`, as of `against_ranges(..., widest=True)`. A measure without
        a band has NaN ends.
    parent : mapping of str to float, optional
        Values of the parent, by measure.
    width_px : int
    title : str
        What the picture is called by a screen reader.
    ink : str
        Colour of text and lines; the page's own by default.

    Returns
    -------
    str
        An `<svg>` element. A disc is the value, an open diamond the parent,
        and words say where the value lies, so no colour is needed.

    Raises
    ------
    FormulaError
        If a column is missing.
    """
    require_columns(frame, _NEEDED, of="table of ratios")
    rows: Sequence[dict[Any, Any]] = frame.to_dict("records")
    height = _HEAD_PX + _ROW_PX * len(rows) + 6
    strips = [
        _strip(row, (parent or {}).get(row["measure"]), n, width_px, ink)
        for n, row in enumerate(rows)
    ]
    told = "; ".join(_told(row) for row in rows)
    return (
        f'<svg role="img" viewBox="0 0 {width_px} {height:.0f}" width="{width_px}" '
        f'height="{height:.0f}" font-size="12.5" fill="{ink}" '
        'style="max-width:100%;height:auto" '
        f'xmlns="http://www.w3.org/2000/svg"><title>{xml_text(title)}</title>'
        f"<desc>{xml_text(told)}</desc>{_legend(parent is not None, ink)}"
        f"{''.join(strips)}</svg>"
    )


def _told(row: Mapping[Any, Any]) -> str:
    return f"{row['label']} {_number(row['value'])} {row['unit']}: {row['state']}"


def _number(value: float) -> str:
    return plain_number(value, 2 if abs(value) < 10 else 1)


def _text(x: float, y: float, words: str, *, weight: int = 400) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-weight="{weight}">{xml_text(words)}</text>'
    )


def _legend(has_parent: bool, ink: str) -> str:
    parts = [
        _bar(_LABEL_PX, _LABEL_PX + 22, 9.5, ink),
        _text(_LABEL_PX + 28, 14, "usual band"),
        _disc(_LABEL_PX + 118, 9.5, ink),
        _text(_LABEL_PX + 130, 14, "now"),
    ]
    if has_parent:
        parts.append(_diamond(_LABEL_PX + 182, 9.5, ink))
        parts.append(_text(_LABEL_PX + 194, 14, "before (parent)"))
    return "".join(parts)


def _strip(
    row: Mapping[Any, Any], parent: float | None, n: int, width_px: int, ink: str
) -> str:
    middle = _HEAD_PX + _ROW_PX * n + _ROW_PX / 2
    marks = [row["value"], row["high"], row["low"], parent]
    known = [m for m in marks if m is not None and math.isfinite(m)]
    scale = _Scale(_LABEL_PX, width_px - _STATE_PX - 12, _ROOM * max([*known, 1e-9]))
    parts = [
        _text(0, middle - 2, str(row["label"]), weight=600),
        _text(0, middle + 13, _amount(row)),
        _rule(scale, middle, ink),
    ]
    if math.isfinite(row["low"]) and math.isfinite(row["high"]):
        parts.append(_bar(scale.at(row["low"]), scale.at(row["high"]), middle, ink))
    if parent is not None and math.isfinite(parent):
        parts.append(_diamond(scale.at(parent), middle, ink))
    if math.isfinite(row["value"]):
        parts.append(_disc(scale.at(row["value"]), middle, ink))
    parts.append(_text(width_px - _STATE_PX, middle + 4, str(row["state"])))
    return "".join(parts)


def _amount(row: Mapping[Any, Any]) -> str:
    value = f"{_number(row['value'])} {row['unit']}"
    if not math.isfinite(row["low"]):
        return value
    return f"{value} (usual {_number(row['low'])}–{_number(row['high'])})"


def _rule(scale: _Scale, middle: float, ink: str) -> str:
    return (
        f'<line x1="{scale.left:.1f}" x2="{scale.right:.1f}" y1="{middle:.1f}" '
        f'y2="{middle:.1f}" stroke="{ink}" stroke-opacity="0.35"/>'
    )


def _bar(left: float, right: float, middle: float, ink: str) -> str:
    return (
        f'<rect x="{left:.1f}" y="{middle - 7:.1f}" rx="3" height="14" '
        f'width="{max(2.0, right - left):.1f}" fill="{PALETTE["flour"]}" '
        f'fill-opacity="0.55" stroke="{ink}" stroke-opacity="0.4"/>'
    )


def _disc(x: float, y: float, ink: str) -> str:
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" fill="{ink}"/>'


def _diamond(x: float, y: float, ink: str) -> str:
    return (
        f'<path d="M{x:.1f} {y - 7:.1f}l7 7l-7 7l-7 -7z" fill="none" '
        f'stroke="{ink}" stroke-width="1.8"/>'
    )
