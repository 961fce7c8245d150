"""What one kitchen measure of an ingredient weighs, own weights first."""

import json
import math
import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType

from bakelab.errors import BakelabError, UnitError
from bakelab.ingredients import Ingredient, ingredient, ingredients, is_ingredient
from bakelab.units import CUPS_ML, Quantity, in_unit, kitchen_units, quantity

__all__ = [
    "Weight",
    "forget_my_weight",
    "grams_per",
    "my_weights",
    "my_weights_path",
    "set_my_weight",
]

_SIZES = ("piece", "small", "medium", "large", "extra large", "jumbo", "sheet")
_ADVICE = "correct it, or move it away to start afresh; nothing was changed"


@dataclass(frozen=True)
class Weight:
    """Grams of one measure: lowest, middle and highest usual, and who says so.

    `own` is true for a weight that the user gave; it has no spread.
    """

    low_g: float
    mid_g: float
    high_g: float
    source: str
    own: bool = False


def grams_per(key: str, measure: str) -> Weight | None:
    """What one measure of an ingredient weighs, or None if nobody has said.

    Parameters
    ----------
    key : str
        An ingredient's key, such as `wheat_bread`.
    measure : str
        A unit's key of `data/kitchen_units.csv` (``cup``, ``tsp``, ``packet``,
        ``slice``), or a size (``large``, ``piece``).

    Returns
    -------
    Weight or None
        Own weights come first: the own weight of this very measure, then,
        for a volume, the own weight of the volume nearest in size. Then the
        table: the portion printed for this measure, else its volume by the
        weight of a cup.

    Examples
    --------
    >>> grams_per("water", "cup").mid_g
    237.0
    """
    if not is_ingredient(key):
        return None
    own = my_weights()
    found = _own(own, key, measure) if own else None
    return found or _from_table(key, measure)


def my_weights() -> Mapping[tuple[str, str], float]:
    """The user's own weights in g, by ingredient key and measure.

    Raises
    ------
    BakelabError
        If the file that keeps them cannot be read; the file is left alone.
    """
    path = my_weights_path()
    try:
        status = path.stat()
    except FileNotFoundError:
        return MappingProxyType({})
    return _read(path, status.st_mtime_ns, status.st_size)


def set_my_weight(key: str, measure: str, grams: float | str | Quantity) -> None:
    """Keep for good what one measure of an ingredient weighs in this kitchen.

    Parameters
    ----------
    key, measure : str
        As for `grams_per`.
    grams : float, str or Quantity, [mass]
        A bare number is grams; text needs its unit, such as ``"4.5 oz"``.

    Raises
    ------
    UnknownIngredientError, UnitError
        If the ingredient or the measure is unknown, or the weight is not
        above 0 g.
    """
    ingredient(key)
    _check_measure(measure)
    mass_g = _mass_g(grams)
    if not 0 < mass_g < math.inf:
        raise UnitError(f"one {measure} of {key} weighs {mass_g} g; give it above 0 g")
    _write({**my_weights(), (key, measure): float(mass_g)})


def forget_my_weight(key: str, measure: str) -> bool:
    """Drop an own weight; False if there was none."""
    weights = dict(my_weights())
    if weights.pop((key, measure), None) is None:
        return False
    _write(weights)
    return True


def my_weights_path() -> Path:
    """The file of own weights: `BAKELAB_KITCHEN`, else in the user's settings."""
    chosen = os.environ.get("BAKELAB_KITCHEN")
    return Path(chosen).expanduser() if chosen else _usual_path()


@cache
def _usual_path() -> Path:
    from platformdirs import user_config_dir

    return Path(user_config_dir("bakelab", appauthor=False)) / "kitchen.json"


def _mass_g(grams: float | str | Quantity) -> float:
    if isinstance(grams, int | float):
        return float(grams)
    mass = quantity(grams) if isinstance(grams, str) else grams
    return in_unit(mass, "g", "grams")


def _own(own: Mapping[tuple[str, str], float], key: str, measure: str) -> Weight | None:
    if (key, measure) in own:
        return _own_weight(own[key, measure], f"your own weight of one {measure}")
    size_ml = _volume_ml(measure)
    volumes = [m for k, m in own if k == key and _volume_ml(m)]
    if not size_ml or not volumes:
        return None
    nearest = min(volumes, key=lambda m: abs(math.log(_volume_ml(m) / size_ml)))
    mass_g = own[key, nearest] * size_ml / _volume_ml(nearest)
    return _own_weight(mass_g, f"from your own weight of one {nearest}")


def _own_weight(mass_g: float, source: str) -> Weight:
    return Weight(mass_g, mass_g, mass_g, source, own=True)


@lru_cache(maxsize=4096)
def _from_table(key: str, measure: str) -> Weight | None:
    item = ingredient(key)
    if measure in item.portions:
        mass_g = item.portions[measure]
        return Weight(mass_g, mass_g, mass_g, item.source)
    unit = kitchen_units().get(measure)
    if unit is not None and unit.kind == "mass":
        return Weight(unit.size, unit.size, unit.size, "a weight by itself")
    size_ml = _volume_ml(measure)
    return _by_volume(item, size_ml) if size_ml else None


def _by_volume(item: Ingredient, size_ml: float) -> Weight | None:
    if math.isnan(item.cup_mid_g):
        return _by_portion(item, size_ml)
    share = size_ml / CUPS_ML["us"]
    low, mid, high = item.cup_low_g, item.cup_mid_g, item.cup_high_g
    low, high = (mid if math.isnan(g) else g for g in (low, high))
    return Weight(low * share, mid * share, high * share, item.source)


def _by_portion(item: Ingredient, size_ml: float) -> Weight | None:
    volumes = [m for m in item.portions if _volume_ml(m)]
    if not volumes:
        return None
    nearest = min(volumes, key=lambda m: abs(math.log(_volume_ml(m) / size_ml)))
    mass_g = item.portions[nearest] * size_ml / _volume_ml(nearest)
    return Weight(mass_g, mass_g, mass_g, f"from one {nearest}: {item.source}")


def _volume_ml(measure: str) -> float:
    unit = kitchen_units().get(measure)
    return unit.size if unit is not None and unit.kind == "volume" else 0.0


def _check_measure(measure: str) -> None:
    known = {k for k, u in kitchen_units().items() if u.kind in ("volume", "part")}
    known |= {*_SIZES, *_portion_measures()}
    if measure not in known:
        raise UnitError(
            f"no kitchen measure {measure!r}; use one of {', '.join(sorted(known))}"
        )


@cache
def _portion_measures() -> frozenset[str]:
    return frozenset(m for k in ingredients().index for m in ingredient(k).portions)


@lru_cache(maxsize=8)
def _read(path: Path, _changed: int, _size: int) -> Mapping[tuple[str, str], float]:
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))["weights"]
        weights = {(r["ingredient"], r["measure"]): _grams(r["grams"]) for r in rows}
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise BakelabError(
            f"your own weights in {path} cannot be read ({error}); {_ADVICE}"
        ) from error
    return MappingProxyType(weights)


def _grams(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"grams is {value!r}, expected a number")
    if not 0 < value < math.inf:
        raise ValueError(f"grams is {value}, expected more than 0")
    return float(value)


def _write(weights: Mapping[tuple[str, str], float]) -> None:
    path = my_weights_path()
    rows = [
        {"ingredient": key, "measure": measure, "grams": grams}
        for (key, measure), grams in sorted(weights.items())
    ]
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps({"weights": rows}, indent=1, ensure_ascii=False) + "\n"
    with tempfile.NamedTemporaryFile(
        "w", encoding="utf-8", dir=path.parent, prefix=path.name, delete=False
    ) as new:
        new.write(text)
    Path(new.name).replace(path)
