"""A part of a straight formula moved into a stage of its own."""

import math
from collections.abc import Sequence
from dataclasses import replace

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.preferments.kinds import Kind, kind

__all__ = ["with_preferment", "with_soaker"]

_FINAL = "final dough"
_LEAST_G = 1e-9  # a row with less is left out


def with_preferment(
    formula: Formula,
    what: str,
    *,
    flour_pct: float | None = None,
    hydration_pct: float | None = None,
    yeast_pct: float | None = None,
    salt_pct: float | None = None,
    fat_pct: float = 0.0,
    flour: str | None = None,
    liquid: str | None = None,
) -> Formula:
    """The formula with a part of its flour in a preferment or a scald.

    Nothing is added: what the preferment gets is taken from the dough, so
    that total flour, hydration, salt and every overall percentage stay.

    Parameters
    ----------
    formula : Formula
    what : str
        A key of `kinds`: ``"poolish"``, ``"sponge"``, ``"biga"``,
        ``"old_dough"``, ``"levain_liquid"``, ``"levain_stiff"``, ``"scald"``.
    flour_pct : float, optional
        Percent of all flour that is moved; the middle of the usual band by
        default.
    hydration_pct, yeast_pct, salt_pct : float, optional
        Percent of the flour moved; the usual middle by default. Yeast is
        what the formula has at most.
    fat_pct : float
        Percent of the flour moved, from the formula's fats; none by default.
    flour : str, optional
        Key of the flour to take; all in proportion by default.
    liquid : str, optional
        Key of the liquid, such as ``"milk_whole"``; plain water by default.

    Returns
    -------
    Formula
        Stages: the preferment, then the final dough.

    Raises
    ------
    FormulaError
        If the formula has not enough of something, or a share is impossible.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("water", 350)])
    >>> split = with_preferment(dough, "poolish", flour_pct=30, yeast_pct=0)
    >>> [(r.stage, r.ingredient, r.mass_g) for r in split.rows][:2]
    [('poolish', 'wheat_bread', 150.0), ('poolish', 'water', 150.0)]
    """
    usual = kind(what)
    total_g = formula.require_flour()
    share = usual.middle("flour") if flour_pct is None else flour_pct
    _check_share("percent of flour", share, 100.0)
    flour_g = total_g * share / 100
    hydration = usual.middle("hydration") if hydration_pct is None else hydration_pct
    _check_share("hydration", hydration, 1000.0)
    wanted = [
        (_flours(formula, flour), flour_g, "flour"),
        (_liquids(formula, liquid), flour_g * hydration / 100, liquid or "water"),
        *_extras(formula, usual, flour_g, yeast_pct, salt_pct),
    ]
    _check_share("fat", fat_pct, 100.0)
    if fat_pct:
        fats = [r for r in formula.rows if r.role == "fat"]
        wanted.append((fats, flour_g * fat_pct / 100, "fat"))
    return _moved(formula, wanted, _stage_name(usual, formula))


def with_soaker(
    formula: Formula, keys: Sequence[str], *, hydration_pct: float | None = None
) -> Formula:
    """The formula with grains or seeds soaked in a part of its water.

    `hydration_pct` is water over what is soaked; the middle of the usual
    band by default. The keys are taken whole.
    """
    rows = tuple(r for r in formula.rows if r.ingredient in keys)
    missing = sorted(set(keys) - {r.ingredient for r in rows})
    if missing or not rows:
        raise FormulaError(f"the formula has no {', '.join(missing) or 'such grain'}")
    grain_g = math.fsum(r.mass_g for r in rows)
    hydration = (
        kind("soaker").middle("hydration") if hydration_pct is None else hydration_pct
    )
    _check_share("hydration", hydration, 1000.0)
    wanted = [
        (rows, grain_g, "grain"),
        (_liquids(formula, None), grain_g * hydration / 100, "water"),
    ]
    return _moved(formula, wanted, "soaker")


Wanted = tuple[Sequence[Row], float, str]


def _extras(
    formula: Formula,
    usual: Kind,
    flour_g: float,
    yeast_pct: float | None,
    salt_pct: float | None,
) -> list[Wanted]:
    extras: list[Wanted] = []
    yeasts = [r for r in formula.rows if r.role == "yeast"]
    have_g = math.fsum(r.mass_g for r in yeasts)
    if yeast_pct is None:
        usual_g = flour_g * usual.middle("yeast") / 100 if usual.rises else 0.0
        yeast_g = min(usual_g, have_g)
    else:
        _check_share("yeast", yeast_pct, 100.0)
        yeast_g = flour_g * yeast_pct / 100
    if yeast_g:
        extras.append((yeasts, yeast_g, "yeast"))
    salt = usual.salt_pct if salt_pct is None else salt_pct
    _check_share("salt", salt, 100.0)
    if salt:
        salts = [r for r in formula.rows if r.role == "salt"]
        extras.append((salts, flour_g * salt / 100, "salt"))
    return extras


def _flours(formula: Formula, key: str | None) -> list[Row]:
    rows = [
        r for r in formula.rows if r.role == "flour" and key in (None, r.ingredient)
    ]
    if not rows:
        raise FormulaError(f"the formula has no flour {key!r} to take from")
    return rows


def _liquids(formula: Formula, key: str | None) -> list[Row]:
    if key is None:
        return [r for r in formula.rows if r.role == "water"]
    return [r for r in formula.rows if r.ingredient == key]


def _moved(formula: Formula, wanted: Sequence[Wanted], stage: str) -> Formula:
    """Take each wanted mass, in proportion, from its rows."""
    taken: dict[int, float] = {}
    for rows, mass_g, name in wanted:
        have_g = math.fsum(r.mass_g for r in rows)
        if mass_g > have_g * (1 + 1e-12):
            raise FormulaError(
                f"the {stage} wants {mass_g:.1f} g {name}, but the dough has "
                f"{have_g:.1f} g: take less flour for it, or a lower share"
            )
        for row in rows:
            taken[id(row)] = mass_g * row.mass_g / have_g if have_g else 0.0
    first = [
        replace(r, stage=stage, mass_g=taken[id(r)])
        for r in formula.rows
        if taken.get(id(r), 0.0) > _LEAST_G
    ]
    rest = [_left(r, taken.get(id(r), 0.0)) for r in formula.rows]
    return formula.with_rows([*first, *(r for r in rest if r.mass_g > _LEAST_G)])


def _left(row: Row, taken_g: float) -> Row:
    stage = _FINAL if row.stage in ("dough", "") else row.stage
    return replace(row, stage=stage, mass_g=max(0.0, row.mass_g - taken_g))


def _stage_name(usual: Kind, formula: Formula) -> str:
    name = usual.name.partition(" (")[0].casefold().partition(" with")[0]
    taken = set(formula.stages)
    if name not in taken:
        return name
    return next(f"{name} {n}" for n in range(2, 99) if f"{name} {n}" not in taken)


def _check_share(name: str, value: float, most: float) -> None:
    if not (math.isfinite(value) and 0 <= value <= most):
        raise FormulaError(
            f"{name} is {value} %; give a share between 0 and {most:.0f} %"
        )
