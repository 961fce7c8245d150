"""The oven as a baker sets it, and what that means for a pan in it.

How hard an oven heats is only a starting value: it is solved from what the
recipe says about its own pan, see :mod:`bakelab.oven.calibration`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from bakelab.errors import FitError
from bakelab.oven.surroundings import EMISSIVITY, Side, Surroundings
from bakelab.units import Q_, Quantity, in_unit, quantity

__all__ = ["PAN_SURFACES", "Oven", "oven"]

Floats = NDArray[np.float64]
STILL_AIR, MOVED_AIR = 8.0, 20.0  # W/(m2 K), convection; from memory, rounded
STONE_CONTACT = 60.0  # W/(m2 K), pan or dough on a hot floor; our own assumption
TUBE_SHARE = 0.5  # air in the tube of a ring pan moves less; our own assumption
LID_GAP = 0.02  # m2 K/W, air between dough and lid; our own assumption
HOTTEST_C = 350.0
PAN_SURFACES: Mapping[str, float] = MappingProxyType(
    {"dark": 0.010, "grey": 0.010, "bright": 0.010, "glass": 0.015, "ceramic": 0.017}
)
"""Kinds of pan, with what wall and gap hold back, m2 K/W; our own assumption.

A quarter of a millimetre of air between pan and dough, and the wall: metal
counts nothing, glass 5 mm, stoneware 8 mm.
"""
_TEMPERATURE = re.compile(
    r"(?<![\w.,])[-+]?\d+(?:[.,]\d+)?\s*(?:°\s*|degrees?\s*)?[CF]\b", re.I
)
_LATER = re.compile(
    r"\bfrom\s+(\d+(?:[.,]\d+)?)\s*min\w*\s+"
    r"(\d+(?:[.,]\d+)?\s*(?:°\s*|degrees?\s*)?[CF]\b)",
    re.I,
)


@dataclass(frozen=True)
class Oven:
    """An oven's setting.

    Attributes
    ----------
    air_c : float
        Air and walls, degC.
    fan : bool
        Whether a fan moves the air.
    stone : bool
        Whether the pan stands on a hot floor instead of a rack.
    steam_minutes : float
        Steam at the start.
    altitude_m : float
        Above the sea; it sets the boiling point.
    later : tuple of (minutes, degC)
        Changes of the setting, such as ``((10, 200),)``.
    """

    air_c: float
    fan: bool = False
    stone: bool = False
    steam_minutes: float = 0.0
    altitude_m: float = 0.0
    later: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        for air_c in (self.air_c, *(c for _, c in self.later)):
            if not 0.0 < air_c <= HOTTEST_C:
                raise FitError(
                    f"an oven at {air_c:g} °C is not computed; give more than 0 and "
                    f"up to {HOTTEST_C:g} °C"
                )
        if not 0.0 <= self.steam_minutes <= 120.0:
            raise FitError(
                f"steam for {self.steam_minutes:g} min is not computed; give 0 to "
                "120 min"
            )

    @property
    def air(self) -> Quantity:
        """Temperature of the air, degC."""
        return Q_(self.air_c, "degC")

    def at(self, air_c: float) -> Oven:
        """The same oven at another setting; later changes move with it."""
        shift = air_c - self.air_c
        later = tuple((minutes, c + shift) for minutes, c in self.later)
        return replace(self, air_c=air_c, later=later)

    @property
    def last_c(self) -> float:
        """The last setting, which a long bake ends at, degC."""
        return self.later[-1][1] if self.later else self.air_c

    def describe(self) -> str:
        """One line: ``200 °C, fan, 10 min of steam``."""
        parts = [f"{self.air_c:.0f} °C"]
        parts += [f"from {m:g} min {c:.0f} °C" for m, c in self.later]
        parts += ["fan"] if self.fan else []
        parts += ["on a hot floor"] if self.stone else []
        if self.steam_minutes:
            parts.append(f"{self.steam_minutes:g} min of steam")
        if self.altitude_m:
            parts.append(f"{self.altitude_m:.0f} m above the sea")
        return ", ".join(parts)


def oven(
    setting: Quantity | str | Oven,
    *,
    fan: bool | None = None,
    stone: bool | None = None,
    steam: Quantity | None = None,
    later: Sequence[tuple[Quantity, Quantity]] = (),
    altitude: Quantity | None = None,
) -> Oven:
    """An oven from a temperature, or from text such as ``"350 F, fan"``.

    Parameters
    ----------
    setting : Quantity, str or Oven
        The temperature of the setting. In text, "fan" and "stone" count, and
        changes such as ``"250 °C, from 10 min 200 °C"``.
    fan, stone : bool, optional
        Moved air; a hot floor under the pan.
    steam : Quantity, [time], optional
        Steam at the start.
    later : sequence of (Quantity, Quantity), optional
        Changes of the setting: the time in the oven, the new temperature.
    altitude : Quantity, [length], optional
        Above the sea.

    Raises
    ------
    FitError
        If no temperature is found, or it is no oven's.

    Examples
    --------
    >>> oven("400 F, fan").describe()
    '204 °C, fan'
    """
    base = setting if isinstance(setting, Oven) else _read(setting)
    changes: dict[str, float | bool] = {}
    if fan is not None:
        changes["fan"] = fan
    if stone is not None:
        changes["stone"] = stone
    if steam is not None:
        changes["steam_minutes"] = in_unit(steam, "minute", "steam")
    if later:
        changed = [
            (in_unit(t, "minute", "later"), in_unit(c, "degC", "later"))
            for t, c in later
        ]
        base = replace(base, later=tuple(sorted(changed)))
    if altitude is not None:
        changes["altitude_m"] = in_unit(altitude, "m", "altitude")
    return replace(base, **changes)  # type: ignore[arg-type]  # of mixed fields


def surroundings_of(
    setting: Oven,
    *,
    air_c: Floats,
    surface: str,
    exposed: bool,
    lidded: bool,
    gap_factor: Floats | float = 1.0,
) -> Surroundings:
    """Heat to each side of a loaf: in a pan, under a lid or free on a floor."""
    one = np.ones_like(air_c)
    moved = MOVED_AIR if setting.fan else STILL_AIR
    bare = Side(moved * one, EMISSIVITY["dough"] * one, 0.0 * one, exposed=True)
    gap = PAN_SURFACES[surface] * one * gap_factor
    metal = Side(moved * one, EMISSIVITY[surface] * one, gap)
    lid = replace(metal, resistance=gap + LID_GAP)
    wall = bare if exposed else metal
    below = wall
    if setting.stone or exposed:
        held = 0.0 * one if exposed else gap
        below = Side(STONE_CONTACT * one, 0.0 * one, held)
    return Surroundings(
        air_c,
        {
            "top": lid if lidded else bare,
            "side": wall,
            "bottom": below,
            "tube": wall.times(TUBE_SHARE * one),
        },
        steam_s=60.0 * setting.steam_minutes,
        later=tuple(
            (60.0 * minutes, air_c + (changed - setting.air_c))
            for minutes, changed in setting.later
        ),
    )


def _read(setting: Quantity | str) -> Oven:
    if not isinstance(setting, str):
        return Oven(in_unit(setting, "degC", "oven"))
    found = _TEMPERATURE.search(setting)
    if found is None:
        raise FitError(
            f"no oven temperature in {setting.strip()[:40]!r}; "
            "write one such as 180 °C or 350 F"
        )
    air_c = _celsius(found.group())
    words = setting.casefold()
    fan = any(word in words for word in ("fan", "umluft", "heißluft", "tournante"))
    stone = any(word in words for word in ("stone", "hot floor", "stein", "sole"))
    later = tuple(
        (float(m[1].replace(",", ".")), _celsius(m[2]))
        for m in _LATER.finditer(setting)
    )
    return Oven(air_c, fan=fan, stone=stone, later=later)


def _celsius(text: str) -> float:
    bare = re.sub(r"(?i)degrees?\s*", "", text)
    return in_unit(quantity(bare, dimension="[temperature]"), "degC", "oven")
