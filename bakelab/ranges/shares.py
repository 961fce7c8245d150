"""Shares of special flours and additions that tell styles apart."""

import re
from collections.abc import Iterable

from bakelab.formula import Formula, Row, require_formula
from bakelab.ranges.stages import dough_only, flour_inside, known

__all__ = ["shares"]

_POWDER_IN_SELF_RAISING = 0.05  # common practice, no source
_WHOLE = re.compile("whole|graham|sprouted|1600|1700|1740|1800|t110|t150|t170")
_FRUIT = re.compile(
    "(?:"
    "raisin|currant|sultana|date|fig|apricot|cranberr|cherr|candied|peel|prune|plum|"
    "almond|walnut|hazelnut|pecan|pistachio|cashew|macadamia|nuts|dried_fruit"
    ")"
)
_SEEDS = re.compile(
    "(?:"
    "seed|linseed|flax|sesame|poppy|sunflower|pumpkin|chia|millet|quinoa|bulgur|"
    "cracked|grain|kernel|flakes|multigrain|amaranth|grits|wheat_berr|rye_berr"
    ")"
)


def shares(formula: Formula) -> dict[str, float]:
    """Shares that tell styles apart, in percent of all flour.

    ``whole`` (whole-grain flour), ``rye``, ``gluten_free`` (flour and
    starch without wheat or gluten), ``oats``, ``seeds``, ``fruit`` (dried
    fruit and nuts), ``leavening`` (baking powder and soda), ``starter``
    (flour inside starters).
    """
    require_formula(formula)
    dough = dough_only(formula)
    flour_g = dough.require_flour()
    sums = dict.fromkeys(
        ("whole", "rye", "gluten_free", "oats", "seeds", "fruit", "leavening"), 0.0
    )
    starter_g = 0.0
    for row in dough.rows:
        starter_g += flour_inside(row) if row.role == "starter" else 0.0
        for kind, grams in _kinds(row):
            sums[kind] += grams
    sums["starter"] = starter_g
    return {name: 100 * grams / flour_g for name, grams in sums.items()}


def _kinds(row: Row) -> Iterable[tuple[str, float]]:
    name = row.ingredient.lower().replace(" ", "_")
    words = name.split("_")
    if row.role == "leavening":
        yield "leavening", row.mass_g
    if row.role in ("flour", "starter"):
        yield from _flour_kinds(row, name)
    if "oat" in words or "oats" in words:
        yield "oats", row.mass_g
    elif row.role in ("inclusion", "other"):
        if _SEEDS.search(name):
            yield "seeds", row.mass_g
        elif _FRUIT.search(name):
            yield "fruit", row.mass_g


def _flour_kinds(row: Row, name: str) -> Iterable[tuple[str, float]]:
    grams = flour_inside(row)
    if "half_whole" in name:
        yield "whole", grams / 2
    elif _WHOLE.search(name):
        yield "whole", grams
    if "rye" in name.split("_"):
        yield "rye", grams
    if "self_raising" in name:
        yield "leavening", grams * _POWDER_IN_SELF_RAISING
    item = known(row)
    if row.role == "flour" and item and not {"gluten", "wheat"} & set(item.allergens):
        yield "gluten_free", grams
