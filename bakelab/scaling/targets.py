"""What a formula is to become, when it is not a pan: a mass, pieces, a stock."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.ranges import band, place, style_name
from bakelab.scaling.loading import StyleChoice
from bakelab.scaling.words import factor_text, grams, mass_g
from bakelab.units import Quantity

__all__ = [
    "Goal",
    "baked_goal",
    "cupboard_goal",
    "dough_goal",
    "flour_goal",
    "loss_of_dough",
    "pieces_goal",
]

MOST_PIECES = 100_000
MOST_LOSS_PCT = 60.0


@dataclass(frozen=True)
class Goal:
    """A factor and how it came about.

    `fixed` means that the batch itself was given (flour, cupboard), so that
    nothing is added for what sticks to the bowl.
    """

    factor: float
    working: tuple[str, ...]
    remarks: tuple[str, ...] = ()
    pieces: int = 1
    fixed: bool = False
    what: str = "dough"


def loss_of_dough(loss_of_baked_pct: float) -> float:
    """Bake loss in percent of the dough, from one in percent of the loaf.

    Some handbooks divide what is lost by the baked weight; here loss is of
    the dough. 10 % of the baked weight is 9.1 % of the dough.

    Raises
    ------
    FitError
        If the loss is below 0 % or not finite.
    """
    if not (math.isfinite(loss_of_baked_pct) and loss_of_baked_pct >= 0):
        raise FitError(
            f"a bake loss of {loss_of_baked_pct:g} % is not possible; give 0 % or more"
        )
    return 100 * loss_of_baked_pct / (100 + loss_of_baked_pct)


def dough_goal(formula: Formula, dough: Quantity | str) -> Goal:
    """To a mass of dough."""
    wanted = _positive(dough, "dough")
    factor = wanted / formula.dough_g
    return Goal(factor, (_ratio("Dough", wanted, formula.dough_g, factor),))


def flour_goal(formula: Formula, flour: Quantity | str) -> Goal:
    """To a mass of flour, flour inside starters and preferments included."""
    wanted = _positive(flour, "flour")
    factor = wanted / formula.flour_g
    line = _ratio("Flour", wanted, formula.flour_g, factor)
    return Goal(factor, (line,), fixed=True)


def pieces_goal(formula: Formula, pieces: int, piece: Quantity | str) -> Goal:
    """To a number of pieces of a dough weight."""
    count, each = checked_pieces(pieces), _positive(piece, "piece")
    wanted = count * each
    factor = wanted / formula.dough_g
    working = (
        f"{count} pieces x {grams(each)} = {grams(wanted)} of dough.",
        _ratio("Dough", wanted, formula.dough_g, factor),
    )
    return Goal(factor, working, pieces=count, what="piece")


def baked_goal(
    formula: Formula,
    baked: Quantity | str,
    *,
    loss_pct: float | None,
    style: StyleChoice | None,
    pieces: int | None,
) -> Goal:
    """To a baked mass of all loaves together, through the loss in the oven."""
    wanted = _positive(baked, "baked")
    loss, remarks = _loss(loss_pct, style)
    dough = wanted / (1 - loss / 100)
    factor = dough / formula.dough_g
    line = (
        f"Bake loss {loss:.4g} % of the dough (= {_of_baked(loss):.4g} % of the baked "
        f"weight): {grams(wanted)} / (1 - {loss / 100:.4g}) = {grams(dough)} of dough."
    )
    working = (line, _ratio("Dough", dough, formula.dough_g, factor))
    count = 1 if pieces is None else checked_pieces(pieces)
    what = "dough" if pieces is None else "piece"
    return Goal(factor, working, remarks, pieces=count, what=what)


def cupboard_goal(formula: Formula, cupboard: Mapping[str, Quantity | str]) -> Goal:
    """To what is there: the scarcest ingredient limits.

    Keys are ingredient keys or labels of the formula; what is not listed is
    taken as plenty, and said so.
    """
    if not cupboard:
        raise FitError(
            "the cupboard is empty; list what you have, such as "
            "cupboard={'wheat_bread': '800 g'}"
        )
    factors = {}
    working = []
    for name, amount in cupboard.items():
        label, needed = _needed(formula, name)
        there = _positive(amount, f"cupboard[{name!r}]")
        factors[label] = there / needed
        working.append(_ratio(label, there, needed, there / needed))
    scarce = min(factors, key=lambda label: factors[label])
    working.append(
        f"{scarce} is the scarcest: it limits the batch to "
        f"{factor_text(factors[scarce])} x the recipe."
    )
    remarks = _plenty(formula, cupboard)
    return Goal(factors[scarce], tuple(working), remarks, fixed=True)


def checked_pieces(pieces: int) -> int:
    """A number of pieces, or the refusal in plain words."""
    if isinstance(pieces, bool) or not isinstance(pieces, int):
        raise FitError(f"pieces is {pieces!r}; give a whole number such as 12")
    if not 1 <= pieces <= MOST_PIECES:
        raise FitError(f"pieces is {pieces}; give 1 to {MOST_PIECES}")
    return pieces


def _positive(value: Quantity | str, name: str) -> float:
    wanted = mass_g(value, name)
    if wanted <= 0:
        raise FitError(f"{name} is {wanted:g} g; give a mass above 0 g")
    return wanted


def _needed(formula: Formula, name: str) -> tuple[str, float]:
    rows = [r for r in formula.rows if name in (r.ingredient, r.label)]
    needed = math.fsum(r.mass_g for r in rows)
    if needed <= 0:
        there = ", ".join(dict.fromkeys(r.ingredient for r in formula.rows))
        raise FitError(f"the formula has no {name!r}; list any of {there}")
    return rows[0].label, needed


def _plenty(
    formula: Formula, cupboard: Mapping[str, Quantity | str]
) -> tuple[str, ...]:
    others = dict.fromkeys(
        r.label
        for r in formula.rows
        if r.ingredient not in cupboard and r.label not in cupboard and r.mass_g > 0
    )
    if not others:
        return ()
    return (f"Not listed, so taken as plenty: {', '.join(others)}.",)


def _loss(
    loss_pct: float | None, style: StyleChoice | None
) -> tuple[float, tuple[str, ...]]:
    usual = band(style.style, "bake_loss") if style else None
    if loss_pct is None:
        if usual is None or style is None:
            raise FitError(
                "a baked mass needs the bake loss in percent of the dough; "
                "give loss_pct, such as loss_pct=10"
            )
        middle = (usual.low + usual.high) / 2
        note = f"Bake loss assumed: {middle:.3g} %, the middle of the usual "
        note += f"{usual.text} for {style_name(style.style)}; give loss_pct for yours."
        return middle, tuple(n for n in (note, style.note) if n)
    if not (math.isfinite(loss_pct) and 0 <= loss_pct <= MOST_LOSS_PCT):
        raise FitError(
            f"a bake loss of {loss_pct:g} % of the dough is not possible; "
            f"give 0 to {MOST_LOSS_PCT:g} %"
        )
    if usual is None or style is None:
        return float(loss_pct), ()
    where = place(loss_pct, usual.low, usual.high)
    name = style_name(style.style)
    note = f"Bake loss {loss_pct:g} % is {where} for {name} ({usual.text})."
    return float(loss_pct), (note,)


def _of_baked(loss_pct: float) -> float:
    return 100 * loss_pct / (100 - loss_pct)


def _ratio(what: str, new_g: float, old_g: float, factor: float) -> str:
    return f"{what}: {grams(new_g)} / {grams(old_g)} = {factor_text(factor)}."
