"""What every public function that takes a formula asks first."""

from bakelab.errors import FormulaError
from bakelab.formula.model import Formula

__all__ = ["require_formula"]


def require_formula(given: object) -> None:
    """A `FormulaError` in plain words where something else was given.

    A recipe of which no line could be weighed has no formula: None is what is
    given by mistake most often.

    Examples
    --------
    >>> require_formula(Formula.from_pairs([("wheat_bread", 500)]))
    """
    if not isinstance(given, Formula):
        raise FormulaError(
            f"there is no formula in {given!r:.60}; give what read_recipe(…).formula "
            "gives, once a line of it could be weighed"
        )
