"""The errors a user of bakelab can meet; each message is one clear sentence."""

__all__ = [
    "BakelabError",
    "FitError",
    "FormulaError",
    "OutOfRangeWarning",
    "PanError",
    "ReadError",
    "TableError",
    "UnitError",
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


class OutOfRangeWarning(UserWarning):
    """A value past the range its source covers; the result is returned."""
