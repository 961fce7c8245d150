"""One ratio changed on purpose, while what the baker wants held is held."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from bakelab.errors import FormulaError
from bakelab.formula import ROLES, Formula, Row
from bakelab.formula.contents import contents
from bakelab.ingredients import ingredient

__all__ = ["HOLDS", "Change", "change"]

HOLDS: Mapping[str, str] = MappingProxyType(
    {
        "flour": "the flour's weight",
        "dough": "the dough's weight",
        "pan": "the dough's weight, so that the pan is as full",
        "liquids": "all the water, plain water making up",
        "sweetness": "all sugars, the sweeteners making up",
        "fat": "all fat, the fats making up",
        "solids": "the dry solids of the dough, everything being scaled",
    }
)
_NUTRIENT = {"liquids": 0, "sweetness": 5, "fat": 2}  # place in the contents
_MADE_UP_BY = {"liquids": "water", "sweetness": "sweetener", "fat": "fat"}
_MOST_PCT = 1000.0
_LEAST_G = 1e-9


@dataclass(frozen=True)
class Change:
    """A changed formula: what moved, what was held, what could not be."""

    formula: Formula
    sentences: tuple[str, ...]
    held: tuple[str, ...]
    not_held: tuple[str, ...] = ()


def change(
    formula: Formula,
    what: str,
    *,
    to: float | None = None,
    by: float | None = None,
    hold: str = "flour",
) -> Change:
    """Set or step one percentage of the flour.

    Parameters
    ----------
    formula : Formula
    what : str
        ``"water"`` (as written), ``"hydration"`` (true, moved by plain
        water), a role such as ``"salt"``, an ingredient's key, or a
        flour's key: its share, the other flours giving way in proportion.
    to, by : float
        The new percentage, or the step in percentage points; one of them.
    hold : str
        A key of `HOLDS`. The flour's weight always stays, except where the
        dough or its solids are held: then everything is scaled.

    Returns
    -------
    Change

    Raises
    ------
    FormulaError
        If there is nothing to move, or the percentage is impossible.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("salt_table", 10)])
    >>> change(dough, "salt", to=1.5).formula.role_g("salt")
    7.5
    """
    formula.require_flour()
    if hold not in HOLDS:
        raise FormulaError(f"nothing is held as {hold!r}; use one of {list(HOLDS)}")
    before = _now(formula, what)
    target = _target(what, before, to, by)
    moved = _moved(formula, what, target)
    sentences = [f"{_name(formula, what)} {before:.2f} % becomes {target:.2f} %"]
    not_held: list[str] = []
    if hold in _NUTRIENT and what not in ("hydration", _MADE_UP_BY[hold]):
        moved, said = _made_up(formula, moved, hold, what)
        (not_held if said.startswith("cannot") else sentences).append(said)
    if hold in ("dough", "pan"):
        moved = moved.scaled(formula.dough_g / moved.dough_g)
        sentences.append(f"everything is scaled to {formula.dough_g:.0f} g of dough")
    if hold == "solids":
        moved = moved.scaled(_solids_g(formula) / _solids_g(moved))
        sentences.append(f"everything is scaled to {_solids_g(moved):.0f} g of solids")
    held = () if not_held else (HOLDS[hold],)
    return Change(moved, tuple(s for s in sentences if s), held, tuple(not_held))


def _now(formula: Formula, what: str) -> float:
    if what == "hydration":
        return formula.hydration_pct
    return 100 * math.fsum(r.mass_g for r in _rows(formula, what)) / formula.flour_g


def _rows(formula: Formula, what: str) -> list[Row]:
    """The rows that a role, "hydration" or an ingredient's key names."""
    role = "water" if what == "hydration" else what
    if role in ROLES:
        if role == "flour":
            raise FormulaError("all flour is 100 %; change the share of one flour")
        return [r for r in formula.rows if r.role == role]
    rows = [r for r in formula.rows if what in (r.ingredient, r.label)]
    if not rows:
        labels = ", ".join(dict.fromkeys(r.label for r in formula.rows))
        raise FormulaError(f"no {what!r} in this formula; it has {labels}")
    return rows


def _target(what: str, before: float, to: float | None, by: float | None) -> float:
    if (to is None) == (by is None):
        raise FormulaError("give either a new percentage (to) or a step (by)")
    target = float(to) if to is not None else before + float(by or 0)
    if not (math.isfinite(target) and 0 <= target <= _MOST_PCT):
        raise FormulaError(
            f"{what} cannot be {target:g} %; give 0 to {_MOST_PCT:.0f} % of the flour"
        )
    return target


def _moved(formula: Formula, what: str, target: float) -> Formula:
    flour_g = formula.flour_g
    if what == "hydration":
        other_g = formula.water_g - formula.plain_water_g
        water_g = flour_g * target / 100 - other_g
        if water_g < 0:
            raise FormulaError(
                f"a true hydration of {target:g} % cannot be reached: the other "
                f"ingredients bring {100 * other_g / flour_g:.1f} % without any water"
            )
        return _set(formula, "water", water_g)
    rows = _rows(formula, what)
    if rows and rows[0].role == "flour":
        return _share(formula, rows, target)
    if what == "starter" or (rows and rows[0].role == "starter"):
        return _starter(formula, rows, flour_g * target / 100)
    return _set(formula, what, flour_g * target / 100)


def _set(formula: Formula, what: str, mass_g: float) -> Formula:
    """Scale the rows of a role or key to a mass; plain water may be new."""
    rows = _rows(formula, what)
    have_g = math.fsum(r.mass_g for r in rows)
    if have_g <= 0:
        if rows:  # they stand at nothing: the first one takes it all
            first = rows[0]
            return formula.with_rows(
                replace(r, mass_g=mass_g) if r is first else r for r in formula.rows
            )
        if what == "water":
            water = Row(formula.stages[-1], "water", "water", "water", mass_g)
            return formula.with_rows([*formula.rows, water])
        raise FormulaError(f"the formula has no {what}; add it to the recipe first")
    return _scaled(formula, rows, mass_g / have_g)


def _scaled(formula: Formula, rows: Sequence[Row], factor: float) -> Formula:
    chosen = {id(r) for r in rows}
    return formula.with_rows(
        replace(r, mass_g=r.mass_g * factor) if id(r) in chosen else r
        for r in formula.rows
    )


def _share(formula: Formula, rows: Sequence[Row], target: float) -> Formula:
    chosen = {id(r) for r in rows}
    others = [r for r in formula.rows if r.role == "flour" and id(r) not in chosen]
    free_g = math.fsum(r.mass_g for r in (*rows, *others))
    mine_g = formula.flour_g * target / 100
    rest_g = free_g - mine_g
    other_g = math.fsum(r.mass_g for r in others)
    if rest_g < -_LEAST_G or (other_g <= 0 and rest_g > _LEAST_G):
        most = 100 * free_g / formula.flour_g
        raise FormulaError(
            f"{rows[0].label} cannot be {target:g} %: the weighed flours are "
            f"{most:.1f} % of all flour, and the others have to make up the rest"
        )
    have_g = math.fsum(r.mass_g for r in rows)
    moved = _scaled(formula, rows, mine_g / have_g)
    still = [r for r in moved.rows if r.role == "flour" and id(r) in map(id, others)]
    return _scaled(moved, still, rest_g / other_g if other_g else 1.0)


def _starter(formula: Formula, rows: Sequence[Row], mass_g: float) -> Formula:
    """More or less starter, total flour and all water staying."""
    if not rows:
        raise FormulaError("the formula has no starter; add it to the recipe first")
    have_g = math.fsum(r.mass_g for r in rows)
    moved = _scaled(formula, rows, mass_g / have_g)
    flours = [r for r in moved.rows if r.role == "flour"]
    weighed_g = math.fsum(r.mass_g for r in flours)
    rest_g = weighed_g - (moved.flour_g - formula.flour_g)
    if rest_g < 0 or weighed_g <= 0:
        raise FormulaError("that much starter holds more flour than the formula has")
    moved = _scaled(moved, flours, rest_g / weighed_g)
    water_g = moved.plain_water_g - (moved.water_g - formula.water_g)
    if water_g < 0:
        raise FormulaError("that much starter holds more water than the formula has")
    return _set(moved, "water", water_g)


def _made_up(
    before: Formula, moved: Formula, hold: str, what: str
) -> tuple[Formula, str]:
    """Let another role make up what the change brought or took."""
    place, role = _NUTRIENT[hold], _MADE_UP_BY[hold]
    rows = [
        r for r in moved.rows if r.role == role and what not in (r.ingredient, r.role)
    ]
    per_g = _per_gram(rows, place)
    surplus_g = _total(moved.rows, place) - _total(before.rows, place)
    if abs(surplus_g) < _LEAST_G:
        return moved, ""
    have_g = math.fsum(r.mass_g for r in rows)
    wanted_g = have_g - surplus_g / per_g if per_g > 0 else -1.0
    if wanted_g < 0:
        return moved, (
            f"cannot hold {HOLDS[hold]}: there is not enough {role} to make up "
            f"{abs(surplus_g):.1f} g"
        )
    made = _scaled(moved, rows, wanted_g / have_g)
    return made, f"{role} {have_g:.1f} g becomes {wanted_g:.1f} g to make up"


def _solids_g(formula: Formula) -> float:
    return formula.dough_g * (1 - formula.composition()["water"] / 100)


def _total(rows: Iterable[Row], place: int) -> float:
    """Grams of added water, fat or sugars in the rows."""
    sums = []
    for row in rows:
        inside = contents(row.ingredient, row.role, row.mass_g, row.hydration_pct)
        sums.append(inside.water_g if place == 0 else inside.nutrients[place])
    return math.fsum(sums)


def _per_gram(rows: Sequence[Row], place: int) -> float:
    mass_g = math.fsum(r.mass_g for r in rows)
    return _total(rows, place) / mass_g if mass_g > 0 else 0.0


def _name(formula: Formula, what: str) -> str:
    if what == "water":
        return "water as written"
    if what == "hydration":
        return "true hydration"
    if what in ROLES:
        return what
    rows = _rows(formula, what)
    return rows[0].label or ingredient(rows[0].ingredient).name
