"""What the text says that the recipe makes, against the sum of its lines."""

import math
import re
from collections.abc import Iterator

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Kind, Quote
from bakelab.checking.printed import Interval, interval
from bakelab.reading.amounts import Amount, amounts
from bakelab.units import kitchen_units

__all__ = ["find_yields"]

_WORDS = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "twelve": 12,
    "sixteen": 16,
    "twenty": 20,
    "zwei": 2,
    "drei": 3,
    "vier": 4,
    "deux": 2,
    "trois": 3,
    "quatre": 4,
}
_COUNT = rf"(?P<n>\d{{1,3}}|{'|'.join(_WORDS)})"
_MASS = (
    r"(?P<m>\d[\d\s./½¼¾⅓⅔⅛⅜⅝⅞,-]{0,20}?\s{0,3}-?\s{0,3}(?:g|kg|grams?|"
    r"ounces?|oz|pounds?|lbs?)\b\.?)"
)
_PIECE = (
    r"(?:pieces?|balls?|rolls?|buns?|loaves|loaf|portions?|rounds?|baguettes?|bagels?|"
    r"pizzas?|breads?|boules?|stücke?|teiglinge?|brötchen|brote|pâtons?|pains?)"
)
_N_OF_M = re.compile(
    rf"(?i)\b{_COUNT}\s+(?:equal |even |small |large |round |dough )*{_PIECE}"
    rf"(?: of dough)?[,:]?\s*(?:\(|of|at|weighing|à|zu|von|je|de|each|about|approx\w*|"
    rf"ca\.?|roughly|around|~|\s)*\s*{_MASS}"
)
_N_OF_M_EACH = re.compile(
    rf"(?i)\b(?:shape|divide|form|cut|make|scale)\w*\s+(?:it |the dough )?(?:into )?"
    rf"{_COUNT}\s+(?:of|at|à|zu)\s+{_MASS}(?:\s+each)?"
)
_N_TIMES_M = re.compile(rf"(?i)\b{_COUNT}\s*[x×]\s*{_MASS}")
_N_M_PIECES = re.compile(rf"(?i)\b{_COUNT}\s+{_MASS}[\s-]*{_PIECE}")
_DOUGH = re.compile(
    rf"(?i)\b(?:total dough|dough weight|weight of (?:the )?dough|teiggewicht|"
    rf"teigeinlage|dough (?:weighs|will weigh|of)|total weight|yields? dough of)"
    rf"(?:\s|:|is|=|about|approx\w*|of|will be|-)*{_MASS}"
)
_SCALED = re.compile(
    r"(?i)\b(divid\w*|cut|scal\w*|portion\w*|dough|weigh\w*|piece|ball|shape|teil\w*|"
    r"abwieg\w*|divis\w*|pâton)"
)
_BAKED = re.compile(
    r"(?i)\b(makes|yields?|loaf|loaves|breads?|ergibt|brote?|pains?|bake)"
)
_NOT_ALL = re.compile(
    r"(?i)\b(at a time|remaining|rest|filling|butter|cheese|each with)"
)
_A_TIN = re.compile(r"(?i)\s*(?:pans?|tins?|moulds?|molds?|form\w*|moules?)\b")
_TWICE = re.compile(r"(?i)\b(double|twice the recipe|two batches|half the dough)\b")
_HEAVY, _LIGHT = "heavier than the dough", "much lighter than the dough bakes"
_LEFT = 0.93  # of the dough is made into pieces; the rest sticks; our own
_LOSS = (0.05, 0.20)  # of the dough, from flat to well-baked small; common practice


def find_yields(case: Case) -> Iterator[Finding]:
    """Findings `pieces-against-dough`, `dough-weight`, `loaf-against-dough`.

    The dough is the sum of the lines between their low and high grams. More
    pieces than dough is a conflict, beyond the digits; less than 93 % of it
    is unlikely. A baked loaf may be 5 to 20 % lighter than its dough.
    """
    formula = case.formula
    if formula is None or formula.flour_g <= 0:
        return
    digits = _digits(case)
    dough = case.band("dough_g")
    dough = Interval(dough.low - digits, dough.high + digits)
    seen: set[str] = set()
    quotes = [*case.prose, *_yield_quote(case)]
    for quote in quotes:
        for found in _of_quote(case, quote, dough):
            if found.message not in seen:
                seen.add(found.message)
                yield found


def _digits(case: Case) -> float:
    """Grams by which the sum of the printed weights may be off by rounding.

    Roundings of many lines partly cancel: the root of the sum of squares.
    """
    halves = [
        (e.masses[0].grams().high - e.masses[0].grams().low) / 2
        for e in case.dough
        if e.masses
    ]
    return math.sqrt(sum(h * h for h in halves))


def _yield_quote(case: Case) -> list[Quote]:
    stated = case.recipe.stated_yield
    told = any(stated and stated in q.text for q in case.prose)
    return [case.quote(f"makes {stated}")] if stated and not told else []


def _of_quote(case: Case, quote: Quote, dough: Interval) -> Iterator[Finding]:
    text = quote.text[:2000]
    if not any(ch.isdigit() for ch in text) or _TWICE.search(text):
        return
    for pattern in (_N_OF_M, _N_OF_M_EACH, _N_TIMES_M, _N_M_PIECES):
        for match in pattern.finditer(text):
            each = _mass_of(match["m"], case)
            before = re.split(
                r"[.;,]", text[max(0, match.start() - 60) : match.start()]
            )
            around = before[-1] + text[match.start() : match.end() + 30]
            behind = text[match.end() : match.end() + 16]
            if each is None or _NOT_ALL.search(around) or _A_TIN.match(behind):
                continue
            yield from _pieces(case, quote, match, each, dough)
    for match in _DOUGH.finditer(text):
        stated = _mass_of(match["m"], case)
        if stated is not None:
            yield from _dough(case, quote, match["m"], stated, dough)


def _mass_of(text: str, case: Case) -> Interval | None:
    clean = text.replace("-", " ").strip(" .")
    found, _ = amounts(clean, case.recipe.language)
    first = found[0] if found else None
    if first is None or not first.is_mass:
        return None
    return interval(first, clean, step_share=0.05).times(_size(first))


def _size(amount: Amount) -> float:
    return kitchen_units()[amount.unit or "g"].size


def _pieces(
    case: Case, quote: Quote, match: re.Match[str], each: Interval, dough: Interval
) -> Iterator[Finding]:
    word, whole = match["n"], match[0]
    count = int(word) if word.isdigit() else _WORDS[word.casefold()]
    total = each.times(count)
    before = quote.text[max(0, match.start() - 60) : match.start()]
    if _is_baked(before, whole):
        yield from _loaf(case, quote, whole, total, dough)
        return
    verdict = _pieces_verdict(case, total, dough)
    if verdict is None:
        return
    kind, said = verdict
    yield Finding(
        "pieces-against-dough",
        kind,
        f"{' '.join(whole.split()).strip(' .')} is {said}",
        (quote,),
        (f"{count} pieces of {each.text('g')} = {total.text('g')}",
         f"the lines add up to {dough.text('g')} of dough",
         f"that is {100 * _mid(total) / _mid(dough):.0f} % of it"),
        f"{_mid(dough) / count:.4g} g a piece uses all of it, or make "
        f"{_mid(dough) / _mid(each):.3g} pieces.",
        "high" if kind == "conflict" else "medium",
        "sum of the lines; up to 7 % may stay on bowl and bench (common practice, "
        "no source)",
    )  # fmt: skip


def _is_baked(before: str, whole: str) -> bool:
    """Whether the weight is of bread; a word of dividing makes it one of dough."""
    scaled = _SCALED.search(before) or _SCALED.search(whole)
    return not scaled and _BAKED.search(f"{before} {whole}") is not None


def _pieces_verdict(
    case: Case, total: Interval, dough: Interval
) -> tuple[Kind, str] | None:
    if total.low > dough.high and not _unsure(case):
        return "conflict", "more than the dough there is"
    if total.high < _LEFT * dough.low:
        return "unlikely", "less than the dough there is"
    return None


def _dough(
    case: Case, quote: Quote, printed: str, stated: Interval, dough: Interval
) -> Iterator[Finding]:
    if stated.gap(dough) == 1.0 or (_unsure(case) and _mid(stated) > dough.high):
        return
    yield Finding(
        "dough-weight",
        "conflict",
        f"{printed.strip(' .')} of dough is stated, the lines make {_mid(dough):.4g} g",
        (quote,),
        (f"stated {stated.text('g')}", f"sum of the lines {dough.text('g')}"),
        f"Write {_mid(dough):.4g} g, or look for a line that is missing or changed.",
        "high",
        "sum of the lines; tolerance from digits and cups",
    )


def _loaf(
    case: Case, quote: Quote, whole: str, total: Interval, dough: Interval
) -> Iterator[Finding]:
    least, most = dough.low * (1 - _LOSS[1]), dough.high * (1 - _LOSS[0])
    if total.gap(Interval(least, dough.high)) == 1.0:
        return
    heavy = total.low > dough.high
    if heavy and _unsure(case):
        return
    yield Finding(
        "loaf-against-dough",
        "conflict" if heavy and total.low > 1.05 * dough.high else "unlikely",
        f"{' '.join(whole.split())}: {_HEAVY if heavy else _LIGHT}",
        (quote,),
        (
            f"stated {total.text('g')} baked",
            f"the lines add up to {dough.text('g')} of dough",
            f"5 to 20 % bakes off: {least:.4g} to {most:.4g} g",
        ),
        f"About {0.89 * _mid(dough):.4g} g of bread comes of this dough.",
        "medium",
        "bake loss about 9 to 12 % of the dough: Gisslen, Professional Baking, ch. 6; "
        "wider here for flat and small breads, common practice, no source",
    )  # fmt: skip


def _unsure(case: Case) -> bool:
    """Whether something of weight is missing from the sum."""
    light = ("salt", "yeast", "leavening")
    return any(e.line.role not in light for e in case.unweighed) or any(
        ln.line_no == 0 for ln in case.recipe.lines
    )


def _mid(span: Interval) -> float:
    return (span.low + span.high) / 2
