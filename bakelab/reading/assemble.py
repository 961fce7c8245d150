"""From read lines to a formula, with everything that was assumed."""

from collections.abc import Sequence
from dataclasses import replace

from bakelab.formula import Assumption, Formula, Row
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.reading.model import Line

__all__ = ["by_percentages", "formula_rows", "line_assumptions", "percent_remarks"]

_ASSUMED_FLOUR_G = 1000.0  # a round batch to show percentages in grams; our choice
_PERCENT_SLACK = 0.06  # of the figure printed, or half a percentage point


def by_percentages(lines: Sequence[Line]) -> tuple[list[Line], list[Assumption]]:
    """Give lines that state only a baker's percentage their mass.

    The flour is what the weighed flour lines say; where none is weighed
    it is taken as 1000 g, and said so.
    """
    lacking = [ln for ln in lines if _percent_only(ln)]
    if not lacking or not any(ln.role == "flour" for ln in lines):
        return list(lines), []
    weighed = [ln for ln in lines if ln.role == "flour" and ln.mass_g]
    if not weighed and len(lacking) < 2:
        return list(lines), []
    flour_g = sum(ln.mass_g or 0 for ln in weighed) or _ASSUMED_FLOUR_G
    made = [_at_percent(ln, flour_g) if _percent_only(ln) else ln for ln in lines]
    if weighed:
        return made, []
    note = Assumption(
        "flour", "all flour", f"{_ASSUMED_FLOUR_G:.0f} g",
        "the recipe states percentages only",
    )  # fmt: skip
    return made, [note]


def formula_rows(lines: Sequence[Line]) -> tuple[Row, ...]:
    """Rows of every line that is in the dough and has a mass."""
    return tuple(
        Row(
            ln.stage,
            ln.ingredient or ln.label,
            ln.label,
            ln.role or "other",
            ln.mass_g,
            _hydration(ln),
        )
        for ln in lines
        if ln.state in ("read", "doubt") and ln.mass_g is not None and ln.mass_g < 1e9
    )


def line_assumptions(lines: Sequence[Line]) -> list[Assumption]:
    """What was taken for granted on each line in the dough."""
    found = []
    for ln in lines:
        if ln.state not in ("read", "doubt"):
            continue
        if ln.assumed and ln.basis in ("density", "count"):
            what = "cup or spoon weight" if ln.basis == "density" else "piece weight"
            value, _, source = ln.assumed.partition(" (")
            found.append(
                Assumption(what, ln.label, value, source.rstrip(")"), ln.line_no)
            )
        if ln.role == "starter" and ln.hydration_pct is None and ln.mass_g:
            found.append(_starter_note(ln))
        if "taken for" in ln.remark and is_ingredient(ln.ingredient):
            name = ingredient(ln.ingredient).name
            found.append(
                Assumption(
                    "ingredient", ln.label, name, "the usual meaning", ln.line_no
                )
            )
    return found


def percent_remarks(formula: Formula, lines: Sequence[Line]) -> list[str]:
    """Sentences where stated percentages do not agree with stated weights.

    Many recipes leave the flour inside a starter out of their percentages;
    that is one remark and no disagreement.
    """
    stated = [
        ln
        for ln in lines
        if ln.bakers_pct is not None
        and ln.mass_g is not None
        and ln.basis != "percent"
        and ln.state in ("read", "doubt")
    ]
    if formula.flour_g <= 0 or not stated:
        return []
    wrong = [ln for ln in stated if not _agrees(ln, formula.flour_g)]
    dry_g = sum(r.mass_g for r in formula.rows if r.role == "flour")
    if wrong and 0 < dry_g < formula.flour_g and all(_agrees(n, dry_g) for n in stated):
        inside = f"{formula.flour_g - dry_g:g} g"
        said = "the stated percentages leave out the flour inside the starter"
        return [f"{said} ({inside}); here it counts as flour"]
    return [_percent_remark(ln, formula.flour_g) for ln in wrong]


def _agrees(line: Line, flour_g: float) -> bool:
    stated = line.bakers_pct or 0.0
    found = 100 * (line.mass_g or 0.0) / flour_g
    return abs(found - stated) <= max(0.5, _PERCENT_SLACK * stated)


def _percent_remark(line: Line, flour_g: float) -> str:
    found = 100 * (line.mass_g or 0.0) / flour_g
    return (
        f"{line.label}: {line.bakers_pct:g} % is stated, but {line.mass_g:g} g of "
        f"{flour_g:g} g flour is {found:.1f} %"
    )


def _percent_only(line: Line) -> bool:
    return (
        line.bakers_pct is not None
        and line.mass_g is None
        and line.unit == "%"
        and line.state != "not in dough"
    )


def _at_percent(line: Line, flour_g: float) -> Line:
    mass_g = (line.bakers_pct or 0) * flour_g / 100
    return replace(
        line, low=line.bakers_pct, high=line.bakers_pct, unit="%", mass_g=mass_g,
        mass_low_g=mass_g, mass_high_g=mass_g, basis="percent",
    )  # fmt: skip


def _hydration(line: Line) -> float | None:
    if line.role != "starter":
        return None
    if line.hydration_pct is not None and 0 <= line.hydration_pct <= 1000:
        return line.hydration_pct
    share = (
        ingredient(line.ingredient).flour_share if is_ingredient(line.ingredient) else 0
    )
    return 100 * (1 / share - 1) if share > 0 else 100.0


def _starter_note(line: Line) -> Assumption:
    return Assumption(
        "starter hydration", line.label, f"{_hydration(line):.0f} % water on its flour",
        "usual for this kind of starter; common practice, no source", line.line_no,
    )  # fmt: skip
