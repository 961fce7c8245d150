"""The one list of facts: bounds, words, and what is refused how."""

import math

import numpy as np
import pytest

from bakelab.bakebook import FACTS, GROUPS, HOUSE, READINGS, BookError, Fact
from bakelab.bakebook.fact_checks import check_fact, check_facts, check_text

EVERY = [*FACTS, *READINGS.values(), *(f for facts in HOUSE.values() for f in facts)]


def test_names_are_unique_and_groups_known() -> None:
    names = [fact.name for fact in FACTS]
    assert len(set(names)) == len(names)
    assert {fact.group for fact in FACTS} == set(GROUPS)


@pytest.mark.parametrize("fact", EVERY, ids=lambda fact: fact.name)
def test_every_fact_is_complete(fact: Fact) -> None:
    assert fact.label
    if fact.kind == "number":
        assert fact.low is not None
        assert fact.high is not None
        assert fact.low < fact.high
    assert (fact.kind == "choice") == bool(fact.choices)


# SI units in the names: every number with a unit ends in it.
@pytest.mark.parametrize("fact", [f for f in FACTS if f.unit and f.unit != "pH"],
                         ids=lambda f: f.name)  # fmt: skip
def test_a_number_with_a_unit_says_it_in_its_name(fact: Fact) -> None:
    ending = {"g": "_g", "°C": "_c", "min": "_min", "cm³": "_cm3", "cm": "_cm"}
    assert fact.name.endswith(ending[fact.unit])


# What these may be comes from physics: water boils at 100 °C at sea level, a fully
# baked crumb ends at 92-99 °C (common practice, no source), pH of doughs 3.5 to 6.5
# (common practice, no source); a slow dark rye bakes 24 h (common practice, no source).
@pytest.mark.parametrize(
    ("name", "value"),
    [("core_end_c", 97), ("water_c", 0), ("dough_ph", 3.6), ("bake_min", 24 * 60),
     ("oven_set_c", 480), ("proof_min", 72 * 60), ("crumb_1_9", 9)],
)  # fmt: skip
def test_what_kitchens_do_is_taken(name: str, value: float) -> None:
    assert check_facts({name: value}) == {name: float(value)}


@pytest.mark.parametrize(
    ("name", "value", "says"),
    [
        ("core_end_c", 980, "give a number from 0 to 130 °C"),
        ("crumb_1_9", 10, "from 1 to 9"),
        ("room_c", "warm", "is 'warm'; give a number"),
        ("room_c", math.inf, "is inf; give a number"),
        ("room_c", True, "is True; give a number"),
        ("room_c", 1j, "give a number"),
        ("dough_in_g", "1,250", "is '1,250'; give a number"),
        ("steam", "maybe", "give yes or no"),
        ("volume_method", "guess", "seed displacement, height and shape"),
        ("baker", 7, "is 7; give text"),
        ("rooms_c", 7, "no fact is called 'rooms_c'.*closest: room_c"),
        ("baker", "An\0na", r"unprintable character U\+0000"),
        ("baker", "\ud83d", r"unprintable character U\+D83D"),
        ("crumb_words", "x" * 100_001, "100001 letters, more than 100000"),
    ],
)
def test_what_cannot_be_true_is_refused_in_one_sentence(
    name: str, value: object, says: str
) -> None:
    with pytest.raises(BookError, match=says) as caught:
        check_facts({name: value})
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 400


def test_numbers_come_as_text_and_from_arrays() -> None:
    values = {"room_c": " 23.5", "dough_c": np.float64(25), "folds": np.int64(3)}
    assert check_facts(values) == {"room_c": 23.5, "dough_c": 25.0, "folds": 3.0}
    assert check_fact("room_c", "-3,5") == -3.5
    assert type(check_facts(values)["dough_c"]) is float


@pytest.mark.parametrize("nothing", [None, "", "  ", math.nan])
def test_nothing_clears_a_fact(nothing: object) -> None:
    assert check_facts({"room_c": nothing, "baker": nothing, "lid": nothing}) == {
        "room_c": None, "baker": None, "lid": None,
    }  # fmt: skip


def test_yes_and_no_in_words_and_values() -> None:
    steam = next(f for f in FACTS if f.name == "steam")
    assert [check_fact(steam, v) for v in ("yes", "no", True, False)] == [
        True, False, True, False,
    ]  # fmt: skip


def test_letters_of_all_scripts_pass() -> None:
    text = "Bäckerei Mühle · パン · خبز · 🍞"
    assert check_text(text, "a note") == text
