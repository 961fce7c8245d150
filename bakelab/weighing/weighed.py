"""A formula in the weights that a real scale can show."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from html import escape

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row, require_flour
from bakelab.formula.contents import contents
from bakelab.weighing.eggs import EGG_SIZE, EggCount, eggs_of
from bakelab.weighing.remedies import RISK_LIMIT_PCT, Remedy, remedy_for
from bakelab.weighing.rounding import LEAST_STEPS, Part, best_weights
from bakelab.weighing.scales import KITCHEN_SCALE, Scale, scale_from_text

__all__ = ["FRAME_COLUMNS", "Weighed", "round_to_scale"]

FRAME_COLUMNS = (
    "stage",
    "ingredient",
    "label",
    "exact_g",
    "weigh_g",
    "off_pct",
    "risk_pct",
    "step_g",
    "remedy",
)
_MOST_G = 1e8


@dataclass(frozen=True)
class Weighed:
    """A formula rounded to the steps of a scale, and what that changes.

    `formula` has the rounded weights, `exact` those before. A weight
    under 0.8 of a step is nothing the scale can show: it keeps its exact
    grams, and its remedy says how to measure it.
    """

    formula: Formula
    exact: Formula
    scale: Scale
    remedies: tuple[Remedy, ...]
    eggs: tuple[EggCount, ...]
    remarks: tuple[str, ...]

    @property
    def hydration_pct(self) -> float:
        """True hydration of the rounded weights, in percent of flour."""
        return self.formula.hydration_pct

    @property
    def salt_pct(self) -> float:
        """Salt of the rounded weights, in percent of flour."""
        return self.formula.role_pct("salt")

    @cached_property
    def _table(self) -> pd.DataFrame:
        texts = {id_: remedy.text for id_, remedy in self._remedy_by_row.items()}
        records = []
        for i, (old, new) in enumerate(
            zip(self.exact.rows, self.formula.rows, strict=True)
        ):
            records.append(_record(old, new, self.scale, texts.get(i, "")))
        return pd.DataFrame(records, columns=list(FRAME_COLUMNS))

    @property
    def _remedy_by_row(self) -> dict[int, Remedy]:
        rows = (i for i, r in enumerate(self.exact.rows) if _risky(r, self.scale))
        return dict(zip(rows, self.remedies, strict=True))

    @property
    def frame(self) -> pd.DataFrame:
        """One row per weight: `FRAME_COLUMNS`.

        `off_pct` is the change of the weight by rounding, `risk_pct` half a
        step of the scale over the amount, both in percent.
        """
        return self._table.copy()

    def _repr_html_(self) -> str:
        notes = "".join(f"<li>{escape(remark)}</li>" for remark in self.remarks)
        table = self.frame.to_html(index=False, float_format=lambda v: f"{v:.2f}")
        return f"{table}<ul>{notes}</ul>"


def round_to_scale(
    formula: Formula, scale: Scale | str = KITCHEN_SCALE, *, egg_size: str = EGG_SIZE
) -> Weighed:
    """Weights a scale can show, chosen so that the percentages stay closest.

    Parameters
    ----------
    formula : Formula
    scale : Scale or str
        `KITCHEN_SCALE` shows 1 g; a text is read by `scale_from_text`, such as
        ``"1 g, 0.1 g up to 100 g"``.
    egg_size : str
        For the count of eggs beside the grams.

    Returns
    -------
    Weighed
        Nothing is rounded to nothing. Where half a step is over 5 % of an
        amount, the remedy is a finer scale, spoons, or a stock.

    Raises
    ------
    FormulaError
        If the formula has no flour, or weighs over 100 tonnes.
    UnitError
        If the text of a scale cannot be read.

    Notes
    -----
    See `bakelab.weighing.rounding` for what is minimised. Rounding the flour
    to whole grams and small ingredients to 0.5 g or what the scale shows is
    common practice, no source.
    """
    require_flour(formula)
    if not isinstance(scale, Scale):
        scale = scale_from_text(scale)
    if formula.dough_g > _MOST_G:
        raise FormulaError(
            f"a dough of {formula.dough_g:.3g} g is more than any scale weighs; "
            "look for a slip in the amounts"
        )
    weights = best_weights([_part(row) for row in formula.rows], scale)
    rounded = formula.with_rows(
        replace(row, mass_g=mass_g)
        for row, mass_g in zip(formula.rows, weights, strict=True)
    )
    remedies = _remedies(formula, rounded, scale)
    eggs = eggs_of(rounded, size=egg_size)
    remarks = _remarks(formula, rounded, scale, remedies, eggs)
    return Weighed(rounded, formula, scale, remedies, eggs, remarks)


def _part(row: Row) -> Part:
    if row.mass_g <= 0:
        return Part(0.0)
    inside = contents(row.ingredient, row.role, row.mass_g, row.hydration_pct)
    salt = 1.0 if row.role == "salt" else 0.0
    return Part(
        row.mass_g, inside.flour_g / row.mass_g, inside.water_g / row.mass_g, salt
    )


def _risky(row: Row, scale: Scale) -> bool:
    return scale.risk_pct(row.mass_g) > RISK_LIMIT_PCT


def _remedies(formula: Formula, rounded: Formula, scale: Scale) -> tuple[Remedy, ...]:
    water = max((r.mass_g for r in rounded.rows if r.role == "water"), default=0.0)
    return tuple(
        remedy_for(
            row.ingredient,
            label=row.label,
            role=row.role,
            exact_g=row.mass_g,
            water_g=water,
            scale=scale,
        )
        for row in formula.rows
        if _risky(row, scale)
    )


def _record(old: Row, new: Row, scale: Scale, remedy: str) -> tuple[object, ...]:
    off = 100 * (new.mass_g / old.mass_g - 1) if old.mass_g > 0 else 0.0
    return (
        old.stage,
        old.ingredient,
        old.label,
        old.mass_g,
        new.mass_g,
        off,
        scale.risk_pct(old.mass_g),
        scale.step_g(old.mass_g),
        remedy,
    )


def _remarks(
    formula: Formula,
    rounded: Formula,
    scale: Scale,
    remedies: Sequence[Remedy],
    eggs: Sequence[EggCount],
) -> tuple[str, ...]:
    summary = (
        f"Rounded to the {scale.describe()}; true hydration "
        f"{_moved(formula.hydration_pct, rounded.hydration_pct)}, salt "
        f"{_moved(formula.role_pct('salt'), rounded.role_pct('salt'))}."
    )
    remarks = [summary]
    remarks += [_risk_remark(remedy, scale) for remedy in remedies]
    if sum(remedy.stock is not None for remedy in remedies) > 1:
        remarks.append("With more than one stock, take the water of each off.")
    heaviest = max((r.mass_g for r in rounded.rows), default=0.0)
    if heaviest > scale.most_g:
        remarks.append(
            f"The scale reaches {scale.most_g:g} g; weigh heavier amounts in parts."
        )
    remarks += [f"Eggs: {egg.text}." for egg in eggs]
    return tuple(remarks)


def _risk_remark(remedy: Remedy, scale: Scale) -> str:
    risk = scale.risk_pct(remedy.exact_g)
    shown = f"{remedy.label} {remedy.exact_g:.2f} g"
    step = scale.step_g(remedy.exact_g)
    if remedy.exact_g < LEAST_STEPS * step:
        lead = f"{shown} is too little for steps of {step:g} g and stays exact"
    else:
        lead = f"{shown} can be {risk:.0f} % off on steps of {step:g} g"
    return f"{lead}: use {remedy.text}." if remedy.text else f"{lead}."


def _moved(before: float, after: float) -> str:
    return f"{before:.2f} % becomes {after:.2f} % ({after - before:+.2f} points)"
