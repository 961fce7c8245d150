"""Variants with their parents: a family that only grows."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula

__all__ = ["Family", "Variant", "side_by_side"]

_SAME = 0.005  # less than what two decimals show
_MOST_BESIDE = 5


@dataclass(frozen=True)
class Variant:
    """A formula that is kept, with a name, why it was tried, and its parent.

    `key` is a hash of the rows alone (stage, ingredient, role, mass and a
    starter's hydration): the same dough under another title or with other
    notes is the same variant, and any change of the dough makes a child.
    """

    formula: Formula
    name: str
    why: str = ""
    parent_key: str | None = None

    @cached_property
    def key(self) -> str:
        rows = [
            (r.stage, r.ingredient, r.role, r.mass_g, r.hydration_pct)
            for r in self.formula.rows
        ]
        return hashlib.sha256(repr(rows).encode()).hexdigest()[:16]


class Family:
    """Variants by key, in the order in which they were kept.

    A family never changes: `add` gives a new one.
    """

    def __init__(self, variants: Sequence[Variant] = ()) -> None:
        self._by_key = {v.key: v for v in variants}

    def __len__(self) -> int:
        return len(self._by_key)

    def __iter__(self) -> Iterator[Variant]:
        return iter(self._by_key.values())

    def has(self, key: str | None) -> bool:
        """Whether a variant is kept."""
        return key in self._by_key

    def get(self, key: str) -> Variant:
        """The variant of a key.

        Raises
        ------
        FormulaError
            If there is none.
        """
        if key not in self._by_key:
            raise FormulaError(f"no variant {key!r} is kept; see the family's frame")
        return self._by_key[key]

    def add(self, variant: Variant) -> "Family":
        """A family with one more; the same dough is not kept twice.

        Raises
        ------
        FormulaError
            If its parent is not kept.
        """
        if variant.parent_key is not None and not self.has(variant.parent_key):
            raise FormulaError(
                f"the parent of {variant.name!r} is not kept; keep the parent first"
            )
        return self if self.has(variant.key) else Family([*self, variant])

    def children(self, key: str | None) -> tuple[Variant, ...]:
        """Variants that came from one, or the roots for None."""
        return tuple(v for v in self if v.parent_key == key)

    def lines(self) -> tuple[str, ...]:
        """The tree as lines of text, a child indented under its parent."""
        return tuple(self._branch(None, 0))

    def _branch(self, key: str | None, depth: int) -> Iterator[str]:
        for variant in self.children(key):
            why = f": {variant.why}" if variant.why else ""
            yield f"{'— ' * depth}{variant.name}{why}"
            yield from self._branch(variant.key, depth + 1)

    @property
    def frame(self) -> pd.DataFrame:
        """A row per variant: name, why, parent, and the ratios that tell most."""
        records = [
            {
                "key": v.key,
                "name": v.name,
                "why": v.why,
                "parent": self.get(v.parent_key).name if v.parent_key else "",
                "flour_g": v.formula.flour_g,
                "hydration_pct": v.formula.hydration_pct,
                "salt_pct": v.formula.role_pct("salt"),
            }
            for v in self
        ]
        return pd.DataFrame(records)


def side_by_side(variants: Sequence[Variant]) -> pd.DataFrame:
    """Two to five variants by ingredient: percent of flour, and what differs.

    The first is what the others are compared with. Every other one has a
    column of its percentages and one of words: "same", "up 0.4",
    "down 0.4", "new" or "gone". Derived values stand below the ingredients.

    Raises
    ------
    FormulaError
        If there are fewer than two or more than five.
    """
    if not 2 <= len(variants) <= _MOST_BESIDE:
        raise FormulaError(f"two to five variants go side by side, got {len(variants)}")
    columns = [_percents(v.formula) for v in variants]
    labels = list(dict.fromkeys(label for c in columns for label in c))
    table: dict[str, list[object]] = {"what": list(labels)}
    for n, (variant, column) in enumerate(zip(variants, columns, strict=True)):
        name = variant.name if variant.name not in table else f"{variant.name} ({n})"
        table[name] = [column.get(label) for label in labels]
        if n:
            table[f"{name}: difference"] = [
                _words(columns[0].get(label), column.get(label)) for label in labels
            ]
    return pd.DataFrame(table)


def _percents(formula: Formula) -> dict[str, float]:
    frame = formula.frame.groupby("label", sort=False)["bakers_pct"].sum()
    found = {f"{label} (% of flour)": float(pct) for label, pct in frame.items()}
    return found | {
        "water as written (% of flour)": formula.water_pct,
        "true hydration (% of flour)": formula.hydration_pct,
        "salt (% of flour)": formula.role_pct("salt"),
        "flour (g)": formula.flour_g,
        "dough (g)": formula.dough_g,
    }


def _words(old: float | None, new: float | None) -> str:
    if old is None:
        return "new"
    if new is None:
        return "gone"
    moved = new - old
    if abs(moved) <= _SAME:
        return "same"
    return f"{'up' if moved > 0 else 'down'} {abs(moved):.2f}"
