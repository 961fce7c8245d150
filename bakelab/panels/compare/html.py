"""Pieces of the answer as HTML; every word is escaped."""

from collections.abc import Sequence
from typing import Any

import pandas as pd

from bakelab.charts.written import xml_text
from bakelab.comparing.data import number

__all__ = ["big_numbers", "paragraph", "table_html"]

_MOST_ROWS = 500


def big_numbers(facts: Sequence[tuple[str, str]]) -> str:
    """Each fact as a caption and a large number."""
    cells = "".join(
        f'<div><span class="bakelab-caption">{xml_text(name)}</span>'
        f'<span class="bakelab-number bakelab-smaller">{xml_text(value)}</span></div>'
        for name, value in facts
    )
    return f'<div class="bakelab-big" role="status">{cells}</div>'


def paragraph(text: str) -> str:
    """Plain sentences."""
    return f"<p>{xml_text(text)}</p>"


def table_html(table: pd.DataFrame) -> str:
    """A table with numbers to the right, at most 500 rows."""
    heads = "".join(
        f'<th scope="col"{_side(table[c])}>{xml_text(str(c))}</th>' for c in table
    )
    rows = "".join(
        f"<tr>{''.join(_cell(value) for value in row)}</tr>"
        for row in table.head(_MOST_ROWS).itertuples(index=False)
    )
    left = len(table) - _MOST_ROWS
    more = f"<p>{left} more rows are not shown.</p>" if left > 0 else ""
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>{more}"


def _cell(value: Any) -> str:
    if isinstance(value, str):
        return f"<td>{xml_text(value)}</td>"
    text = "–" if pd.isna(value) else number(float(value), 4)
    return f'<td class="bakelab-right">{text}</td>'


def _side(column: "pd.Series[Any]") -> str:
    right = pd.api.types.is_numeric_dtype(column)
    return ' class="bakelab-right"' if right else ""
