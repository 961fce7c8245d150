"""The style that is suggested for a formula, with its reasons; the examples."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.formula import Formula
from bakelab.ranges import (
    INSIDE,
    against_ranges,
    bands,
    example_formula,
    example_formulas,
    styles,
    suggest_style,
)
from tests.work.range_cases import INVENTED


@pytest.mark.parametrize(
    ("style", "title", "parts"), [pytest.param(*case, id=case[0]) for case in INVENTED]
)
def test_invented_formulas_suggest_their_style_first(style, title, parts):
    guesses = suggest_style(Formula.from_pairs(parts.items(), title=title))
    assert guesses[0].style == style
    assert guesses[0].reasons


@pytest.mark.parametrize(
    ("title", "style"),
    [
        ("Soft dinner rolls", "dinner_rolls"),
        ("Hamburger buns", "burger_buns"),
        ("Shokupan, weiches Milchbrot", "milk_bread"),
        ("Zimtschnecken", "sweet_dough"),
    ],
)
def test_the_title_turns_an_open_question(title, style):
    parts = {
        "wheat_bread": 100,
        "milk_whole": 62,
        "egg_whole": 8,
        "butter_unsalted": 12,
        "sugar_white": 11,
        "yeast_fresh": 4,
        "salt_table": 1.6,
    }
    guesses = suggest_style(Formula.from_pairs(parts.items(), title=title))
    assert guesses[0].style == style
    assert any("the words say" in reason for reason in guesses[0].reasons)


def test_words_do_not_force_a_style():
    rich = {
        "wheat_bread": 100,
        "egg_whole": 55,
        "butter_unsalted": 55,
        "sugar_white": 14,
        "yeast_fresh": 4,
        "salt_table": 2,
    }
    guesses = suggest_style(Formula.from_pairs(rich.items(), title="Baguette"))
    by_style = {g.style: g for g in guesses}
    assert guesses[0].style == "brioche"
    assert "baguette" not in by_style or by_style["baguette"].share < 0.3


def test_the_pan_speaks_for_a_pan_bread():
    parts = {"wheat_bread": 100, "water": 62, "yeast_fresh": 2, "salt_table": 1.9}
    dough = [*parts.items(), ("sugar_white", 2), ("butter_unsalted", 2.4)]
    in_tin = Formula.from_pairs(dough, stated_pan="loaf 9 x 5 x 2.75 in")
    bare = Formula.from_pairs(dough)

    def share(formula):
        guesses = suggest_style(formula, count=40)
        return sum(g.share for g in guesses if g.style == "white_pan")

    assert share(in_tin) > share(bare)
    reasons = suggest_style(in_tin)[0].reasons
    assert "baked in: loaf 9 x 5 x 2.75 in" in reasons


def test_military_cards_suggest_their_styles(white_bread, whole_wheat_bread):
    assert suggest_style(white_bread)[0].style == "white_pan"
    assert suggest_style(whole_wheat_bread)[0].style == "part_whole_wheat_pan"


def test_an_odd_formula_leaves_room_for_no_style_at_all():
    odd = {"coconut_flour": 100, "egg_whole": 400, "baking_powder": 9, "salt_table": 6}
    guesses = suggest_style(Formula.from_pairs(odd.items()), count=40)
    assert len(guesses) >= 1
    assert sum(g.share for g in guesses) < 0.5


def test_an_assumed_pan_counts_less_and_says_so():
    parts = [("wheat_bread", 100), ("water", 62), ("yeast_fresh", 2)]
    stated = 'loaf 9 x 5 x 3 in, assumed "depth 7.6 cm: assumed"'
    guess = suggest_style(Formula.from_pairs(parts, stated_pan=stated), count=40)
    said = [r for g in guess for r in g.reasons if r.startswith("baked in")]
    assert said
    assert set(said) == {"baked in: loaf 9 x 5 x 3 in (partly assumed)"}


@given(
    st.dictionaries(
        st.sampled_from(
            ["water", "egg_whole", "butter_unsalted", "raisins", "baking_soda"]
        ),
        st.floats(0, 500),
    ),
    st.text(max_size=30),
)
def test_any_formula_gets_a_suggestion(parts, title):
    formula = Formula.from_pairs([("rye_medium", 100), *parts.items()], title=title)
    guesses = suggest_style(formula, count=40)
    assert 1 <= len(guesses) <= len(styles())
    assert 0 <= sum(g.share for g in guesses) <= 1 + 1e-9


def test_shares_of_all_styles_sum_to_one_at_most(white_bread):
    guesses = suggest_style(white_bread, count=100)
    ordered = [g.share for g in guesses]
    assert ordered == sorted(ordered, reverse=True)
    assert 0.8 < sum(ordered) <= 1 + 1e-9
    assert all(share >= 0.01 for share in ordered)


def test_reasons_carry_their_numbers(white_bread):
    texts = " ".join(suggest_style(white_bread)[0].reasons)
    assert re.search(r"\d", texts)


def test_what_speaks_against_is_said():
    parts = {"wheat_bread": 100, "water": 95, "yeast_fresh": 2, "salt_table": 2}
    guesses = suggest_style(Formula.from_pairs(parts.items(), title="Bagels"), count=40)
    bagel = next((g for g in guesses if g.style == "bagel"), None)
    first = guesses[0]
    assert first.style == "ciabatta" or (bagel and bagel.against)


def test_every_style_has_an_example():
    assert list(example_formulas()) == list(styles()["style"])


@pytest.mark.parametrize("style", list(styles()["style"]))
def test_an_example_lies_on_its_bands(style):
    placed = against_ranges(example_formula(style), style, widest=True)
    off = placed[placed["state"] != INSIDE]
    assert list(off["text"]) == []


@pytest.mark.parametrize("style", list(styles()["style"]))
def test_an_example_is_recognised_by_its_title_and_percentages(style):
    guesses = suggest_style(example_formula(style))
    assert guesses[0].style == style


def test_examples_are_recognised_mostly_without_a_title():
    hits = 0
    for style, formula in example_formulas().items():
        rows = Formula(formula.rows)
        hits += style in [g.style for g in suggest_style(rows, count=3)]
    assert hits >= 0.8 * len(styles())


def test_example_ingredients_are_all_known():
    for formula in example_formulas().values():
        assert formula.unknown == ()
        assert formula.flour_g == pytest.approx(500, abs=0.5)


def test_bands_of_a_style_are_a_copy():
    bands("bagel").clear()
    assert bands("bagel")
