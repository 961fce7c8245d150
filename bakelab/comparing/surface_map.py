"""A response surface as a table of points to draw."""

import numpy as np
import pandas as pd

from bakelab.comparing.data import ComparisonError
from bakelab.comparing.surface import Surface
from bakelab.comparing.surface_best import region
from bakelab.comparing.surface_terms import design
from bakelab.comparing.tails import t_reach

__all__ = ["surface_curve", "surface_map"]


def surface_curve(found: Surface, ratio: str, *, steps: int = 61) -> pd.DataFrame:
    """The surface along one ratio, the others at the best point.

    Returns
    -------
    DataFrame
        Columns `x`, `fitted`, `low`, `high`: the mean and its interval.
    """
    place = _place(found, ratio)
    codes = np.tile(found.coding.code(found.best.at.to_numpy()), (steps, 1))
    codes[:, place] = np.linspace(-1, 1, steps)
    columns = design(codes, found.terms)
    fitted = columns @ found.beta
    variance = np.einsum("ij,jk,ik->i", columns, found.covariance, columns)
    reach = t_reach(found.confidence, found.degrees) * np.sqrt(
        np.clip(variance, 0, None)
    )
    return pd.DataFrame(
        {
            "x": found.coding.uncode(codes)[:, place],
            "fitted": fitted,
            "low": fitted - reach,
            "high": fitted + reach,
        }
    )


def surface_map(
    found: Surface, across: str, up: str, *, steps: int = 40
) -> pd.DataFrame:
    """The surface over two ratios, the others at the best point.

    Returns
    -------
    DataFrame
        A row per small rectangle: `left`, `right`, `low`, `high`, `x`, `y`
        (its middle), `value`, and `inside`: whether it lies between the
        trials.
    """
    one, other = _place(found, across), _place(found, up)
    if one == other:
        raise ComparisonError(f"{across} stands against itself; choose another ratio")
    ends = np.linspace(-1, 1, steps + 1)
    middles = (ends[:-1] + ends[1:]) / 2
    x, y = (grid.ravel() for grid in np.meshgrid(middles, middles))
    codes = np.tile(found.coding.code(found.best.at.to_numpy()), (len(x), 1))
    codes[:, one], codes[:, other] = x, y
    sides = region(found.coding.code(found.trials[list(found.ratios)].to_numpy(float)))
    inside = (codes @ sides[:, :-1].T + sides[:, -1] <= 1e-9).all(axis=1)
    half = 1.04 / steps  # a little wider, so that no seams show
    spans = {
        "x": (one, x), "left": (one, x - half), "right": (one, x + half),
        "y": (other, y), "low": (other, y - half), "high": (other, y + half),
    }  # fmt: skip
    table = {
        name: values * found.coding.halves[n] + found.coding.middles[n]
        for name, (n, values) in spans.items()
    }
    value = design(codes, found.terms) @ found.beta
    return pd.DataFrame({**table, "value": value, "inside": inside})


def _place(found: Surface, ratio: str) -> int:
    if ratio not in found.ratios:
        raise ComparisonError(
            f"no ratio {ratio} in this surface; it has {', '.join(found.ratios)}"
        )
    return found.ratios.index(ratio)
