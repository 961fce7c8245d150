"""The formula: a frozen table of what goes in, how much, at which stage."""

from bakelab.formula.exchange import (
    formula_from_csv,
    formula_from_json,
    formula_to_csv,
    formula_to_json,
)
from bakelab.formula.model import COLUMNS, ROLES, Assumption, Formula, Row
from bakelab.formula.needed import require_flour, require_formula
from bakelab.formula.working import working

__all__ = [
    "COLUMNS",
    "ROLES",
    "Assumption",
    "Formula",
    "Row",
    "formula_from_csv",
    "formula_from_json",
    "formula_to_csv",
    "formula_to_json",
    "require_flour",
    "require_formula",
    "working",
]
