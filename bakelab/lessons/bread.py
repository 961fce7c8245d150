"""Breads for exercises: the example of a style, at a size and with a small change."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, cached_property

from bakelab.ingredients import ingredient
from bakelab.lessons.drafting import Draw
from bakelab.lessons.words import rounded
from bakelab.ranges import band, example_formulas

__all__ = ["Bread", "Part", "breads", "draw_bread", "exact"]

_NAMES = {
    "salt_table": "salt",
    "sugar_white": "sugar",
    "wheat_bread": "bread flour",
    "wheat_all_purpose": "all-purpose flour",
    "egg_whole": "egg (without shell)",
    "milk_dry_nonfat": "skimmed milk powder",
    "starter_liquid": "sourdough starter (half flour, half water)",
    "starter_stiff": "stiff sourdough starter (2 parts flour, 1 part water)",
    "flax_seeds": "flax seeds",
}
_FLOURS = ((200, 1000, 100), (250, 1500, 50), (275, 2400, 25))


@dataclass(frozen=True)
class Part:
    """One ingredient of one stage, by weight."""

    stage: str
    key: str
    role: str
    mass_g: Fraction

    @property
    def name(self) -> str:
        """As a person calls it, in lower case."""
        return _name(self.key)


@dataclass(frozen=True)
class Bread:
    """A formula by exact weights; `flour_g` leaves out flour in a starter."""

    style: str
    title: str
    parts: tuple[Part, ...]

    @cached_property
    def flour_g(self) -> Fraction:
        return sum((p.mass_g for p in self.flours), Fraction(0))

    @cached_property
    def dough_g(self) -> Fraction:
        return sum((p.mass_g for p in self.parts), Fraction(0))

    @property
    def flours(self) -> tuple[Part, ...]:
        return tuple(p for p in self.parts if p.role == "flour")

    @property
    def others(self) -> tuple[Part, ...]:
        return tuple(p for p in self.parts if p.role != "flour")

    def has(self, role: str) -> bool:
        return any(p.role == role for p in self.parts)

    def together(self) -> Bread:
        """All stages in one bowl: every ingredient once."""
        sums: dict[str, Part] = {}
        for part in self.parts:
            old = sums.get(part.key)
            mass = part.mass_g + (old.mass_g if old else 0)
            sums[part.key] = replace(part, stage="dough", mass_g=mass)
        return replace(self, parts=tuple(sums.values()))

    @property
    def stages(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(p.stage for p in self.parts))


def exact(value: float) -> Fraction:
    """The decimal number that a table prints, exactly."""
    return Fraction(str(value))


@cache
def breads() -> tuple[Bread, ...]:
    """Every example of `data/formulas/styles.csv`, with exact weights."""
    return tuple(
        Bread(
            style,
            formula.title,
            tuple(
                Part(r.stage, r.ingredient, r.role, exact(r.mass_g))
                for r in formula.rows
            ),
        )
        for style, formula in example_formulas().items()
    )


def draw_bread(draw: Draw, level: int, suits: Callable[[Bread], bool]) -> Bread:
    """A bread that suits, scaled to another flour weight and rounded.

    Water and salt move a little within the usual bands of the style; weights
    are rounded as a baker would.
    """
    bread = draw.pick(_suiting(suits))
    flour = Fraction(draw.whole(*_FLOURS[level - 1]))
    low, high = _water_moves(bread)
    water = Fraction(draw.whole(low, high), 100)
    return _scaled(bread, flour, water)


def _scaled(bread: Bread, flour_g: Fraction, water: Fraction) -> Bread:
    factor = flour_g / bread.flour_g
    main = max((p for p in bread.flours), key=lambda p: p.mass_g)
    wet = next((p for p in bread.parts[::-1] if p.role == "water"), None)
    parts, left = [], flour_g
    for part in bread.parts:
        mass = part.mass_g * factor
        if part is wet:
            mass += water * flour_g
        mass = _as_weighed(mass)
        parts.append(replace(part, mass_g=mass))
        if part.role == "flour" and part is not main:
            left -= mass
    at = bread.parts.index(main)
    parts[at] = replace(main, mass_g=left)
    return Bread(bread.style, bread.title, tuple(parts))


def _as_weighed(mass: Fraction) -> Fraction:
    for floor, step in ((100, Fraction(5)), (20, Fraction(1)), (3, Fraction(1, 2))):
        if mass >= floor:
            return rounded(mass, step)
    return max(rounded(mass, Fraction(1, 10)), Fraction(1, 10))


@cache
def _suiting(suits: Callable[[Bread], bool]) -> tuple[Bread, ...]:
    return tuple(bread for bread in breads() if suits(bread))


@cache
def _water_moves(bread: Bread) -> tuple[int, int]:
    """By how many percent of flour plain water may move within the usual band."""
    known = band(bread.style, "hydration")
    if known is None or not bread.has("water") or bread.has("starter"):
        return 0, 0
    wet = sum(p.mass_g * exact(ingredient(p.key).water_g) for p in bread.others)
    now = float(wet / bread.flour_g)
    return max(-4, -int(now - known.low)), min(4, int(known.high - now))


@cache
def _name(key: str) -> str:
    if key in _NAMES:
        return _NAMES[key]
    name = ingredient(key).name.split(" (")[0]
    return name[0].lower() + name[1:]
