"""Ratios changed on purpose, while what the baker wants held is held."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bakelab.errors import FormulaError
from bakelab.formula import Formula, require_flour
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.preferments import prefermented_pct, with_prefermented
from bakelab.preferments.stages import main_rows, scaled_rows
from bakelab.variants.amounts import solids_g
from bakelab.variants.holding import HOLDS, made_up
from bakelab.variants.moving import (
    MOST_PCT,
    name_of,
    percent,
    rows_named,
    to_mass,
    with_flours,
)

__all__ = ["HOLDS", "Change", "change", "set_ratios"]

_SIZES = ("dough", "pan", "solids")  # held by scaling everything
_PREFERMENTED = "prefermented_flour"
_CLOSE_PCT = 1e-9


@dataclass(frozen=True)
class Change:
    """A changed formula: what moved, what was held, what could not be.

    `held` has keys, those the function takes to hold; `not_held` has sentences.
    """

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
    hold: str | Sequence[str] = "flour",
) -> Change:
    """Set or step one percentage of the flour.

    Parameters
    ----------
    formula : Formula
    what : str
        ``"water"`` (as written), ``"hydration"`` (true, moved by plain
        water), ``"prefermented_flour"``, a role such as ``"salt"``, an
        ingredient's key (it may be new), or a flour's key: its share, the
        other flours giving way in proportion.
    to, by : float
        The new percentage, or the step in percentage points; one of them.
    hold : str or sequence of str
        Keys of `HOLDS`; of several the first matters most. The flour's
        weight stays, unless the size of the dough is held (`dough`, `pan`,
        `solids`) and not the flour: then everything is scaled.

    Returns
    -------
    Change
        What could not be held stands in `not_held`, a sentence each.

    Raises
    ------
    FormulaError
        If there is nothing to move, or the percentage is impossible.

    Notes
    -----
    Where there are preferments, soakers or toppings, the ingredients of
    the final dough move and those stages stay as they are.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("salt_table", 10)])
    >>> change(dough, "salt", to=1.5).formula.role_g("salt")
    7.5
    """
    require_flour(formula)
    holds = _checked(hold)
    before = _now(formula, what)
    target = _target(what, before, to, by)
    moved = _moved(formula, what, target)
    name = "prefermented flour" if what == _PREFERMENTED else name_of(moved, what)
    sentences = [f"{name} {before:.2f} % becomes {target:.2f} %"]
    sizes = [h for h in holds if h in _SIZES]
    amounts = [h for h in holds if h not in (*_SIZES, "flour")]
    if "flour" in holds:  # then plain water makes up for the dough's weight
        amounts = [h for h in holds if h not in ("flour", "solids")]
    made, said, missed = made_up(formula, moved, what, amounts)
    sentences += said
    size = "flour" if "flour" in holds else next(iter(sizes), "flour")
    for extra in sizes:
        if extra not in (size, *amounts):
            missed[extra] = f"cannot hold {HOLDS[extra]} as well as {HOLDS[size]}"
    if size != "flour":
        made, words = _sized(formula, made, size)
        sentences.append(words)
    held = tuple(h for h in holds if h not in missed)
    return Change(made, tuple(sentences), held, tuple(missed.values()))


def set_ratios(formula: Formula, ratios: Mapping[str, float]) -> Formula:
    """Several percentages at once, so that all of them stand in the end.

    `ratios` are what `change` moves, with the new percentages. Flours are
    shared out together, and the true hydration is set last.

    Raises
    ------
    FormulaError
        If they cannot all stand together, or one is impossible.

    Examples
    --------
    >>> dough = Formula.from_pairs([("wheat_bread", 500), ("wheat_whole", 100)])
    >>> both = set_ratios(dough, {"wheat_whole": 20, "rye_medium": 10, "salt": 2})
    >>> [round(r.mass_g, 9) for r in both.rows]
    [420.0, 120.0, 60.0, 12.0]
    """
    require_flour(formula)
    flours = {_flour_key(formula, k): k for k in ratios if _is_flour(formula, k)}
    for what, pct in ratios.items():
        _target(what, 0.0, pct, None)
    made = formula
    for what in sorted((k for k in ratios if k not in flours.values()), key=_turn):
        if flours and _turn(what) > 1:
            made = with_flours(made, {k: ratios[w] for k, w in flours.items()})
            flours = {}
        made = _moved(made, what, ratios[what])
    if flours:
        made = with_flours(made, {k: ratios[w] for k, w in flours.items()})
    off = [
        k for k, pct in ratios.items() if abs(_now(made, k) - pct) > _CLOSE_PCT * 100
    ]
    if off:
        raise FormulaError(f"{', '.join(ratios)} cannot all be set: {off[0]} gives way")
    return made


def _turn(what: str) -> int:
    """Starters and preferments move flour and water, so they come first."""
    if what == _PREFERMENTED:
        return 0
    if what == "starter" or (
        is_ingredient(what) and ingredient(what).role == "starter"
    ):
        return 1
    return 3 if what == "hydration" else 2


def _checked(hold: str | Sequence[str]) -> tuple[str, ...]:
    holds = (hold,) if isinstance(hold, str) else tuple(dict.fromkeys(hold))
    unknown = [h for h in holds if h not in HOLDS]
    if unknown or not holds:
        said = repr(unknown[0]) if unknown else "nothing"
        raise FormulaError(f"cannot hold {said}; use one of {', '.join(HOLDS)}")
    return holds


def _now(formula: Formula, what: str) -> float:
    if what == _PREFERMENTED:
        return prefermented_pct(formula)
    return percent(formula, what)


def _target(what: str, before: float, to: float | None, by: float | None) -> float:
    given = by if to is None else to
    if given is None or None not in (to, by):
        raise FormulaError("give either a new percentage (to) or a step (by)")
    try:
        target = float(given) + (before if to is None else 0)
    except (TypeError, ValueError):
        raise FormulaError(
            f"{what} cannot be moved to or by {given!r:.40}; give a number, percent of "
            "the flour"
        ) from None
    if not (math.isfinite(target) and 0 <= target <= MOST_PCT):
        raise FormulaError(
            f"{what} cannot be {target:g} %; give 0 to {MOST_PCT:.0f} % of the flour"
        )
    return target


def _moved(formula: Formula, what: str, target: float) -> Formula:
    if what == _PREFERMENTED:
        return with_prefermented(formula, target)
    if what == "hydration":
        return _hydrated(formula, target)
    if _is_flour(formula, what):
        return with_flours(formula, {_flour_key(formula, what): target})
    rows = rows_named(formula, what)
    if what == "starter" or (rows and rows[0].role == "starter"):
        return _starter(formula, what, formula.flour_g * target / 100)
    return to_mass(formula, what, formula.flour_g * target / 100)


def _is_flour(formula: Formula, what: str) -> bool:
    if what in (_PREFERMENTED, "hydration"):
        return False
    rows = rows_named(formula, what)
    if rows:
        return rows[0].role == "flour"
    return is_ingredient(what) and ingredient(what).role == "flour"


def _flour_key(formula: Formula, what: str) -> str:
    rows = rows_named(formula, what)
    return rows[0].ingredient if rows else what


def _hydrated(formula: Formula, target: float) -> Formula:
    flour_g = formula.flour_g
    other_g = formula.water_g - formula.plain_water_g
    water_g = flour_g * target / 100 - other_g
    if water_g < 0:
        raise FormulaError(
            f"a true hydration of {target:g} % cannot be reached: the other "
            f"ingredients bring {100 * other_g / flour_g:.1f} % without any water"
        )
    return to_mass(formula, "water", water_g)


def _starter(formula: Formula, what: str, mass_g: float) -> Formula:
    """More or less starter, total flour and all water staying."""
    if not rows_named(formula, what):
        raise FormulaError("the formula has no starter; add it to the recipe first")
    moved = to_mass(formula, what, mass_g)
    flours = [r for r in main_rows(moved) if r.role == "flour"]
    weighed_g = math.fsum(r.mass_g for r in flours)
    rest_g = weighed_g - (moved.flour_g - formula.flour_g)
    if rest_g < 0 or weighed_g <= 0:
        raise FormulaError(
            "that much starter holds more flour than the formula has; ask for less"
        )
    moved = scaled_rows(moved, flours, rest_g / weighed_g)
    water_g = moved.plain_water_g - (moved.water_g - formula.water_g)
    if water_g < 0:
        raise FormulaError(
            "that much starter holds more water than the formula has; ask for less"
        )
    return to_mass(moved, "water", water_g)


def _sized(before: Formula, made: Formula, size: str) -> tuple[Formula, str]:
    """Everything scaled, so that the size of the dough stays."""
    if size == "solids":
        wanted_g = solids_g(before)
        words = f"everything is scaled to {wanted_g:.0f} g of solids"
        return made.scaled(wanted_g / solids_g(made)), words
    words = f"everything is scaled to {before.dough_g:.0f} g of dough"
    return made.scaled(before.dough_g / made.dough_g), words
