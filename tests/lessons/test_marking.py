"""Marking: any sensible form, units by pint, misconceptions, friendly sentences."""

import re
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import BakelabError
from bakelab.lessons import (
    STATES,
    Distractor,
    Item,
    families,
    follow_up,
    make,
    mark,
    misconception_name,
    misconceptions,
)
from bakelab.lessons.words import rounded, shown

UREG = pint.UnitRegistry()
ANY_KIND = [
    make(key, 3)
    for key in ("weight_to_percent", "units", "water_temperature", "judge_formula")
]


def item(answer, unit, *, rounding="1/10", wrong=()):
    """A bare exercise with a given answer."""
    step = Fraction(rounding)
    slips = tuple(Distractor(k, Fraction(v), "Look at the flour.") for k, v in wrong)
    return Item(
        "weight_to_percent", 1, 1, "How much?", (), (), Fraction(answer), unit, step,
        step / 2, ("A nudge.", "Closer.", "First step."), ("Done.",),
        distractors=slips,
    )  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "2.5", "2,5", "5/2", "2½", "2 1/2", "2 and 1/2", "+2.5", "2.50", "about 2.5",
        "= 2.5", "~2,5", "x = 2.5", "  2.5  ", "2.5 g", "2.5g", "2,5 grams", "2.5 G.",
        "0.0025 kg", "2500 mg", "5/2 g", "2.54", "2.46 g", "Answer: 2.5 g!",
    ],
)  # fmt: skip
def test_sensible_forms_are_right(text):
    marked = mark(item("5/2", "g"), text)
    assert marked.state == "right", marked
    assert marked.sentence == "Right: 2.5 g."


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("1,250 g", 1250), ("1.250 g", 1250), ("1 250 g", 1250), ("1'250", 1250),
        ("1,250.4 g", "1250.4"), ("1.250,4 g", "1250.4"), ("1,250", "1.25"),
        ("12 345 678", 12345678), ("1250", 1250), ("1 250,4", "1250.4"),
    ],
)  # fmt: skip
def test_thousands_are_read_either_way(text, answer):
    assert mark(item(answer, "g"), text).state == "right"


@pytest.mark.parametrize(
    ("unit", "typed", "plain"),
    [
        ("g", "oz", "g"), ("g", "lb", "g"), ("g", "kg", "g"), ("oz", "g", "oz"),
        ("lb", "kg", "lb"), ("lb", "oz", "lb"), ("cm", "in", "cm"), ("cm", "mm", "cm"),
        ("in", "cm", "inch"), ("cm³", "ml", "cm^3"), ("cm³", "l", "cm^3"),
        ("cm³", "in³", "cm^3"), ("in³", "cm³", "inch^3"), ("cm³", "cups", "cm^3"),
    ],
)  # fmt: skip
def test_other_units_of_the_same_kind_are_converted_as_pint_does(unit, typed, plain):
    """The outside world is pint's own registry, not the one of bakelab."""
    names = {"in": "inch", "in³": "inch^3", "cm³": "cm^3", "l": "liter", "cups": "cup"}
    value = UREG.Quantity(3.25, names.get(typed, typed)).to(plain).magnitude
    exercise = item(Fraction(str(round(value, 3))), unit, rounding="1/50")
    assert mark(exercise, f"3.25 {typed}").state == "right"


@pytest.mark.parametrize(
    ("unit", "answer", "text"),
    [("°C", 200, "392 F"), ("°C", 200, "392 °F"), ("°F", 392, "200 C"),
     ("°F", 392, "200 °C"), ("°C", 200, "200 degrees"), ("°C", 200, "200°")],
)  # fmt: skip
def test_degrees_are_converted_with_their_offset(unit, answer, text):
    assert mark(item(answer, unit, rounding="1"), text).state == "right"


def test_percent_in_all_its_forms():
    for text in ("62 %", "62%", "62", "62 percent", "62 per cent", "62 pct"):
        assert mark(item(62, "%"), text).state == "right", text
    found = mark(item(62, "%"), "0.62")
    assert (found.state, found.misconception) == ("misconception", "ratio_for_percent")


@pytest.mark.parametrize(
    ("unit", "answer", "text"),
    [
        ("lb", "4.35", "4 lb 5.6 oz"), ("lb", "4.35", "4 lb, 5.6 oz"),
        ("lb", "4.35", "4 pounds and 5.6 ounces"), ("g", 1500, "1 kg 500 g"),
        ("g", 500, "500 g of flour"), ("g", 500, "500 g flour"),
        ("%", 62, "62 % water"),
        ("cm³", 2500, "2 l 500 ml"), ("quarts", "79.92", "19.98 gal"),
        ("quarts", "79.92", "79.92 quarts of water"), ("g", 500, "500 grams, flour"),
    ],
)  # fmt: skip
def test_words_behind_the_unit_and_two_measures_in_one(unit, answer, text):
    assert mark(item(answer, unit), text).state == "right"


@pytest.mark.parametrize("text", ["5 or 6", "5 g or 6 g", "5 g 6 g", "5 to 6 g", "5-6"])
def test_two_answers_at_once_are_not_guessed(text):
    assert mark(item(5, "g"), text).state == "not understood"


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("525 g because 3 × 175 = 525", "525 g"), ("525 because half of it", "525 g"),
        ("525 g (3 x 175)", "525 g"), ("525 g = 3 x 175", "525 g"),
        ("525g, since it is half of 1050", "525 g"), ("525 - I halved it", "525 g"),
        ("525 grams I think", "525 grams"), ("525 g, right?", "525 g"),
        ("0.525 kg because it is half", "0.525 kg"),
    ],
)  # fmt: skip
def test_an_amount_with_words_behind_it_is_taken_and_named(text, taken):
    found = mark(item(525, "g"), text)
    assert found.is_right, found
    assert found.sentence == f"Taken as {taken}. Right: 525.0 g."
    wrong = mark(item(840, "g"), text)
    assert wrong.state != "not understood"
    assert wrong.sentence.startswith(f"Taken as {taken}. ")


def test_words_in_front_of_an_amount_and_marks_behind_it():
    for text in ("the answer is 525 g", "I think 525", "I get 525g", "525?", "525 !!"):
        assert mark(item(525, "g"), text).sentence == "Right: 525.0 g.", text
    assert mark(item(473, "°F"), "473 degrees F because of 9/5").is_right


@pytest.mark.parametrize(
    "text",
    ["525 or 530", "525 g or 530 g", "525 g and 2 g", "525 g + 2 g", "525 g - 2 g",
     "525 g 5", "525 of 750", "525 hundred", "525 to 530 g", "3 x 175 because half",
     "525 foo", "525 times two", "525 g, 530 g", "525 - 530 g because"],
)  # fmt: skip
def test_no_amount_is_taken_out_of_what_goes_on(text):
    found = mark(item(525, "g"), text)
    assert found.state == "not understood"
    several = len(re.findall(r"\d+", text)) > 1
    assert ("more than one number" in found.sentence) == several


def test_a_choice_may_give_its_reason():
    exercise = make("judge_formula", 5, level=1)
    letter = exercise.letter(exercise.answer)
    for text in (f"{letter} because it is out of its band", f"{letter}, since 1 > 0"):
        found = mark(exercise, text)
        assert found.is_right, text
        assert found.sentence.startswith(f"Taken as {letter}. Right: {letter}:")
    assert mark(exercise, f"{exercise.answer} because it is").is_right
    for text in ("because", "Z because", "because of A"):
        assert mark(exercise, text).state == "not understood"


def test_another_unit_in_front_of_words_is_told():
    found = mark(item(525, "g"), "525 ml because it is half")
    assert found.state == "unit"
    assert "another kind of unit" in found.sentence
    both = mark(item("4.35", "lb"), "4 lb 5.6 oz because of the factor")
    assert both.is_right


def test_a_bare_factor_may_be_called_times():
    for text in ("3.4", "3.4 times", "3,4 x", "17/5"):
        assert mark(item("3.4", ""), text).state == "right", text
    assert mark(item("3.4", ""), "3.4 lb").state == "unit"


def test_the_right_number_in_the_wrong_unit_is_told_apart():
    found = mark(item("5/2", "g"), "2.5 kg")
    assert found.state == "unit"
    assert "2500 g" in found.sentence
    other = mark(item("5/2", "g"), "2.5 cm")
    assert other.state == "unit"
    assert "another kind" in other.sentence


def test_a_misconception_is_answered_with_what_to_look_at():
    found = mark(item(62, "%", wrong=[("percent_of_dough", "38.2")]), "38,2 %")
    assert found.state == "misconception"
    assert found.misconception == "percent_of_dough"
    assert found.sentence == "Look at the flour."


def test_rounding_and_the_decimal_point_have_their_own_words():
    near = mark(item("61.7", "%"), "61.5")
    assert (near.state, near.misconception) == ("rounding", "rounded_too_early")
    coarse = mark(item("61.7", "%"), "62")
    assert coarse.state == "rounding"
    assert "asks to round to one decimal (0.1 %)" in coarse.sentence
    assert mark(item("61.7", "%"), "61").state == "rounding"
    slipped = mark(item("61.7", "%"), "6.17")
    assert slipped.misconception == "decimal_slip"
    assert mark(item("61.7", "%"), "50").state == "wrong"


@pytest.mark.parametrize(
    "text",
    ["", "  ", "hello", "?", "1/0", "%", "g", "nan", "inf", "--", "12 bananas", "½/½/½",
     "9" * 60, "x" * 5000, "1e400", "<b>1</b>", "\x00", "²", "१२", "1,2,3,4", "../.."],
)  # fmt: skip
def test_nonsense_gets_a_friendly_sentence(text):
    found = mark(item("5/2", "g"), text)
    assert found.state in ("not understood", "wrong")
    assert found.sentence.endswith(".")
    if found.state == "not understood":
        assert "write one number in g, such as 2.5 g or 5/2" in found.sentence
        assert found.value is None


@settings(max_examples=120, deadline=None)
@given(st.text(max_size=60) | st.from_regex(r"[0-9 .,/½-]{1,20} ?[a-z%°³]{0,6}"))
def test_no_text_ever_breaks_the_marking(text):
    for exercise in ANY_KIND:
        found = mark(exercise, text)
        assert found.state in STATES
        assert found.sentence.endswith((".", "?", "!"))


@pytest.mark.parametrize("key", [family.key for family in families()])
def test_answers_and_every_known_slip_are_recognised(key):
    for seed in range(60):
        exercise = make(key, seed)
        assert mark(exercise, _typed(exercise, exercise.answer)).is_right
        for one in exercise.distractors:
            found = mark(exercise, _typed(exercise, one.value))
            assert found.state == "misconception", (seed, one)
            assert found.misconception == one.misconception
            assert found.sentence == one.look_at


def _typed(exercise, value):
    return exercise.letter(value) if exercise.is_choice else f"{float(value):.9f}"


@pytest.mark.parametrize("key", [family.key for family in families()])
def test_an_answer_rounded_as_asked_is_right(key):
    for seed in range(60):
        exercise = make(key, seed)
        if not exercise.is_choice:
            asked = shown(exercise.answer, exercise.rounding)
            assert mark(exercise, f"{asked} {exercise.unit}").is_right
            assert rounded(exercise.answer, exercise.rounding) == Fraction(asked)


def test_choices_by_letter_or_words():
    exercise = make("judge_formula", 5, level=1)
    letter = exercise.letter(exercise.answer)
    typed = [letter, letter.lower(), f"{letter})", f"({letter})", f"{letter}."]
    typed += [exercise.answer, exercise.answer.upper(), exercise.answer_text]
    typed += [f"answer {letter}", f"Answer: {letter}", f"{letter} {exercise.answer}"]
    for text in typed:
        assert mark(exercise, text).is_right, text
    other = next(c for c in exercise.choices if c != exercise.answer)
    assert not mark(exercise, f"answer {exercise.letter(other)}").is_right
    assert mark(exercise, f"{letter} {other}").state == "not understood"
    found = mark(exercise, "Z")
    assert found.state == "not understood"
    assert "one letter from A to" in found.sentence
    with pytest.raises(BakelabError, match="asks for a choice"):
        exercise.answer_value  # noqa: B018


def test_an_estimate_within_a_tenth_counts_and_is_computed_next():
    exercise = make("estimate", 4)
    exact = exercise.answer
    assert mark(exercise, str(float(exact * Fraction(109, 100)))).is_right
    assert "it comes to" in mark(exercise, str(float(exact))).sentence
    assert not mark(exercise, str(float(exact * Fraction(112, 100)))).is_right
    then = follow_up(exercise)
    assert then.answer == exact
    assert then.given == exercise.given
    assert follow_up(then) is None


def test_the_table_of_misconceptions_is_complete():
    table = misconceptions()
    assert table["key"].is_unique
    assert table["name"].str.len().between(8, 70).all()
    assert table["look_at"].str.len().between(25, 200).all()
    assert table["look_at"].str.endswith((".", "?")).all()
    assert (table["source"] != "").all()
    assert "dough" in misconception_name("percent_of_dough")
    with pytest.raises(BakelabError, match="lists all keys"):
        misconception_name("nothing")


def test_every_misconception_is_used_by_an_exercise():
    seen = {"ratio_for_percent", "decimal_slip", "rounded_too_early", "mixed_units"}
    for family in families():
        for seed in range(150):
            seen |= {d.misconception for d in make(family.key, seed).distractors}
    assert seen == set(misconceptions()["key"])
