"""What a reader gets who measures with cups and spoons, and what would help most."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from bakelab.checking.shares import MEASURES, Part, exact_band, parts_of
from bakelab.errors import FormulaError
from bakelab.reading import Recipe

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd

__all__ = ["AtHome", "Spread", "at_home"]

DRAWS = 20_000
_SHOWN = ("hydration", "salt", "yeast", "sugar", "fat", "egg")


@dataclass(frozen=True)
class Spread:
    """One measure in a reader's kitchen, in percent of flour.

    `low` to `high` holds 90 of 100 kitchens; `least` to `most` is what the
    lines allow at the very worst, all of them off at once.
    """

    measure: str
    middle: float
    low: float
    high: float
    least: float
    most: float
    helps_most: str = ""
    helped_low: float = 0.0
    helped_high: float = 0.0

    def text(self) -> str:
        """The spread as a sentence."""
        said = (
            f"{self.measure} {self.middle:.1f} %: {self.low:.1f} to {self.high:.1f} % "
            f"in 90 of 100 kitchens, {self.least:.1f} to {self.most:.1f} % at the worst"
        )
        if self.helps_most:
            said += (
                f"; with grams for {self.helps_most!r} {self.helped_low:.1f} to "
                f"{self.helped_high:.1f} %"
            )
        return said


@dataclass(frozen=True)
class AtHome:
    """The spreads of a recipe; `seed` makes them the same on every machine."""

    spreads: tuple[Spread, ...]
    draws: int
    seed: int

    def __getitem__(self, measure: str) -> Spread:
        return next(s for s in self.spreads if s.measure == measure)

    @property
    def frame(self) -> "pd.DataFrame":
        """One row per measure."""
        import pandas as pd

        return pd.DataFrame([vars(s) for s in self.spreads])

    def _repr_html_(self) -> str:
        return str(self.frame.round(1).to_html(index=False))


def at_home(recipe: Recipe, *, seed: int = 20260, draws: int = DRAWS) -> AtHome:
    """The band of hydration, salt and the rest that follows from the measures.

    Parameters
    ----------
    recipe : Recipe
    seed : int
        Of the random numbers.
    draws : int
        Kitchens that are drawn.

    Returns
    -------
    AtHome
        For each measure the middle, the band of 90 of 100 kitchens, the
        exact worst case and the one line that narrows the band most if it
        is given in grams.

    Raises
    ------
    FormulaError
        If no flour is weighed.

    Notes
    -----
    A kitchen is a draw from a triangular distribution over low, middle and
    high of each ingredient; lines of the same ingredient by the same kind of
    measure go together, as one cook scoops them. That shape is our own
    choice, no source. The worst case is exact, see `exact_band`.
    """
    parts = parts_of(recipe.lines)
    if sum(p.flour * p.mid_g for p in parts) <= 0:
        raise FormulaError(
            "no flour of this recipe has a weight, so nothing is a share of it; "
            "give the flour in grams or cups"
        )
    return AtHome(
        tuple(_spread(parts, m, seed, draws) for m in _SHOWN if _has(parts, m)),
        draws, seed,
    )  # fmt: skip


def _has(parts: Sequence[Part], measure: str) -> bool:
    return any(MEASURES[measure](p) > 0 for p in parts)


def _spread(parts: Sequence[Part], measure: str, seed: int, draws: int) -> Spread:
    low, high = _band(parts, measure, seed, draws)
    exact = exact_band(parts, measure)
    exact_middle = exact_band([replace(p, low_g=p.mid_g, high_g=p.mid_g)
                               for p in parts], measure).low  # fmt: skip
    found = Spread(measure, exact_middle, low, high, exact.low, exact.high)
    best = _best_line(parts, measure, seed, draws, high - low)
    if best is None:
        return found
    name, (helped_low, helped_high) = best
    return replace(found, helps_most=name, helped_low=helped_low,
                   helped_high=helped_high)  # fmt: skip


def _band(
    parts: Sequence[Part], measure: str, seed: int, draws: int
) -> tuple[float, float]:
    import numpy as np

    shares = _drawn(parts, measure, seed, draws)
    low, high = np.percentile(shares, [5, 95])
    return float(low), float(high)


def _drawn(
    parts: Sequence[Part], measure: str, seed: int, draws: int
) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    import numpy as np

    gram = MEASURES[measure]
    positions = _positions(parts, seed, draws)
    top = np.zeros(draws)
    flour = np.zeros(draws)
    for part in parts:
        grams = _triangular(part, positions[part.group])
        top += gram(part) * grams
        flour += part.flour * grams
    return 100 * top / flour


def _positions(
    parts: Sequence[Part], seed: int, draws: int
) -> "dict[str, np.ndarray[tuple[int, ...], np.dtype[np.float64]]]":
    import numpy as np

    random = np.random.default_rng(seed)
    groups = dict.fromkeys(p.group for p in parts)
    return {group: random.random(draws) for group in groups}


def _triangular(
    part: Part, position: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]"
) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    """The inverse of the triangular distribution at a position from 0 to 1."""
    import numpy as np

    low, mid, high = part.low_g, part.mid_g, part.high_g
    if high - low <= 0:
        return np.full_like(position, mid)
    turn = (mid - low) / (high - low)
    left = low + np.sqrt(position * (high - low) * (mid - low))
    right = high - np.sqrt((1 - position) * (high - low) * (high - mid))
    return np.where(position < turn, left, right)


def _best_line(
    parts: Sequence[Part], measure: str, seed: int, draws: int, width: float
) -> tuple[str, tuple[float, float]] | None:
    """The line that narrows the band most once it stands in grams."""
    best: tuple[float, str, tuple[float, float]] | None = None
    for index, part in enumerate(parts):
        if part.high_g - part.low_g <= 1e-9:
            continue
        fixed = list(parts)
        fixed[index] = replace(part, low_g=part.mid_g, high_g=part.mid_g)
        band = _band(fixed, measure, seed, draws)
        left = band[1] - band[0]
        if best is None or left < best[0] - 1e-9:
            best = left, part.line.text, band
    if best is None or best[0] > 0.98 * width:
        return None
    return best[1], best[2]
