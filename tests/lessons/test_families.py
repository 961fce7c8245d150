"""Every family: answers by an independent route, and what makes a fair exercise.

The independent routes are written apart from the families, from the numbers that
a student sees: direct fractions, or equations that sympy solves.
"""

import re
from fractions import Fraction
from functools import cache
from xml.etree import ElementTree

import pytest

from bakelab.errors import BakelabError
from bakelab.lessons import Item, families, make, misconceptions
from bakelab.lessons.words import rounded
from tests.lessons import routes

KEYS = [family.key for family in families()]
SEEDS = range(1, 1001)


@cache
def items(key):
    return tuple(make(key, seed) for seed in SEEDS)


@pytest.mark.parametrize("key", KEYS)
def test_answers_agree_with_an_independent_route(key):
    route = routes.ROUTES[key]
    for item in items(key):
        assert route(item) == item.answer, (item.seed, item.level, item.question)


@pytest.mark.parametrize("key", KEYS)
def test_a_thousand_items_are_fair(key):
    known = set(misconceptions()["key"])
    for item in items(key):
        where = (item.seed, item.level)
        assert len(item.hints) == 3 == len(set(item.hints)), where
        assert len(item.solution) >= 2, where
        assert item.distractors, where
        assert {d.misconception for d in item.distractors} <= known, where
        assert all(len(d.look_at) > 25 for d in item.distractors), where
        words = (item.question, *item.hints, *item.solution)
        words += tuple(d.look_at for d in item.distractors)
        assert not [w for w in words if "None" in w or "Fraction(" in w], where
        if item.is_choice:
            _is_fair_choice(item)
        else:
            _is_fair_number(item)


def _is_fair_number(item):
    where = (item.seed, item.level)
    assert item.answer > 0, where
    assert item.rounding > 0, where
    given_rounded = item.answer % item.rounding == 0
    assert item.tolerance >= item.rounding / 2 or given_rounded, where
    values = [d.value for d in item.distractors]
    for value in values:
        assert abs(value - item.answer) > item.tolerance, where
    apart = [item.answer, *values]
    for place, one in enumerate(apart):
        for other in apart[place + 1 :]:
            assert abs(one - other) > 2 * item.tolerance, where
    assert item.answer_text.split()[0] in item.solution[-1] + item.solution[-2], where


def _is_fair_choice(item):
    where = (item.seed, item.level)
    assert len(item.choices) == len(set(item.choices)) >= 2, where
    assert item.choices.count(item.answer) == 1, where
    wrong = [d.value for d in item.distractors]
    assert len(set(wrong)) == len(wrong), where
    assert set(wrong) <= set(item.choices) - {item.answer}, where


@pytest.mark.parametrize("key", KEYS)
def test_items_differ_and_their_levels_all_exist(key):
    made = items(key)
    assert {item.level for item in made} == {1, 2, 3}
    distinct = {(item.question, item.given) for item in made}
    assert len(distinct) > 150


@pytest.mark.parametrize("key", KEYS)
def test_pictures_are_svg_with_words_beside_them(key):
    for item in items(key)[:60]:
        if not item.picture:
            continue
        root = ElementTree.fromstring(item.picture)
        assert root.tag.endswith("svg")
        assert root.get("role") == "img"
        told = {child.tag.rpartition("}")[2]: child.text for child in root}
        assert told["title"]
        assert len(told["desc"]) > 20


@pytest.mark.parametrize("key", KEYS)
def test_the_same_seed_makes_the_same_item_and_it_survives_a_file(key):
    for seed in (1, 2, 77):
        item = make(key, seed)
        assert item == make(key, seed)
        assert Item.from_dict(item.to_dict()) == item


def test_unknown_families_and_levels_are_refused_by_name():
    with pytest.raises(BakelabError, match="closest: weight_to_percent"):
        make("weight_to_percents", 1)
    with pytest.raises(BakelabError, match="choose 1, 2 or 3"):
        make("weight_to_percent", 1, level=4)
    with pytest.raises(BakelabError, match="make it again"):
        Item.from_dict({"family": "weight_to_percent"})


def test_every_lesson_has_families():
    assert {family.lesson for family in families()} == {1, 2, 3, 4, 5, 6}
    assert all(len(family.trains) > 20 for family in families())


@pytest.mark.parametrize("key", KEYS)
def test_hints_do_not_give_the_answer_away(key):
    """A number may be met by chance, as 100 in "100 g of flour"; not as a rule."""
    told = 0
    for item in items(key):
        if item.is_choice:
            continue
        seen = re.findall(r"\d+(?:\.\d+)?", f"{item.given} {item.question}")
        number = item.answer_text.split()[0]
        hinted = re.findall(r"\d+(?:\.\d+)?", " ".join(item.hints))
        told += number in hinted and number not in seen
    assert told <= 10


@pytest.mark.parametrize("key", KEYS)
def test_a_worked_solution_ends_within_its_own_numbers(key):
    """Markdown is balanced, sentences end, and no stray marks are left."""
    for item in items(key)[:200]:
        assert item.question.count("**") % 2 == 0
        for words in (*item.hints, *item.solution):
            assert words.endswith((".", "?", "!")), words
            assert ".." not in words.replace("…", ""), words
            assert "  " not in words, words


def _said_of(key, misconception, *, level):
    """What is said of a wrong answer, over many exercises; and their questions."""
    made = [make(key, seed, level=level) for seed in range(40)]
    return [
        (one.look_at, exercise)
        for exercise in made
        for one in exercise.distractors
        if one.misconception == misconception
    ]


@pytest.mark.parametrize(
    ("key", "level", "misconception", "never"),
    [
        ("baked_mass", 2, "percent_as_grams", "flour"),
        ("baked_mass", 3, "percent_as_grams", "flour"),
        ("baked_mass", 2, "loss_added", "from bread to dough"),
        ("weighing_risk", 1, "percent_of_dough", "baker's percent"),
        ("weighing_risk", 2, "percent_as_grams", "flour"),
        ("rounding_cost", 1, "percent_of_flour", "share"),
    ],
)
def test_feedback_speaks_of_the_whole_of_its_own_question(
    key, level, misconception, never
):
    found = _said_of(key, misconception, level=level)
    assert found
    assert all(never not in words for words, _ in found)


def test_a_bread_is_struck_out_by_a_clear_margin_only():
    """A quarter of the band's width: nobody knows bands to a tenth of a percent."""
    pattern = r"usually ([\d.]+) to ([\d.]+) % [a-z ]+, here ([\d.]+) %"
    for words, _ in _said_of("reading_formula", "one_number_alone", level=3):
        low, high, here = map(Fraction, re.search(pattern, words).groups())
        assert max(low - here, here - high) > (high - low) / 4, words


@pytest.mark.parametrize("key", ["percent_to_weight", "baked_mass", "pan_volume"])
def test_a_worked_solution_shows_the_number_before_it_is_rounded(key):
    for seed in range(60):
        exercise = make(key, seed)
        last = exercise.solution[-1]
        if exercise.unit != "%" and exercise.answer % exercise.rounding:
            found = re.search(r"= ([\d.]+)(…?) \S+, rounded ([\d.]+)", last)
            fine, final = Fraction(found[1]), Fraction(found[3])
            assert final == rounded(exercise.answer, exercise.rounding)
            assert 0 <= exercise.answer - fine < exercise.rounding / 100
            assert bool(found[2]) == (fine != exercise.answer)


_PLURALS = "walnuts|almonds|raisins|rolled oats|(?:flax|sesame|sunflower) seeds"
_SLIPS = re.compile(
    r"(?<![\d.])1 (?:cups|tablespoons|pounds|ounces|grams|loaves|parts)\b"
    r"|\ba (?:8|11|18)\b|\b(?:a|the|of|is) (?:a|the|of|is) (?:a|the|of|is)\b"
    rf"|(?<!cup of )(?<!weight of the )(?:{_PLURALS}) (?:is|was|has|comes|weighs)\b"
    rf"|\bis the \**(?:{_PLURALS})"
    r"|measured in in\b|\{|\}|  |\bNone\b"
)


@pytest.mark.parametrize("key", KEYS)
def test_words_of_an_exercise_agree_with_their_numbers(key):
    for level in (1, 2, 3):
        for seed in range(60):
            item = make(key, seed, level=level)
            looks = (one.look_at for one in item.distractors)
            for words in (item.question, *item.hints, *item.solution, *looks):
                assert not _SLIPS.search(words), words
            for row in item.given:
                assert not any(_SLIPS.search(cell) for cell in row), row


def test_every_bar_of_flour_has_the_colour_of_flour():
    """The two doughs side by side are told apart by words, flour by its colour."""
    picture = ElementTree.fromstring(make("compare_ratios", 5, level=1).picture)
    fills = [bar.get("fill") for bar in picture.iter() if bar.tag.endswith("rect")]
    assert fills[0] == fills[2] != fills[1] == fills[3]


def test_words_in_a_picture_are_not_cut_off():
    for key in (family.key for family in families()):
        for seed in range(60):
            text = make(key, seed).picture
            for label in re.findall(r'text-anchor="end">([^<]*)<', text):
                assert len(label) < 28, (key, seed, label)


def test_a_choice_of_liquids_is_never_between_two_that_are_both_in_it():
    for seed in range(120):
        exercise = make("dough_share", seed, level=3)
        names = [row[0] for row in exercise.given]
        for name in names:
            if name.startswith("or, instead of"):
                assert name.rpartition(": ")[2] not in names


def test_hints_to_judge_fit_what_the_table_shows():
    easy, harder = (make("judge_formula", 4, level=level) for level in (1, 2))
    assert easy.given[1][1].endswith("%")
    assert "1 % of this flour" not in " ".join(easy.hints)
    assert easy.given[1][1] in easy.hints[2]
    assert harder.given[1][1].endswith("g")
    assert "1 % of this flour" in harder.hints[2]
