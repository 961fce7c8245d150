"""What a kitchen scale can show: its steps, range by range."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from bakelab.errors import UnitError
from bakelab.units import quantity

__all__ = [
    "HALF_GRAM_SCALE",
    "KITCHEN_SCALE",
    "QUARTER_OUNCE_SCALE",
    "SPOON_AND_KITCHEN_SCALE",
    "SPOON_SCALE",
    "Scale",
    "scale_from_text",
]

OUNCE_G = 28.349523125  # exact; UCUM essence table
_SMALLEST_STEP_G = 0.001
_LARGEST_STEP_G = 1000.0
_PART = re.compile(r"\s*;\s*|,\s+|\s+and\s+|\s+und\s+|\s+et\s+")
_UP_TO = re.compile(r"\s*(?:up to|until|bis zu|bis|jusqu'à|jusqu’à|<=|≤)\s*")


@dataclass(frozen=True)
class Scale:
    """A scale, or a pair of them, by what it shows.

    Parameters
    ----------
    steps : tuple of (up_to_g, step_g)
        Up to and with the mass `up_to_g`, the display moves in `step_g`.
        In rising order; the last one may reach ``math.inf``.
    name : str

    Raises
    ------
    UnitError
        If a step is not above 0 g, or the ranges do not rise.

    Examples
    --------
    >>> scale = Scale(((50.0, 0.1), (math.inf, 1.0)), "two scales")
    >>> scale.step_g(7.6), scale.step_g(480)
    (0.1, 1.0)
    """

    steps: tuple[tuple[float, float], ...]
    name: str = "scale"

    def __post_init__(self) -> None:
        if not self.steps:
            raise UnitError("a scale needs at least one step, such as 1 g")
        before = 0.0
        for up_to, step in self.steps:
            if not _SMALLEST_STEP_G <= step <= _LARGEST_STEP_G:
                raise UnitError(
                    f"a scale that shows {step:g} g is not possible; give a step "
                    f"from {_SMALLEST_STEP_G:g} g to {_LARGEST_STEP_G:g} g"
                )
            if not up_to > before:
                raise UnitError(
                    f"the ranges of a scale must rise, got {up_to:g} g after "
                    f"{before:g} g; write the finest range first"
                )
            before = up_to

    @classmethod
    def pair(cls, *, fine: "Scale", coarse: "Scale") -> "Scale":
        """Two scales on one bench: the fine one as far as it reaches."""
        reach = fine.most_g
        beyond = tuple(s for s in coarse.steps if s[0] > reach)
        return cls((*fine.steps, *beyond), f"{fine.name} and {coarse.name}")

    @property
    def most_g(self) -> float:
        """The largest mass it can weigh in one go, g."""
        return self.steps[-1][0]

    def step_g(self, mass_g: float) -> float:
        """The step of the display at a mass, g; the last step beyond its reach."""
        for up_to, step in self.steps:
            if mass_g <= up_to:
                return step
        return self.steps[-1][1]

    def nearest_g(self, mass_g: float) -> float:
        """A mass rounded to the nearest step, halves upward, g."""
        step = self.step_g(mass_g)
        return clean(math.floor(mass_g / step + 0.5) * step)

    def risk_pct(self, mass_g: float) -> float:
        """Weighing risk: half a step over the amount, in percent."""
        return 50.0 * self.step_g(mass_g) / mass_g if mass_g > 0 else 0.0

    def describe(self) -> str:
        """One line: ``0.1 g up to 50 g, 1 g above``."""
        if len(self.steps) == 1:
            return f"{self.name}: steps of {self.steps[0][1]:g} g"
        parts = [f"{step:g} g up to {up_to:g} g" for up_to, step in self.steps]
        if math.isinf(self.most_g):
            parts[-1] = f"{self.steps[-1][1]:g} g above"
        return f"{self.name}: {', '.join(parts)}"


KITCHEN_SCALE = Scale(((math.inf, 1.0),), "kitchen scale")
HALF_GRAM_SCALE = Scale(((math.inf, 0.5),), "half-gram scale")
SPOON_SCALE = Scale(((50.0, 0.1),), "spoon scale")
SPOON_AND_KITCHEN_SCALE = Scale.pair(fine=SPOON_SCALE, coarse=KITCHEN_SCALE)
QUARTER_OUNCE_SCALE = Scale(((math.inf, OUNCE_G / 4),), "quarter-ounce scale")


def scale_from_text(text: str) -> Scale:
    """A scale from words: ``"1 g"`` or ``"1 g, 0.1 g up to 100 g"``.

    Parameters
    ----------
    text : str
        Steps with a unit of mass, parted by ``", "``, ``";"`` or ``"and"``;
        each may say up to which mass it holds. Order does not matter.

    Raises
    ------
    UnitError
        If an amount cannot be read, or two steps hold for the same range.

    Examples
    --------
    >>> scale_from_text("1 g, 0.1 g up to 100 g").describe()
    'scale: 0.1 g up to 100 g, 1 g above'
    """
    if not isinstance(text, str):
        raise TypeError(f"a scale is written as text such as '1 g'; got {text!r}")
    parts = [part for part in _PART.split(text.strip()) if part]
    if not parts:
        raise UnitError("a scale needs a step; write it as '1 g' or '0.1 g up to 50 g'")
    ranges = sorted(_range(part) for part in parts)
    if len({up_to for up_to, _ in ranges}) < len(ranges):
        raise UnitError(
            f"{text!r} gives two steps for one range; write 'up to' for the finer one"
        )
    return Scale(tuple(ranges))


def clean(mass_g: float) -> float:
    """A mass without the dust of binary fractions, g."""
    return round(mass_g, 9)


def heaviest_first(masses: Iterable[float]) -> list[int]:
    """Positions of masses, the heaviest first; equal ones in their order."""
    values = list(masses)
    return sorted(range(len(values)), key=lambda i: (-values[i], i))


def _range(part: str) -> tuple[float, float]:
    step, *limit = _UP_TO.split(part, maxsplit=1)
    up_to = _grams(limit[0]) if limit else math.inf
    return up_to, _grams(step)


def _grams(text: str) -> float:
    return float(quantity(text, dimension="[mass]").to("g").magnitude)
