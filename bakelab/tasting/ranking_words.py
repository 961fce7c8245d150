"""A ranking in plain words."""

from collections.abc import Sequence

from bakelab.tasting.gaps import found_gap
from bakelab.tasting.ranking import Ranking
from bakelab.tasting.words import chance_words, listed_names, often, percent

__all__ = [
    "ranking_findings",
    "ranking_headline",
    "ranking_limits",
    "ranking_numbers",
]

_NOT_HOW_MUCH = (
    "Ranks say which comes before which, not by how much: first and second may be a "
    "hair or a mile apart."
)


def ranking_headline(found: Ranking) -> str:
    """Whether the samples differ at all."""
    chance = chance_words(found.p_value)
    how = "" if found.method == "exact" else "about "
    if found.shown:
        return (
            "The samples are not all alike on this question: if nobody could tell them "
            f"apart, {found.tasters} tasters would rank them this far apart in "
            f"{how}{chance} of tastings."
        )
    return (
        f"No order shown with {found.tasters} tasters: if nobody could tell the "
        f"samples apart, they would be ranked this far apart in {how}{chance} of "
        "tastings."
    )


def ranking_findings(found: Ranking, names: Sequence[str]) -> tuple[str, ...]:
    """Rank sums, which pairs differ, the expected order, how it was reckoned."""
    order = sorted(range(len(names)), key=lambda i: found.rank_sums[i])
    sums = ", ".join(f"{names[i]} {found.rank_sums[i]:g}" for i in order)
    findings = [f"Rank sums, first place lowest: {sums}."]
    if found.shown:
        findings.append(_pairs(found, names, order))
    if found.trend is not None:
        findings.append(_trend(found, names))
    if found.method != "exact":
        findings.append(
            f"So large a panel is judged by chi-square, which comes close but is not "
            f"exact; with Kendall's correction for continuity it gives "
            f"{chance_words(found.continuity_p)}."
        )
    return tuple(findings)


def ranking_limits(found: Ranking, beta: float) -> tuple[str, ...]:
    """What a ranking does not say."""
    limits = [_NOT_HOW_MUCH]
    if found.shown and len(found.pairs) > 1:
        wide = sum(p.differs_widely for p in found.pairs)
        limits.append(
            f"Each pair is judged with a risk of {percent(found.alpha)} of its "
            f"own, and there are {len(found.pairs)}. To stay within that for all "
            "together, "
            f"{found.wide_difference:.1f} apart is needed: {_count(wide)}."
        )
    if found.trend is not None and found.trend.p_value <= found.alpha:
        limits.append(
            "That the expected order is borne out does not show each step of it: two "
            "neighbours may well be alike."
        )
    samples = len(found.rank_sums)
    gap = found_gap(found.tasters, samples, alpha=found.alpha, beta=beta)
    limits.append(
        f"Two samples less than {gap:.1f} ranks apart on average may well not have "
        f"been told apart ({often(beta)}, approximately); this does not show that any "
        "two are the same."
    )
    return tuple(limits)


def ranking_numbers(found: Ranking) -> tuple[tuple[str, str], ...]:
    """Labels and values, most telling first."""
    label = "Exact chance" if found.method == "exact" else "Chance, chi-square"
    numbers = [
        (label, chance_words(found.p_value)),
        ("Friedman's F", f"{found.statistic:.2f}"),
        ("Needed apart", f"{found.least_difference:.1f}"),
        ("Tasters", f"{found.tasters}"),
    ]
    if found.trend is not None:
        words = chance_words(found.trend.p_value)
        numbers.append(("Expected order, exact chance", words))
    return tuple(numbers)


def _pairs(found: Ranking, names: Sequence[str], order: Sequence[int]) -> str:
    """Per sample, which ones it stands before by enough."""
    apart = {frozenset((p.first, p.second)) for p in found.pairs if p.differs}
    need = f"{found.least_difference:.1f} apart is needed for one pair"
    said = []
    for place, sample in enumerate(order):
        behind = [names[o] for o in order[place + 1 :] if {sample, o} in apart]
        if behind:
            said.append(f"{names[sample]} stands before {listed_names(behind)}")
    if not said:
        return f"No single pair is far enough apart ({need})."
    rest = (
        ""
        if len(apart) == len(found.pairs)
        else (" Between the others no difference is shown.")
    )
    return f"{'; '.join(said)} ({need}).{rest}"


def _trend(found: Ranking, names: Sequence[str]) -> str:
    trend = found.trend
    assert trend is not None  # asked for by the caller
    order = ", ".join(names[i] for i in trend.order)
    chance = chance_words(trend.p_value)
    shown = trend.p_value <= found.alpha
    return (
        f"The expected order ({order}) is {'' if shown else 'not '}borne out: Page's L "
        f"is {trend.statistic:g}, and tasters who cannot tell reach it in {chance} of "
        "tastings."
    )


def _count(pairs: int) -> str:
    if pairs == 0:
        return "no pair reaches it"
    return f"{pairs} pair{' reaches' if pairs == 1 else 's reach'} it"
