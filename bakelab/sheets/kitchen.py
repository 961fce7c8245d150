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
from bakelab.weighing import Weighed, round_to_scale

__all__ = ["RAW_DOUGH_G_CM3", "kitchen_sheet", "raw_dough_cm3"]

RAW_DOUGH_G_CM3 = 1.15
"""Dough just mixed, with little gas in it; common practice, no source."""

_MOST_ALIKE = 4
_TIMES = re.compile(r"(?<=[\d)%]) x (?=[\d(])|(?<=[gm²³n]) x (?=\d)")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:%|g|cm³?|in³?|°[CF]|minutes)(?![\w]))")
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

    Returns
    -------
    Sheet

    Raises
    ------
    FormulaError
        If there is no flour, or if `weighed` belongs to another formula.
    """
    fit = _unfitted(fitted) if isinstance(fitted, Formula) else fitted
    weighed = round_to_scale(fit.formula) if weighed is None else weighed
    _same_formula(fit, weighed)
    formula = weighed.formula
    day = made or datetime.date.today()
    due = due_cautions(formula, fit.to_pans) if cautions is None else tuple(cautions)
    return Sheet(
        title=title or formula.title or "Bread formula",
        fitted_to=_typeset(_fitted_to(fit)),
        numbers=_numbers(formula),
        stages=tuple(_stages(weighed)),
        dough=_dough(formula),
        drawing=_drawing(fit),
        pans=_all_typeset(_pans(fit, weighed)),
        oven=_all_typeset(_oven(fit)),
        working=_all_typeset(_working(fit)),
        remarks=_all_typeset(
            (*_fit_remarks(fit, weighed), *_weighing_remarks(weighed))
        ),
        assumptions=_all_typeset(_assumed(fit)),
        cautions=_all_typeset(due),
        as_written=tuple(line for line in recipe_lines if line.strip()),
        made=f"{day.isoformat()} · formula {formula.key[:8]}",
        language=formula.language if _plain_language(formula.language) else "en",
    )


def raw_dough_cm3(dough_g: float) -> float:
    """Volume of a dough just mixed, at `RAW_DOUGH_G_CM3`, for the drawing."""
    return dough_g / RAW_DOUGH_G_CM3


def _all_typeset(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(_typeset(t) for t in texts)


def _typeset(text: str) -> str:
    """A times sign between numbers, and no line break between number and unit."""
    return _BEFORE_UNIT.sub("\u00a0", _TIMES.sub(" × ", text))


def _unfitted(formula: Formula) -> Fitted:
    return Fitted(formula, formula, 1.0, "dough", (), (), ())


def _same_formula(fit: Fitted, weighed: Weighed) -> None:
    if weighed.exact != fit.formula:
        raise FormulaError(
            "the weights are of another formula than the one that was fitted; "
            "give round_to_scale(fitted.formula)"
        )


def _plain_language(language: str) -> bool:
    return language.isascii() and language.isalpha() and len(language) in (2, 3)


def _fitted_to(fit: Fitted) -> str:
    pans = [_short(p) for p in fit.to_pans]
    if pans:
        return "Fitted to " + " and ".join(pans)
    if fit.working:
        return f"Fitted by {fit.by}"
    return ""


def _short(pan: Pan) -> str:
    """A pan by its words without volume and assumptions."""
    return pan.describe().partition(" (")[0].rpartition(", ")[0] or pan.describe()


def _numbers(formula: Formula) -> tuple[Big, ...]:
    return (
        Big("Flour", _grams(formula.flour_g), "g"),
        Big("Dough", _grams(formula.dough_g), "g"),
    )


def _grams(mass_g: float) -> str:
    """Whole grams from 100 g, else one decimal."""
    return plain_number(mass_g, 0 if mass_g >= 100 else 1)


def _dough(formula: Formula) -> SheetLine:
    pct = 100 * formula.dough_g / formula.flour_g
    note = (
        f"true hydration {plain_number(formula.hydration_pct, 1)} %, "
        f"salt {plain_number(formula.role_pct('salt'), 2)} %"
    )
    return SheetLine(_grams(formula.dough_g), "All the dough", f"{pct:.1f}", note)


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
            yield SheetStage(_headed(name), f"{_grams(total)} g", lines)


def _line(weighed: Weighed, row: Row, note: str) -> SheetLine:
    pct = 100 * row.mass_g / weighed.formula.flour_g
    return SheetLine(
        _on_scale(row.mass_g, weighed.scale.step_g(row.mass_g)),
        row.label,
        f"{pct:.1f}" if pct >= 0.95 else f"{pct:.2f}",
        note,
    )


def _on_scale(mass_g: float, step_g: float) -> str:
    """Grams with the decimals of the step; exact ones that no step shows get two."""
    for decimals in (0, 1, 2, 3):
        if abs(step_g * 10**decimals - round(step_g * 10**decimals)) < 1e-9:
            break
    if abs(mass_g - round(mass_g / step_g) * step_g) > 1e-6:
        decimals = max(decimals, 2)
    return plain_number(mass_g, decimals)


def _headed(stage: str) -> str:
    return stage[:1].upper() + stage[1:]


def _pans(fit: Fitted, weighed: Weighed) -> Iterator[str]:
    if fit.from_pan is not None:
        yield f"From {fit.from_pan.describe()}."
    rounding = weighed.formula.dough_g / fit.formula.dough_g
    shares = [f"{_grams(s.dough_g * rounding)} g of dough" for s in fit.doled]
    if len(shares) == len(fit.to_pans):
        for pan, share in zip(fit.to_pans, shares, strict=True):
            each = " each" if pan.count > 1 else ""
            yield f"To {pan.describe()}. Put in {share}{each}."
    else:
        yield from (f"To {pan.describe()}." for pan in fit.to_pans)
        for portion, share in zip(fit.doled, shares, strict=True):
            yield f"{_headed(portion.what)}: {portion.count} × {share}."
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
    return [t for t in fit.remarks if not t.startswith(said)]


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


def _oven(fit: Fitted) -> Iterator[str]:
    parts = [fit.formula.oven] if fit.formula.oven else []
    if fit.formula.bake_minutes is not None:
        parts.append(_minutes(*fit.formula.bake_minutes))
    if parts:
        yield f"As written: {', '.join(parts)}."
        if fit.to_pans or fit.factor != 1.0:
            yield _OTHER_PAN


def _minutes(low: float, high: float) -> str:
    if low == high:
        return f"{plain_number(low, 0)} minutes"
    return f"{plain_number(low, 0)} to {plain_number(high, 0)} minutes"


def _weighing_remarks(weighed: Weighed) -> list[str]:
    """Remarks of the weighing but those that stand beside their ingredient."""
    beside = [r.text for r in weighed.remedies if r.text]
    return [t for t in weighed.remarks if not any(text in t for text in beside)]


def _assumed(fit: Fitted) -> Iterator[str]:
    yield from (_assumption(a) for a in fit.formula.assumptions)
    pans = [p for p in (fit.from_pan, *fit.to_pans) if p is not None]
    yield from dict.fromkeys(_sentence(note) for p in pans for note in p.assumed)
    if fit.to_pans:
        yield f"Raw dough in the drawing: {RAW_DOUGH_G_CM3:g} g/cm³."


def _assumption(one: Assumption) -> str:
    subject = f"{one.subject}: " if one.subject else ""
    basis = f" ({one.basis})" if one.basis else ""
    return _sentence(f"{subject}{one.what} {one.value}{basis}")


def _sentence(words: str) -> str:
    text = _headed(words.strip())
    return text if text.endswith((".", "!", "?")) else f"{text}."
