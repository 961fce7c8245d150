"""From the amounts of a line to grams, with the band they leave open."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from bakelab.kitchen import grams_per
from bakelab.reading.amounts import Amount
from bakelab.units import CUPS_ML, kitchen_units

__all__ = [
    "DIPPED",
    "MARKETS",
    "Market",
    "Weighed",
    "disagreement",
    "stated_grams",
    "unit_ml",
    "weigh",
]

_US_CUP = CUPS_ML["us"]
#: How much heavier than the table's band a cup of flour may be that is printed with
#: its weight: 99 to 160 g for a US cup of white flour (R. L. Wolke, Washington Post,
#: 1 February 2006), 137 g in the table. Other flours are dipped as well (our own).
DIPPED = 160 / 137


@dataclass(frozen=True)
class Market:
    """What household measures mean where a recipe comes from, in mL."""

    name: str
    cup_ml: float
    tbsp_ml: float
    tsp_ml: float
    pint_ml: float
    fl_oz_ml: float
    egg_size: str


# Imperial pint and fluid ounce from the imperial gallon of 4.54609 L (UCUM);
# metric cups and spoons and the usual egg of a market: common practice, no source.
MARKETS: Mapping[str, Market] = MappingProxyType(
    {
        "us": Market(
            "US customary", _US_CUP, 14.78676478125, 4.92892159375,
            473.176473, 29.5735295625, "large",
        ),
        "uk": Market("imperial", 250.0, 15.0, 5.0, 568.26125, 28.4130625, "large"),
        "metric": Market("metric", 250.0, 15.0, 5.0, 568.26125, 28.4130625, "large"),
        "australia": Market(
            "Australian", 250.0, 20.0, 5.0, 568.26125, 28.4130625, "large"
        ),
        "japan": Market(
            "Japanese", 200.0, 15.0, 5.0, 473.176473, 29.5735295625, "large"
        ),
        "label": Market("US label", 240.0, 15.0, 5.0, 473.176473, 30.0, "large"),
    }
)  # fmt: skip


@dataclass(frozen=True)
class Weighed:
    """Grams of an amount: low, middle and high, their basis, what was assumed."""

    low_g: float
    mid_g: float
    high_g: float
    basis: str
    assumed: str = ""


def stated_grams(amounts: Sequence[Amount]) -> float | None:
    """The mass that the line itself states, metric before pounds, in g."""
    masses = [a for a in amounts if a.is_mass]
    if not masses:
        return None
    metric = [a for a in masses if a.unit in ("g", "kg", "mg", "dag", "pfund")]
    low, high = _grams((metric or masses)[0])
    return (low + high) / 2


def weigh(
    amount: Amount, key: str | None, market: Market, *, each: Amount | None = None
) -> Weighed | None:
    """Grams of one amount of an ingredient; None where nothing is known of it.

    Parameters
    ----------
    amount : Amount
        Mass, volume, parts or a count.
    key : str or None
        The ingredient, None if it is unknown.
    market : Market
        What a cup or spoon means.
    each : Amount, optional
        What every piece weighs, as in ``2 (7 g) packets``.
    """
    if each is not None:
        one = weigh(each, key, market)
        return None if one is None else _times(one, amount)
    if amount.is_mass:
        low, high = _grams(amount)
        return Weighed(low, (low + high) / 2, high, "stated")
    if key is None:
        return None
    if amount.kind == "volume":
        return _volume(amount, key, market)
    return _pieces(amount, key, market)


def disagreement(stated_g: float, other: Weighed, *, digits: float) -> str:
    """A sentence where two statements of one amount differ beyond the band.

    `digits` is the share by which the printed figures may be rounded.
    """
    low, high = other.low_g * (1 - digits), other.high_g * (1 + digits)
    if low <= stated_g <= high:
        return ""
    return (
        f"two amounts disagree: {stated_g:.4g} g is stated, "
        f"the other amount is usually {_band(other.low_g, other.high_g)}"
    )


def _grams(amount: Amount) -> tuple[float, float]:
    size = kitchen_units()[amount.unit or "g"].size
    return float(amount.low) * size, float(amount.high) * size


def _times(one: Weighed, amount: Amount) -> Weighed:
    low, high = float(amount.low), float(amount.high)
    return Weighed(
        one.low_g * low, one.mid_g * (low + high) / 2, one.high_g * high,
        one.basis, one.assumed,
    )  # fmt: skip


def _volume(amount: Amount, key: str, market: Market) -> Weighed | None:
    millilitres = unit_ml(amount.unit or "ml", market)
    spoon = grams_per(key, amount.unit) if amount.unit in ("tsp", "tbsp") else None
    if spoon is not None:
        factor = millilitres / kitchen_units()[amount.unit or ""].size
        weight, per = spoon, amount.unit
    else:
        cup = grams_per(key, "cup")
        if cup is None:
            return None
        factor, weight, per = millilitres / _US_CUP, cup, "US cup"
    text = _density_text(weight.mid_g, per or "", weight.source, own=weight.own)
    one = Weighed(
        weight.low_g * factor, weight.mid_g * factor, weight.high_g * factor,
        "density", text,
    )  # fmt: skip
    return _times(one, amount)


def _density_text(grams: float, per: str, source: str, *, own: bool) -> str:
    whose = "your own weight" if own else source
    return f"{grams:.4g} g per {per} ({whose})"


def unit_ml(unit: str, market: Market) -> float:
    """Millilitres of one volume unit in a market."""
    own = {
        "cup": market.cup_ml,
        "tbsp": market.tbsp_ml,
        "spoon": market.tbsp_ml,
        "tsp": market.tsp_ml,
        "pint": market.pint_ml,
        "quart": 2 * market.pint_ml,
        "gallon": 8 * market.pint_ml,
        "gill": market.pint_ml / 4,
        "fl oz": market.fl_oz_ml,
    }
    return own.get(unit, kitchen_units()[unit].size)


def _pieces(amount: Amount, key: str, market: Market) -> Weighed | None:
    size = _SIZES.get(amount.size or "", "")
    default = market.egg_size if key.startswith("egg") else "piece"
    wanted = [amount.unit]
    if amount.unit in (None, "piece"):
        wanted = [size, default, "piece"]
    elif amount.unit == "cake" and market.name != MARKETS["us"].name:
        wanted = ["cube", "cake"]  # the European cube of yeast weighs 42 g
    for measure in wanted:
        weight = grams_per(key, measure) if measure else None
        if weight is not None:
            text = f"{weight.mid_g:.4g} g per {measure} ({weight.source})"
            one = Weighed(weight.low_g, weight.mid_g, weight.high_g, "count", text)
            return _times(one, amount)
    return None


def _band(low_g: float, high_g: float) -> str:
    if math.isclose(low_g, high_g, rel_tol=0.02):
        return f"{(low_g + high_g) / 2:.3g} g"
    return f"{low_g:.3g}-{high_g:.3g} g"


_SIZES = {
    word: size
    for size, words in {
        "small": "small klein kleine kleiner kleines kleinen petit petite petits "
        "petites pequeño piccolo",
        "medium": "medium medium-sized mittel mittelgroß mittelgroße mittelgroßer "
        "mittelgroßes mittlere mittlerer moyen moyenne moyens moyennes mediano medio",
        "large": "large big large-sized groß große großer großes großen gros grand "
        "grande grands grandes grandi",
        "extra large": "xl x-large extra-large",
        "jumbo": "jumbo",
    }.items()
    for word in words.split(" ")
} | {"extra large": "extra large", "medium size": "medium"}
