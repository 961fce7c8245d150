"""The baker's multiplication rule, and the friction of a mixer as it counts there."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bakelab.errors import FitError
from bakelab.units import Q_, Quantity, in_unit

__all__ = [
    "FACTORS",
    "Friction",
    "Mix",
    "friction_of",
    "learn_friction",
    "multiple_of",
    "rule_c",
    "water_by_rule",
]

FACTORS = ("flour", "room", "friction", "preferment", "soaker")
"""Factors that may be known; water is the one that is asked for."""


@dataclass(frozen=True)
class Mix:
    """One mix of one's own, for learning the friction of a mixer; degC."""

    flour_c: float
    room_c: float
    water_c: float
    dough_c: float
    preferment_c: float | None = None
    minutes: float | None = None


@dataclass(frozen=True)
class Friction:
    """Friction of a mixer: the middle of own mixes, and how they scatter, K."""

    factor_k: float
    low_k: float
    high_k: float
    mixes: int


def water_by_rule(dough: Quantity, factors: Mapping[str, Quantity]) -> Quantity:
    """Water by the baker's multiplication rule.

    Parameters
    ----------
    dough : Quantity
        Wanted temperature of the dough.
    factors : mapping of str to Quantity
        The known ones of `FACTORS`: temperatures, and "friction" as a rise
        in temperature (``delta_degC`` or ``delta_degF``).

    Returns
    -------
    Quantity, in degC

    References
    ----------
    Wihlfahrt, *A Treatise on Baking*, "The Temperature of the Bread Dough":
    three times the wanted temperature less shop and flour.

    Examples
    --------
    >>> water = water_by_rule(
    ...     Q_(78, "degF"), {"room": Q_(85, "degF"), "flour": Q_(67, "degF")}
    ... )
    >>> print(f"{water.to('degF'):.0f~P}")
    82 °F
    """
    known = _floats(factors)
    return Q_(rule_c(in_unit(dough, "degC", "dough"), known), "degC")


def friction_of(mix: Mix) -> float:
    """The friction factor of one mix by the rule, K.

    Factors times the dough's temperature less all factors but friction.
    """
    known = [mix.flour_c, mix.room_c, mix.water_c]
    if mix.preferment_c is not None:
        known.append(mix.preferment_c)
    return len(known) * mix.dough_c - sum(known)


def learn_friction(mixes: Iterable[Mix], *, minutes: float | None = None) -> Friction:
    """Friction of a mixer from own mixes: their median, and the range.

    Parameters
    ----------
    mixes : iterable of Mix
        Mixes on one mixer at one speed, of about one size.
    minutes : float, optional
        Length of the next mix: mixes of a known length are scaled to it.

    Raises
    ------
    FitError
        If there is no mix, or one made its dough colder by far.

    Examples
    --------
    >>> own = [Mix(22, 24, 18, 26), Mix(21, 23, 20, 26)]
    >>> learn_friction(own).factor_k
    14.0
    """
    found = []
    for mix in mixes:
        factor = friction_of(mix)
        if minutes is not None and mix.minutes:
            factor *= minutes / mix.minutes
        found.append(factor)
    if not found:
        raise FitError("friction is learned from own mixes; give at least one")
    if min(found) < -15.0:
        raise FitError(
            f"a mix has a friction of {min(found):.0f} K, as if mixing cooled it; "
            "check its temperatures"
        )
    return Friction(statistics.median(found), min(found), max(found), len(found))


def rule_c(dough_c: float, factors: Mapping[str, float]) -> float:
    return multiple_of(factors) * dough_c - sum(factors.values())


def multiple_of(factors: Mapping[str, float]) -> int:
    """How often the wanted temperature counts: water and every known temperature.

    Friction adds none: as a factor it already is the excess over the others.
    """
    return 1 + sum(name != "friction" for name in factors)


def _floats(factors: Mapping[str, Quantity]) -> dict[str, float]:
    unknown = set(factors) - set(FACTORS)
    if unknown or not 2 <= len(factors) <= len(FACTORS):
        raise FitError(
            f"the rule takes two to five of {', '.join(FACTORS)}; got "
            f"{', '.join(factors) or 'none'}"
        )
    return {
        name: in_unit(value, "delta_degC" if name == "friction" else "degC", name)
        for name, value in factors.items()
    }
