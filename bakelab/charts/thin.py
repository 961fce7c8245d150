"""Not more marks than an eye can tell apart, and a word on what was left out."""

import pandas as pd

__all__ = ["MOST_MARKS", "thinned"]

MOST_MARKS = 1500
"""So many bakes are drawn at most; every number rests on all of them."""


def thinned(
    frame: pd.DataFrame, *, most: int = MOST_MARKS, newest: bool = False
) -> tuple[pd.DataFrame, str]:
    """Some of the rows, and in words how many of them.

    Parameters
    ----------
    frame : DataFrame
    most : int
    newest : bool
        The last rows, instead of rows drawn at random (with a seed).

    Examples
    --------
    >>> thinned(pd.DataFrame({"x": range(4)}), most=3, newest=True)[1]
    'the last 3 of 4 are drawn'
    """
    if len(frame) <= most:
        return frame, ""
    if newest:
        return frame.tail(most), f"the last {most} of {len(frame)} are drawn"
    drawn = frame.sample(most, random_state=1).sort_index()
    return drawn, f"{most} of {len(frame)} are drawn, at random"
