"""Bands of hydration, salt and the rest that the printed measures leave open."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bakelab.checking.printed import Interval
from bakelab.formula import Row
from bakelab.formula.contents import contents
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.reading import Line

__all__ = ["MEASURES", "Part", "exact_band", "part_of", "parts_of"]

_ROUNDS = 60


@dataclass(frozen=True)
class Part:
    """One line of the dough: its grams and what each gram holds."""

    line: Line
    low_g: float
    mid_g: float
    high_g: float
    flour: float
    water: float

    @property
    def role(self) -> str:
        return self.line.role

    @property
    def group(self) -> str:
        """Lines of one group are scooped alike."""
        return f"{self.line.ingredient}/{self.line.basis}"


def parts_of(lines: Sequence[Line]) -> tuple[Part, ...]:
    """The weighed lines of the dough with low, middle and high grams."""
    return tuple(
        part_of(ln)
        for ln in lines
        if ln.state in ("read", "doubt") and ln.mass_g is not None and ln.mass_g < 1e9
    )


def part_of(line: Line) -> Part:
    """One weighed line, with what each of its grams holds."""
    assert line.mass_g is not None
    row = Row(line.stage, line.ingredient or line.label, line.label,
              line.role or "other", 1.0)  # fmt: skip
    hydration = line.hydration_pct
    if line.role == "starter" and hydration is None and is_ingredient(line.ingredient):
        share = ingredient(line.ingredient).flour_share
        hydration = 100 * (1 / share - 1) if share > 0 else 100.0
    inside = contents(row.ingredient, row.role, 1.0, hydration)
    low = line.mass_g if line.mass_low_g is None else line.mass_low_g
    high = line.mass_g if line.mass_high_g is None else line.mass_high_g
    return Part(line, min(low, line.mass_g), line.mass_g, max(high, line.mass_g),
                inside.flour_g, inside.water_g)  # fmt: skip


def _fat(part: Part) -> float:
    if part.role != "fat" or not is_ingredient(part.line.ingredient):
        return 1.0 if part.role == "fat" else 0.0
    return ingredient(part.line.ingredient).fat_g / 100


#: What one gram of a line adds to each measure that is a share of all flour.
MEASURES: dict[str, Callable[[Part], float]] = {
    "hydration": lambda p: p.water,
    "salt": lambda p: float(p.role == "salt"),
    "yeast": lambda p: float(p.role == "yeast"),
    "sugar": lambda p: float(p.role == "sweetener"),
    "fat": _fat,
    "egg": lambda p: float(p.role == "egg"),
    "flour_g": lambda p: p.flour,
    "dough_g": lambda _: 1.0,
}


def exact_band(parts: Sequence[Part], measure: str) -> Interval:
    """The lowest and highest percent of flour that the lines allow, exactly.

    Every line may lie anywhere between its low and its high grams. A share
    of flour is a ratio of two sums, so its extremes lie at ends of the
    lines; they are found by Dinkelbach's method, which is exact.

    References
    ----------
    W. Dinkelbach, On nonlinear fractional programming, Management Science
    13 (1967) 492-498; from memory.
    """
    gram = MEASURES[measure]
    if measure.endswith("_g"):
        return Interval(
            sum(gram(p) * p.low_g for p in parts),
            sum(gram(p) * p.high_g for p in parts),
        )
    top = [gram(p) for p in parts]
    return Interval(
        100 * _extreme(parts, top, sign=-1.0), 100 * _extreme(parts, top, sign=1.0)
    )


def _extreme(parts: Sequence[Part], top: Sequence[float], *, sign: float) -> float:
    """The highest (sign 1) or lowest (sign -1) sum of `top` over flour."""
    flour = sum(p.flour * p.mid_g for p in parts)
    if flour <= 0:
        return float("nan")
    ratio = sum(t * p.mid_g for t, p in zip(top, parts, strict=True)) / flour
    for _ in range(_ROUNDS):
        chosen = [
            p.high_g if sign * (t - ratio * p.flour) > 0 else p.low_g
            for t, p in zip(top, parts, strict=True)
        ]
        below = sum(p.flour * g for p, g in zip(parts, chosen, strict=True))
        if below <= 0:
            return ratio
        new = sum(t * g for t, g in zip(top, chosen, strict=True)) / below
        if abs(new - ratio) <= 1e-12 * max(1.0, abs(ratio)):
            break
        ratio = new
    return ratio
