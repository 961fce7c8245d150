"""Bars of flour = 100 %, and bars in parts, as SVG text in the page's own ink."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.charts.written import plain_number, xml_text
from bakelab.theme import PALETTE, SANS

__all__ = ["Bar", "Part", "bars_svg", "parts_svg"]

_WIDTH = 620.0
_LABEL = 176.0
_VALUE = 96.0
_ROW = 32.0
_FONT = 13
_HATCHES = {
    "steam": "M0 6L6 0",
    "herb": "M0 3H6",
    "berry": "M3 0V6",
    "crust": "M0 0L6 6",
}


@dataclass(frozen=True)
class Bar:
    """One ingredient: its name, its percentage of the flour, its colour by name."""

    label: str
    pct: float
    colour: str = "flour"


@dataclass(frozen=True)
class Part:
    """A part of a stacked bar: what it is, its percentage, its colour by name."""

    label: str
    pct: float
    colour: str


def bars_svg(bars: Sequence[Bar], *, title: str, whole: str = "all the flour") -> str:
    """Bars below each other, with a mark where 100 % is.

    Parameters
    ----------
    bars : sequence of Bar
    title : str
        What the picture shows, for everyone.
    whole : str
        What 100 % is, in words.
    """
    px = (_WIDTH - _LABEL - _VALUE) / max(100.0, *(b.pct for b in bars))
    mark = _LABEL + 100 * px
    bottom = 34 + len(bars) * _ROW
    rows = "".join(_bar(bar, n, px) for n, bar in enumerate(bars))
    rule = (
        f'<path d="M{mark:.1f} 22V{bottom:.0f}" fill="none" stroke="currentColor" '
        f'stroke-dasharray="4 3"/><text x="{mark:.1f}" y="15" text-anchor="middle">'
        f"100 % = {xml_text(whole)}</text>"
    )
    said = "; ".join(f"{b.label} {plain_number(b.pct, 1)} %" for b in bars)
    return _svg(rows + rule, bottom + 6, title, f"{said}. 100 % is {whole}.")


def parts_svg(
    rows: Sequence[tuple[str, Sequence[Part]]], *, title: str, whole_pct: float
) -> str:
    """Bars side by side made of parts; every part is named and has its pattern."""
    px = (_WIDTH - _LABEL - _VALUE) / max(whole_pct, 1.0)
    drawn, said, top = "", [], 8.0
    for name, parts in rows:
        shown = [p for p in parts if p.pct > 0]
        drawn += _stack(name, shown, px, top)
        top += _ROW + 4
        inside = ", ".join(f"{p.label} {plain_number(p.pct, 1)} %" for p in shown)
        said.append(f"{name}: {inside or 'nothing'}")
    names = {p.label: p.colour for _, parts in rows for p in parts if p.pct > 0}
    legend, top = _legend(names, top + 4)
    return _svg(drawn + legend, top, title, "; ".join(said) + ".")


def _bar(bar: Bar, number: int, px: float) -> str:
    y = 28 + number * _ROW
    note = f"{plain_number(bar.pct, 1)} %"
    return (
        f'<text x="0" y="{y + 17:.0f}">{xml_text(bar.label)}</text>'
        f'<rect x="{_LABEL:.0f}" y="{y:.0f}" width="{max(bar.pct * px, 1):.1f}" '
        f'height="24" rx="2" style="fill:{_colour(bar.colour)}"/>'
        f'<text x="{_LABEL + bar.pct * px + 7:.1f}" y="{y + 17:.0f}" '
        f'class="bar-value">{note}</text>'
    )


def _stack(name: str, parts: Sequence[Part], px: float, top: float) -> str:
    out = f'<text x="0" y="{top + 17:.0f}">{xml_text(name)}</text>'
    x = _LABEL
    for part in parts:
        out += _piece(part, x, top, part.pct * px)
        x += part.pct * px
    total = plain_number(sum(p.pct for p in parts), 1)
    return out + f'<text x="{x + 7:.1f}" y="{top + 17:.0f}">{total} %</text>'


def _piece(part: Part, x: float, top: float, width: float) -> str:
    hatch = _hatch(part.colour)
    box = f'x="{x:.1f}" y="{top:.0f}" width="{width:.1f}" height="24"'
    plain = f'<rect {box} style="fill:{_colour(part.colour)}"/>'
    lines = f'<rect {box} fill="url(#{hatch})"/>' if hatch else ""
    edge = f'<rect {box} fill="none" style="stroke:var(--bakelab-paper,#fff)"/>'
    return plain + lines + edge


def _legend(names: dict[str, str], top: float) -> tuple[str, float]:
    out, x = "", 0.0
    for label, colour in names.items():
        room = 30 + 7.2 * len(label)
        if x and x + room > _WIDTH:
            x, top = 0.0, top + 24
        part = Part(label, 0.0, colour)
        out += _piece(part, x, top, 18).replace('height="24"', 'height="16"')
        out += f'<text x="{x + 24:.0f}" y="{top + 13:.0f}">{xml_text(label)}</text>'
        x += room
    return out, top + 26


def _svg(inside: str, height: float, title: str, desc: str) -> str:
    name = hashlib.sha256((inside + title).encode()).hexdigest()[:10]
    patterns = "".join(_pattern(c) for c in _HATCHES if _hatch(c) in inside)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'aria-labelledby="b{name}t b{name}d" viewBox="0 0 {_WIDTH:.0f} {height:.0f}" '
        f'width="{_WIDTH:.0f}" height="{height:.0f}" fill="currentColor" '
        f'style="max-width:100%;height:auto" font-family="{xml_text(SANS)}" '
        f'font-size="{_FONT}"><title id="b{name}t">{xml_text(title)}</title>'
        f'<desc id="b{name}d">{xml_text(desc)}</desc><defs>{patterns}</defs>'
        f"{inside}</svg>"
    )


def _colour(name: str) -> str:
    return f"var(--bakelab-{name},{PALETTE[name]})"


def _hatch(colour: str) -> str:
    return f"bakelab-hatch-{colour}" if colour in _HATCHES else ""


def _pattern(colour: str) -> str:
    path = _HATCHES[colour]
    return (
        f'<pattern id="bakelab-hatch-{colour}" width="6" height="6" '
        f'patternUnits="userSpaceOnUse"><path d="{path}" fill="none" '
        'style="stroke:var(--bakelab-paper,#fff)" stroke-opacity="0.6"/></pattern>'
    )
