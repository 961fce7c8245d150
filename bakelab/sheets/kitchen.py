"""From a fitted and weighed formula to the words of a kitchen sheet."""

import datetime
import re
from collections.abc import Iterable, Iterator, Sequence

from bakelab.charts.pan_drawing import PanFill, pan_svg
from bakelab.charts.written import plain_number
from bakelab.errors import FormulaError
from bakelab.formula import Assumption, Formula, Row
from bakelab.pans import Pan
from bakelab.scaling import Fitted, Portion
from bakelab.sheets.cautions import cautions as due_cautions
from bakelab.sheets.model import Big, Sheet, SheetLine, SheetStage
from bakelab.sheets.words import (
    all_typeset,
    grams,
    headed,
    minutes,
    on_scale,
    sentence,
    typeset,
)
from bakelab.weighing import Weighed, round_to_scale

__all__ = ["RAW_DOUGH_G_CM3", "kitchen_sheet", "raw_dough_cm3"]

RAW_DOUGH_G_CM3 = 1.15
"""Dough just mixed, with little gas in it; common practice, no source."""

_MOST_ALIKE = 4
_AIMS = {
    "dough": "a weight of dough",
    "flour": "a weight of flour",
    "pieces": "pieces of one weight",
    "baked": "a baked weight",
    "cupboard": "what is in the cupboard",
}
_PRINT_FONT = "Libertinus Serif, Georgia, serif"
_OTHER_PAN = (
    "In the new pan the time and the heat that suit will differ: look early, and let "
    "a probe in the core decide."
)


def kitchen_sheet(
    fitted: Fitted | Formula,
    weighed: Weighed | None = None,
    *,
    recipe_lines: Iterable[str] = (),
    cautions: Sequence[str] | None = None,
    made: datetime.date | None = None,
    title: str = "",
    bake: Sequence[str] = (),
) -> Sheet:
    """A page for the kitchen: weights to tick off, pan, working, cautions.

    Parameters
    ----------
    fitted : Fitted or Formula
        A plain formula gives a sheet without pans and scaling.
    weighed : Weighed, optional
        The weights that a scale shows; by default those of a 1 g scale.
    recipe_lines : iterable of str
        Lines of the recipe to stand on the sheet as they were written.
    cautions : sequence of str, optional
        In place of those that are due by `bakelab.sheets.cautions`.
    made : date, optional
        Today by default.
    title : str
        In place of the formula's.
    bake : sequence of str
        Sentences on time and heat in the new pan, as of `bake_sentences`.

    Returns
    -------
    Sheet

    Raises
    ------
    FormulaError
        If there is no flour, or if `weighed` belongs to another formula.
    """
    fit = fitted if isinstance(fitted, Fitted) else _unfitted(fitted)
    weighed = round_to_scale(fit.formula) if weighed is None else weighed
    _same_formula(fit, weighed)
    formula = weighed.formula
    day = made or datetime.date.today()
    due = due_cautions(formula, fit.to_pans) if cautions is None else tuple(cautions)
    return Sheet(
        title=title or formula.title or "Bread formula",
        fitted_to=typeset(_fitted_to(fit)),
        numbers=_numbers(formula),
        stages=tuple(_stages(weighed)),
        dough=_dough(formula),
        drawing=_drawing(fit),
        pans=all_typeset(_pans(fit, weighed)),
        oven=all_typeset((*_oven(fit, estimated=bool(bake)), *bake)),
        working=all_typeset(_working(fit)),
        remarks=all_typeset((*_fit_remarks(fit, weighed), *_weighing_remarks(weighed))),
        assumptions=all_typeset(_assumed(fit)),
        cautions=all_typeset(due),
        as_written=tuple(line for line in recipe_lines if line.strip()),
        made=f"{day.isoformat()} · formula {formula.key[:8]}",
        language=_plain_language(formula.language),
    )


def raw_dough_cm3(dough_g: float) -> float:
    """Volume of a dough just mixed, at `RAW_DOUGH_G_CM3`, for the drawing."""
    return dough_g / RAW_DOUGH_G_CM3


def _unfitted(formula: Formula) -> Fitted:
    return Fitted(formula, formula, 1.0, "dough", (), (), ())


def _same_formula(fit: Fitted, weighed: Weighed) -> None:
    if weighed.exact != fit.formula:
        raise FormulaError(
            "the weights are of another formula than the one that was fitted; "
            "give round_to_scale(fitted.formula)"
        )


def _plain_language(language: str) -> str:
    """The language as an ISO 639 code that a page may carry, else English."""
    code = language.lower().partition("-")[0]
    return code if re.fullmatch("[a-z]{2,3}", code) else "en"


def _fitted_to(fit: Fitted) -> str:
    pans = [_short(p) for p in fit.to_pans]
    if pans:
        return "Fitted to " + " and ".join(pans)
    if fit.working:
        return f"Fitted to {_AIMS.get(fit.by, fit.by)}"
    return ""


def _short(pan: Pan) -> str:
    """A pan by its words without volume and assumptions."""
    return pan.describe().partition(" (")[0].rpartition(", ")[0] or pan.describe()


def _numbers(formula: Formula) -> tuple[Big, ...]:
    return (
        Big("Flour", grams(formula.flour_g), "g"),
        Big("Dough", grams(formula.dough_g), "g"),
    )


def _dough(formula: Formula) -> SheetLine:
    pct = 100 * formula.dough_g / formula.flour_g
    note = (
        f"true hydration {plain_number(formula.hydration_pct, 1)} %, "
        f"salt {plain_number(formula.role_pct('salt'), 2)} %"
    )
    return SheetLine(grams(formula.dough_g), "All the dough", f"{pct:.1f}", note)


def _stages(weighed: Weighed) -> Iterator[SheetStage]:
    formula, notes = weighed.formula, list(weighed.frame["remedy"])
    names = formula.stages
    for name in names:
        rows = [i for i, r in enumerate(formula.rows) if r.stage == name]
        lines = tuple(_line(weighed, formula.rows[i], notes[i]) for i in rows)
        total = sum(formula.rows[i].mass_g for i in rows)
        if len(names) == 1:
            yield SheetStage("", "", lines)
        else:
            yield SheetStage(headed(name), f"{grams(total)} g", lines)


def _line(weighed: Weighed, row: Row, note: str) -> SheetLine:
    pct = 100 * row.mass_g / weighed.formula.flour_g
    return SheetLine(
        on_scale(row.mass_g, weighed.scale.step_g(row.mass_g)),
        row.label,
        f"{pct:.1f}" if pct >= 0.95 else f"{pct:.2f}",
        note,
    )


def _pans(fit: Fitted, weighed: Weighed) -> Iterator[str]:
    if fit.from_pan is not None:
        yield f"From {fit.from_pan.describe()}."
    rounding = weighed.formula.dough_g / fit.formula.dough_g
    shares = [f"{grams(s.dough_g * rounding)} g of dough" for s in fit.doled]
    if len(shares) == len(fit.to_pans):
        for pan, share in zip(fit.to_pans, shares, strict=True):
            each = " each" if pan.count > 1 else ""
            yield f"To {pan.describe()}. Put in {share}{each}."
    else:
        yield from (f"To {pan.describe()}." for pan in fit.to_pans)
        for portion, share in zip(fit.doled, shares, strict=True):
            yield f"{headed(portion.what)}: {portion.count} × {share}."
    if fit.loading_cm3_g is not None:
        yield f"Pan volume over dough: {fit.loading_cm3_g:.2f} cm³/g."


def _working(fit: Fitted) -> Iterator[str]:
    """The steps, with those that repeat for every ingredient as one."""
    starts = tuple(f"{r.label}: " for r in fit.formula.rows)
    repeated = [t for t in fit.working if t.startswith(starts) and " % x " in t]
    if len(repeated) < _MOST_ALIKE:
        yield from fit.working
        return
    for step in fit.working:
        if step == repeated[0]:
            yield f"Every ingredient the same way: {repeated[1]}"
        elif step not in repeated:
            yield step


def _fit_remarks(fit: Fitted, weighed: Weighed) -> list[str]:
    """Remarks of the fit but those that stand elsewhere on the sheet."""
    said = ("Caution:", "Eggs:") if weighed.eggs else ("Caution:",)
    pans = [p for p in (fit.from_pan, *fit.to_pans) if p is not None]
    notes = [f": {note}." for p in pans for note in p.assumed_notes]
    kept = [t for t in fit.remarks if not t.startswith(said)]
    return [t for t in kept if not any(t.endswith(note) for note in notes)]


def _shares(fit: Fitted) -> Sequence[Portion]:
    """What goes into each kind of pan, where the portions are those of the pans."""
    same = len(fit.doled) == len(fit.to_pans)
    return fit.doled if same else ()


def _drawing(fit: Fitted) -> str:
    if not fit.to_pans:
        return ""
    shares = _shares(fit)
    doughs: list[float | None] = [None] * len(fit.to_pans)
    doughs[: len(shares)] = [s.dough_g for s in shares]
    fills = [
        PanFill(p, None if g is None else raw_dough_cm3(g), "To")
        for p, g in zip(fit.to_pans, doughs, strict=True)
    ]
    if fit.from_pan is not None:
        old_g = fit.original.dough_g / fit.from_pan.count
        fills.insert(0, PanFill(fit.from_pan, raw_dough_cm3(old_g), "From"))
    return pan_svg(
        fills,
        dome=fit.dome,
        width_px=310,
        font_px=11.5,
        ink="#000000",
        dough="#b3b3b3",
        font=_PRINT_FONT,
    )


def _oven(fit: Fitted, *, estimated: bool) -> Iterator[str]:
    parts = [fit.formula.oven] if fit.formula.oven else []
    if fit.original.bake_minutes is not None:
        parts.append(minutes(*fit.original.bake_minutes))
    if parts:
        yield f"As written: {', '.join(parts)}."
        if (fit.to_pans or fit.factor != 1.0) and not estimated:
            yield _OTHER_PAN


def _weighing_remarks(weighed: Weighed) -> list[str]:
    """Remarks of the weighing but those that stand beside their ingredient."""
    beside = [r.text for r in weighed.remedies if r.text]
    return [t for t in weighed.remarks if not any(text in t for text in beside)]


def _assumed(fit: Fitted) -> Iterator[str]:
    yield from (_assumption(a) for a in fit.formula.assumptions)
    pans = [p for p in (fit.from_pan, *fit.to_pans) if p is not None]
    yield from dict.fromkeys(sentence(note) for p in pans for note in p.assumed_notes)
    if fit.to_pans:
        yield f"Raw dough in the drawing: {RAW_DOUGH_G_CM3:g} g/cm³."


def _assumption(one: Assumption) -> str:
    subject = f"{one.subject}: " if one.subject else ""
    basis = f" ({one.basis})" if one.basis else ""
    return sentence(f"{subject}{one.what} {one.value}{basis}")
