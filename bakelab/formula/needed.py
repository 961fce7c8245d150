"""What every public function that takes a formula asks first."""

from bakelab.errors import FormulaError
from bakelab.formula.model import Formula

__all__ = ["require_flour", "require_formula"]


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


def require_flour(formula: Formula) -> float:
    """The flour in g of what was given; it must be a formula, and have some.

    Raises
    ------
    FormulaError
        In plain words, where there is no formula, or no flour in it.

    Examples
    --------
    >>> require_flour(Formula.from_pairs([("wheat_bread", 500), ("water", 340)]))
    500.0
    """
    require_formula(formula)
    return formula.require_flour()
