"""Pans drawn to one scale side by side, as SVG text."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.charts.legend import legend
from bakelab.charts.pan_profile import Profile, dough_level, profiles
from bakelab.charts.pan_words import (
    PanFill,
    describe_fills,
    dome_cm,
    kind,
    share_pct,
    title_of,
)
from bakelab.charts.svg_parts import (
    Pen,
    depth_measure,
    dome_arc,
    dough_fill,
    hearth_loaf,
    lid_bar,
    pan_wall,
    text,
    width_measure,
)
from bakelab.charts.written import volume_text, xml_text
from bakelab.errors import PanError
from bakelab.pans import Pan
from bakelab.theme import PALETTE, SANS

__all__ = ["PanDrawing", "PanFill", "pan_drawing", "pan_svg"]

_SMALLEST_COLUMN = 12.0
_TALLEST = 0.62
_LARGEST_SCALE = 1.1
_HEARTH = Profile("side", 22.0, 22.0, 7.0)


@dataclass(frozen=True)
class PanDrawing:
    """A drawing that shows itself in a notebook and gives its SVG text."""

    svg: str

    def _repr_html_(self) -> str:
        return self.svg


def pan_drawing(
    from_pan: Pan | None,
    to_pan: Pan | Sequence[Pan],
    *,
    from_dough_cm3: float | None = None,
    to_dough_cm3: float | Sequence[float | None] | None = None,
    dome: str | None = "fixed",
    width_px: int = 640,
) -> PanDrawing:
    """The pan a recipe was written for beside the pan it is fitted to.

    Parameters
    ----------
    from_pan : Pan or None
        None where no pan is known; then only the new pan is drawn.
    to_pan : Pan or sequence of Pan
    from_dough_cm3, to_dough_cm3 : float, optional
        Volume of the raw dough in **one** pan or well; a sequence if
        there are several new pans.
    dome : {"fixed", "width", None}
        The allowance above the rim, as in `Pan.dome_height`.
    width_px : int
        Width of the drawing; it scales with the page around it.

    Returns
    -------
    PanDrawing
        Shows itself in a notebook; `.svg` is the text.
    """
    pans = [to_pan] if isinstance(to_pan, Pan) else list(to_pan)
    doughs = (
        list(to_dough_cm3) if isinstance(to_dough_cm3, Sequence) else [to_dough_cm3]
    )
    doughs += [None] * (len(pans) - len(doughs))
    fills = [PanFill(p, d, "To") for p, d in zip(pans, doughs, strict=False)]
    if from_pan is not None:
        fills.insert(0, PanFill(from_pan, from_dough_cm3, "From"))
    return PanDrawing(pan_svg(fills, dome=dome, width_px=width_px))


def pan_svg(
    fills: Sequence[PanFill],
    *,
    dome: str | None = "fixed",
    width_px: int = 640,
    font_px: float = 12.0,
    ink: str = "currentColor",
    dough: str = PALETTE["flour"],
    font: str = SANS,
) -> str:
    """Side and end views of pans to one scale, as the text of an SVG.

    The picture has `role="img"`, a title and a description for screen
    readers. With the default `ink` its lines and words take the colour of
    the page around it, light or dark; for paper give `ink="#000000"`.

    Raises
    ------
    PanError
        If there is no pan to draw.
    """
    if not fills:
        raise PanError(
            "there is no pan to draw; give one, such as pan('loaf 9 x 5 in')"
        )
    rows = _in_rows(fills, width_px, font_px)
    px = min(_px_per_cm(row, width_px, font_px, dome) for row in rows)
    pen = Pen(px, font_px, ink, dough)
    parts: list[str] = []
    height = 0.0
    for row in rows:
        height = _columns(parts, row, pen, height, width_px, dome) + 0.8 * font_px
    height = legend(parts, fills, pen, height, width_px, dome)
    return _svg(parts, fills, pen, dome, (width_px, height), font)


def _svg(
    parts: Sequence[str],
    fills: Sequence[PanFill],
    pen: Pen,
    dome: str | None,
    size: tuple[float, float],
    font: str,
) -> str:
    title, desc = title_of(fills), describe_fills(fills, dome)
    name = hashlib.sha256(("".join(parts) + desc).encode()).hexdigest()[:10]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-labelledby="pan-{name}-title pan-{name}-desc" '
        f'viewBox="0 0 {size[0]:.0f} {size[1]:.0f}" width="{size[0]:.0f}" '
        f'height="{size[1]:.0f}" style="max-width:100%;height:auto" '
        f'font-family="{xml_text(font)}" font-size="{pen.font:g}" '
        f'fill="{xml_text(pen.ink)}">'
        f'<title id="pan-{name}-title">{xml_text(title)}</title>'
        f'<desc id="pan-{name}-desc">{xml_text(desc)}</desc>'
        f"{''.join(parts)}</svg>"
    )


def _in_rows(
    fills: Sequence[PanFill], width_px: int, font_px: float
) -> list[Sequence[PanFill]]:
    """The pans in rows of as many as have room for their words."""
    most = max(1, int(width_px / (12.5 * font_px)))
    return [fills[i : i + most] for i in range(0, len(fills), most)]


def _px_per_cm(
    fills: Sequence[PanFill], width_px: int, font_px: float, dome: str | None
) -> float:
    room = width_px - len(fills) * _beside(font_px)
    across = room / sum(_column_cm(f) for f in fills)
    heights = [
        [v.depth_cm + dome_cm(f.pan, dome) for v in _views(f.pan)] for f in fills
    ]
    tall = max(sum(h) for h in heights)
    return max(min(across, _TALLEST * width_px / tall, _LARGEST_SCALE * font_px), 0.5)


def _beside(font_px: float) -> float:
    """Room that a column needs beside its pan, for the depth and a gap."""
    return 6.5 * font_px


def _column_cm(fill: PanFill) -> float:
    return max(_SMALLEST_COLUMN, *(v.rim_cm for v in _views(fill.pan)))


def _views(pan: Pan) -> tuple[Profile, ...]:
    return profiles(pan) or (_HEARTH,)


def _columns(
    parts: list[str],
    fills: Sequence[PanFill],
    pen: Pen,
    top: float,
    width_px: int,
    dome: str | None,
) -> float:
    """Draw every pan in its column below `top`; where the lowest one ends."""
    lowest, left = top, 0.0
    rows = _row_heights(fills, pen, dome)
    floor = top + (1.4 + 1.3 * max(len(_words(f)) for f in fills)) * pen.font
    shares = [_column_cm(f) for f in fills]
    for fill, share in zip(fills, shares, strict=True):
        room = width_px * share / sum(shares)
        middle = left + (room - 0.45 * _beside(pen.font)) / 2
        _write_above(parts, pen, fill, middle, top)
        bottom = floor
        for view, row in zip(_views(fill.pan), rows, strict=False):
            bottom += row
            _view(parts, pen, fill, view, middle, bottom, dome)
            bottom += 2.3 * pen.font
        lowest, left = max(lowest, bottom), left + room
    return lowest


def _write_above(
    parts: list[str], pen: Pen, fill: PanFill, middle: float, top: float
) -> None:
    parts.append(text(middle, top + 1.1 * pen.font, fill.heading, weight="bold"))
    for number, words in enumerate(_words(fill), 1):
        parts.append(text(middle, top + (1.1 + 1.3 * number) * pen.font, words))


def _words(fill: PanFill) -> list[str]:
    """Lines over a pan: its kind, its volume, and a word if it is overfilled."""
    lines = [kind(fill.pan)]
    if fill.pan.has_volume:
        lines.append(volume_text(fill.pan.volume.to("cm^3").magnitude))
        if fill.dough_cm3 and share_pct(fill.pan, fill.dough_cm3) > 100:
            lines.append("more dough than it holds")
    return lines


def _row_heights(fills: Sequence[PanFill], pen: Pen, dome: str | None) -> list[float]:
    """Height in pixels of the row of side views and of the row of end views."""
    tall: list[float] = []
    for fill in fills:
        for place, view in enumerate(_views(fill.pan)):
            px = (view.depth_cm + dome_cm(fill.pan, dome)) * pen.px + 0.9 * pen.font
            tall += [0.0] * (place + 1 - len(tall))
            tall[place] = max(tall[place], px)
    return tall


def _view(
    parts: list[str],
    pen: Pen,
    fill: PanFill,
    view: Profile,
    middle: float,
    bottom: float,
    dome: str | None,
) -> None:
    pan = fill.pan
    if not pan.has_volume:
        parts.append(hearth_loaf(pen, view, middle, bottom))
        return
    if fill.dough_cm3:
        level = dough_level(pan, fill.dough_cm3)
        parts.append(dough_fill(pen, view, middle, bottom, level))
    if pan.lidded:
        parts.append(lid_bar(pen, view, middle, bottom))
    elif dome is not None:
        parts.append(dome_arc(pen, view, middle, bottom, dome_cm(pan, dome)))
    parts.append(pan_wall(pen, view, middle, bottom))
    parts.append(width_measure(pen, view, middle, bottom))
    if view.view == "side":
        parts.append(depth_measure(pen, view, middle, bottom))
