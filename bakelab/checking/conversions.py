"""Metric beside US units: beyond what the rounding of one of them explains."""

import itertools
import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from bakelab.checking.case import Case, Entry, Stated
from bakelab.checking.measures import in_kitchen_words
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval, interval, number_interval
from bakelab.errors import UnitError
from bakelab.reading.amounts import Amount, amounts
from bakelab.units import kitchen_units, number

__all__ = ["find_conversions"]

_BETWEEN = re.compile(
    r"(?i)^\s*(?:[(/=,\[|-]|or|oder|ou|about|approx\.?|ca\.?|\s)*\s*$"
)
_TWO = re.compile(
    r"(?i)(?:[\d½⅓⅔¼¾⅛]\s*-?[a-zäöüß.]{1,12}\s*(?:[(/=,|\[]|or\b|oder\b|ou\b|about\b)"
    r"[^\d½⅓⅔¼¾⅛]{0,12}[\d½⅓⅔¼¾⅛])"
)
_FEET = r"(?:in\.?|inch(?:es)?|ins\.?|[\"″”]|-inch|-in\.?)"
_N = r"\d+(?:[.,]\d+)?(?:\s+\d/\d+|\s*-?\s*[½⅓⅔¼¾⅛⅜⅝⅞])?|[½⅓⅔¼¾⅛⅜⅝⅞]|\d/\d+"
_DIMS = rf"(?:{_N})(?:\s*{_FEET}?\s*(?:x|×|by)\s*(?:{_N}))*"
_CM_DIMS = r"\d+(?:[.,]\d+)?(?:\s*(?:cm|mm)?\s*(?:x|×|by)\s*\d+(?:[.,]\d+)?)*"
_IN_CM = re.compile(
    rf"(?i)(?<![\d/.,])({_DIMS})\s*{_FEET}\s*[(/,]?\s*(?:or |about |approx\.? )?"
    rf"({_CM_DIMS})\s*-?\s*(cm|mm)\b"
)
_CM_IN = re.compile(
    rf"(?i)(?<![\d/.,])({_CM_DIMS})\s*-?\s*(cm|mm)\s*[(/,]?\s*"
    rf"(?:or |about |approx\.? )?({_DIMS})\s*{_FEET}(?![a-z])"
)
_SPLIT = re.compile(r"(?i)\s*(?:x|×|by)\s*")


def find_conversions(case: Case) -> Iterator[Finding]:
    """Findings `weight-units`, `volume-units`, `length-units`.

    Two figures for one measure: one was measured, the other converted and
    rounded. So it is a conflict only where neither figure, converted
    exactly, falls within what the other one's digits stand for. A cup is
    any of the cups in use.
    """
    for entry in case.entries:
        yield from _of_line(case, entry)
    for quote in case.prose:
        if any(ch.isdigit() for ch in quote.text):
            yield from _of_prose(case, quote)
            yield from _lengths(quote)
    for entry in case.entries:
        yield from _lengths(entry.quote)


def _of_line(case: Case, entry: Entry) -> Iterator[Finding]:
    if entry.phrase.each is None and not entry.phrase.alternative:
        yield from _clash(case, entry.masses, entry.quote, "weight-units")
        yield from _clash(case, entry.volumes, entry.quote, "volume-units")


def _of_prose(case: Case, quote: Quote) -> Iterator[Finding]:
    text = quote.text[:2000]
    if not _TWO.search(text):
        return
    found, _ = amounts(text, case.recipe.language)
    for one, other in itertools.pairwise(found):
        if one.unit == other.unit or one.kind != other.kind:
            continue
        if one.kind not in ("mass", "volume") or _is_sum(one, other, text):
            continue
        if _BETWEEN.match(text[one.end : other.start]) and other.start - one.end < 12:
            pair = [_stated(a, text) for a in (one, other)]
            name = "weight-units" if one.kind == "mass" else "volume-units"
            yield from _clash(case, pair, quote, name)


def _is_sum(one: Amount, other: Amount, text: str) -> bool:
    """`4 lb 5½ oz` is one weight."""
    units = kitchen_units()
    between = text[one.end : other.start].strip()
    finer = units[other.unit or ""].size < units[one.unit or ""].size
    return not between and finer


def _stated(amount: Amount, text: str) -> Stated:
    printed = text[amount.start : amount.end].strip(" .")
    return Stated(amount, printed, interval(amount, text))


def _clash(
    case: Case, stated: Sequence[Stated], quote: Quote, name: str
) -> Iterator[Finding]:
    first = stated[0] if stated else None
    for other in stated[1:]:
        if first is None or other.amount.unit == first.amount.unit:
            continue
        sizes = [_sizes(case, s) for s in (first, other)]
        if _explained(*sizes[0], *sizes[1]):
            continue
        yield _finding(case, first, other, sizes[0][0], sizes[1][0], quote, name)
        return


def _sizes(case: Case, one: Stated) -> tuple[Interval, Interval]:
    """The figure as printed and with its rounding, in g or mL."""
    if one.amount.is_mass:
        return one.grams_exact(), one.grams()
    return (
        one.millilitres(case.market, exact=True),
        one.millilitres(case.market),
    )


def _explained(
    exact: Interval, wide: Interval, other_exact: Interval, other_wide: Interval
) -> bool:
    """Whether one figure is the other one rounded; of ranges, both their ends."""
    return _within(exact, other_wide) or _within(other_exact, wide)


def _within(inner: Interval, outer: Interval) -> bool:
    return inner.gap(outer) == 1.0


def _finding(
    case: Case, one: Stated, other: Stated, first: Interval, second: Interval,
    quote: Quote, name: str,
) -> Finding:  # fmt: skip
    unit = "g" if one.amount.is_mass else "ml"
    middle = (first.low + first.high) / 2, (second.low + second.high) / 2
    ratio = max(middle) / max(min(middle), 1e-9)
    first_name = _with_unit(one)
    return Finding(
        name,
        "conflict" if ratio > 1.04 else "unlikely",
        f"{first_name} and {other.printed} are not the same "
        f"{'weight' if unit == 'g' else 'volume'}",
        (quote,),
        (f"{first_name} = {first.text(unit)}",
         f"{other.printed} = {second.text(unit)}",
         f"they differ by {100 * (ratio - 1):.0f} %, more than rounding explains"),
        _mend(case, one, other, middle),
        "high" if ratio > 1.1 else "medium",
        "UCUM: ounce 28.3495 g, pound 453.592 g, US cup 236.588 mL; cups of 240 and "
        "250 mL and imperial pints count as well",
    )  # fmt: skip


def _with_unit(one: Stated) -> str:
    """The figure with its unit, also where the unit stands further on."""
    bare = not any(ch.isalpha() for ch in one.printed)
    return f"{one.printed} {one.amount.unit}" if bare else one.printed


def _mend(case: Case, one: Stated, other: Stated, middles: tuple[float, float]) -> str:
    first = in_kitchen_words(middles[1], one.amount.unit or "g", case.market)
    second = in_kitchen_words(middles[0], other.amount.unit or "g", case.market)
    return (
        f"If {_with_unit(one)} is right, write {second} instead of {other.printed}; "
        f"if {other.printed} is right, write {first}."
    )


def _lengths(quote: Quote) -> Iterator[Finding]:
    text = quote.text[:2000]
    if "cm" not in text and "mm" not in text:
        return
    for match in _IN_CM.finditer(text):
        yield from _length(quote, match[1], match[2], match[3], match[0])
    for match in _CM_IN.finditer(text):
        yield from _length(quote, match[3], match[1], match[2], match[0])


def _length(
    quote: Quote, inches: str, metric: str, unit: str, whole: str
) -> Iterator[Finding]:
    try:
        first = sorted(_dims(inches, "inch"), key=lambda d: d[0])
        second = sorted(_dims(metric, "cm"), key=lambda d: d[0])
    except UnitError:
        return
    if len(first) != len(second):
        return
    factor = 0.1 if unit.casefold() == "mm" else 1.0
    for (inch, inch_span), (cm, cm_span) in zip(first, second, strict=True):
        cm_value, cm_wide = cm * factor, cm_span.times(factor)
        if cm_wide.holds(inch * 2.54) or inch_span.holds(cm_value / 2.54):
            continue
        yield Finding(
            "length-units",
            "conflict",
            f"{inch:g} in and {cm:g} {unit} are not the same length",
            (quote,),
            (f"in {whole.strip()!r}: {inch:g} in x 2.54 = {inch * 2.54:.1f} cm",
             f"{cm_value:g} cm / 2.54 = {cm_value / 2.54:.2f} in"),
            f"Write {inch * 2.54:.0f} cm, or {cm_value / 2.54:.1f} in.",
            "high",
            "an inch is 2.54 cm exactly (UCUM)",
        )  # fmt: skip
        return


@lru_cache(maxsize=2048)
def _dims(text: str, unit: str) -> tuple[tuple[float, Interval], ...]:
    out = []
    for part in _SPLIT.split(text):
        bare = re.sub(rf"(?i)\s*(?:{_FEET}|cm|mm)\s*$", "", part.strip()).strip()
        out.append((float(number(bare)), number_interval(bare, unit)))
    return tuple(out)
