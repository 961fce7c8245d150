"""What a recipe said of its own pan and time, kept as a note when it is fitted."""

import re
from dataclasses import replace

from bakelab.formula import Formula, require_formula

__all__ = ["before_fit", "time_before"]

_NOTE = "As written, {dough} g of dough bake {time} in {where}."
_WRITTEN = re.compile(
    r"^As written, ([\d,]+) g of dough bake ([\d.]+)(?: to ([\d.]+))? min in (.+)\.$",
    re.MULTILINE,
)
_NO_PAN = "the recipe's pan"


def time_before(formula: Formula) -> str:
    """The sentence on a recipe's own time, pan and dough; empty without a time."""
    if formula.bake_minutes is None:
        return ""
    low, high = formula.bake_minutes
    time = f"{low:g} to {high:g} min" if low < high else f"{low:g} min"
    where = formula.stated_pan or _NO_PAN
    return _NOTE.format(dough=f"{formula.dough_g:.0f}", time=time, where=where)


def before_fit(formula: Formula) -> Formula | None:
    """A fitted formula as large as its recipe was, with its recipe's pan and time.

    None where no fit has noted them. The dough is that of the note, to a gram; the
    pan is empty where the recipe named none.

    Examples
    --------
    >>> from bakelab.scaling import fit
    >>> dough = Formula.from_pairs(
    ...     [("wheat_bread", 500), ("water", 350)],
    ...     stated_pan="loaf 9 x 5 x 3 in", bake_minutes=(35, 40),
    ... )
    >>> again = before_fit(fit(dough, to="loaf 8 x 4 x 3 in").formula)
    >>> round(again.dough_g), again.bake_minutes, again.stated_pan
    (850, (35.0, 40.0), 'loaf 9 x 5 x 3 in')
    """
    require_formula(formula)
    found = _WRITTEN.search(formula.notes)
    if found is None or formula.dough_g <= 0:
        return None
    where = "" if found[4] == _NO_PAN else found[4]
    dough_g = float(found[1].replace(",", ""))
    low, high = float(found[2]), float(found[3] or found[2])
    whole = formula.scaled(dough_g / formula.dough_g)
    return replace(whole, stated_pan=where, bake_minutes=(low, high))
