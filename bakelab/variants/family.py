"""Variants with their parents: a family that only grows."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula

__all__ = ["Family", "Variant"]

_TO_G = 6  # digits of a gram that count: less is how a computer rounds


@dataclass(frozen=True)
class Variant:
    """A formula that is kept, with a name, why it was tried, and its parent.

    `key` is a hash of what goes into the bowl: for every stage, in order, its
    ingredients with role, a starter's hydration and mass to a millionth of a
    gram. Their order within the stage, rows of nothing, one ingredient on two
    lines, labels, title, notes, pan and oven do not count: the same dough
    under another title is the same variant, and any change of the dough makes
    a child.

    Examples
    --------
    >>> first = Variant(Formula.from_pairs([("wheat_bread", 500)]), "house")
    >>> second = first.child(first.formula.scaled(2), "double")
    >>> second.parent_key == first.key, second.key == first.key
    (True, False)
    """

    formula: Formula
    name: str
    why: str = ""
    parent_key: str | None = None

    @cached_property
    def key(self) -> str:
        return hashlib.sha256(repr(_content(self.formula)).encode()).hexdigest()[:16]

    def child(self, formula: Formula, name: str, why: str = "") -> "Variant":
        """A variant that came from this one."""
        return Variant(formula, name, why, self.key)


class Family:
    """Variants by key, in the order in which they were kept.

    A family never changes: `add` gives a new one.
    """

    def __init__(self, variants: Sequence[Variant] = ()) -> None:
        self._by_key: dict[str, Variant] = {}
        for variant in variants:
            if variant.parent_key is not None and not self.has(variant.parent_key):
                raise FormulaError(
                    f"the parent of {variant.name!r} is not kept; keep the parent first"
                )
            self._by_key.setdefault(variant.key, variant)

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
        return self if self.has(variant.key) else Family([*self, variant])

    def children(self, key: str | None) -> tuple[Variant, ...]:
        """Variants that came from one, or the roots for None."""
        return tuple(v for v in self if v.parent_key == key)

    def lines(self) -> tuple[str, ...]:
        """The tree as lines of text, a child indented under its parent."""
        children: dict[str | None, list[Variant]] = {}
        for variant in self:
            children.setdefault(variant.parent_key, []).append(variant)
        waiting = [(0, v) for v in reversed(children.get(None, []))]
        lines = []
        while waiting:  # no recursion: a family may be a very long line
            depth, variant = waiting.pop()
            why = f": {variant.why}" if variant.why else ""
            lines.append(f"{'— ' * depth}{variant.name}{why}")
            below = children.get(variant.key, [])
            waiting += [(depth + 1, v) for v in reversed(below)]
        return tuple(lines)

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


def _content(formula: Formula) -> list[object]:
    """Stages in order, in each the ingredients sorted, equal ones added up."""
    found: list[object] = []
    for stage in formula.stages:
        sums: dict[tuple[str, str, float | None], float] = {}
        for row in formula.rows:
            if row.stage == stage and row.mass_g > 0:
                place = (row.ingredient, row.role, row.hydration_pct)
                sums[place] = sums.get(place, 0.0) + row.mass_g
        rows = [(*place, round(mass_g, _TO_G)) for place, mass_g in sums.items()]
        if rows:
            found.append((stage, sorted(rows, key=repr)))
    return found
