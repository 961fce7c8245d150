"""The errors a user of bakelab can meet; each message is one clear sentence."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

__all__ = [
    "BakelabError",
    "BookError",
    "ConflictError",
    "DamagedBookError",
    "FitError",
    "FormulaError",
    "OutOfRangeWarning",
    "PanError",
    "ReadError",
    "TableError",
    "UnitError",
    "UnknownEntryError",
    "UnknownIngredientError",
]


class BakelabError(Exception):
    """Anything bakelab refuses: says what it got, what it allows, what to do."""


class UnitError(BakelabError, ValueError):
    """A quantity whose unit is missing, unknown or of the wrong dimension."""


class TableError(BakelabError, ValueError):
    """A row of a data table that cannot be used, by file and line number."""


class UnknownIngredientError(BakelabError, LookupError):
    """An ingredient key that is not in the table; names the closest ones."""

    def __str__(self) -> str:
        return str(self.args[0]) if self.args else ""


class FormulaError(BakelabError, ValueError):
    """A formula that cannot be worked with, such as one without flour."""


class PanError(BakelabError, ValueError):
    """A pan whose measures are missing, impossible or not understood."""


class ReadError(BakelabError, ValueError):
    """A text or file that cannot be read as a recipe at all."""


class FitError(BakelabError, ValueError):
    """A formula that cannot be fitted to what was asked for."""


class BookError(BakelabError, ValueError):
    """A bake book that cannot be used so, or a value that it does not take."""


class DamagedBookError(BookError):
    """A bake book whose file is damaged; names the newest good backup."""


class UnknownEntryError(BookError, LookupError):
    """An entry that is not in the bake book."""


class ConflictError(BookError):
    """An entry was changed by somebody else since it was read.

    Attributes
    ----------
    version : int
        The version that the entry has now.
    others : mapping of str to value
        What the others changed since, as it stands now.
    """

    def __init__(
        self,
        sentence: str,
        *,
        version: int = 0,
        others: Mapping[str, Any] | None = None,
    ) -> None:
        super().__init__(sentence)
        self.version = version
        self.others: Mapping[str, Any] = MappingProxyType(dict(others or {}))


class OutOfRangeWarning(UserWarning):
    """A value past the range its source covers; the result is returned."""
