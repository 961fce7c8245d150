"""Terms of a response surface, and which of them a plan of trials can carry."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from bakelab.comparing.data import ComparisonError, counted, joined
from bakelab.comparing.names import named

__all__ = ["SHAPES", "Array", "Coding", "Term", "carried", "design", "free", "label"]

Array = npt.NDArray[np.floating[Any]]
Term = tuple[int, ...]

SHAPES: Mapping[str, str] = MappingProxyType(
    {
        "curved": "each ratio bent, and every pair acting together",
        "twisted": "each ratio straight, and every pair acting together",
        "straight": "each ratio straight, by itself",
    }
)
"""Shapes of a surface, the fullest first."""


@dataclass(frozen=True)
class Coding:
    """Ratios as -1 at the lowest that was baked and +1 at the highest."""

    ratios: tuple[str, ...]
    middles: tuple[float, ...]
    halves: tuple[float, ...]

    @classmethod
    def of(cls, frame: pd.DataFrame, ratios: Sequence[str]) -> "Coding":
        """The coding of a frame of bakes."""
        low, high = frame[list(ratios)].min(), frame[list(ratios)].max()
        flat = [named(r) for r in ratios if not high[r] > low[r]]
        if flat:
            raise ComparisonError(
                f"{joined(flat)} was the same in every bake; leave it out, or bake "
                "it at another value"
            )
        return cls(
            tuple(ratios),
            tuple(float(v) for v in (low + high) / 2),
            tuple(float(v) for v in (high - low) / 2),
        )

    def code(self, values: Array) -> Array:
        """From percent of flour, a column per ratio."""
        coded: Array = (np.asarray(values) - self.middles) / self.halves
        return coded

    def uncode(self, codes: Array) -> Array:
        """Back to percent of flour."""
        values: Array = np.asarray(codes) * self.halves + self.middles
        return values


def terms_of(shape: str, ratios: int) -> list[Term]:
    """Terms of a shape; a term lists the ratios that are multiplied in it."""
    every: list[Term] = [(), *((n,) for n in range(ratios))]
    if shape != "straight":
        every += itertools.combinations(range(ratios), 2)
    if shape == "curved":
        every += [(n, n) for n in range(ratios)]
    return every


def design(codes: Array, terms: Sequence[Term]) -> Array:
    """A column for every term."""
    codes = np.atleast_2d(codes)
    columns = [np.prod(codes[:, list(t)], axis=1) for t in terms]
    return np.column_stack(columns)


def label(term: Term, ratios: Sequence[str]) -> str:
    """A term in words: `salt`, `salt × water`, `salt, bend`."""
    if not term:
        return "in the middle"
    names = [named(ratios[n]) for n in term]
    if len(names) == 2 and names[0] == names[1]:
        return f"{names[0]}, bend"
    return " × ".join(names)


def free(frame: pd.DataFrame, ratios: Sequence[str]) -> tuple[list[str], list[str]]:
    """Ratios that can move by themselves, and those that follow from them."""
    kept: list[str] = []
    follow: list[str] = []
    for ratio in ratios:
        values = frame[[*kept, ratio]].to_numpy(dtype=float)
        spread = np.ptp(values, axis=0)
        coded = (values - values.mean(axis=0)) / np.where(spread > 0, spread, 1)
        tied = kept and np.linalg.matrix_rank(coded, tol=1e-6) < len(kept) + 1
        (follow if tied else kept).append(ratio)
    return kept, follow


def carried(
    codes: Array, blocks: Array, shape: str | None
) -> tuple[str, list[Term], str]:
    """The fullest shape that the trials can carry, its terms, and why no fuller.

    Raises
    ------
    ComparisonError
        If they cannot carry the shape that was asked for, or any.
    """
    why: list[str] = []
    for name in SHAPES if shape is None else [shape]:
        terms = terms_of(name, codes.shape[1])
        reason = _short_of(np.column_stack([design(codes, terms), blocks]))
        if not reason:
            return name, terms, why[0] if why else ""
        why.append(f"a {name} surface cannot be fitted: {reason}")
    raise ComparisonError(f"{why[-1]}; bake more of the plan, or give fewer ratios")


def _short_of(columns: Array) -> str:
    trials, terms = columns.shape
    if trials <= terms:
        return f"{counted(trials, 'trial')} for {counted(terms, 'term')}"
    if np.linalg.matrix_rank(columns, tol=1e-8 * trials) < terms:
        return "the trials mix up some of its terms"
    return ""
