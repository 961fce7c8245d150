"""Quantities with units: the one registry, and text read through an allow-list."""

from bakelab.units.amounts import number, quantity
from bakelab.units.kitchen import CUPS_ML, KitchenUnit, kitchen_units, unit_words
from bakelab.units.registry import Q_, Quantity, in_unit, ureg

__all__ = [
    "CUPS_ML",
    "Q_",
    "KitchenUnit",
    "Quantity",
    "in_unit",
    "kitchen_units",
    "number",
    "quantity",
    "unit_words",
    "ureg",
]
