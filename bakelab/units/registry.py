"""The one pint registry, and the door at which units are settled."""

import math
from typing import TYPE_CHECKING, Any, TypeAlias

import pint

from bakelab.errors import UnitError

__all__ = ["Q_", "Quantity", "in_unit", "ureg"]

ureg: "pint.UnitRegistry[Any]" = pint.UnitRegistry(
    autoconvert_offset_to_baseunit=True, cache_folder=":auto:"
)
Q_ = ureg.Quantity

if TYPE_CHECKING:
    Quantity: TypeAlias = pint.Quantity[Any]
else:
    Quantity = ureg.Quantity
pint.set_application_registry(ureg)  # type: ignore[no-untyped-call]  # of pint


def in_unit(value: Quantity, unit: str, name: str) -> float:
    """The magnitude of `value` in `unit`, for the argument called `name`.

    Parameters
    ----------
    value : Quantity
        A scalar of the dimension of `unit`.
    unit : str
        A pint unit, such as ``"cm"`` or ``"degC"``.
    name : str
        The argument's name, for the message.

    Returns
    -------
    float

    Raises
    ------
    TypeError
        If `value` is a bare number or anything else without a unit.
    UnitError
        If its unit has another dimension, or it is not finite.

    Examples
    --------
    >>> in_unit(Q_(1, "inch"), "cm", "depth")
    2.54
    """
    if not isinstance(value, ureg.Quantity):
        raise TypeError(
            f"{name} needs a unit, got {value!r}; "
            f"write it as Q_({value!r}, {unit!r}), with the unit you mean"
        )
    try:
        magnitude = float(value.to(unit).magnitude)
    except pint.DimensionalityError:
        raise UnitError(
            f"{name} is {value:~P}, expected a unit that converts to {unit}"
        ) from None
    if not math.isfinite(magnitude):
        raise UnitError(f"{name} is {value:~P}, expected a finite amount")
    return magnitude
