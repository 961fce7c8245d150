"""What the reader gives back: lines with their state, and the recipe."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any, Literal

from bakelab.formula import Assumption, Formula
from bakelab.pans import Pan

__all__ = ["STATES", "Basis", "Line", "Recipe", "State"]

State = Literal["read", "doubt", "unread", "not in dough"]
Basis = Literal["stated", "density", "count", "percent"]
STATES: tuple[State, ...] = ("read", "doubt", "unread", "not in dough")


@dataclass(frozen=True)
class Line:
    """One ingredient line: what was written and what was understood.

    `low` to `high` of `unit` is the first amount on the line, `stated_g`
    a mass given on the line in grams, `mass_g` what goes into the
    formula, between `mass_low_g` and `mass_high_g`. `basis` says where
    the mass comes from; `remark` says in words what was assumed or is
    doubtful. `hydration_pct` is for starters, `bakers_pct` a percentage
    that stands on the line.
    """

    line_no: int
    text: str
    state: State
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    stated_g: float | None = None
    ingredient: str = ""
    label: str = ""
    role: str = ""
    stage: str = "dough"
    optional: bool = False
    mass_g: float | None = None
    mass_low_g: float | None = None
    mass_high_g: float | None = None
    basis: Basis | None = None
    remark: str = ""
    hydration_pct: float | None = None
    bakers_pct: float | None = None
    assumed: str = ""

    def to_dict(self) -> dict[str, Any]:
        """The line as plain data, in the order of the fields."""
        return {f.name: getattr(self, f.name) for f in fields(self)}


@dataclass(frozen=True)
class Recipe:
    """A recipe as written: every line with its state, and its formula.

    `formula` is None where no line could be weighed. `remarks` are
    sentences on the recipe as a whole. `market`, a key of `MARKETS`, is
    what cups and spoons were taken to mean. `oven` is the setting with its
    changes in words, such as `250 °C, from 10 min 200 °C`.
    """

    title: str
    language: str
    lines: tuple[Line, ...]
    pan: Pan | None
    oven_c: float | None
    bake_minutes: tuple[float, float] | None
    stated_yield: str
    formula: Formula | None
    assumptions: tuple[Assumption, ...]
    remarks: tuple[str, ...]
    method: str = ""
    market: str = "us"
    oven: str = ""

    def by_state(self, state: State) -> tuple[Line, ...]:
        """The lines of one state, in the order of the recipe."""
        return tuple(line for line in self.lines if line.state == state)

    def to_dict(self) -> Mapping[str, Any]:
        """Plain data with the documented keys of `bakelab read --json`."""
        rows = [] if self.formula is None else self.formula.frame.to_dict("records")
        return {
            "title": self.title,
            "language": self.language,
            "market": self.market,
            "lines": [line.to_dict() for line in self.lines],
            "pan": None if self.pan is None else self.pan.to_dict(),
            "oven_c": self.oven_c,
            "oven": self.oven,
            "bake_minutes": None
            if self.bake_minutes is None
            else list(self.bake_minutes),
            "yield": self.stated_yield,
            "formula": rows,
            "assumptions": [vars(a) for a in self.assumptions],
            "remarks": list(self.remarks),
        }
