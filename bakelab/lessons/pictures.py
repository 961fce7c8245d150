"""Small pictures for exercises, as SVG text with a title and a description."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from fractions import Fraction
from html import escape

from bakelab.theme import PALETTE, SANS

__all__ = ["bars", "framed", "words_at"]

_WIDE, _ROW, _LEFT, _FONT = 460, 24, 190, 13


def bars(
    rows: Sequence[tuple[str, Fraction, str]],
    *,
    title: str,
    asked: str = "",
    filled: Mapping[str, Fraction] | None = None,
) -> str:
    """Bars under each other: label, length, and the text at the end.

    A row whose label is `asked` is drawn with a dashed outline and a question
    mark, so that the picture does not give the answer away. `filled` is the
    share, 0 to 1, of a bar that is filled; the rest stays empty.
    """
    longest = max((size for _, size, _ in rows), default=Fraction(1))
    whole = _whole([label for label, _, _ in rows])
    parts = []
    for place, (label, size, value) in enumerate(rows):
        top = 6 + place * _ROW
        wide = max(3.0, float(size / longest) * (_WIDE - _LEFT - 80))
        parts.append(words_at(_LEFT - 8, top + 15, label[:28], anchor="end"))
        share = float((filled or {}).get(label, 1))
        bar = _bar(top, wide * share, whole=label in whole, asked=label == asked)
        parts.append(bar)
        if share < 1:
            parts.append(_outline(top, wide))
        text = "?" if label == asked else value
        parts.append(words_at(_LEFT + wide + 6, top + 15, text))
    told = "; ".join(f"{a}: {'asked for' if a == asked else c}" for a, _, c in rows)
    return framed("".join(parts), title, f"Bars: {told}.", _WIDE, 12 + len(rows) * _ROW)


def framed(inside: str, title: str, description: str, wide: int, high: int) -> str:
    """An SVG picture with its words for a screen reader."""
    mark = hashlib.sha256((inside + title + description).encode()).hexdigest()[:10]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-labelledby="item-{mark}-title item-{mark}-desc" '
        f'viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
        f'style="max-width:100%;height:auto" font-family="{escape(SANS)}" '
        f'font-size="{_FONT}" fill="currentColor">'
        f'<title id="item-{mark}-title">{escape(title)}</title>'
        f'<desc id="item-{mark}-desc">{escape(description)}</desc>{inside}</svg>'
    )


def words_at(x: float, y: float, text: str, *, anchor: str = "start") -> str:
    """Words at a point, escaped."""
    return f'<text x="{x:.0f}" y="{y:.0f}" text-anchor="{anchor}">{escape(text)}</text>'


def _whole(labels: Sequence[str]) -> Sequence[str]:
    """The bars in the colour of flour: every flour, else the first."""
    return [label for label in labels if label.startswith("flour")] or labels[:1]


def _outline(top: float, wide: float) -> str:
    return (
        f'<rect x="{_LEFT}" y="{top}" width="{wide:.0f}" height="18" fill="none" '
        'stroke="currentColor"/>'
    )


def _bar(top: float, wide: float, *, whole: bool, asked: bool) -> str:
    fill = PALETTE["flour"] if whole else PALETTE["steam"]
    dashes = ' stroke-dasharray="4 3"' if asked else ""
    opacity = "0.15" if asked else "0.7"
    return (
        f'<rect x="{_LEFT}" y="{top}" width="{wide:.0f}" height="18" fill="{fill}" '
        f'fill-opacity="{opacity}" stroke="currentColor"{dashes}/>'
    )
