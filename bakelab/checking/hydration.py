"""A hydration that the text states, against the list."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import Interval
from bakelab.checking.shares import exact_band

__all__ = ["find_stated_hydration"]

_HYDRATION = re.compile(
    r"(?i)(\d{2,3}(?:[.,]\d)?)\s*(?:%|percent|per cent|prozent)\s*-?\s*"
    r"(?:hydration|hydratation|hydratationsgrad)|"
    r"\b(?:hydration|hydratation|teigausbeute)\s*(?:is|of|:|=|von|de)?\s*(?:about )?"
    r"(\d{2,3}(?:[.,]\d)?)\s*(?:%|percent)"
)
_STARTER = re.compile(
    r"(?i)\b(starter|levain|leaven|poolish|biga|sponge|preferment|sauerteig|vorteig|"
    r"anstellgut|stiff|liquid)\b"
)


def find_stated_hydration(case: Case) -> Iterator[Finding]:
    """Findings `stated-hydration`: a hydration in the text against the list."""
    formula = case.formula
    if formula is None or formula.flour_g <= 0 or _heavy_lines_missing(case):
        return
    bands = _hydrations(case)
    for quote in case.prose:
        for match in _HYDRATION.finditer(quote.text[:2000]):
            around = quote.text[max(0, match.start() - 40) : match.end() + 25]
            if _STARTER.search(around):
                continue
            printed = float((match[1] or match[2]).replace(",", "."))
            span = Interval(printed - 0.5, printed + 0.5)
            if any(span.gap(b) == 1.0 for b in bands.values()):
                continue
            yield _hydration(quote, printed, bands)


def _heavy_lines_missing(case: Case) -> bool:
    heavy = ("flour", "water", "liquid", "dairy", "egg", "starter")
    return any(e.line.role in heavy for e in case.unweighed) or any(
        ln.line_no == 0 and ln.role in heavy for ln in case.recipe.lines
    )


def _hydrations(case: Case) -> dict[str, Interval]:
    parts = case.parts
    plain = [p for p in parts if p.role != "starter"]
    dry = [p for p in plain if p.role in ("flour", "water")]
    bands = {"true hydration": case.band("hydration")}
    if dry and sum(p.flour for p in dry):
        bands["water as written"] = exact_band(dry, "hydration")
    wet = [p for p in plain if p.role in ("flour", "water", "liquid", "dairy")]
    if wet and sum(p.flour for p in wet):
        as_water = sum(p.mid_g for p in wet if p.role != "flour")
        flour = sum(p.flour * p.mid_g for p in wet)
        share = 100 * as_water / flour
        bands["all liquids by weight"] = Interval(share, share)
    return {n: Interval(b.low - 0.5, b.high + 0.5) for n, b in bands.items()}


def _hydration(quote: Quote, printed: float, bands: dict[str, Interval]) -> Finding:
    return Finding(
        "stated-hydration",
        "conflict",
        f"{printed:g} % hydration is stated, the list gives "
        f"{_middle(bands['true hydration']):.0f} %",
        (quote,),
        tuple(f"{name}: {band.text('%')}" for name, band in bands.items()),
        "Correct the percentage, or the flour or water of the list.",
        "high",
        "water over flour; tolerance from the digits and the band of cups",
    )


def _middle(band: Interval) -> float:
    return (band.low + band.high) / 2
