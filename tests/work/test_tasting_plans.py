"""From the plan of a tasting to its verdict; what is refused."""

import json
import random
from contextlib import suppress
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.tasting import (
    TESTS,
    Tasting,
    allergen_line,
    answers_from_data,
    evaluate,
    gap_tasters,
    judge,
    needed_correct,
    plan_tasting,
    read_answer,
    read_answers,
    serving_orders,
    serving_plan,
    tasters_needed,
)
from tests.work.test_tasting import FOUR, TWO


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
