"""Stated percentages against the weights, and stated totals against their sum."""

import math
import re
from collections.abc import Iterator, Sequence

from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding
from bakelab.checking.overall import is_overall
from bakelab.checking.printed import Interval, interval
from bakelab.reading.amounts import amounts
from bakelab.reading.clean import clean_line
from bakelab.reading.headings import is_total

__all__ = ["find_percentages", "find_totals"]

_FINE = 0.02  # a percentage is worked out from finer weights than a cup is
_BASIS = "percent of all flour, the trade's definition; tolerance from the digits"


def find_percentages(case: Case) -> Iterator[Finding]:
    """Findings `percent-against-weight`, `percent-of-dough`, `flour-is-not-100`.

    Weights may be rounded to a step of at most 2 % of themselves. A
    percentage is right if it follows from all flour, from the flour weighed
    as such, or from the flour of its own stage.
    """
    yield from _overall(case)
    stated = [e for e in case.dough if _is_stated(e)]
    if len(stated) < 2 or case.formula is None:
        yield from _percent_lists(case)
        return
    if len(stated) > 2 and _all_of_dough(case, stated):
        yield _of_dough(stated)
        return
    bases = _bases(case)
    wrong = [e for e in stated if (found := _one(e, bases)) is not None]
    yield from (found for e in wrong if (found := _one(e, bases)) is not None)
    yield from _mixed([e for e in stated if e not in wrong], bases)


def _overall(case: Case) -> Iterator[Finding]:
    """The percentages of an overall formula are of its own flour."""
    entries = [e for e in case.entries if is_overall(e) and _has_both(e)]
    flour = _flour(entries)
    if flour is None or case.formula is None:
        return
    for entry in entries:
        found = _one(entry, {"the flour of the overall formula": flour})
        if found is not None:
            yield found


def _mixed(stated: Sequence[Entry], bases: dict[str, Interval]) -> Iterator[Finding]:
    """Lines of one list whose percentages are of another flour than the rest."""
    for stage in dict.fromkeys(e.line.stage for e in stated):
        lines = [e for e in stated if e.line.stage == stage and e.line.role != "flour"]
        fits = {n: [e for e in lines if _fits(e, b)] for n, b in bases.items()}
        best = max(fits, key=lambda n: len(fits[n]), default="")
        others = [e for e in lines if best and e not in fits[best]]
        others = [e for e in others if e.line.role != "starter"]
        if others and len(fits[best]) > 2 * len(others):
            yield _of_another_base(others, best, bases)


def _fits(entry: Entry, base: Interval) -> bool:
    return _share(_mass(entry), base).gap(_percent(entry)) == 1.0


def _of_another_base(
    others: Sequence[Entry], best: str, bases: dict[str, Interval]
) -> Finding:
    one = others[0]
    other = next(n for n, b in bases.items() if _fits(one, b))
    return Finding(
        "percent-bases-mixed",
        "unlikely",
        f"{one.name}: {one.line.bakers_pct:g} % is of {other}, the rest of the list "
        f"is of {best}",
        tuple(e.quote for e in others),
        (f"of {best}: {_share(_mass(one), bases[best]).text('%')}",
         f"of {other}: {_share(_mass(one), bases[other]).text('%')}"),
        f"Give all percentages of one list as percent of {best}.",
        "medium",
        _BASIS,
    )  # fmt: skip


def _is_stated(entry: Entry) -> bool:
    return entry.line.basis == "stated" and _has_both(entry)


def _has_both(entry: Entry) -> bool:
    line = entry.line
    known = line.bakers_pct is not None and line.mass_g is not None
    return known and bool(entry.masses)


def _mass(entry: Entry) -> Interval:
    first = entry.masses[0]
    fine = interval(first.amount, entry.clean, step_share=_FINE)
    factor = first.grams_exact().high / max(float(first.amount.high), 1e-12)
    return fine.times(factor)


def _flour(entries: Sequence[Entry]) -> Interval | None:
    flours = [e for e in entries if e.line.role == "flour" and e.line.mass_g]
    if not flours:
        return None
    spans = [
        _mass(e) if e.masses else Interval(e.line.mass_g or 0, e.line.mass_g or 0)
        for e in flours
    ]
    return Interval(sum(s.low for s in spans), sum(s.high for s in spans))


def _bases(case: Case) -> dict[str, Interval]:
    """What a percentage may be of: flour weighed, with starters, by stage."""
    bases: dict[str, Interval] = {}
    dry = _flour(case.dough)
    if dry is not None:
        bases["the flour of the list"] = dry
        assert case.formula is not None
        inside = case.formula.flour_g - sum(
            e.line.mass_g or 0 for e in case.dough if e.line.role == "flour"
        )
        if inside > 0.5:
            bases["all flour, that in starters included"] = Interval(
                dry.low + 0.9 * inside, dry.high + 1.1 * inside
            )
    for stage in dict.fromkeys(e.line.stage for e in case.dough):
        part = _flour([e for e in case.dough if e.line.stage == stage])
        if part is not None:
            bases[f"the flour of {stage}"] = part
    return bases


def _percent(entry: Entry) -> Interval:
    match = re.search(r"(\d+(?:[.,]\d+)?)\s*%", entry.clean)
    places = (
        len(match[1].partition(".")[2] or match[1].partition(",")[2]) if match else 0
    )
    half = 0.5 * 10.0**-places
    value = entry.line.bakers_pct or 0.0
    return Interval(value - half, value + half)


def _share(mass: Interval, base: Interval) -> Interval:
    return Interval(100 * mass.low / base.high, 100 * mass.high / max(base.low, 1e-9))


def _one(entry: Entry, bases: dict[str, Interval]) -> Finding | None:
    printed, mass = _percent(entry), _mass(entry)
    shares = {name: _share(mass, base) for name, base in bases.items()}
    if not shares or any(s.gap(printed) == 1.0 for s in shares.values()):
        return None
    name, share = next(iter(shares.items()))
    base = bases[name]
    flour = (base.low + base.high) / 2
    grams = (mass.low + mass.high) / 2
    return Finding(
        "percent-against-weight",
        "conflict",
        f"{entry.name}: {entry.line.bakers_pct:g} % is printed, the weights say "
        f"{100 * grams / flour:.3g} %",
        (entry.quote,),
        (f"{mass.text('g')} over {name} of {base.text('g')} = {share.text('%')}",
         f"{entry.line.bakers_pct:g} % stands for {printed.text('%')}"),
        f"Write {100 * grams / flour:.3g} %, or "
        f"{flour * (entry.line.bakers_pct or 0) / 100:.4g} g.",
        "high",
        _BASIS,
    )  # fmt: skip


def _all_of_dough(case: Case, stated: Sequence[Entry]) -> bool:
    """Whether every percentage is a share of the dough, and not one of flour."""
    assert case.formula is not None
    dough = case.formula.dough_g
    whole = [e for e in case.dough if e.line.mass_g]
    if len(stated) < len(whole) or dough <= 0:
        return False
    fits = [_share(_mass(e), Interval(dough, dough)).gap(_percent(e)) for e in stated]
    flour = [e for e in stated if e.line.role == "flour"]
    total = sum(e.line.bakers_pct or 0 for e in flour)
    return bool(flour) and total < 95 and all(gap <= 1.02 for gap in fits)


def _of_dough(stated: Sequence[Entry]) -> Finding:
    total = sum(e.line.bakers_pct or 0 for e in stated)
    flour = sum(e.line.bakers_pct or 0 for e in stated if e.line.role == "flour")
    return Finding(
        "percent-of-dough",
        "conflict",
        "the percentages are of the dough, not of the flour",
        tuple(e.quote for e in stated[:6]),
        (f"they add up to {total:.4g} %, of which flour is {flour:.4g} %",
         ("a baker's percentage is of the flour: the flours make 100 % and all lines "
         "together more")),
        f"Divide each by {flour / 100:.4g}, or call them percent of the dough.",
        "high",
        _BASIS,
    )  # fmt: skip


def _percent_lists(case: Case) -> Iterator[Finding]:
    """Lists of percentages without weights."""
    lines = [
        e for e in case.dough
        if e.line.basis == "percent" and e.line.bakers_pct is not None
    ]  # fmt: skip
    flours = [e for e in lines if e.line.role == "flour"]
    if len(lines) < 3 or not flours or len({e.line.stage for e in lines}) > 1:
        return
    flour = sum(e.line.bakers_pct or 0 for e in flours)
    total = sum(e.line.bakers_pct or 0 for e in lines)
    slack = sum(_percent(e).high - (e.line.bakers_pct or 0) for e in lines)
    if abs(flour - 100) <= max(slack, 0.5):
        return
    if abs(total - 100) <= max(slack, 0.5) and flour < 95:
        yield _of_dough(lines)
        return
    if not any(e.line.role == "starter" for e in lines):
        yield _not_100(flours, flour)


def _not_100(flours: list[Entry], flour: float) -> Finding:
    return Finding(
        "flour-is-not-100",
        "conflict",
        f"the flours add up to {flour:.4g} %, not to 100 %",
        tuple(e.quote for e in flours),
        (" + ".join(f"{e.line.bakers_pct:g}" for e in flours) + f" = {flour:.4g} %",),
        f"Divide every percentage by {flour / 100:.4g}, or correct a flour.",
        "high",
        _BASIS,
    )


def find_totals(case: Case) -> Iterator[Finding]:
    """Findings `total-against-sum`: a printed total against the lines above it."""
    dough = [e for e in case.dough if e.line.mass_g]
    for entry in case.entries:
        label = entry.line.label if is_total(entry.line.label) else ""
        label = label or entry.line.text.split(":")[0]
        if entry.in_dough or not is_total(label):
            continue
        yield from _total(case, entry, dough)


def _total(case: Case, entry: Entry, dough: Sequence[Entry]) -> Iterator[Finding]:
    clean = clean_line(entry.line.text)
    above = [e for e in dough if e.line.line_no < entry.line.line_no]
    if not above or any(not e.masses for e in above) or case.unweighed:
        return
    for amount in amounts(clean, case.recipe.language)[0]:
        printed = clean[amount.start : amount.end]
        span = interval(amount, clean, step_share=_FINE)
        if amount.is_mass:
            size = entry_grams(amount.unit or "g")
            total = _sum([_mass(e) for e in above])
            if span.times(size).gap(total) > 1.0:
                yield _off(entry, printed, total, "g", above)
        elif amount.kind == "percent" and all(
            e.line.bakers_pct is not None for e in above
        ):
            total = _sum([_percent(e) for e in above])
            if span.gap(total) > 1.0:
                yield _off(entry, printed, total, "%", above)


def entry_grams(unit: str) -> float:
    """Grams of one unit of mass."""
    from bakelab.units import kitchen_units

    return kitchen_units()[unit].size


def _sum(spans: Sequence[Interval]) -> Interval:
    return Interval(math.fsum(s.low for s in spans), math.fsum(s.high for s in spans))


def _off(
    entry: Entry, printed: str, total: Interval, unit: str, above: Sequence[Entry]
) -> Finding:
    return Finding(
        "total-against-sum",
        "conflict",
        f"the total is printed as {printed}, the lines add up to "
        f"{(total.low + total.high) / 2:.4g} {unit}",
        (entry.quote,),
        (f"{len(above)} lines add up to {total.text(unit)}",),
        f"Write {(total.low + total.high) / 2:.4g} {unit}, or look for a line that is "
        "missing or changed.",
        "high",
        "sum of the printed lines; tolerance from their digits",
    )
