"""The strokes of a pan drawing: wall, dough, dome, lid, measures, words."""

from dataclasses import dataclass

from bakelab.charts.pan_profile import Profile
from bakelab.charts.written import cm_and_in, cm_text, in_text, xml_text

__all__ = [
    "Pen",
    "depth_measure",
    "dome_arc",
    "dough_fill",
    "hearth_loaf",
    "lid_bar",
    "line",
    "pan_wall",
    "text",
    "width_measure",
]

_LIP = 0.45


@dataclass(frozen=True)
class Pen:
    """Scale in pixels per centimetre, type size in pixels, and colours."""

    px: float
    font: float
    ink: str
    dough: str


def text(
    x: float,
    y: float,
    words: str,
    *,
    anchor: str = "middle",
    weight: str = "",
) -> str:
    """Words at a point, escaped."""
    bold = f' font-weight="{weight}"' if weight else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{bold}>'
        f"{xml_text(words)}</text>"
    )


def line(
    pen: Pen, start: tuple[float, float], end: tuple[float, float], *, wide: float = 0.8
) -> str:
    """A straight stroke."""
    return (
        f'<line x1="{start[0]:.1f}" y1="{start[1]:.1f}" x2="{end[0]:.1f}" '
        f'y2="{end[1]:.1f}" stroke="{pen.ink}" stroke-width="{wide:g}" '
        'stroke-linecap="round"/>'
    )


def pan_wall(pen: Pen, view: Profile, middle: float, bottom: float) -> str:
    """The pan's walls and base with a small lip, and a tube's own walls."""
    rim, base = view.rim_cm * pen.px / 2, view.base_cm * pen.px / 2
    top, lip = bottom - view.depth_cm * pen.px, _LIP * pen.font
    path = (
        f"M{middle - rim - lip:.1f} {top:.1f}H{middle - rim:.1f}"
        f"L{middle - base:.1f} {bottom:.1f}H{middle + base:.1f}"
        f"L{middle + rim:.1f} {top:.1f}H{middle + rim + lip:.1f}"
    )
    tube = view.tube_cm * pen.px / 2
    if tube:
        path += (
            f"M{middle - tube:.1f} {bottom:.1f}V{top:.1f}H{middle + tube:.1f}"
            f"V{bottom:.1f}"
        )
    return (
        f'<path class="pan" d="{path}" fill="none" stroke="{pen.ink}" '
        'stroke-width="2" stroke-linejoin="round" stroke-linecap="round"/>'
    )


def dough_fill(
    pen: Pen, view: Profile, middle: float, bottom: float, level_cm: float
) -> str:
    """The raw dough, level, up to a height above the base."""
    base, wide = view.base_cm * pen.px / 2, view.width_at(level_cm) * pen.px / 2
    top, tube = bottom - level_cm * pen.px, view.tube_cm * pen.px / 2
    sides = [(-1, tube), (1, tube)] if tube else [(0, 0.0)]
    path = "".join(
        _filled_half(middle, bottom, top, base, wide, sign, tube_half)
        for sign, tube_half in sides
    )
    return (
        f'<path class="dough" d="{path}" fill="{pen.dough}" fill-opacity="0.55" '
        f'stroke="{pen.ink}" stroke-width="0.8"/>'
    )


def _filled_half(
    middle: float,
    bottom: float,
    top: float,
    base: float,
    wide: float,
    sign: int,
    tube: float,
) -> str:
    if sign == 0:
        return (
            f"M{middle - base:.1f} {bottom:.1f}H{middle + base:.1f}"
            f"L{middle + wide:.1f} {top:.1f}H{middle - wide:.1f}Z"
        )
    return (
        f"M{middle + sign * tube:.1f} {bottom:.1f}H{middle + sign * base:.1f}"
        f"L{middle + sign * wide:.1f} {top:.1f}H{middle + sign * tube:.1f}Z"
    )


def dome_arc(
    pen: Pen, view: Profile, middle: float, bottom: float, dome_cm: float
) -> str:
    """Where the crown of an open loaf may stand: a dashed arc above the rim."""
    rim, top = view.rim_cm * pen.px / 2, bottom - view.depth_cm * pen.px
    rise = dome_cm * pen.px
    return (
        f'<path class="dome" d="M{middle - rim:.1f} {top:.1f}'
        f'A{rim:.1f} {rise:.1f} 0 0 1 {middle + rim:.1f} {top:.1f}" fill="none" '
        f'stroke="{pen.ink}" stroke-width="1.2" stroke-dasharray="4 3"/>'
    )


def lid_bar(pen: Pen, view: Profile, middle: float, bottom: float) -> str:
    """A closed lid: a heavy bar that reaches over both rims."""
    half = view.rim_cm * pen.px / 2 + _LIP * pen.font + 2
    top = bottom - view.depth_cm * pen.px - 2.5
    bar = line(pen, (middle - half, top), (middle + half, top), wide=3.5)
    return f'<g class="lid">{bar}</g>'


def hearth_loaf(pen: Pen, view: Profile, middle: float, bottom: float) -> str:
    """A loaf that stands free: a low arch on a line."""
    half, rise = view.rim_cm * pen.px / 2, view.depth_cm * pen.px
    ground = line(pen, (middle - 1.2 * half, bottom), (middle + 1.2 * half, bottom))
    return (
        f'<path class="dough" d="M{middle - half:.1f} {bottom:.1f}'
        f'A{half:.1f} {rise:.1f} 0 0 1 {middle + half:.1f} {bottom:.1f}Z" '
        f'fill="{pen.dough}" fill-opacity="0.55" stroke="{pen.ink}" '
        f'stroke-width="0.8" stroke-dasharray="4 3"/>{ground}'
    )


def width_measure(pen: Pen, view: Profile, middle: float, bottom: float) -> str:
    """Inside width at the rim, written below a measuring line."""
    half, y = view.rim_cm * pen.px / 2, bottom + 0.7 * pen.font
    tick = 0.25 * pen.font
    strokes = line(pen, (middle - half, y), (middle + half, y)) + "".join(
        line(pen, (middle + s * half, y - tick), (middle + s * half, y + tick))
        for s in (-1, 1)
    )
    return strokes + text(middle, y + 1.15 * pen.font, cm_and_in(view.rim_cm))


def depth_measure(pen: Pen, view: Profile, middle: float, bottom: float) -> str:
    """Inside depth, written beside an upright measuring line."""
    x = middle + view.rim_cm * pen.px / 2 + 1.1 * pen.font
    top, tick = bottom - view.depth_cm * pen.px, 0.25 * pen.font
    strokes = line(pen, (x, top), (x, bottom)) + "".join(
        line(pen, (x - tick, y), (x + tick, y)) for y in (top, bottom)
    )
    at, y = x + 0.5 * pen.font, (top + bottom) / 2
    return (
        strokes
        + text(at, y - 0.1 * pen.font, cm_text(view.depth_cm), anchor="start")
        + text(at, y + 1.05 * pen.font, in_text(view.depth_cm), anchor="start")
    )
