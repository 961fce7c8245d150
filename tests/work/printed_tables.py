"""Tables as they are printed, as numbers."""

import numpy as np


def values(text: str) -> np.ndarray:
    """The numbers of a printed table, in the order in which it is read."""
    return np.array(text.split(), dtype=float)
