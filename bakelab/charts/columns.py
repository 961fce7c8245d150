"""What a chart asks of its table."""

from collections.abc import Sequence

import pandas as pd

from bakelab.errors import FormulaError

__all__ = ["require_columns"]


def require_columns(frame: pd.DataFrame, needs: Sequence[str], *, of: str) -> None:
    """Refuse a table that lacks what its chart draws.

    Raises
    ------
    FormulaError
        Names the columns that are missing and those that are needed.
    """
    missing = [name for name in needs if name not in frame.columns]
    if missing:
        raise FormulaError(
            f"the {of} lacks {', '.join(missing)}; give one with {', '.join(needs)}"
        )
