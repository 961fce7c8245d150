"""Single ingredient lines: amounts, states, and lines nobody foresaw."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.reading import STATES, Line, read_line

LANGUAGES = st.sampled_from([None, "en", "de", "fr", "es", "other"])


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("1½ cups water", 1.5, 1.5, "cup"),
        ("1 1/2 cups water", 1.5, 1.5, "cup"),
        ("1-1/2 cups water", 1.5, 1.5, "cup"),
        ("1-1½ tsp salt", 1, 1.5, "tsp"),
        ("2 to 3 cups flour", 2, 3, "cup"),
        ("2–3 cups flour", 2, 3, "cup"),
        ("1 or 2 eggs", 1, 2, None),
        ("half a cup of milk", 0.5, 0.5, "cup"),
        ("two and a half pounds flour", 2.5, 2.5, "lb"),
        ("a pinch of salt", 1, 1, "pinch"),
        ("½ cup + 2 tbsp milk", 0.625, 0.625, "cup"),
        ("1 cup minus 1 tbsp water", 0.9375, 0.9375, "cup"),
        ("2 lb 3 oz flour", 2.1875, 2.1875, "lb"),
        ("1,5 kg Mehl", 1.5, 1.5, "kg"),
        ("1.000 g Mehl", 1000, 1000, "g"),
        ("ein halber Würfel Hefe", 0.5, 0.5, "cake"),
        ("2 c. à soupe d'huile", 2, 2, "tbsp"),
        ("500g de farine T55", 500, 500, "g"),
        ("All-purpose flour 3 cups", 3, 3, "cup"),
        ("1½T salt", 1.5, 1.5, "tbsp"),
        ("1 t salt", 1, 1, "tsp"),
    ],
)
def test_amounts(text: str, low: float, high: float, unit: str | None) -> None:
    line = read_line(text)
    assert (line.low, line.high, line.unit) == (low, high, unit)


@pytest.mark.parametrize(
    ("text", "stated_g"),
    [
        ("3½ cups (420 g) flour", 420),
        ("600g or 5 cups bread flour", 600),
        ("1 stick (½ cup / 113 g) butter", 113),
        ("2 (7 g) packets instant yeast", 14),
        ("8 oz/225 g butter", 225),
        ("1 Pfund Mehl", 500),
    ],
)
def test_a_mass_on_the_line_is_the_one_used(text: str, stated_g: float) -> None:
    line = read_line(text)
    assert line.stated_g == stated_g
    assert line.mass_g == stated_g
    assert line.basis == "stated"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("4.5 cups (850 g) flour", "two amounts disagree"),
        ("1 cup (350 ml) water", "two amounts disagree"),
        ("200 yogurt", "200 of what"),
        ("salt to taste", "no amount"),
        ("3.5 spoon olive oil", "bare spoon"),
        ("3 cups bread flour and 1 cup rye flour", "two ingredients on one line"),
        ("half a cupful of yeast", "liquid yeast"),
        ("11/2 cups flour", "read as 1 1/2"),
        ("100 g unobtainium", "not in the table"),
    ],
)
def test_doubts_are_said(text: str, said: str) -> None:
    line = read_line(text, language="en")
    assert line.state == "doubt"
    assert said in line.remark


@pytest.mark.parametrize(
    "text",
    [
        "1 egg, beaten, for egg wash",
        "olive oil for greasing",
        "5 cups water, for the lye bath",
        "Butter für die Form",
        "farine pour le plan de travail",
        "70 g lye",
        "Parchment paper",
    ],
)
def test_what_is_not_in_the_dough(text: str) -> None:
    assert read_line(text).state == "not in dough"


def test_more_for_dusting_leaves_the_flour_in_the_dough() -> None:
    line = read_line("450 g bread flour, plus 25 g for dusting")
    assert (line.state, line.mass_g) == ("read", 450)
    assert "25 g for dusting" in line.remark


def test_alternatives_are_never_summed() -> None:
    line = read_line("1/4 tsp instant yeast or 1.25/4 tsp active dry yeast")
    assert (line.low, line.ingredient) == (0.25, "yeast_instant")
    assert "active dry yeast" in line.remark


def test_a_cup_is_a_band_and_not_a_number() -> None:
    """Bread flour: USDA SR28 20083 137 g a cup, and HERR 41 117 g sifted, as quoted
    by J. Frysinger: 3 cups are 351-411 g."""
    line = read_line("3 cups bread flour")
    assert line.mass_low_g == pytest.approx(351, abs=1)
    assert line.mass_high_g == pytest.approx(411, abs=1)


@pytest.mark.parametrize(
    ("text", "key", "mass_g"),
    [
        ("500 g Weizenmehl 550", "wheat_type_550", 500),
        ("Weizenmehl 1050 500 g", "wheat_half_whole", 500),
        ("200 g Dinkelmehl 630", "spelt_white", 200),
        ("Weizenmehl 550", "wheat_type_550", None),  # a type, never a mass
        ("Weizenmehl 550 g", "wheat_type_405", 550),
        ("1/2 Würfel Hefe", "yeast_fresh", 21),  # the cube is 42 g
    ],
)
def test_german_habits(text: str, key: str, mass_g: float | None) -> None:
    """Flour types of DIN 10355 and the yeast cube, both from memory."""
    line = read_line(text)
    assert line.ingredient == key
    assert line.mass_g == mass_g


def test_cups_follow_the_market() -> None:
    grams = {
        m: read_line("1 cup water", market=m).mass_g or 0 for m in ("us", "metric")
    }
    assert grams["metric"] / grams["us"] == pytest.approx(250 / 236.588, rel=1e-5)


def _whole(line: Line, text: str) -> None:
    assert line.state in STATES
    assert line.text == text.strip()
    if line.state == "read":
        assert line.low is not None
    if line.low is not None and line.high is not None:
        assert line.low <= line.high


@given(st.text(max_size=300), LANGUAGES)
@settings(deadline=None)
def test_any_text_comes_back_as_a_line(text: str, language: str | None) -> None:
    _whole(read_line(text, language=language), text)


AMOUNTS = st.sampled_from(
    [
        "1 1/2",
        "½",
        "2-3",
        "1 to 2",
        "a",
        "two",
        "1,5",
        "1.000",
        "10⁹",
        "999999999",
        "0",
        "1/0",
        "2 x 400",
        "00",
        "1½-2",
    ]
)
UNITS = st.sampled_from(
    [
        "g",
        "cups",
        "T",
        "t",
        "tbsp",
        "EL",
        "c. à s.",
        "ml",
        "%",
        "packets",
        "°C",
        "in",
        "#",
        "",
        "(7 g)",
    ]
)
NAMES = st.sampled_from(
    [
        "flour",
        "Mehl",
        "farine",
        "eggs",
        "water, warm",
        "salt or soy",
        "butter (soft)",
        "+ sugar",
        "(",
        ")",
        "/",
        "",
    ]
)


@given(st.lists(st.one_of(AMOUNTS, UNITS, NAMES), max_size=14), LANGUAGES)
@settings(deadline=None, max_examples=300)
def test_any_grammar_of_parts_comes_back_as_a_line(
    parts: list[str], language: str | None
) -> None:
    text = " ".join(parts)
    line = read_line(text, language=language)
    _whole(line, text)
    assert read_line(text, language=language) == line


def test_a_huge_amount_is_kept_but_not_weighed_into_a_formula() -> None:
    line = read_line("1000000000 cups flour")
    assert line.low == 1e9
    assert line.state in ("read", "doubt")


def test_a_line_of_a_megabyte_takes_less_than_a_second() -> None:
    start = time.process_time()
    line = read_line("1 cup flour " * 90_000)
    assert line.state == "unread"
    assert time.process_time() - start < 1
