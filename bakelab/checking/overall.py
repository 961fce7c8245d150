"""The lists of a recipe's stages against its overall formula."""

import re
from collections.abc import Iterator, Sequence

from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval, interval
from bakelab.checking.shares import Part, part_of
from bakelab.reading.amounts import amounts
from bakelab.reading.built import OVERALL
from bakelab.reading.headings import heading
from bakelab.reading.tablelike import cells_of

__all__ = ["find_overall", "is_overall"]

_FINE = 0.02  # weights of one formula are rounded to a step of at most 2 %
_SLACK = 0.005  # of the sum besides; our own
_TOTAL = re.compile(r"(?i)^(?:total|overall|whole|gesamt|summe|ensemble)\b")
_BASIS = "sum of the printed lines; tolerance from their digits"


def find_overall(case: Case) -> Iterator[Finding]:
    """Findings `stages-against-overall`.

    The stages together must give the overall formula, ingredient by
    ingredient; a starter counts as its flour and water. In a table with a
    column for each stage and one for the total, each row must add up.
    """
    overall = [e for e in case.entries if is_overall(e) and e.masses]
    stages = [e for e in case.dough if e.line.mass_g is not None]
    if len(overall) > 1 and stages and not case.unweighed:
        yield from _lists(overall, stages)
    yield from _rows(case)


def is_overall(entry: Entry) -> bool:
    """Whether a line belongs to the list of the overall formula."""
    found = heading(entry.line.stage)
    return found is not None and found.value == OVERALL


def _lists(overall: Sequence[Entry], stages: Sequence[Entry]) -> Iterator[Finding]:
    starters = any(e.line.role == "starter" for e in (*overall, *stages))
    groups = ["flour", "water"] if starters else []
    keys = dict.fromkeys(e.line.ingredient for e in overall)
    loose = {"flour", "water", "starter"} if starters else set()
    for name in [*groups, *keys]:
        one = [e for e in overall if _counts(e, name, loose)]
        many = [e for e in stages if _counts(e, name, loose)]
        if not one or not many:
            continue
        whole, parts = _sum(one, name), _sum(many, name)
        if whole.gap(parts) > 1.0 + _SLACK:
            yield _off(name, one, many, whole, parts)


def _counts(entry: Entry, name: str, loose: set[str]) -> bool:
    """Whether a line adds to one measure: flour, water, or an ingredient."""
    if name in ("flour", "water"):
        return entry.line.role in (name, "starter")
    return entry.line.ingredient == name and entry.line.role not in loose


def _sum(entries: Sequence[Entry], name: str) -> Interval:
    spans = [_span(e, name) for e in entries]
    return Interval(sum(s.low for s in spans), sum(s.high for s in spans))


def _span(entry: Entry, name: str) -> Interval:
    part: Part = part_of(entry.line)
    share = {"flour": part.flour, "water": part.water}.get(name, 1.0)
    if not entry.masses:
        return Interval(part.low_g, part.high_g).times(share)
    first = entry.masses[0]
    fine = interval(first.amount, entry.clean, step_share=_FINE)
    exact = first.grams_exact()
    return fine.times(exact.high / max(float(first.amount.high), 1e-12)).times(share)


def _off(
    name: str, one: Sequence[Entry], many: Sequence[Entry], whole: Interval,
    parts: Interval,
) -> Finding:  # fmt: skip
    label = name if name in ("flour", "water") else one[0].name
    return Finding(
        "stages-against-overall",
        "conflict",
        f"{label}: {_middle(whole):.4g} g in the overall formula, "
        f"{_middle(parts):.4g} g in the stages",
        tuple(e.quote for e in (*one, *many)[:6]),
        (f"overall {whole.text('g')}",
         " + ".join(f"{_middle(_span(e, name)):.4g}" for e in many)
         + f" = {parts.text('g')}"),
        f"Make the stages add up to {_middle(whole):.4g} g, or correct the overall "
        "formula.",
        "high",
        _BASIS,
    )  # fmt: skip


def _middle(span: Interval) -> float:
    return (span.low + span.high) / 2


def _rows(case: Case) -> Iterator[Finding]:
    """Tables with a column for each stage and one for their total."""
    heads: list[str] = []
    for number, line in enumerate(case.physical, case.first_line):
        cells = cells_of(line) if "|" in line or "\t" in line else None
        if cells is None:
            heads = []
        elif any(_TOTAL.match(c.strip(" *_")) for c in cells[1:]) and not heads:
            heads = [c.strip(" *_") for c in cells]
        elif heads:
            yield from _row(case, Quote(number, line.strip()), heads, cells)


def _row(
    case: Case, quote: Quote, heads: Sequence[str], cells: Sequence[str]
) -> Iterator[Finding]:
    pairs = list(zip(heads, cells, strict=False))
    total = next((_grams(c, case) for h, c in pairs[1:] if _TOTAL.match(h)), None)
    parts = [g for h, c in pairs[1:] if _is_stage(h) and (g := _grams(c, case))]
    if total is None or not parts:
        return
    added = Interval(sum(p.low for p in parts), sum(p.high for p in parts))
    if total.gap(added) <= 1.0 + _SLACK:
        return
    yield Finding(
        "stages-against-overall",
        "conflict",
        f"{cells[0].strip(' *_')}: the stages add up to {_middle(added):.4g}, the "
        f"total is printed as {_middle(total):.4g}",
        (quote,),
        (" + ".join(f"{_middle(p):.4g}" for p in parts)
         + f" = {_middle(added):.4g}, printed {_middle(total):.4g}",),
        f"Write {_middle(added):.4g}, or correct a stage.",
        "high",
        _BASIS,
    )  # fmt: skip


def _is_stage(head: str) -> bool:
    bare = re.sub(r"[(\[].*?[)\]]", "", head).strip(" .:*_")
    found = heading(bare) if bare and not _TOTAL.match(head) else None
    return found is not None and found.kind == "stage" and "%" not in head


def _grams(cell: str, case: Case) -> Interval | None:
    """A cell in grams; a bare number counts in the unit of its column."""
    text = cell.strip(" *_")
    if re.fullmatch(r"\d+(?:[.,]\d+)?", text):
        text = f"{text} g"
    found, _ = amounts(text, case.recipe.language)
    if len(found) != 1 or not found[0].is_mass:
        return None
    span = interval(found[0], text, step_share=_FINE)
    return span.times(_size(found[0].unit or "g"))


def _size(unit: str) -> float:
    from bakelab.units import kitchen_units

    return kitchen_units()[unit].size
