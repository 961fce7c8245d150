"""One ingredient exchanged for others, what is held staying to the last digit."""

import math
from collections.abc import Sequence
from dataclasses import replace

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_formula
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.preferments.stages import add_row, main_rows, scaled_rows
from bakelab.variants.amounts import AMOUNTS, amount_g, in_one_gram
from bakelab.variants.balance import solve
from bakelab.variants.change import Change

__all__ = ["exchange"]

_LEAST_G = 1e-9
_TOLD = {"sodium": 5.0}  # mg; of everything else what shows in a tenth of a gram
_NEW_MAKERS = {
    "water": "water",
    "salt": "salt_table",
}  # may be added where there is none


def exchange(
    formula: Formula,
    old: str | Sequence[str],
    into: Sequence[str],
    *,
    hold: Sequence[str],
    balance: Sequence[str] = (),
    share_pct: float = 100.0,
) -> Change:
    """Ingredients taken out, others put in, while amounts are held.

    Parameters
    ----------
    formula : Formula
    old : str or sequence of str
        Keys of what is taken out, as far as the formula has it.
    into : sequence of str
        Keys of what is put in.
    hold : sequence of str
        What stays: keys of `AMOUNTS` (mass, water, fat, sugars, sweetness,
        protein, sodium, solids, lean_solids). Of several that cannot all be
        held the first matters most.
    balance : sequence of str
        Roles of the formula that may give or take: ``"water"``,
        ``"salt"``, ``"fat"``, ``"sweetener"``.
    share_pct : float
        How much of it is exchanged, in percent.

    Returns
    -------
    Change
        `sentences` tell it line by line; what cannot be held is in
        `not_held`, with how much it is off.

    Raises
    ------
    FormulaError
        If the formula has nothing of `old`, or an amount is unknown.

    Notes
    -----
    Every stage is balanced for itself, by what is in it; where it has none
    of a balancing role, the final dough's gives or takes.
    """
    require_formula(formula)
    keys = (old,) if isinstance(old, str) else tuple(old)
    rows = [r for r in formula.rows if r.ingredient in keys and r.mass_g > 0]
    _check(keys, into, hold, rows, share_pct)
    made = formula
    said: list[str] = []
    for stage in dict.fromkeys(r.stage for r in rows):
        here = [r for r in made.rows if r.stage == stage and r.ingredient in keys]
        made, words = _in_stage(made, here, into, hold, balance, share_pct / 100)
        said += words
    off = {what: _moved_g(formula, made, what) for what in AMOUNTS}
    missed = [w for w in hold if not _stays(formula, w, off[w])]
    kept = tuple(w for w in hold if w not in missed)
    lines = [f"{AMOUNTS[w]} stays at {_amount(w, _total(formula, w))}" for w in kept]
    others = _others(off, hold)
    return Change(
        made,
        (*said, *lines, *others),
        kept,
        tuple(f"cannot hold {AMOUNTS[w]}: {_more_or_less(w, off[w])}" for w in missed),
    )


def _check(
    keys: Sequence[str],
    into: Sequence[str],
    hold: Sequence[str],
    rows: Sequence[Row],
    share_pct: float,
) -> None:
    names = " or ".join(ingredient(k).name for k in keys)
    if not rows:
        raise FormulaError(f"the formula has no {names} to exchange")
    unknown = [w for w in hold if w not in AMOUNTS]
    if unknown or not hold or not into:
        raise FormulaError(
            f"say what is put in and what is held; {', '.join(AMOUNTS)} can be held"
        )
    if not (math.isfinite(share_pct) and 0 < share_pct <= 100):
        raise FormulaError(f"a share is over 0 and up to 100 %, got {share_pct}")


def _in_stage(
    formula: Formula,
    old: Sequence[Row],
    into: Sequence[str],
    hold: Sequence[str],
    balance: Sequence[str],
    share: float,
) -> tuple[Formula, list[str]]:
    wanted = [share * amount_g(old, what) for what in hold]
    groups = _makers(formula, old, into, balance)
    columns = [[in_one_gram(k, w) for w in hold] for k in into]
    columns += [[_in_group(rows, w) for w in hold] for rows in groups]
    found = solve(
        [list(line) for line in zip(*columns, strict=True)],
        wanted,
        least_g=[0.0] * len(into) + [-_mass(rows) for rows in groups],
    )
    new_g, makers_g = found.masses_g[: len(into)], found.masses_g[len(into) :]
    said = [_exchanged(old, into, new_g, share)]
    said += [
        f"{_name(rows)} {_mass(rows):.1f} g becomes {_mass(rows) + g:.1f} g to make up"
        for rows, g in zip(groups, makers_g, strict=True)
        if abs(g) > _LEAST_G
    ]
    return _made(formula, old, (into, new_g), (groups, makers_g), share), said


def _makers(
    formula: Formula, old: Sequence[Row], into: Sequence[str], balance: Sequence[str]
) -> list[list[Row]]:
    """Rows of each balancing role: of the same stage, else of the final dough."""
    stage = old[0].stage
    groups = []
    for role in balance:
        rows = [r for r in _balancing(formula.rows, old, role) if r.stage == stage]
        rows = rows or _balancing(main_rows(formula), old, role)
        key = _NEW_MAKERS.get(role, "")
        if rows:
            groups.append(rows)
        elif key and key not in into:
            groups.append([Row(stage, key, ingredient(key).name, role, 0.0)])
    return groups


def _balancing(rows: Sequence[Row], old: Sequence[Row], role: str) -> list[Row]:
    leaving = {r.ingredient for r in old}
    return [
        r
        for r in rows
        if r.role == role
        and r.mass_g > 0
        and r.ingredient not in leaving
        and is_ingredient(r.ingredient)
    ]


def _made(
    formula: Formula,
    old: Sequence[Row],
    new: tuple[Sequence[str], Sequence[float]],
    makers: tuple[Sequence[Sequence[Row]], Sequence[float]],
    share: float,
) -> Formula:
    made = formula
    for rows, change_g in zip(*makers, strict=True):
        have_g = _mass(rows)
        if have_g > 0:
            made = scaled_rows(made, rows, max(0.0, 1 + change_g / have_g))
        elif change_g > _LEAST_G:
            fresh = replace(rows[0], mass_g=change_g)
            made = add_row(made, fresh, lambda r: r.stage == old[0].stage)
    made = scaled_rows(made, old, 1 - share)
    leaving = {r.ingredient for r in old}
    for key, mass_g in zip(*new, strict=True):
        if mass_g > _LEAST_G:
            item = ingredient(key)
            row = Row(old[0].stage, key, item.name, item.role, mass_g)
            made = add_row(
                made, row, lambda r: r.ingredient in leaving and r.stage == old[0].stage
            )
    gone = leaving - set(new[0]) if share >= 1 else set()
    return made.with_rows(
        r for r in made.rows if r.ingredient not in gone or r.stage != old[0].stage
    )


def _exchanged(
    old: Sequence[Row], into: Sequence[str], masses: Sequence[float], share: float
) -> str:
    taken = " and ".join(f"{r.mass_g * share:.1f} g {r.label}" for r in old)
    parts = [
        f"{mass_g:.1f} g {ingredient(key).name}"
        for key, mass_g in zip(into, masses, strict=True)
        if mass_g > _LEAST_G
    ]
    return f"{taken} becomes {', '.join(parts) or 'nothing'}"


def _others(off: dict[str, float], hold: Sequence[str]) -> list[str]:
    """One line on what else moves, without saying the same thing twice."""
    told = [w for w in ("mass", "water", "fat", "sugars", "protein", "sodium")
            if w not in hold and abs(off[w]) >= _TOLD.get(w, 0.05)]  # fmt: skip
    if not told:
        return []
    words = ", ".join(f"{AMOUNTS[w]} {_more_or_less(w, off[w])}" for w in told)
    return [f"not held: {words}"]


def _stays(formula: Formula, what: str, off: float) -> bool:
    return abs(off) <= 1e-10 * max(1.0, abs(_total(formula, what)))


def _moved_g(before: Formula, after: Formula, what: str) -> float:
    return _total(after, what) - _total(before, what)


def _total(formula: Formula, what: str) -> float:
    return amount_g(formula.rows, what)


def _more_or_less(what: str, off: float) -> str:
    return f"{_amount(what, abs(off))} {'more' if off > 0 else 'less'}"


def _amount(what: str, value: float) -> str:
    return f"{value:.0f} mg" if what == "sodium" else f"{value:.1f} g"


def _in_group(rows: Sequence[Row], what: str) -> float:
    mass_g = _mass(rows)
    if mass_g > 0:
        return amount_g(rows, what) / mass_g
    return in_one_gram(rows[0].ingredient, what)


def _mass(rows: Sequence[Row]) -> float:
    return math.fsum(r.mass_g for r in rows)


def _name(rows: Sequence[Row]) -> str:
    return rows[0].label if len(rows) == 1 else rows[0].role
