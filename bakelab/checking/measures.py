"""Cups and spoons that exist: the nearest to a volume, in words."""

from fractions import Fraction

from bakelab.reading.weights import Market
from bakelab.units import kitchen_units

__all__ = ["in_kitchen_words", "measure_text"]

_TEASPOON_ML = 4.92892159375  # US teaspoon, UCUM
_CUP_PARTS = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3),
              Fraction(3, 4))  # fmt: skip
_TSP_PARTS = (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))
_SIGNS = {Fraction(1, 8): "⅛", Fraction(1, 4): "¼", Fraction(1, 3): "⅓",
          Fraction(1, 2): "½", Fraction(2, 3): "⅔", Fraction(3, 4): "¾"}  # fmt: skip


def measure_text(teaspoons: float, market: Market, *, cups: bool = True) -> str:
    """The nearest cups and spoons that exist, for a volume in US teaspoons.

    Cups go by quarters and thirds, tablespoons by whole ones, teaspoons by
    ⅛, ¼, ½ and ¾. What no measure shows within a tenth is left out.

    Examples
    --------
    >>> from bakelab.reading import MARKETS
    >>> measure_text(72, MARKETS["us"])
    '1½ cups'
    >>> measure_text(5, MARKETS["us"])
    '1 tbsp + 2 tsp'
    """
    ml = teaspoons * _TEASPOON_ML
    tsp = ml / market.tsp_ml
    best = ""
    if cups and ml / market.cup_ml >= 0.24:
        best = _in_cups(ml, market)
    elif tsp >= 2.9 and (cups or ml <= 6 * market.tbsp_ml):
        best = _in_spoons(ml, market)
    elif tsp < 2.9:
        best = _in_teaspoons(tsp)
    return best


def in_kitchen_words(size: float, unit: str, market: Market) -> str:
    """An amount of `size` g or mL in a unit: cups and spoons by those that exist.

    Examples
    --------
    >>> from bakelab.reading import MARKETS
    >>> in_kitchen_words(355, "cup", MARKETS["us"])
    '1½ cups'
    >>> in_kitchen_words(355, "ml", MARKETS["us"])
    '355 ml'
    """
    if unit in ("cup", "tbsp", "tsp"):
        words = measure_text(size / _TEASPOON_ML, market, cups=unit == "cup")
        if words:
            return words
    return f"{size / kitchen_units()[unit].size:.3g} {unit}"


def _in_cups(ml: float, market: Market) -> str:
    """Cups, and one more spoon measure where cups alone are 3 % off or more."""
    exact = ml / market.cup_ml
    whole, part = _nearest(exact, (Fraction(0), *_CUP_PARTS, Fraction(1)))
    value = whole + part
    off = exact - float(value)
    if abs(off) <= 0.03 * exact:
        return _counted(value, "cup")
    down = max((Fraction(int(exact)) + p for p in (Fraction(0), *_CUP_PARTS)
                if int(exact) + p <= exact), default=Fraction(0))  # fmt: skip
    spoons = round((exact - float(down)) * market.cup_ml / market.tbsp_ml)
    if down == 0 or not spoons:
        return _counted(value, "cup")
    return f"{_counted(down, 'cup')} + {spoons} tbsp"


def _in_spoons(ml: float, market: Market) -> str:
    tbsp = int(ml / market.tbsp_ml + 0.04)
    rest = (ml - tbsp * market.tbsp_ml) / market.tsp_ml
    if rest <= 0.06 * ml / market.tsp_ml:
        return f"{tbsp} tbsp"
    if abs(rest - market.tbsp_ml / market.tsp_ml) < 0.2:
        return f"{tbsp + 1} tbsp"
    small_parts = _TSP_PARTS if rest < 1 else _TSP_PARTS[1:]
    whole, part = _nearest(rest, (Fraction(0), *small_parts, Fraction(1)))
    small = _counted(whole + part, "tsp") if whole + part else ""
    return " + ".join(text for text in (f"{tbsp} tbsp" if tbsp else "", small) if text)


def _in_teaspoons(tsp: float) -> str:
    whole, part = _nearest(tsp, (Fraction(0), *_TSP_PARTS, Fraction(1)))
    value = whole + part
    if value == 0:
        return "a pinch"
    return _counted(value, "tsp") if abs(float(value) - tsp) <= 0.1 * tsp else ""


def _nearest(exact: float, parts: tuple[Fraction, ...]) -> tuple[Fraction, Fraction]:
    whole = Fraction(int(exact))
    part = min(parts, key=lambda p: abs(float(whole + p) - exact))
    return whole, part


def _counted(value: Fraction, unit: str) -> str:
    whole, part = Fraction(int(value)), value - int(value)
    sign = _SIGNS.get(part, "")
    number = f"{int(whole)}{sign}" if whole else sign
    plural = "s" if unit == "cup" and value > 1 else ""
    return f"{number} {unit}{plural}"
