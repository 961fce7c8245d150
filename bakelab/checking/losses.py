"""Dough, loaf and the loss between them, where a sentence gives all three."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval, interval, number_interval
from bakelab.reading.amounts import Amount, amounts
from bakelab.units import kitchen_units

__all__ = ["find_losses"]

_LOSES = re.compile(r"(?i)\b(los(?:es?|s|ing|t)|verliert|\w*backverlust|perd|perte)\b")
_PERCENT = re.compile(
    r"(?<![\w.,–-])(\d{1,2}(?:[.,]\d+)?)\s*(?:%|percent\b|per cent\b)"
)
_LEAST_LOAF = (
    0.5  # of the dough; two weights further apart are of other things; our own
)
_FINE = 0.02


def find_losses(case: Case) -> Iterator[Finding]:
    """Findings `loss-arithmetic`: dough, loaf and the loss between them.

    A loss in percent may be of the dough or of the loaf.
    """
    for quote in case.prose:
        for sentence in re.split(r"(?<=[.;!?])\s+", quote.text[:4000]):
            if _LOSES.search(sentence):
                yield from _loss(case, Quote(quote.line_no, sentence))
        if _LOSES.search(quote.text[:4000]):
            yield from _share(case, Quote(quote.line_no, quote.text[:4000]))


def _loss(case: Case, quote: Quote) -> Iterator[Finding]:
    found, _ = amounts(quote.text, case.recipe.language)
    masses = _joined([a for a in found if a.is_mass], quote.text)
    if len(masses) != 3:
        return
    rising = sorted(masses, key=lambda a: _mid(_span(a, quote)))
    lost = rising[0]
    exact = [_mid(_exact(a)) for a in rising]
    left = exact[2] - exact[1]
    loss = _span(lost, quote)
    half = max(loss.high - loss.low, 2 * _last_digit(lost)) / 2
    if abs(left - exact[0]) <= half or exact[0] > exact[1]:
        return
    yield _not_the_rest(quote, lost, exact, left)


def _share(case: Case, quote: Quote) -> Iterator[Finding]:
    """Two weights and one percentage on a line that tells of a loss."""
    found, _ = amounts(quote.text, case.recipe.language)
    masses = _joined([a for a in found if a.is_mass], quote.text)
    printed = _PERCENT.findall(quote.text)
    if len(masses) != 2 or len(printed) != 1:
        return
    loaf, dough = sorted((_span(a, quote) for a in masses), key=_mid)
    if not _LEAST_LOAF * _mid(dough) < _mid(loaf) < _mid(dough):
        return
    least, most = max(0.0, dough.low - loaf.high), dough.high - loaf.low
    said = number_interval(printed[0], "%")
    if said.high < 100 * least / dough.high or said.low > 100 * most / loaf.low:
        yield _not_the_share(quote, printed[0], _mid(dough), _mid(loaf))


def _not_the_share(
    quote: Quote, printed: str, dough_g: float, loaf_g: float
) -> Finding:
    share = 100 * (dough_g - loaf_g) / dough_g
    return Finding(
        "loss-arithmetic",
        "conflict",
        f"the loss is printed as {printed} %, the weights give {share:.3g} %",
        (quote,),
        (f"({dough_g:.5g} g - {loaf_g:.5g} g) / {dough_g:.5g} g = {share:.3g} %",),
        f"Write {share:.3g} %, or correct one of the weights.",
        "high",
        "the printed weights, their loss over the dough or over the loaf",
    )


def _span(amount: Amount, quote: Quote) -> Interval:
    return interval(amount, quote.text, step_share=_FINE).times(_size(amount))


def _not_the_rest(
    quote: Quote, lost: Amount, exact: Sequence[float], left: float
) -> Finding:
    ounce = kitchen_units()["oz"].size
    return Finding(
        "loss-arithmetic",
        "conflict",
        f"the loss is printed as {quote.text[lost.start : lost.end].strip(' .')}, "
        f"the weights give {left / ounce:.4g} oz ({left:.4g} g)",
        (quote,),
        ((f"{exact[2]:.5g} g - {exact[1]:.5g} g = {left:.4g} g, printed "
         f"{exact[0]:.4g} g"),),
        f"Write {left / ounce:.4g} oz, or correct one of the weights.",
        "high",
        "subtraction of the printed weights",
    )  # fmt: skip


def _joined(masses: list[Amount], text: str) -> list[Amount]:
    """Amounts with `4 lb 5½ oz` as one, in the unit of its last part."""
    out: list[Amount] = []
    for amount in masses:
        last = out[-1] if out else None
        near = last is not None and not text[last.end : amount.start].strip()
        if last is not None and near and _size(amount) < _size(last):
            out[-1] = _whole(last, amount)
        else:
            out.append(amount)
    return out


def _whole(first: Amount, last: Amount) -> Amount:
    ratio = Fraction(round(_size(first) / _size(last)))
    return replace(
        last,
        low=first.low * ratio + last.low,
        high=first.high * ratio + last.high,
        start=first.start,
    )


def _exact(amount: Amount) -> Interval:
    size = _size(amount)
    return Interval(float(amount.low) * size, float(amount.high) * size)


def _last_digit(amount: Amount) -> float:
    """Half of the last printed fraction of an amount, in g."""
    return _size(amount) / (2 * max(1, amount.low.denominator))


def _mid(span: Interval) -> float:
    return (span.low + span.high) / 2


def _size(amount: Amount) -> float:
    return kitchen_units()[amount.unit or "g"].size
