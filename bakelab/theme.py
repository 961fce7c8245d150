"""How bakelab looks: one palette, type sizes, panel style and chart style.

The hues are those that Okabe and Ito proposed for readers of every colour
vision; here they carry names of our own. A colour never stands alone: text or
shape beside it says the same.

References
----------
M. Okabe and K. Ito, "Color Universal Design (CUD): How to make figures and
presentations that are friendly to colorblind people", University of Tokyo, 2008.
"""

from typing import Any

__all__ = ["FONT_SIZES", "PALETTE", "SERIES", "altair_config", "panel_css"]

PALETTE = {
    "ink": "#1b1b1b",
    "paper": "#ffffff",
    "ash": "#5c5c5c",
    "crust": "#d55e00",
    "flour": "#e69f00",
    "water": "#0072b2",
    "steam": "#56b4e9",
    "herb": "#009e73",
    "berry": "#cc79a7",
    "butter": "#f0e442",
}
"""Colours by name, as `#rrggbb`."""

SERIES = ("water", "flour", "herb", "berry", "steam", "crust")
"""Names of the colours in the order in which a chart's series take them."""

FONT_SIZES = {"small": 11, "body": 13, "label": 14, "heading": 17, "number": 34}
"""Type sizes in pixels of a screen."""

SANS = "system-ui, 'Liberation Sans', Arial, sans-serif"
"""Typefaces that a machine has by itself; nothing is fetched."""

_FOLLOWED = {
    "ink": "--jp-ui-font-color1",
    "ash": "--jp-ui-font-color2",
    "paper": "--jp-layout-color1",
    "line": "--jp-border-color1",
    "field": "--jp-layout-color2",
}
_LIGHT = {
    "ink": "#1b1b1b",
    "ash": "#5c5c5c",
    "paper": "#ffffff",
    "line": "#bdbdbd",
    "field": "#f4f4f4",
    "crust": "#a84a00",
    "flour": "#8a5f00",
    "water": "#00609a",
    "herb": "#00735a",
    "berry": "#9c3f74",
}
_DARK = {
    "crust": "#ff9248",
    "flour": "#f2b632",
    "water": "#6bbcf0",
    "herb": "#3fc9a0",
    "berry": "#e9a3c9",
}

_CALM_AXIS = {
    "gridColor": "#8c8c8c",
    "gridOpacity": 0.25,
    "labelFontSize": FONT_SIZES["body"],
    "titleFontSize": FONT_SIZES["body"],
    "titleFontWeight": "normal",
    "labelLimit": 260,
    "labelSeparation": 8,
}


def panel_css(scope: str = ".bakelab") -> str:
    """Style of everything inside `scope`, for a `<style>` element.

    Ink, paper, lines and fields follow JupyterLab's own variables, with a
    fallback outside the Lab; the accents are darker on its light theme and
    lighter on its dark one, so that text in them keeps a contrast of 4.5.
    """
    plain = "".join(f"--bakelab-{n}:{_followed(n)};" for n in _LIGHT)
    dark = "".join(f"--bakelab-{n}:{colour};" for n, colour in _DARK.items())
    sizes = "".join(f"--bakelab-{n}-size:{px}px;" for n, px in FONT_SIZES.items())
    return (
        f"{scope}{{{plain}{sizes}color:var(--bakelab-ink);"
        f"font-family:var(--jp-ui-font-family,{SANS});"
        "font-size:var(--bakelab-body-size);line-height:1.45}\n"
        f'[data-jp-theme-light="false"] {scope}{{{dark}}}\n'
        f"{_RULES.replace('@', scope)}"
    )


def altair_config(*, ink: str = "currentColor") -> dict[str, Any]:
    """Arguments of `Chart.configure`: calm axes, our hues, no background.

    Parameters
    ----------
    ink : str
        Colour of text and axes. The default follows the page around an SVG
        chart, in a light and in a dark theme; give `"#000000"` for paper or
        for a picture in pixels.
    """
    text = {"labelColor": ink, "titleColor": ink}
    return {
        "background": "transparent",
        "font": SANS,
        "view": {"stroke": None},
        "axis": {**text, "domainColor": ink, "tickColor": ink, **_CALM_AXIS},
        "legend": {**text, "labelFontSize": FONT_SIZES["body"], "orient": "top"},
        "title": {
            "color": ink,
            "subtitleColor": ink,
            "fontSize": FONT_SIZES["heading"],
            "anchor": "start",
        },
        "text": {"color": ink, "fontSize": FONT_SIZES["body"]},
        "rule": {"color": ink},
        "tick": {"color": ink},
        "range": {"category": [PALETTE[name] for name in SERIES]},
    }


def _followed(name: str) -> str:
    theirs = _FOLLOWED.get(name)
    return f"var({theirs},{_LIGHT[name]})" if theirs else _LIGHT[name]


_RULES = """\
@ h2{font-size:var(--bakelab-heading-size);font-weight:600;margin:0 0 .4em}
@ .bakelab-number{font-size:var(--bakelab-number-size);font-weight:600;\
font-variant-numeric:tabular-nums;line-height:1.1}
@ .bakelab-caption{color:var(--bakelab-ash);font-size:var(--bakelab-small-size)}
@ table{border-collapse:collapse;font-variant-numeric:tabular-nums}
@ th,@ td{padding:3px 10px 3px 0;text-align:left;\
border-bottom:1px solid var(--bakelab-line)}
@ th{font-weight:600;color:var(--bakelab-ash)}
@ .bakelab-right{text-align:right}
@ .bakelab-error{border-left:4px solid var(--bakelab-crust);padding:4px 10px;\
background:var(--bakelab-field)}
@ .bakelab-note{border-left:4px solid var(--bakelab-water);padding:4px 10px;\
background:var(--bakelab-field)}
@ :focus-visible{outline:2px solid var(--bakelab-water);outline-offset:2px}
"""
