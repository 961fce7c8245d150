"""A part of a straight formula moved into a stage of its own."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import count

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_flour, require_formula
from bakelab.ingredients import ingredient
from bakelab.preferments.kinds import Kind, kind
from bakelab.preferments.stages import main_rows
from bakelab.preferments.taking import LEAST_G, Wanted, check_share, rows_of, taken_out
from bakelab.ranges.measures import YEAST_PER_FRESH

__all__ = ["with_preferment", "with_soaker"]

_MOST_WATER_PCT = 1000.0
_SEED_PCT = 100 / 3  # one part of the flour was there, two are fed
_STIFF_PCT = 75.0  # our own: drier starters than this go by the name of stiff


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
    also: Mapping[str, float] | None = None,
    seed_pct: float | None = None,
    seed_hydration_pct: float = 100.0,
) -> Formula:
    """The formula with a part of its flour in a preferment or a scald.

    Nothing is added: what the preferment gets is taken from the final
    dough, so that total flour, hydration, salt and every overall
    percentage stay. Preferments and soakers that are there stay as they are.

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
        Liquid, yeast and salt as weighed, in percent of the flour moved; the
        usual middle by default. That is stated for instant yeast; another
        kind gets what raises as much (fresh 1, active dry 0.40, instant
        0.33), and never more than the formula has.
    fat_pct : float
        Percent of the flour moved, from the formula's fats; none by default.
    flour : str, optional
        Key of the flour to take; all in proportion by default.
    liquid : str, optional
        Key of the liquid, such as ``"milk_whole"``; plain water by default.
    also : mapping of str to float, optional
        Keys of more ingredients with their percent of the flour moved, such
        as ``{"butter_unsalted": 8}`` for an old dough of an enriched bread.
    seed_pct : float, optional
        Percent of the preferment's flour that a ripe starter brings: a third
        for a levain (one part fed with two, common practice), or as much as
        its water allows, else nothing.
    seed_hydration_pct : float
        Of that starter.

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
    total_g = require_flour(formula)
    usual = kind(what)
    share = usual.middle("flour") if flour_pct is None else flour_pct
    check_share("percent of flour", share, 100.0)
    flour_g = total_g * share / 100
    hydration = usual.middle("hydration") if hydration_pct is None else hydration_pct
    check_share("hydration", hydration, _MOST_WATER_PCT)
    liquids = rows_of(formula, key=liquid, role="water")
    wanted = [
        Wanted(_flours(formula, flour), flour_g, "flour"),
        Wanted(liquids, flour_g * hydration / 100, liquid or "water"),
        *_yeast(formula, usual, flour_g, yeast_pct),
        *_salt(formula, usual, flour_g, salt_pct),
        *_fat(formula, flour_g, fat_pct),
        *_more(formula, flour_g, also or {}),
    ]
    stage = _stage_name(usual, formula)
    split = taken_out(formula, wanted, stage)
    if seed_pct is None and not usual.is_levain:
        return split
    check_share("seed", 0.0 if seed_pct is None else seed_pct, 100.0)
    return _seeded(split, stage, seed_pct, seed_hydration_pct)


def with_soaker(
    formula: Formula, keys: Sequence[str], *, hydration_pct: float | None = None
) -> Formula:
    """The formula with grains or seeds soaked in a part of its water.

    `hydration_pct` is water over what is soaked; the middle of the usual
    band by default. The keys are taken whole.
    """
    require_formula(formula)
    rows = [r for r in main_rows(formula) if r.ingredient in keys]
    missing = sorted(set(keys) - {r.ingredient for r in rows})
    if missing or not rows:
        raise FormulaError(f"the formula has no {', '.join(missing) or 'such grain'}")
    usual = kind("soaker")
    grain_g = math.fsum(r.mass_g for r in rows)
    hydration = usual.middle("hydration") if hydration_pct is None else hydration_pct
    check_share("hydration", hydration, _MOST_WATER_PCT)
    wanted = [
        Wanted(rows, grain_g, "grain"),
        Wanted(rows_of(formula, role="water"), grain_g * hydration / 100, "water"),
    ]
    return taken_out(formula, wanted, _stage_name(usual, formula))


def _flours(formula: Formula, key: str | None) -> list[Row]:
    rows = [r for r in rows_of(formula, key=key, role="flour") if r.role == "flour"]
    if not rows:
        raise FormulaError(f"the dough has no flour {key or ''!r} to take from")
    return rows


def _yeast(
    formula: Formula, usual: Kind, flour_g: float, pct: float | None
) -> list[Wanted]:
    rows = rows_of(formula, role="yeast")
    have_g = math.fsum(r.mass_g for r in rows)
    if pct is not None:
        check_share("yeast", pct, 100.0)
        yeast_g = flour_g * pct / 100
    elif usual.rises and have_g:
        instant_g = math.fsum(r.mass_g * _as_instant(r.ingredient) for r in rows)
        usual_g = flour_g * usual.middle("yeast") / 100
        yeast_g = have_g * min(1.0, usual_g / instant_g)
    else:
        yeast_g = 0.0
    return [Wanted(rows, yeast_g, "yeast")] if yeast_g else []


def _as_instant(key: str) -> float:
    """Grams of instant yeast that raise like one gram; unknown kinds are instant."""
    instant = YEAST_PER_FRESH["yeast_instant"]
    return instant / YEAST_PER_FRESH.get(key, instant)


def _salt(
    formula: Formula, usual: Kind, flour_g: float, pct: float | None
) -> list[Wanted]:
    salt = usual.salt_pct if pct is None else pct
    check_share("salt", salt, 100.0)
    rows = rows_of(formula, role="salt")
    return [Wanted(rows, flour_g * salt / 100, "salt")] if salt else []


def _fat(formula: Formula, flour_g: float, pct: float) -> list[Wanted]:
    check_share("fat", pct, 100.0)
    rows = rows_of(formula, role="fat")
    return [Wanted(rows, flour_g * pct / 100, "fat")] if pct else []


def _more(formula: Formula, flour_g: float, also: Mapping[str, float]) -> list[Wanted]:
    for key, pct in also.items():
        check_share(key, pct, _MOST_WATER_PCT)
    return [
        Wanted(rows_of(formula, key=key), flour_g * pct / 100, key)
        for key, pct in also.items()
        if pct
    ]


def _seeded(split: Formula, stage: str, pct: float | None, hydration: float) -> Formula:
    """Some of the stage's flour and water as ripe starter."""
    check_share("hydration of the starter", hydration, _MOST_WATER_PCT)
    inside = [r for r in split.rows if r.stage == stage]
    flour_g = math.fsum(r.mass_g for r in inside if r.role == "flour")
    have_g = math.fsum(r.mass_g for r in inside if r.role == "water")
    seed_g, water_g = _seed(stage, flour_g, have_g, pct, hydration)
    if seed_g <= 0:
        return split
    left = {"flour": 1 - seed_g / flour_g, "water": 1 - water_g / (have_g or 1.0)}
    taken = [r for r in split.rows if r.stage == stage and r.role in left]
    rows = [
        replace(r, mass_g=r.mass_g * max(0.0, left[r.role])) if r in taken else r
        for r in split.rows
    ]
    key = "starter_stiff" if hydration < _STIFF_PCT else "starter_liquid"
    label = ingredient(key).name.partition(" (")[0]
    seed = Row(stage, key, label, "starter", seed_g + water_g, hydration)
    kept = (r for r in rows if r.stage != stage or r.mass_g > LEAST_G)
    return split.with_rows([seed, *kept])


def _seed(
    stage: str, flour_g: float, have_g: float, pct: float | None, hydration: float
) -> tuple[float, float]:
    """Flour and water of the starter, in g; no more water than the stage has."""
    seed_g = flour_g * (_SEED_PCT if pct is None else pct) / 100
    water_g = seed_g * hydration / 100
    if pct is None and water_g > have_g:  # as much as the water allows
        return have_g / hydration * 100, have_g
    if water_g > have_g * (1 + 1e-12):
        raise FormulaError(
            f"the starter for the {stage} brings {water_g:.1f} g water, but the {stage}"
            f" takes {have_g:.1f} g: use less starter (seed_pct) or a stiffer one"
        )
    return seed_g, water_g


def _stage_name(usual: Kind, formula: Formula) -> str:
    name = usual.stage
    taken = set(formula.stages)
    if name not in taken:
        return name
    return next(f"{name} {n}" for n in count(2) if f"{name} {n}" not in taken)
