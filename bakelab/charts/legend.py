"""What the marks of a pan drawing mean, in words beside each mark."""

from collections.abc import Sequence
from dataclasses import replace

from bakelab.charts.pan_profile import Profile
from bakelab.charts.pan_words import PanFill
from bakelab.charts.svg_parts import Pen, dome_arc, line, text

__all__ = ["legend"]


def legend(
    parts: list[str],
    fills: Sequence[PanFill],
    pen: Pen,
    top: float,
    width_px: int,
    dome: str | None,
) -> float:
    """What the marks mean, in words beside each mark; wraps to the width."""
    y, x, font = top + 1.9 * pen.font, 0.0, pen.font
    for mark, words in _legend_items(fills, pen, dome):
        wide = 2.6 * font + 0.52 * font * len(words)
        if x and x + wide > width_px:
            x, y = 0.0, y + 1.4 * font
        parts.append(f'<g transform="translate({x:.1f} {y:.1f})">{mark}</g>')
        parts.append(text(x + 2.1 * font, y, words, anchor="start"))
        x += wide + font
    return y + 0.7 * font


def _legend_items(
    fills: Sequence[PanFill], pen: Pen, dome: str | None
) -> list[tuple[str, str]]:
    font, pans = pen.font, [f.pan for f in fills if f.pan.has_volume]
    stroke = replace(pen, px=1.0)
    items = []
    if any(f.dough_cm3 for f in fills):
        swatch = (
            f'<rect x="0.5" y="{-0.7 * font:.1f}" width="{1.6 * font:.1f}" '
            f'height="{0.7 * font:.1f}" fill="{pen.dough}" fill-opacity="0.55" '
            f'stroke="{pen.ink}" stroke-width="0.8"/>'
        )
        items.append((swatch, "raw dough"))
    if dome is not None and any(not p.lidded for p in pans):
        arc = dome_arc(stroke, Profile("side", 1.6 * font, 1, 1), 0.8 * font, 0, 6)
        items.append((arc, "room for the dome above the rim"))
    if any(p.lidded for p in pans):
        bar = line(pen, (0, -0.3 * font), (1.6 * font, -0.3 * font), wide=3.5)
        items.append((bar, "lid"))
    return items
