"""How fast yeast works at a temperature: three views, and the band between them.

None of the three was measured in your dough. Between 20 and 28 °C they lie within
a fifth of each other; in the cold and above 30 °C they drift apart. So every answer
is a band, and the middle of the three is named beside it.
"""

from __future__ import annotations

import statistics
import warnings
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bakelab.errors import FitError, OutOfRangeWarning
from bakelab.formula import Formula, require_formula
from bakelab.units import Q_, Quantity, in_unit

__all__ = [
    "MODELS",
    "REFERENCE_C",
    "EquivalentTime",
    "RateModel",
    "equivalent_time",
    "relative_rate",
    "slowing_remarks",
    "yeast_for",
]

Floats = NDArray[np.float64]
REFERENCE_C = 25.0
COLDEST_C, WARMEST_C = -1.0, 42.0
SURE_C = (10.0, 35.0)
MIN_C, BEST_C, MAX_C = 2.8, 32.3, 45.4
PER_DEGREE = 1.10
Q10 = 2.0
MOST_CHANGE = 4.0
SUGAR_SLOWS_PCT = 5.0
SUGAR_SOURCE = "text on yeast, buffalobrewingstl.com, as seen"


@dataclass(frozen=True)
class RateModel:
    """One view of the rate: its name, the source, and the rate over degC."""

    name: str
    source: str
    rate: Callable[[Floats], Floats]


@dataclass(frozen=True)
class EquivalentTime:
    """A time at another temperature: the middle of the views, and the band, min."""

    minutes: float
    low_minutes: float
    high_minutes: float
    from_minutes: float
    from_c: float
    to_c: float

    @property
    def time(self) -> Quantity:
        """The middle time."""
        return Q_(self.minutes, "minute")

    @property
    def text(self) -> str:
        """In words: ``90 min at 21 °C is about 68 min at 25 °C (61 to 70 min)``."""
        return (
            f"{self.from_minutes:.0f} min at {self.from_c:g} °C is about "
            f"{self.minutes:.0f} min at {self.to_c:g} °C "
            f"({self.low_minutes:.0f} to {self.high_minutes:.0f} min)"
        )


def cardinal_rate(celsius: Floats) -> Floats:
    """Growth by the cardinal temperature model with inflection, 1 at its best.

    References
    ----------
    Rosso, Lobry & Flandrois, J. Theor. Biol. 162 (1993) 447-463 (the equation,
    from memory). Salvado and others, Appl. Environ. Microbiol. 77 (2011)
    2292-2302, abstract: *S. cerevisiae* best 32.3, most 45.4 °C; the least of
    the genus is 1.3 to 4.3 °C, its middle is used.
    """
    t = np.asarray(celsius, dtype=float)
    span = BEST_C - MIN_C
    inner = span * (t - BEST_C) - (BEST_C - MAX_C) * (BEST_C + MIN_C - 2.0 * t)
    rate = (t - MAX_C) * (t - MIN_C) ** 2 / (span * inner)
    return np.where((t > MIN_C) & (t < MAX_C), rate, 0.0)


def per_degree_rate(celsius: Floats) -> Floats:
    """A tenth faster with every degree."""
    return np.asarray(PER_DEGREE ** (np.asarray(celsius, dtype=float) - REFERENCE_C))


def doubling_rate(celsius: Floats) -> Floats:
    """Twice as fast with every ten degrees."""
    return np.asarray(Q10 ** ((np.asarray(celsius, dtype=float) - REFERENCE_C) / 10.0))


MODELS = (
    RateModel(
        "a tenth per degree",
        "trade magazine article 'The Science of Fermentation', bakemag.com, as seen: "
        "1 °C more speeds yeast by about 10 percent",
        per_degree_rate,
    ),
    RateModel(
        "cardinal temperatures",
        "Salvado and others, Appl. Environ. Microbiol. 77 (2011) 2292-2302, abstract; "
        "growth, not gas",
        cardinal_rate,
    ),
    RateModel("double per ten degrees", "common practice, no source", doubling_rate),
)
"""The middle one of the three answers is named, the others make the band."""


def relative_rate(temperature: Quantity) -> dict[str, float]:
    """Rate at a temperature over that at 25 °C, by each of `MODELS`."""
    celsius = _checked(temperature, "temperature")
    return {m.name: float(_ratio(m, celsius, REFERENCE_C)) for m in MODELS}


def equivalent_time(time: Quantity, *, at: Quantity, to: Quantity) -> EquivalentTime:
    """How long a proof takes at another temperature of the dough.

    Parameters
    ----------
    time : Quantity, [time]
        Time at the temperature `at`.
    at, to : Quantity
        Temperatures of the dough, not of the room.

    Raises
    ------
    FitError
        Below -1 or above 42 °C, or where yeast stands still.

    Examples
    --------
    >>> found = equivalent_time(
    ...     Q_(90, "minute"), at=Q_(21, "degC"), to=Q_(25, "degC")
    ... )
    >>> print(found.text)
    90 min at 21 °C is about 68 min at 25 °C (61 to 70 min)
    """
    minutes = in_unit(time, "minute", "time")
    if minutes <= 0:
        raise FitError(f"a proof of {minutes:g} min is no proof; give more than 0 min")
    low, high = _checked(at, "at"), _checked(to, "to")
    times = [minutes * float(_ratio(m, low, high)) for m in MODELS]
    known = [t for t in times if np.isfinite(t) and t > 0]
    if len(known) < len(times):
        raise FitError(
            f"at {min(low, high):g} °C one view of the rate has yeast standing still, "
            "so times there have no equivalent; use chill for dough in a refrigerator"
        )
    middle = statistics.median(known)
    return EquivalentTime(middle, min(known), max(known), minutes, low, high)


def yeast_for(
    yeast_pct: float,
    *,
    time: Quantity,
    at: Quantity,
    new_time: Quantity,
    new_at: Quantity,
) -> tuple[float, float, float]:
    """Yeast, percent of flour, for another time and temperature: middle and band.

    Yeast times time times rate stays the same (common practice, no source);
    good for small changes.

    Raises
    ------
    FitError
        If it would be more than four times or less than a quarter.
    """
    if yeast_pct <= 0:
        raise FitError(f"{yeast_pct:g} % of yeast does not raise a dough; give more")
    same = equivalent_time(time, at=at, to=new_at)
    wanted = in_unit(new_time, "minute", "new_time")
    if wanted <= 0:
        raise FitError(f"a proof of {wanted:g} min is no proof; give more than 0 min")
    factor = same.minutes / wanted
    if not 1 / MOST_CHANGE <= factor <= MOST_CHANGE:
        raise FitError(
            f"that asks for {factor:.2g} times the yeast, and the rule holds from a "
            f"quarter to {MOST_CHANGE:g} times; change the time or the temperature less"
        )
    return (
        yeast_pct * factor,
        yeast_pct * same.low_minutes / wanted,
        yeast_pct * same.high_minutes / wanted,
    )


def slowing_remarks(formula: Formula) -> tuple[str, ...]:
    """What in a formula slows its yeast; no figure where none was seen."""
    require_formula(formula)
    found = []
    sugar = formula.role_pct("sweetener")
    if sugar > SUGAR_SLOWS_PCT:
        found.append(
            f"Sugar, {sugar:.0f} % of flour: from about {SUGAR_SLOWS_PCT:g} % up it "
            f"slows yeast ({SUGAR_SOURCE}); expect longer times than the table's."
        )
    salt = formula.role_pct("salt")
    if salt > 0:
        found.append(
            f"Salt, {salt:.1f} % of flour, slows yeast (common practice, no source); "
            "times compare only at the same salt."
        )
    return tuple(found)


def _ratio(model: RateModel, celsius: float, reference: float) -> Floats:
    top = model.rate(np.asarray(celsius))
    bottom = model.rate(np.asarray(reference))
    return np.asarray(np.divide(top, bottom) if bottom > 0 else np.nan)


def _checked(temperature: Quantity, name: str) -> float:
    celsius = in_unit(temperature, "degC", name)
    if not COLDEST_C <= celsius <= WARMEST_C:
        raise FitError(
            f"the temperature {name!r} is {celsius:.0f} °C; yeast works between "
            f"{COLDEST_C:g} and {WARMEST_C:g} °C here, so give a temperature in between"
        )
    if not SURE_C[0] <= celsius <= SURE_C[1]:
        warnings.warn(
            f"at {celsius:.0f} °C the views of the rate drift apart; read the band, "
            "not the middle",
            OutOfRangeWarning,
            stacklevel=3,
        )
    return celsius
