"""Controls of the panel of time and heat, and what is written in its fields."""

from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from bakelab.errors import BakelabError
from bakelab.oven import PAN_SURFACES
from bakelab.panels.controls import choice, field
from bakelab.units import Q_, quantity

__all__ = ["degrees", "heat_controls", "metres", "minutes"]

_METALS = ("dark", "grey", "bright")
_SURFACES = [
    (f"{s} metal" if s in _METALS else s, s)
    for s in sorted(PAN_SURFACES, key=lambda s: s != "grey")  # as the recipe's pan
]


def heat_controls(
    samples: Sequence[tuple[str, str]], pan: str, *, whose: Any
) -> dict[str, Any]:
    """Every control by its name; `whose` tells which oven is meant."""
    return {
        "sample": choice("Sample recipe", [*samples, ("my own text", "")]),
        "text": widgets.Textarea(
            description="Recipe as written", rows=6, continuous_update=False
        ),
        "from_pan": field("The recipe's pan", "as the recipe says"),
        "to_pan": field("My pan", "8 x 4 x 2.5 in loaf", pan),
        "oven": field("Oven setting (°C or °F)", "as the recipe says"),
        "minutes": field("Time in the recipe's pan (min)", "as the recipe says"),
        "start": field("Dough going in (°C)", "30 °C"),
        "core": field("Done at, in the centre (°C)", "usual for the style"),
        "altitude": field("Altitude (m)", "0 m"),
        "surface": choice("My pan is", _SURFACES),
        "whose": whose,
        "go": widgets.Button(description="Work it out", button_style="primary"),
        "moment": _moment(),
    }


def _moment() -> Any:
    return widgets.FloatSlider(
        description="Look at the cut after (min)",
        min=0,
        max=60,
        step=1,
        readout_format=".0f",
    )


def degrees(text: str) -> Any:
    """A temperature; a bare number is in degrees Celsius. None where blank."""
    text = text.strip()
    if not text:
        return None
    bare = text.lstrip("-−").replace(",", ".").replace(".", "", 1).isdigit()
    return quantity(f"{text} °C" if bare else text, dimension="[temperature]")


def minutes(text: str) -> tuple[float, float] | None:
    """`35`, `35-40` or `35 to 40 min` as low and high."""
    if text.strip().startswith(("-", "−")):
        raise BakelabError(
            f"got the time {text!r}; give more than 0 min, such as 35 or 35-40"
        )
    parts = [
        p for p in text.replace("to", "-").replace("–", "-").split("-") if p.strip()
    ]
    if not parts:
        return None
    values = []
    for part in parts[:2]:
        bare = part.strip().replace(",", ".").replace(".", "", 1).isdigit()
        amount = quantity(f"{part} min" if bare else part, dimension="[time]")
        values.append(float(amount.to("minute").magnitude))
    return min(values), max(values)


def metres(text: str) -> Any:
    bare = text.strip().removesuffix("m").strip()
    if not bare:
        return None
    if not bare.lstrip("-").replace(".", "", 1).isdigit():
        raise BakelabError(f"got the altitude {text!r}; give metres, such as 1200")
    return Q_(float(bare), "m")
