"""Tasting: enumeration, general libraries, published examples, refusals."""

import json
import random
from contextlib import suppress
from itertools import pairwise, permutations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.tasting import (
    TESTS,
    Tasting,
    allergen_line,
    answers_from_data,
    evaluate,
    evaluate_likeness,
    found_gap,
    gap_tasters,
    judge,
    least_gap,
    likeness_power,
    likeness_tasters,
    needed_correct,
    plan_tasting,
    power,
    rank_samples,
    read_answer,
    read_answers,
    serving_orders,
    serving_plan,
    tasters_needed,
)

TWO = ("house loaf", "less salt")
FOUR = ("white", "rye", "spelt", "oat")
RANKS_8587 = [
    (2, 5, 4, 3, 1), (2, 4, 3, 5, 1), (1, 5, 2, 3, 4), (1, 2, 5, 4, 3),
    (4, 5, 3, 1, 2), (1, 4, 5, 2, 3), (2, 3, 5, 4, 1), (4, 3, 5, 1, 2),
]  # fmt: skip
CHANCE = {"triangle": 1 / 3, "duo-trio": 1 / 2, "paired": 1 / 2}


def test_chance_agrees_with_scipy() -> None:
    """P(13 or more of 24 by guessing one of three) = 0.028441."""
    done = evaluate("triangle", tasters=24, correct=13)
    assert done.p_value == pytest.approx(0.028441, abs=5e-7)
    for right in range(25):
        found = evaluate("duo-trio", tasters=24, correct=right)
        assert found.p_value == pytest.approx(stats.binom.sf(right - 1, 24, 0.5))
        both = evaluate("paired two-sided", tasters=24, correct=right)
        assert both.p_value == pytest.approx(stats.binomtest(right, 24).pvalue)


@pytest.mark.parametrize("test", list(CHANCE))
@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.9])
def test_power_agrees_with_scipy(test: str, share: float) -> None:
    for n in (6, 9, 17, 36, 100):
        least = needed_correct(test, n, alpha=0.05)
        assert least is not None
        right = share + (1 - share) * CHANCE[test]
        theirs = stats.binom.sf(least - 1, n, right)
        assert power(test, n, share=share) == pytest.approx(theirs)
        assert evaluate(test, tasters=n, correct=0).needed == least


def test_two_sided_power_counts_both_ends() -> None:
    least = needed_correct("paired two-sided", 30, alpha=0.05)
    assert least == 21
    theirs = stats.binom.sf(20, 30, 0.75) + stats.binom.cdf(9, 30, 0.75)
    assert power("paired two-sided", 30, share=0.5) == pytest.approx(theirs)


@pytest.mark.parametrize("share", [0.15, 0.2, 0.25, 0.35, 0.5, 0.8])
@pytest.mark.parametrize(("alpha", "beta"), [(0.05, 0.2), (0.05, 0.1), (0.1, 0.05)])
def test_number_of_tasters_beside_a_search_with_scipy(
    share: float, alpha: float, beta: float
) -> None:
    right = share + (1 - share) / 3
    n = np.arange(1, 900)
    least = stats.binom.isf(alpha, n, 1 / 3) + 1  # P(X >= least) <= alpha
    enough = stats.binom.sf(least - 1, n, right) >= 1 - beta
    risks = {"share": share, "alpha": alpha, "beta": beta}
    assert tasters_needed("triangle", **risks) == n[enough][0]
    assert tasters_needed("triangle", **risks, steady=True) == n[~enough][-1] + 1


def test_band_of_the_share_is_that_of_clopper_and_pearson() -> None:
    found = evaluate("triangle", tasters=24, correct=16)
    band = stats.binomtest(16, 24).proportion_ci(0.95, method="exact")
    assert found.low_share == pytest.approx((band.low - 1 / 3) / (2 / 3))
    assert found.high_share == pytest.approx((band.high - 1 / 3) / (2 / 3))
    assert evaluate("triangle", tasters=24, correct=4).low_share == 0


def test_what_could_be_missed_is_what_would_have_been_found() -> None:
    found = evaluate("triangle", tasters=9, correct=4)
    assert found.missed_share is not None
    assert power("triangle", 9, share=found.missed_share) >= 0.8
    assert power("triangle", 9, share=found.missed_share - 0.01) < 0.8


def test_verdict_does_not_overclaim() -> None:
    done = evaluate("triangle", tasters=9, correct=4)
    assert "could well have been missed" in done.verdict
    assert "does not show that the samples are the same" in done.verdict
    assert "any difference" in evaluate("triangle", tasters=2, correct=2).verdict
    shown = evaluate("triangle", tasters=24, correct=20)
    assert "nothing of which is better" in shown.verdict


@pytest.mark.parametrize("test", ["triangle", "duo-trio"])
@pytest.mark.parametrize("share", [0.2, 0.3, 0.5])
def test_likeness_agrees_with_scipy(test: str, share: float) -> None:
    guess = CHANCE[test]
    right = share + (1 - share) * guess
    n = np.arange(1, 400)
    most = stats.binom.ppf(0.05, n, right) - 1  # P(X <= most) <= beta
    most += stats.binom.cdf(most + 1, n, right) <= 0.05
    shown = np.where(most >= n * guess, stats.binom.cdf(most, n, guess), 0)
    assert likeness_tasters(test, share=share) == n[shown >= 0.8][0]
    for tasters in (30, 48, 90):
        found = likeness_power(test, tasters, share=share)
        assert found == pytest.approx(shown[tasters - 1])
        limit = stats.binomtest(12, tasters, alternative="less").proportion_ci(
            0.95, method="exact"
        )
        high = max(0.0, (limit.high - guess) / (1 - guess))
        done = evaluate_likeness(test, tasters=tasters, correct=12, share=share)
        assert done.high_share == pytest.approx(high)
        assert done.shown == (done.most is not None and high < share)


def test_no_difference_is_not_likeness() -> None:
    """Ten tasters, three right: no difference, and no likeness either."""
    few = evaluate_likeness("triangle", tasters=10, correct=3, share=0.3)
    assert not few.shown
    assert "no difference either" in few.verdict
    many = evaluate_likeness("triangle", tasters=60, correct=40, share=0.3)
    assert "A difference is shown instead" in many.verdict
    alike = evaluate_likeness("triangle", tasters=60, correct=20, share=0.3)
    assert "fewer than 30 % of people taste a difference" in alike.verdict


def test_a_tasting_that_was_planned_for_likeness() -> None:
    plan = plan_tasting(
        "triangle", TWO, tasters=45, seed=3, aim="likeness",
        alpha=0.2, beta=0.05, share=0.3,
    )  # fmt: skip
    assert Tasting.from_data(json.loads(json.dumps(plan.to_data()))) == plan
    answers = {
        s.taster: read_answer(
            plan, s.taster, _typed(plan, s.taster, right=s.taster % 3 == 0)
        )
        for s in plan.slips
    }
    verdict = judge(plan, answers)
    assert verdict.shown
    assert verdict.numbers[0][1] == "15 of 45"
    assert "nobody tastes a difference" in verdict.limits[0]
    old = plan.to_data()
    del old["plan"]["aim"]
    assert Tasting.from_data(old).aim == "difference"


def _columns(ranks: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    return list(zip(*ranks, strict=True))


def test_ranking_example_of_iso_8587() -> None:
    """Annex A as quoted by third parties: 8 assessors, 5 samples, rank sums 17, 31,
    32, 23, 17; F = 10.60 > 9.49; least significant difference 12.40. The single ranks
    were not seen: these rows are our own, with those sums."""
    found = rank_samples(RANKS_8587)
    assert found.rank_sums == (17, 31, 32, 23, 17)
    assert found.statistic == pytest.approx(10.60, abs=0.005)
    assert found.chi_square_p == pytest.approx(0.0314, abs=5e-5)
    assert found.least_difference == pytest.approx(12.40, abs=0.005)
    apart = {(p.first, p.second) for p in found.pairs if p.differs}
    assert apart == {(0, 1), (0, 2), (1, 4), (2, 4)}
    assert found.shown
    assert found.method == "exact"


def test_ranking_of_seven_tasters_and_six_samples() -> None:
    """A student's report (STM3105, seen on scribd 617021425): rank totals 7, 14,
    21, 28, 36, 41 of 7 panellists give 34.51."""
    ranks = [(1, 2, 3, 4, 5, 6)] * 6 + [(1, 2, 3, 4, 6, 5)]
    found = rank_samples(ranks)
    assert found.rank_sums == (7, 14, 21, 28, 36, 41)
    assert found.statistic == pytest.approx(34.51, abs=0.02)
    assert found.p_value < 1e-9


@pytest.mark.parametrize(
    "ranks",
    [
        [(1, 2, 3), (1, 3, 2), (1.5, 1.5, 3), (2, 1, 3)],
        [(1, 2, 3), (1, 2, 3), (3, 1, 2), (1, 2.5, 2.5), (2, 2, 2)],
        [(1, 2, 3, 4), (2, 1, 4, 3), (1.5, 1.5, 4, 3)],
    ],
)
def test_friedman_by_enumeration_and_scipy(ranks: list[tuple[float, ...]]) -> None:
    """Every order of every row is counted; scipy's own statistic and its exact
    permutation test over samples within tasters say the same."""
    done = rank_samples(ranks)
    theirs = stats.friedmanchisquare(*_columns(ranks))
    assert done.statistic == pytest.approx(theirs.statistic)
    assert done.chi_square_p == pytest.approx(theirs.pvalue)
    seen = sum(s**2 for s in done.rank_sums)
    worlds = list(product(*(list(permutations(row)) for row in ranks)))
    far = sum(sum(sum(c) ** 2 for c in zip(*w, strict=True)) >= seen for w in worlds)
    assert done.p_value == pytest.approx(far / len(worlds))


def test_friedman_and_page_beside_the_permutation_test_of_scipy() -> None:
    ranks = [(1, 2, 3), (2, 1, 3), (1, 2.5, 2.5), (1, 3, 2), (1, 2, 3)]
    done = rank_samples(ranks, expected=(0, 1, 2))
    assert done.trend is not None

    def spread(*columns: "np.ndarray", axis: int = -1) -> "np.ndarray":
        return np.sum([np.sum(c, axis=axis) ** 2 for c in columns], axis=0)

    def trend(*columns: "np.ndarray", axis: int = -1) -> "np.ndarray":
        return np.sum(
            [i * np.sum(c, axis=axis) for i, c in enumerate(columns, start=1)], axis=0
        )

    for statistic, ours in ((spread, done.p_value), (trend, done.trend.p_value)):
        theirs = stats.permutation_test(
            _columns(ranks), statistic, permutation_type="samples",
            alternative="greater", n_resamples=10**5, vectorized=True,
        )  # fmt: skip
        assert ours == pytest.approx(theirs.pvalue)


@pytest.mark.parametrize(("samples", "tasters"), [(3, 4), (4, 12), (5, 7), (6, 9)])
def test_page_is_that_of_scipy(samples: int, tasters: int) -> None:
    chance = np.random.default_rng(samples)
    ranks = [tuple(map(int, chance.permutation(samples) + 1)) for _ in range(tasters)]
    found = rank_samples(ranks, expected=range(samples)).trend
    theirs = stats.page_trend_test(np.array(ranks), ranked=True, method="exact")
    assert found is not None
    assert found.statistic == theirs.statistic
    assert found.p_value == pytest.approx(theirs.pvalue)


def test_chi_square_takes_over_where_the_exact_chance_takes_long() -> None:
    chance = np.random.default_rng(1)
    ranks = [tuple(map(int, chance.permutation(6) + 1)) for _ in range(40)]
    found = rank_samples(ranks)
    assert found.method == "chi-square"
    theirs = stats.friedmanchisquare(*_columns(ranks))
    assert found.p_value == pytest.approx(theirs.pvalue)
    assert found.continuity_p > found.p_value


def test_exact_and_chi_square_meet_in_a_large_panel() -> None:
    ranks = [(1, 2, 3)] * 60 + [(3, 1, 2)] * 45 + [(2, 3, 1)] * 50
    found = rank_samples(ranks)
    assert found.method == "exact"
    assert found.p_value == pytest.approx(found.chi_square_p, rel=0.03)


def test_differences_of_pairs() -> None:
    """Critical differences of all pairs over sqrt(P (P+1) J / 6): 1.960, 2.343,
    2.569, 2.728, 2.850, 2.949, 3.031 for 2 to 8 samples at 5 % (Nemenyi's test as
    tabled by Demšar 2006, from memory)."""
    for samples, q in enumerate((1.960, 2.343, 2.569, 2.728, 2.850, 2.949, 3.031), 2):
        ranks = [tuple(range(1, samples + 1))] * 4
        found = rank_samples(ranks)
        unit = (4 * samples * (samples + 1) / 6) ** 0.5
        assert found.wide_difference / unit == pytest.approx(q, abs=0.0011)
        assert found.least_difference == pytest.approx(1.96 * unit, rel=1e-4)


def test_chance_of_a_pair_is_that_of_enumeration() -> None:
    ranks = [(1, 2, 3), (1, 3, 2), (1.5, 1.5, 3)]
    found = rank_samples(ranks).pairs[1]
    worlds = list(product(*(list(permutations(row)) for row in ranks)))
    far = sum(abs(sum(r[0] - r[2] for r in w)) >= found.apart for w in worlds)
    assert (found.first, found.second) == (0, 2)
    assert found.p_value == pytest.approx(far / len(worlds))


def test_tasters_for_a_gap_hold_the_risks_in_a_simulation() -> None:
    """Four samples; scores from a normal shifted so that two lie 1 rank apart."""
    tasters = gap_tasters(4, gap=1.0)
    assert tasters == 27
    assert found_gap(27, 4) == pytest.approx(1.0, abs=0.03)
    chance = np.random.default_rng(3)
    scores = chance.normal(size=(4000, tasters, 4)) + np.array([-0.46, 0, 0, 0.46])
    ranks = scores.argsort(axis=2).argsort(axis=2)
    sums = ranks.sum(axis=1)
    gap = sums[:, 3] - sums[:, 0]
    assert gap.mean() / tasters == pytest.approx(1.0, abs=0.06)
    assert (gap >= least_gap(tasters, 4)).mean() == pytest.approx(0.8, abs=0.06)


@pytest.mark.parametrize(
    "bad",
    [[(1, 1, 3)] * 3, [(1, 2)], [(1, 2, 3), (1, 2)], [(1, float("nan"))] * 2, []],
)
def test_wrong_ranks_are_refused(bad: list[tuple[float, ...]]) -> None:
    with pytest.raises(BakelabError):
        rank_samples(bad)


def test_all_tied_says_nothing() -> None:
    with pytest.raises(BakelabError, match="tied all"):
        rank_samples([(2, 2, 2)] * 5)


def test_serving_is_balanced_and_repeatable() -> None:
    slips, key = serving_plan("triangle", tasters=12, seed=4, allergens=["gluten"])
    orders = ["".join(key[code] for code in slip.codes) for slip in slips]
    assert {orders.count(order) for order in orders} == {2}
    assert len(set(orders)) == 6
    assert len(key) == 36
    assert "gluten" in slips[0].allergens
    assert serving_plan("triangle", tasters=12, seed=4, allergens=["gluten"])[1] == key


@pytest.mark.parametrize("samples", range(3, 9))
def test_ranking_orders_balance_places_and_neighbours(samples: int) -> None:
    """Williams (1949): each sample in each place, and after each other, alike."""
    orders = serving_orders("ranking", samples=samples)
    places = [(place, s) for order in orders for place, s in enumerate(order)]
    after = [pair for order in orders for pair in pairwise(order)]
    assert {places.count(p) for p in places} == {len(orders) // samples}
    assert len(set(places)) == samples**2
    assert len(set(after)) == samples * (samples - 1)
    assert {after.count(p) for p in after} == {len(orders) // samples}


@pytest.mark.parametrize("test", list(TESTS))
@pytest.mark.parametrize("tasters", [2, 7, 12, 60])
def test_every_plan_is_as_even_as_can_be(test: str, tasters: int) -> None:
    plan = _plan(test, tasters)
    codes = [code for slip in plan.slips for code in slip.codes]
    assert len(set(codes)) == len(codes)
    assert all(len(code) == 3 and 100 <= int(code) <= 999 for code in codes)
    orders = [tuple(plan.key[code] for code in slip.codes) for slip in plan.slips]
    times = [orders.count(order) for order in orders]
    assert max(times) - min(times) <= 1
    assert Tasting.from_data(json.loads(json.dumps(plan.to_data()))) == plan
    again = _plan(test, tasters)
    assert again.key == plan.key


def test_constant_reference() -> None:
    plan = plan_tasting("duo-trio", TWO, tasters=9, seed=2, reference="less salt")
    assert {plan.key[slip.codes[0]] for slip in plan.slips} == {"less salt"}
    turns = plan_tasting("duo-trio", TWO, tasters=8, seed=2)
    assert len({turns.key[slip.codes[0]] for slip in turns.slips}) == 2


def _plan(test: str, tasters: int) -> Tasting:
    names = FOUR if test == "ranking" else TWO
    paired = test == "paired"
    return plan_tasting(
        test, names, tasters=tasters, seed=11, expected=TWO[:1] if paired else (),
        question="Which is saltier?" if paired else "",
    )  # fmt: skip


def _typed(plan: Tasting, taster: int, *, right: bool) -> str:
    """What a taster writes who tastes the difference, or one who is all wrong."""
    codes = plan.slip(taster).codes
    names = [plan.key[code] for code in codes]
    if plan.test == "ranking":
        ordered = sorted(codes, key=lambda c: plan.samples.index(plan.key[c]))
        return " ".join(ordered if right else ordered[::-1])
    if plan.test == "triangle":
        wanted = next(n for n in names if (names.count(n) == 1) == right)
    elif plan.test == "duo-trio":
        wanted = next(n for n in names[1:] if (n == names[0]) == right)
    else:
        wanted = plan.samples[0 if right else 1]
    return next(c for c in plan.choices(taster) if plan.key[c] == wanted)


@pytest.mark.parametrize("test", list(TESTS))
def test_from_plan_to_verdict(test: str) -> None:
    plan = _plan(test, 12)
    answers = {
        s.taster: read_answer(plan, s.taster, _typed(plan, s.taster, right=True))
        for s in plan.slips
    }
    verdict = judge(plan, answers)
    assert verdict.shown
    assert verdict.limits
    if test == "ranking":
        assert "white stands before" in " ".join(verdict.findings)
    else:
        assert verdict.numbers[0][1] == "12 of 12"
    kept = {str(n): answer.to_data() for n, answer in answers.items()}
    assert answers_from_data(plan, json.loads(json.dumps(kept))) == answers
    json.dumps(verdict.to_data())


@pytest.mark.parametrize("test", [t for t in TESTS if t != "ranking"])
def test_right_and_wrong_answers_are_told_apart(test: str) -> None:
    plan = _plan(test, 20)
    chance = random.Random(5)
    is_right = {s.taster: chance.random() < 0.5 for s in plan.slips}
    answers = {
        n: read_answer(plan, n, _typed(plan, n, right=right))
        for n, right in is_right.items()
    }
    result = judge(plan, answers).result
    assert getattr(result, "correct") == sum(is_right.values())  # noqa: B009


def test_ties_in_a_ranking_share_their_mean_place() -> None:
    plan = _plan("ranking", 4)
    answers = {}
    for slip in plan.slips:
        of = {plan.key[c]: c for c in slip.codes}
        text = f"{of['rye']} > {of['white']}={of['oat']}, {of['spelt']}"
        answers[slip.taster] = read_answer(plan, slip.taster, text)
    verdict = judge(plan, answers)
    assert getattr(verdict.result, "rank_sums") == (10, 4, 16, 10)  # noqa: B009


def test_expected_order_is_asked_for_as_well() -> None:
    plan = plan_tasting("ranking", FOUR, tasters=6, seed=1, expected=FOUR[::-1])
    answers = {
        n: read_answer(plan, n, _typed(plan, n, right=True)) for n in range(1, 7)
    }
    verdict = judge(plan, answers)
    assert "is not borne out" in " ".join(verdict.findings)


def test_a_slip_that_is_missing_holds_the_verdict_back() -> None:
    plan = _plan("triangle", 6)
    answers = {
        n: read_answer(plan, n, _typed(plan, n, right=True)) for n in range(1, 5)
    }
    with pytest.raises(BakelabError, match="2 of 6 slips have no answer"):
        judge(plan, answers)
    verdict = judge(plan, answers, closed=True)
    assert verdict.numbers[0][1] == "4 of 4"
    assert "2 of 6 slips have no answer" in verdict.limits[-1]
    with pytest.raises(BakelabError, match="no answers yet"):
        judge(plan, {}, closed=True)


def test_a_slip_of_the_pen_is_named_in_one_sentence() -> None:
    plan = plan_tasting("triangle", TWO, tasters=8, seed=4)
    codes = ", ".join(plan.slip(6).codes)
    wrong = next(c for c in ("417", "418") if c not in plan.key)
    with pytest.raises(BakelabError) as told:
        read_answer(plan, 6, wrong)
    assert str(told.value) == f"code {wrong} is not on slip 6: its codes are {codes}"
    other = plan.slip(2).codes[0]
    with pytest.raises(BakelabError, match=r"\(it is on slip 2\)"):
        read_answer(plan, 6, other)


@pytest.mark.parametrize(
    ("test", "typed", "said"),
    [
        ("triangle", "", "no answer yet"),
        ("triangle", "{0} {1}", "give the one that was ticked"),
        ("triangle", "{0} {0}", "stands twice"),
        ("triangle", "<script>", "is not on slip 1"),
        ("triangle", "same", "is not on slip 1"),
        ("duo-trio", "{0}", "is the reference of slip 1"),
        ("ranking", "{0} {1}", "lacks"),
        ("ranking", "{0} {1} {2} {2}", "stands twice"),
        ("ranking", "===", "no answer yet"),
    ],
)
def test_wrong_answers_are_refused(test: str, typed: str, said: str) -> None:
    plan = _plan(test, 6)
    with pytest.raises(BakelabError, match=said):
        read_answer(plan, 1, typed.format(*plan.slip(1).codes))


def test_many_answers_at_once() -> None:
    plan = _plan("triangle", 6)
    lines = [
        f"{'slip ' if n % 2 else ''}{n}: {_typed(plan, n, right=True)}"
        for n in range(1, 7)
    ]
    found = read_answers(plan, "\n\n".join(lines))
    assert judge(plan, found).numbers[0][1] == "6 of 6"
    with pytest.raises(BakelabError, match="line 2: there is no slip 9"):
        read_answers(plan, f"{lines[0]}\n9: 100")
    with pytest.raises(BakelabError, match="line 1 reads 'x'"):
        read_answers(plan, "x")
    codes = plan.slip(1).codes
    with pytest.raises(BakelabError, match="two answers"):
        read_answers(plan, f"1: {codes[0]}\n1: {codes[1]}")


@pytest.mark.parametrize(
    ("test", "names", "more", "said"),
    [
        ("square", TWO, {}, "choose from"),
        ("triangle", ("a",), {}, "compares 2"),
        ("triangle", ("a", "b", "c"), {}, "compares 2"),
        ("triangle", ("a", "a"), {}, "two samples are called 'a'"),
        ("triangle", ("a", " "), {}, "has no name"),
        ("triangle", ("a", "b" * 61), {}, "61 characters"),
        ("triangle", "ab", {}, "list of names"),
        ("ranking", ("a", "b"), {}, "3 to 8"),
        ("ranking", tuple("abcdefghi"), {}, "3 to 8"),
        ("paired", TWO, {}, "needs the sample that is expected"),
        ("paired", TWO, {"expected": TWO[:1]}, "needs its question"),
        ("ranking", FOUR, {"expected": ("white",)}, "name each of"),
        ("triangle", TWO, {"expected": TWO}, "in a ranking"),
        ("triangle", TWO, {"reference": "less salt"}, "in a duo-trio"),
        ("triangle", TWO, {"tasters": 0}, "three-digit codes serve 1 to 300"),
        ("triangle", TWO, {"tasters": 301}, "three-digit codes serve 1 to 300"),
        ("ranking", FOUR, {"tasters": 226}, "serve 1 to 225"),
        ("triangle", TWO, {"alpha": 1.0}, "between 0 and 1"),
        ("triangle", TWO, {"question": "Is it less SALT?"}, "names the sample"),
        ("triangle", TWO, {"title": "x" * 61}, "use up to 60"),
        ("triangle", TWO, {"aim": "fame"}, "choose from"),
        ("paired two-sided", TWO, {"aim": "likeness"}, "a triangle or a duo-trio"),
    ],
)
def test_wrong_plans_are_refused(
    test: str, names: tuple[str, ...], more: dict[str, object], said: str
) -> None:
    with pytest.raises(BakelabError, match=said):
        plan_tasting(test, names, **{"tasters": 6, "seed": 1, **more})  # type: ignore[arg-type]


def test_other_refusals() -> None:
    with pytest.raises(BakelabError, match="0 to 9"):
        evaluate("triangle", tasters=9, correct=10)
    with pytest.raises(BakelabError, match="whole number"):
        needed_correct("triangle", 0)
    with pytest.raises(BakelabError, match="no right answers"):
        needed_correct("ranking", 9)
    with pytest.raises(BakelabError, match=r"0\.05 to 1"):
        tasters_needed("triangle", share=0.01)
    with pytest.raises(BakelabError, match="more than 1000"):
        tasters_needed("duo-trio", share=0.05, alpha=0.001, beta=0.001)
    with pytest.raises(BakelabError, match="gap of 9"):
        gap_tasters(4, gap=9)
    with pytest.raises(BakelabError, match="no stored tasting"):
        Tasting.from_data({"plan": {}})


def test_allergens_of_all_samples_stand_on_every_slip() -> None:
    wheat = Formula.from_pairs([("wheat_bread", 500), ("water", 330)])
    milk = Formula.from_pairs([("wheat_bread", 500), ("milk_whole", 330)])
    plan = plan_tasting(
        "triangle", TWO, tasters=6, seed=1, more_allergens="sesame, wheat",
        formulas=dict(zip(TWO, (wheat, milk), strict=True)),
    )  # fmt: skip
    assert {slip.allergens for slip in plan.slips} == {plan.allergens}
    assert plan.allergens.startswith("Contains: gluten, milk, wheat, sesame.")
    assert plan.formulas[TWO[0]] == wheat.key
    half = plan_tasting("triangle", TWO, tasters=6, formulas={TWO[0]: wheat})
    assert "some samples were not looked up" in half.allergens
    assert "not stated" in allergen_line()


@given(st.text(max_size=60), st.sampled_from(list(TESTS)))
@settings(max_examples=200, deadline=None)
def test_any_text_is_an_answer_or_a_sentence(text: str, test: str) -> None:
    plan = _plan(test, 6)
    for read in (lambda: read_answer(plan, 1, text), lambda: read_answers(plan, text)):
        try:
            read()
        except BakelabError as error:
            told = str(error)
            assert told
            assert "\n" not in told.replace(text, "")


@given(
    st.lists(st.text(max_size=70), max_size=9),
    st.text(max_size=70),
    st.text(max_size=210),
    st.text(max_size=310),
)
@settings(max_examples=100, deadline=None)
def test_any_words_are_a_plan_or_a_sentence(
    names: list[str], title: str, question: str, allergens: str
) -> None:
    test = "triangle" if len(names) == 2 else "ranking"
    with suppress(BakelabError):  # a refusal is a sentence; anything else fails
        plan = plan_tasting(
            test, names, tasters=4, seed=1, title=title, question=question,
            more_allergens=allergens,
        )  # fmt: skip
        kept = json.loads(json.dumps(plan.to_data()))
        assert Tasting.from_data(kept) == plan
