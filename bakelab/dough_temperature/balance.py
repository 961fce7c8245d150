"""Water and ice by the heat of everything that goes into the bowl."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from bakelab.dough_temperature.rule import multiple_of
from bakelab.dough_temperature.rule import rule_c as rule_of
from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.units import Q_, Quantity, in_unit

__all__ = ["HEAT_DRY", "HEAT_WATER", "MELTING_J_KG", "WaterPlan", "plan_water"]

YEAST_BEARS_C = 43.0
"""Water above this harms yeast that meets it; our own limit.

Exploratorium (as seen): yeast dies at 130 to 140 °F (54 to 60 °C); dry yeast
is often soaked at 40 to 43 °C by common practice, no source.
"""
COLDEST_WATER_C = 1.0
MELTING_J_KG = 333_550.0  # latent heat of ice at 0 °C, 333.55 kJ/kg; from memory
HEAT_WATER = 4190.0  # J/(kg K), IAPWS near 15 °C, rounded
HEAT_DRY = 1600.0  # J/(kg K), flour solids at 20 to 30 °C by Choi and Okos
FLOUR_WATER = 0.13  # of flour, where the table has none
FREEZING_C = 0.0
WARMEST_C = 45.0
MOST_ICE = 0.5  # of the water; our own limit
LARGE_BATCH_KG = 20.0
ROOM_SHARE = 0.05
"""Heat that bowl and room exchange in a small mix, over that of the dough.

Our own assumption; it falls with the cube root of the mass, because surface
over mass does.
"""
SMALL_BATCH_KG = 1.0


@dataclass(frozen=True)
class WaterPlan:
    """Water for a dough temperature, by balance and by rule.

    Attributes
    ----------
    water_c, rule_c : float
        Water by the energy balance and by the multiplication rule, degC.
    ice_g, tap_g : float
        Ice and tap water that together give it; no ice if the tap is
        cool enough.
    tap_c : float or None
        The tap's temperature, if told.
    """

    dough_c: float
    water_c: float
    rule_c: float
    factors: Mapping[str, float]
    ice_g: float
    tap_g: float
    tap_c: float | None
    remarks: tuple[str, ...]
    explanation: str

    @property
    def water(self) -> Quantity:
        """Water by the energy balance."""
        return Q_(self.water_c, "degC")

    @property
    def rule(self) -> Quantity:
        """Water by the multiplication rule."""
        return Q_(self.rule_c, "degC")

    @property
    def working(self) -> str:
        """The rule written out, such as ``3 x 25 - 22 - 24 = 29 (°C)``."""
        taken = " - ".join(f"{v:g} ({name})" for name, v in self.factors.items())
        multiple = multiple_of(self.factors)
        return f"{multiple} x {self.dough_c:g} - {taken} = {self.rule_c:g} °C"

    @property
    def text(self) -> str:
        """The answer in a sentence."""
        if self.ice_g > 0:
            return (
                f"{self.tap_g:.0f} g of tap water at {self.tap_c:.0f} °C and "
                f"{self.ice_g:.0f} g of ice for a dough at {self.dough_c:.0f} °C."
            )
        return (
            f"Water at {self.water_c:.0f} °C for a dough at {self.dough_c:.0f} °C "
            f"(the multiplication rule says {self.rule_c:.0f} °C)."
        )

    def _repr_html_(self) -> str:
        listed = "".join(f"<li>{escape(r)}</li>" for r in self.remarks)
        return (
            f"<p><strong>{escape(self.text)}</strong></p>"
            f"<p>{escape(self.explanation)}</p><ul>{listed}</ul>"
        )


def plan_water(
    formula: Formula,
    dough: Quantity,
    *,
    flour: Quantity,
    room: Quantity,
    friction: Quantity | None = None,
    tap: Quantity | None = None,
    preferment: tuple[Quantity, Quantity] | None = None,
    soaker: tuple[Quantity, Quantity] | None = None,
) -> WaterPlan:
    """Water, and ice if need be, so that a formula's dough comes out right.

    Parameters
    ----------
    formula : Formula
        The final mix. Its plain water is what is warmed or cooled; dry
        ingredients count as warm as the flour, the rest as the room.
    dough : Quantity
        Wanted temperature.
    friction : Quantity, optional
        Rise that mixing gives *the rule's factor*, from `learn_friction`;
        none by default (mixing by hand).
    tap : Quantity, optional
        The coldest water there is; ice is planned where that is too warm.
    preferment, soaker : (mass, temperature), optional
        What goes into the mix at a temperature of its own. Its mass is part
        of the formula's dough; half of it counts as water.

    Returns
    -------
    WaterPlan

    Raises
    ------
    FitError
        If no water gives that dough: past what yeast bears, or more ice
        than there is water; says what to change.
    """
    dough_c = _mild(dough, "dough")
    factors = {"flour": _mild(flour, "flour"), "room": _mild(room, "room")}
    if friction is not None:
        factors["friction"] = in_unit(friction, "delta_degC", "friction")
    extras = _extras(factors, preferment=preferment, soaker=soaker)
    parts = _parts(formula, factors, extras)
    water_kg = _water_kg(formula, extras)
    total = sum(heat for heat, _ in parts) + water_kg * HEAT_WATER
    held = sum(heat * celsius for heat, celsius in parts)
    exchanged = _room_heat(total, formula.dough_g / 1e3) * (dough_c - factors["room"])
    mixed_c = dough_c - factors.get("friction", 0.0) / multiple_of(factors)
    water_c = (total * mixed_c + exchanged - held) / (water_kg * HEAT_WATER)
    rule_c = rule_of(dough_c, factors)
    ice_kg, tap_c = _ice(water_kg, water_c, tap, dough_c)
    return WaterPlan(
        dough_c,
        water_c,
        rule_c,
        factors,
        1e3 * ice_kg,
        1e3 * (water_kg - ice_kg),
        tap_c,
        _remarks(formula, water_c),
        _explain(water_c, rule_c, formula, total, water_kg),
    )


def _extras(
    factors: dict[str, float], **given: tuple[Quantity, Quantity] | None
) -> dict[str, float]:
    """Kilograms of what has a temperature of its own; that joins the factors."""
    extras = {}
    for name, extra in given.items():
        if extra is not None:
            factors[name] = _mild(extra[1], name)
            extras[name] = in_unit(extra[0], "kg", name)
    return extras


def _mild(value: Quantity, name: str) -> float:
    celsius = in_unit(value, "degC", name)
    if not FREEZING_C - 30.0 <= celsius <= WARMEST_C:
        raise FitError(
            f"{name} at {celsius:.0f} °C is not computed; give -30 to {WARMEST_C:g} °C"
        )
    return celsius


def _water_kg(formula: Formula, extras: Mapping[str, float]) -> float:
    water = formula.plain_water_g / 1e3 - 0.5 * _from_dough(formula, extras)
    if water <= 0:
        raise FitError(
            "no plain water is left to warm or cool in the final mix; a dough without "
            "it is set by its flour, milk and room"
        )
    return water


def _from_dough(formula: Formula, extras: Mapping[str, float]) -> float:
    """Kilograms of preferment and soaker that stand as flour and water in the rows.

    A starter with a row of its own has its water there.
    """
    return max(sum(extras.values()) - formula.role_g("starter") / 1e3, 0.0)


def _parts(
    formula: Formula, factors: Mapping[str, float], extras: Mapping[str, float]
) -> list[tuple[float, float]]:
    """Heat capacity, J/K, and temperature of all but the plain water."""
    inside = sum(extras.values())
    parts = [
        (mass * (0.5 * HEAT_WATER + 0.5 * HEAT_DRY), factors[name])
        for name, mass in extras.items()
    ]
    flour_kg = max(formula.role_g("flour") / 1e3 - 0.5 * inside, 0.0)
    heat = flour_kg * (FLOUR_WATER * HEAT_WATER + (1 - FLOUR_WATER) * HEAT_DRY)
    parts.append((heat, factors["flour"]))
    own = 0.5 * (inside - _from_dough(formula, extras))
    rest = (formula.dough_g - formula.role_g("flour") - formula.plain_water_g) / 1e3
    rest = max(rest - own, 0.0)
    water = max((formula.water_g - formula.plain_water_g) / 1e3 - own, 0.0)
    heat = water * HEAT_WATER + max(rest - water, 0.0) * HEAT_DRY
    parts.append((heat, factors["room"]))
    return parts


def _room_heat(total: float, dough_kg: float) -> float:
    """Heat capacity that stands for bowl and room, J/K."""
    share = ROOM_SHARE * math.cbrt(SMALL_BATCH_KG / max(dough_kg, 1e-3))
    return share * total


def _ice(
    water_kg: float, water_c: float, tap: Quantity | None, dough_c: float
) -> tuple[float, float | None]:
    """Ice for the water, kg, and the tap's temperature; refuses the impossible."""
    _refuse_hot(water_c, dough_c)
    if tap is None:
        if water_c < COLDEST_WATER_C:
            raise FitError(
                f"the water would have to be at {water_c:.0f} °C; give the "
                "tap's temperature to plan ice, or cool the flour"
            )
        return 0.0, None
    tap_c = _mild(tap, "tap")
    if tap_c <= 0:
        raise FitError(f"tap water at {tap_c:g} °C is ice; give more than 0 °C")
    if water_c >= tap_c:
        return 0.0, tap_c
    per_kg = MELTING_J_KG + HEAT_WATER * tap_c
    ice = water_kg * HEAT_WATER * (tap_c - water_c) / per_kg
    if ice > MOST_ICE * water_kg:
        raise FitError(
            f"{1e3 * ice:.0f} g of the {1e3 * water_kg:.0f} g of water would have to "
            "be ice, and more than half does not melt while mixing; cool the flour, "
            "mix less, or accept a warmer dough"
        )
    return ice, tap_c


def _refuse_hot(water_c: float, dough_c: float) -> None:
    if water_c > YEAST_BEARS_C:
        raise FitError(
            f"the water would have to be at {water_c:.0f} °C, and yeast bears about "
            f"{YEAST_BEARS_C:.0f} °C; warm the flour or the bowl, or accept a cooler "
            f"dough than {dough_c:.0f} °C"
        )


def _remarks(formula: Formula, water_c: float) -> tuple[str, ...]:
    found = []
    if formula.dough_g / 1e3 >= LARGE_BATCH_KG:
        found.append(
            "Large batch: bowl and room take little of its heat, and it warms on while "
            "it ferments; aim a degree or two lower (common practice, no source)."
        )
    if water_c < 5.0:
        found.append(
            "Very cold water: keep yeast away from ice, it wakes badly below 5 °C "
            "(common practice, no source)."
        )
    return tuple(found)


def _explain(
    water_c: float, rule_c: float, formula: Formula, total: float, water_kg: float
) -> str:
    share = 100 * water_kg * HEAT_WATER / total
    part = 100 * water_kg * 1e3 / formula.dough_g
    return (
        f"By the balance the water holds {share:.0f} % of the dough's heat, though it "
        f"is {part:.0f} % of its mass; the rule counts flour, room and water alike. So "
        f"the balance asks for {water_c:.1f} °C and the rule for {rule_c:.1f} °C."
    )
