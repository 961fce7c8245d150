"""A chart as SVG text inside a panel: fast, offline, in the page's own ink."""

import re
from functools import cache
from threading import Thread
from typing import Any

__all__ = ["get_ready", "pointed_at", "show_svg", "svg_of", "svg_text"]

_MARK = re.compile(r'<path aria-label="([^"]*)" role="graphics-symbol"([^>]*)/>')
# A title may be wider than its chart.
_WIDE_FONTS = '<svg style="overflow:visible;max-width:100%;height:auto" '


@cache
def get_ready() -> Thread:
    """Wake the drawing engine in a thread of its own, once.

    Its first drawing takes most of a second outside of Python: a panel asks for it
    when its first answer is worked out, and both go on together.
    """
    thread = Thread(target=_draw_nothing, name="bakelab drawing engine")
    thread.start()
    return thread


def svg_of(chart: Any) -> str:
    """The SVG of an Altair chart, in a box that scrolls where it is narrow."""
    seen = svg_text(chart).replace("<svg ", _WIDE_FONTS, 1)
    return f'<div class="bakelab-strips" tabindex="0">{seen}</div>'


def pointed_at(svg: str) -> str:
    """The same drawing, whose marks say what they are when they are pointed at."""
    named = r'<path aria-label="\1" role="graphics-symbol"\2><title>\1</title></path>'
    return _MARK.sub(named, svg)


def svg_text(chart: Any) -> str:
    """The SVG of an Altair chart as it stands in a file."""
    import vl_convert

    drawn: str = vl_convert.vegalite_to_svg(
        chart.to_json(validate=False), vl_version=_version()
    )
    return drawn


def show_svg(chart: Any) -> Any:
    """A chart below a cell, as SVG, without asking the network."""
    from IPython.display import HTML

    return HTML(svg_of(chart))  # type: ignore[no-untyped-call]


def _draw_nothing() -> None:
    import vl_convert

    vl_convert.vega_to_svg({"marks": []})


def _version() -> str:
    import altair

    return ".".join(altair.SCHEMA_VERSION.lstrip("v").split(".")[:2])
