"""The reader against the corpus of invented lines, sentences and recipes.

The gold was written without sight of the reader (corpus/README.md). Floors are
what the reader reaches; a change that reads worse fails.
"""

import pytest

from tests.reading.score_corpus import Score, score_lines, score_pans, score_recipes


@pytest.fixture(scope="module")
def lines() -> Score:
    return score_lines()


@pytest.fixture(scope="module")
def recipes() -> Score:
    return score_recipes()


@pytest.mark.parametrize("field", ["low", "high", "unit", "stated_g", "role"])
def test_at_least_99_lines_of_100_are_right(lines: Score, field: str) -> None:
    assert lines.percent(field) >= 99.0, lines.report(show_misses=True)


def test_hardly_a_line_is_silently_wrong(lines: Score) -> None:
    assert lines.percent("not silently wrong") >= 99.5, lines.report(show_misses=True)


def test_whole_lines(lines: Score) -> None:
    assert lines.percent("whole line") >= 98.0, lines.report(show_misses=True)


def test_no_line_of_a_recipe_is_dropped_or_invented(recipes: Score) -> None:
    assert recipes.percent("line found") == 100
    assert recipes.percent("no line invented") == 100


@pytest.mark.parametrize(
    "field", ["title", "language", "oven", "bake time", "pan found", "flour in all"]
)
def test_facts_of_whole_recipes(recipes: Score, field: str) -> None:
    assert recipes.percent(field) == 100, recipes.report(show_misses=True)


def test_pans_in_sentences() -> None:
    score = score_pans()
    assert score.percent("traps left alone") == 100
    assert score.percent("whole sentence") >= 98, score.report(show_misses=True)
