"""Student's t and Fisher's F, and least squares, each imported when first used."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bakelab.comparing.surface_terms import Array

__all__ = ["f_chance", "least_squares", "t_chance", "t_reach"]

# scipy and statsmodels come without type hints, and are heavy to import.


def t_reach(confidence: float, degrees: float) -> float:
    """How many standard errors an interval reaches to either side.

    Examples
    --------
    >>> round(t_reach(0.95, 9), 3)
    2.262
    """
    from scipy.stats import t  # type: ignore[import-untyped]

    return float(t.ppf((1 + confidence) / 2, degrees))


def t_chance(ratio: float, degrees: float) -> float:
    """Chance of an estimate so many standard errors from 0, to either side."""
    from scipy.stats import t

    return 2 * float(t.sf(abs(ratio), degrees))


def f_chance(ratio: float, over: int, under: int) -> float:
    """Chance of so large a ratio of two mean squares."""
    from scipy.stats import f

    return float(f.sf(ratio, over, under))


def least_squares(y: "Array", columns: "Array") -> Any:
    """Ordinary least squares: the fitted model of statsmodels."""
    from statsmodels.regression.linear_model import (  # type: ignore[import-untyped]
        OLS,
    )

    return OLS(y, columns).fit()
