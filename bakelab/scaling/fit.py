"""Fit a formula to a pan, a mass, pieces, a baked mass, or a cupboard."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bakelab.errors import FitError
from bakelab.formula import Formula, require_flour
from bakelab.pans import Pan
from bakelab.ranges import style_key
from bakelab.scaling.batch import (
    egg_remarks,
    scaled,
    settled,
    weights_working,
    with_sticking,
)
from bakelab.scaling.by_pan import PanFit, fit_pans, known_from_pan
from bakelab.scaling.fitted import Fitted, Portion
from bakelab.scaling.loading import choose_style
from bakelab.scaling.room import name_of, read_pans, room_of
from bakelab.scaling.targets import (
    Goal,
    baked_goal,
    checked_pieces,
    cupboard_goal,
    dough_goal,
    flour_goal,
    pieces_goal,
)
from bakelab.units import Quantity

__all__ = ["fit"]

MOST_STICKING_PCT = 30.0
_WAYS = ("volume", "loading")
_AIMS = "a pan (to), dough, flour, pieces with piece, baked, or cupboard"


@dataclass(frozen=True)
class _Wish:
    """What was asked for beside pans; None where it was not."""

    dough: Quantity | str | None
    flour: Quantity | str | None
    pieces: int | None
    piece: Quantity | str | None
    baked: Quantity | str | None
    loss_pct: float | None
    cupboard: Mapping[str, Quantity | str] | None

    @property
    def aims(self) -> list[str]:
        given = {
            "dough": self.dough,
            "flour": self.flour,
            "pieces": self.piece,
            "baked": self.baked,
            "cupboard": self.cupboard,
        }
        return [name for name, value in given.items() if value is not None]


def fit(
    formula: Formula,
    *,
    to: Pan | str | Sequence[Pan | str] | None = None,
    from_: Pan | str | None = None,
    by: str = "volume",
    dome: str | None = "fixed",
    dough: Quantity | str | None = None,
    flour: Quantity | str | None = None,
    pieces: int | None = None,
    piece: Quantity | str | None = None,
    baked: Quantity | str | None = None,
    loss_pct: float | None = None,
    cupboard: Mapping[str, Quantity | str] | None = None,
    sticking_pct: float = 0.0,
    style: str | None = None,
) -> Fitted:
    """A formula scaled to one aim; every percentage stays what it was.

    Parameters
    ----------
    formula : Formula
    to : Pan, str or sequence of them
        Pan or pans to fit to, all from one batch.
    from_ : Pan or str, optional
        Pan the recipe was meant for; the one it states by default.
    by : {"volume", "loading"}
        Ratio of usable pan volumes, or dough so that pan volume over dough
        is in the middle of the style's usual band (needs no `from_`).
    dome : {"fixed", "width", None}
        Allowance above the rim of pans without a lid: 1 in or 2.5 cm, or a
        quarter of the width (common practice, no source).
    dough, flour : Quantity or str, [mass]
        A dough mass, or a flour mass (flour in starters included).
    pieces : int
    piece : Quantity or str, [mass]
        A number of pieces of a dough weight each.
    baked : Quantity or str, [mass]
        Baked mass of all loaves together (of `pieces`, if given), with
        `loss_pct` lost in the oven, in percent of the **dough**.
    cupboard : mapping of str to Quantity or str, [mass]
        What is there, by ingredient; the scarcest limits.
    sticking_pct : float
        Percent of the batch that sticks to bowl and hands: so much more is
        made. A flour mass or a cupboard is the batch, and is not enlarged.
    style : str, optional
        Style whose usual loading and bake loss count; the formula's own, or
        the likeliest one, by default.

    Returns
    -------
    Fitted
        Its formula states the new pan, so that it can be fitted again; the
        recipe's time stays with the recipe's pan, in `original`.

    Raises
    ------
    FitError
        If nothing, or more than one thing, is aimed at; if the way asked
        for is not possible; if an amount is zero, negative or absurd.
    FormulaError
        If there is no formula, or no flour in it.
    PanError
        If a pan cannot be read or has no volume.

    Examples
    --------
    >>> bread = Formula.from_pairs([("wheat_bread", 400), ("water", 260)])
    >>> fit(bread, dough="990 g").factor
    1.5
    """
    _check(formula, by, style, sticking_pct)
    if style:
        formula = replace(formula, style=style_key(style))
    wish = _Wish(dough, flour, pieces, piece, baked, loss_pct, cupboard)
    pans = () if to is None else read_pans(to)
    hearth = any(not p.has_volume for p in pans)
    _check_aims(wish, pans, hearth=hearth)
    if pans and not hearth:
        to_pan = fit_pans(formula, pans, from_=from_, by=by, dome=dome, style=style)
        return _finish_pans(formula, to_pan, sticking_pct)
    goal = _goal(formula, wish, style, pans)
    old_pan = known_from_pan(formula, from_)
    found = _finish_goal(formula, goal, pans, sticking_pct)
    return replace(
        found,
        by=wish.aims[0],
        from_pan=old_pan,
        original_loading_cm3_g=_original_loading(formula, old_pan),
    )


def _check(formula: Formula, by: str, style: str | None, sticking_pct: float) -> None:
    require_flour(formula)
    if style:
        style_key(style)
    if by not in _WAYS:
        raise FitError(f"no way {by!r} to fit; choose 'volume' or 'loading'")
    if not (math.isfinite(sticking_pct) and 0 <= sticking_pct <= MOST_STICKING_PCT):
        raise FitError(
            f"{sticking_pct:g} % of dough sticking is not possible; "
            f"give 0 to {MOST_STICKING_PCT:g} %"
        )


def _check_aims(wish: _Wish, pans: Sequence[Pan], *, hearth: bool) -> None:
    aims = wish.aims
    if len(aims) > 1 or (pans and aims and not hearth):
        given = ["a pan", *aims] if pans else aims
        raise FitError(f"got {' and '.join(given)}; fit to only one of {_AIMS}")
    if wish.piece is not None and wish.pieces is None:
        raise FitError("got the weight of a piece; say how many with pieces=12")
    if wish.pieces is not None and wish.piece is None and wish.baked is None:
        raise FitError(
            "got a number of pieces; give their weight, such as piece='60 g'"
        )
    if hearth and not all(not p.has_volume for p in pans):
        raise FitError("got pans and the hearth together; fit them one after the other")
    if hearth and not aims:
        raise FitError(
            "a free-standing loaf has no volume; give its dough, such as "
            "dough='900 g', or pieces=2 with piece='450 g'"
        )
    if not pans and not aims:
        raise FitError(f"nothing to fit to; give one of {_AIMS}")


def _goal(
    formula: Formula, wish: _Wish, style: str | None, pans: Sequence[Pan]
) -> Goal:
    if wish.piece is not None and wish.pieces is not None:
        return pieces_goal(formula, wish.pieces, wish.piece)
    if wish.cupboard is not None:
        return cupboard_goal(formula, wish.cupboard)
    if wish.flour is not None:
        return flour_goal(formula, wish.flour)
    if wish.dough is not None:
        return dough_goal(formula, wish.dough)
    assert wish.baked is not None  # one aim is always given here
    choice = choose_style(formula, style, "bake_loss")
    pieces = wish.pieces or (sum(p.count for p in pans) if pans else None)
    return baked_goal(
        formula, wish.baked, loss_pct=wish.loss_pct, style=choice, pieces=pieces
    )


def _finish_goal(
    formula: Formula,
    goal: Goal,
    pans: Sequence[Pan],
    sticking_pct: float,
) -> Fitted:
    made, sticking = with_sticking(goal.factor, sticking_pct, fixed=goal.fixed)
    new = settled(scaled(formula, made), formula, pans)
    sticks_g = new.dough_g * sticking_pct / 100
    count = goal.pieces
    if pans and goal.pieces == 1:
        count = checked_pieces(sum(p.count for p in pans))
    what = name_of(pans[0]) if pans else goal.what
    portion = Portion(what, count, (new.dough_g - sticks_g) / count)
    return Fitted(
        new,
        formula,
        made,
        "dough",
        (*goal.working, *sticking, *weights_working(formula, new, made)),
        (*goal.remarks, *egg_remarks(new)),
        (portion,),
        to_pans=tuple(pans),
        sticking_g=sticks_g,
    )


def _finish_pans(formula: Formula, found: PanFit, sticking_pct: float) -> Fitted:
    made, sticking = with_sticking(found.factor, sticking_pct, fixed=False)
    new = settled(scaled(formula, made), formula, found.to_pans)
    other = found.other_way
    if other is not None:
        other = with_sticking(other, sticking_pct, fixed=False)[0]
    return Fitted(
        new,
        formula,
        made,
        found.by,
        (*found.working, *sticking, *weights_working(formula, new, made)),
        (*found.remarks, *egg_remarks(new)),
        found.portions,
        from_pan=found.from_pan,
        to_pans=found.to_pans,
        loading_cm3_g=found.loading_cm3_g,
        original_loading_cm3_g=_original_loading(formula, found.from_pan),
        other_way=other,
        style=found.style,
        dome=found.dome,
        changes=found.changes,
        sticking_g=new.dough_g * sticking_pct / 100,
    )


def _original_loading(formula: Formula, old: Pan | None) -> float | None:
    if old is None or not old.has_volume:
        return None
    return old.count * room_of(old, None).volume_cm3 / formula.dough_g
