"""Small pictures for the demo book, drawn and not photographed."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw

__all__ = ["cut_of_a_loaf"]

WIDE, HIGH = 960, 720  # as drawn; kept at half, with smooth edges
_BENCH, _CRUST, _TIN = (222, 214, 202), (146, 88, 40), (96, 100, 106)
_CRUST_WIDE = 15.0
_CRUMBS = {"white": (246, 234, 206), "whole": (206, 172, 126), "rye": (176, 140, 102)}


def cut_of_a_loaf(
    rng: np.random.Generator,
    *,
    height_cm: float,
    crumb: str = "white",
    coarse: float = 1.0,
    state: str = "",
) -> bytes:
    """A slice with its crust and pores, as JPEG.

    Parameters
    ----------
    height_cm : float
        Of the loaf; it sets how tall the slice is drawn.
    crumb : {"white", "whole", "rye"}
    coarse : float
        How large the pores are drawn.
    state : {"", "overfilled", "collapsed", "pale"}
    """
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (WIDE, HIGH), _BENCH)
    draw = ImageDraw.Draw(image)
    outline = _outline(height_cm, state)
    if state == "overfilled":
        _tin_run_over(draw)
    crust = (214, 178, 120) if state == "pale" else _CRUST
    draw.polygon(outline, fill=crust)
    draw.polygon(_shrunk(outline), fill=_CRUMBS[crumb])
    _pores(draw, rng, _shrunk(outline), _CRUMBS[crumb], coarse)
    out = io.BytesIO()
    image.reduce(2).save(out, "JPEG", quality=85)
    return out.getvalue()


def _outline(height_cm: float, state: str) -> list[tuple[float, float]]:
    """A slice in pixels: walls that lean a little, and a crown."""
    scale, base = 44.0, HIGH - 100.0
    tall = scale * height_cm
    shoulder = tall * 0.68
    half = 240.0
    points = [(WIDE / 2 - half + 16, base), (WIDE / 2 - half, base - shoulder)]
    sink = -0.35 if state == "collapsed" else 1.0
    for step in range(1, 24):
        turn = math.pi * step / 24
        side = half * (1.15 if state == "overfilled" else 1.0)
        x = WIDE / 2 - side * math.cos(turn)
        points.append((x, base - shoulder - sink * (tall - shoulder) * math.sin(turn)))
    points += [(WIDE / 2 + half, base - shoulder), (WIDE / 2 + half - 16, base)]
    return points


def _shrunk(outline: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The same within a crust of one width."""
    left, right = (f(x for x, _ in outline) for f in (min, max))
    top, base = (f(y for _, y in outline) for f in (min, max))
    across = 1 - 2 * _CRUST_WIDE / (right - left)
    up = 1 - 2 * _CRUST_WIDE / (base - top)
    return [
        (
            (left + right) / 2 + (x - (left + right) / 2) * across,
            (top + base) / 2 + (y - (top + base) / 2) * up,
        )
        for x, y in outline
    ]


def _pores(
    draw: ImageDraw,
    rng: np.random.Generator,
    outline: list[tuple[float, float]],
    crumb: tuple[int, int, int],
    coarse: float,
) -> None:
    left, right = (f(x for x, _ in outline) for f in (min, max))
    low, high = (f(y for _, y in outline) for f in (min, max))
    shade = tuple(int(0.86 * c) for c in crumb)
    for _ in range(260):
        x, y = rng.uniform(left + 16, right - 16), rng.uniform(low + 20, high - 16)
        if not _inside(x, y, outline):
            continue
        wide = coarse * rng.gamma(2.0, 3.0) + 2.0
        tall = wide * rng.uniform(0.5, 1.0)
        draw.ellipse((x - wide, y - tall, x + wide, y + tall), fill=shade)


def _inside(x: float, y: float, outline: list[tuple[float, float]]) -> bool:
    inside = False
    for (x1, y1), (x2, y2) in zip(outline, outline[1:] + outline[:1], strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def _tin_run_over(draw: ImageDraw) -> None:
    """A tin behind the slice, with dough over its edge."""
    base = HIGH - 80
    box = (WIDE / 2 - 280, base - 300, WIDE / 2 + 280, base)
    draw.rectangle(box, fill=_TIN)
    for x, y in ((-276, 120), (272, 168), (240, 80)):
        place = (WIDE / 2 + x - 24, base - y - 140, WIDE / 2 + x + 24, base - y + 40)
        draw.ellipse(place, fill=_CRUST)
