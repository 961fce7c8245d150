"""Student's t and Fisher's F, and least squares, each imported when first used."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bakelab.comparing.surface_terms import Array

__all__ = ["f_chance", "least_squares", "t_chance", "t_reach"]

# scipy and statsmodels come without type hints. scipy.special is light to import;
# scipy.stats and statsmodels are not.


def t_reach(confidence: float, degrees: float) -> float:
    """How many standard errors an interval reaches to either side.

    Examples
    --------
    >>> round(t_reach(0.95, 9), 3)
    2.262
    """
    from scipy.special import stdtrit  # type: ignore[import-untyped]

    return float(stdtrit(degrees, (1 + confidence) / 2))


def t_chance(ratio: float, degrees: float) -> float:
    """Chance of an estimate so many standard errors from 0, to either side."""
    from scipy.special import stdtr

    return 2 * float(stdtr(degrees, -abs(ratio)))


def f_chance(ratio: float, over: int, under: int) -> float:
    """Chance of so large a ratio of two mean squares."""
    from scipy.special import fdtrc

    return float(fdtrc(over, under, ratio))


def least_squares(y: "Array", columns: "Array") -> Any:
    """Ordinary least squares: the fitted model of statsmodels."""
    from statsmodels.regression.linear_model import (  # type: ignore[import-untyped]
        OLS,
    )

    return OLS(y, columns).fit()
