"""Files, folders, several recipes in one text, collections, corrected copies."""

import json
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from importlib.util import find_spec
from pathlib import Path

import pytest

from bakelab.checking import (
    accept,
    check,
    check_file,
    check_many,
    corrected_copy,
    files_of,
    frame_of,
    marked_text,
    pieces_of,
    read_results,
    results_frame,
    to_parquet,
)
from bakelab.checking.measures import measure_text
from bakelab.errors import ReadError
from bakelab.reading import MARKETS

TWO = """# Bakery notes

## Tin loaf

### Ingredients

- 400 g bread flour
- 272 g water
- 8 g salt

### Method

Bake it.

## Wet loaf

### Ingredients

- 400 g bread flour
- 272 g (3 cups) water
- 8 g salt

### Method

Bake it.
"""
LOAF = "Loaf {0}\n\n- 400 g bread flour\n- {1} g ({2} cups) water\n- 8 g salt\n"


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    for number in range(20):
        clash = number % 5 == 0
        text = LOAF.format(number, 272, 3 if clash else "1⅛")
        (tmp_path / f"{number:02}.txt").write_text(text, encoding="utf-8")
    (tmp_path / "empty.txt").write_text("", encoding="utf-8")
    return tmp_path


def test_an_article_with_two_recipes_is_cut_at_their_titles(tmp_path: Path) -> None:
    path = tmp_path / "article.md"
    path.write_text(TWO, encoding="utf-8")
    one, two = check_file(path)
    assert (one.title, two.title) == ("Tin loaf", "Wet loaf")
    assert one.by_kind("conflict") == ()
    (clash,) = two.by_kind("conflict")
    assert TWO.splitlines()[clash.line_no - 1] == "- 272 g (3 cups) water"


def test_a_recipe_in_parts_is_not_cut(tmp_path: Path) -> None:
    path = tmp_path / "parts.md"
    path.write_text(
        "# Loaf\n\n## Ingredients\n\n### Poolish\n\n- 100 g flour\n- 100 g water\n\n"
        "### Dough\n\n- 300 g flour\n- 170 g water\n- 8 g salt\n",
        encoding="utf-8",
    )
    assert len(list(pieces_of(path))) == 1


def test_the_text_cells_of_a_notebook(tmp_path: Path) -> None:
    cells = [
        {"cell_type": "markdown", "source": ["# About bread\n", "No recipe here."]},
        {"cell_type": "markdown", "source": LOAF.format(1, 272, 3)},
        {"cell_type": "code", "source": "1 + 1", "outputs": []},
    ]
    path = tmp_path / "book.ipynb"
    path.write_text(json.dumps({"cells": cells, "nbformat": 4}), encoding="utf-8")
    (report,) = check_file(path)
    assert [f.identifier for f in report.by_kind("conflict")] == [
        "weight-against-volume"
    ]


def test_json_with_several_recipes(tmp_path: Path) -> None:
    """schema.org Recipe, release 30.0: name, recipeIngredient."""
    lines = ["400 g bread flour", "272 g (3 cups) water", "8 g salt"]
    nodes = [
        {"@type": "Recipe", "name": n, "recipeIngredient": lines} for n in ("A", "B")
    ]
    path = tmp_path / "page.json"
    path.write_text(json.dumps({"@graph": nodes}), encoding="utf-8")
    assert [r.title for r in check_file(path)] == ["A", "B"]
    path.write_text('{"colour": "brown"}', encoding="utf-8")
    with pytest.raises(ReadError, match="holds no recipe"):
        check_file(path)


def test_a_folder_gives_its_recipe_files_in_order(shelf: Path) -> None:
    (shelf / ".hidden").mkdir()
    (shelf / ".hidden" / "x.md").write_text("x", encoding="utf-8")
    names = [p.name for p in files_of([shelf])]
    assert names == sorted(names)
    assert "x.md" not in names


@pytest.mark.parametrize("kind", [None, ThreadPoolExecutor, ProcessPoolExecutor])
def test_a_collection_with_any_executor(shelf: Path, kind: type | None) -> None:
    executor = None if kind is None else kind(2)
    try:
        results = list(check_many([shelf], executor))
    finally:
        if executor is not None:
            executor.shutdown()
    assert [Path(r.file).name for r in results] == [p.name for p in files_of([shelf])]
    assert "is empty" in results[-1].error
    table = results_frame(results)
    assert (table["kind"] == "conflict").sum() == 4


def test_a_stopped_run_goes_on_where_it_was(shelf: Path, tmp_path: Path) -> None:
    kept = tmp_path / "out" / "results.jsonl"
    kept.parent.mkdir()
    seen: list[int] = []
    run = check_many([shelf], results=kept, progress=seen.append)
    for _ in range(7):
        next(run)
    run.close()
    with kept.open("a", encoding="utf-8") as out:
        out.write('{"file": "cut off in the mid')
    results = list(check_many([shelf], results=kept, progress=seen.append))
    assert len(results) == 21
    assert seen == list(range(1, 8)) + list(range(8, 22))
    assert [r.file for r in read_results(kept)] == [str(p) for p in files_of([shelf])]
    assert list(read_results(kept)) == results


def test_a_failure_on_one_file_does_not_end_the_collection(
    shelf: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(name: str, **_: object) -> object:
        return 1 // 0 if name.endswith("03.txt") else check_file(name)

    monkeypatch.setattr("bakelab.checking.many.check_file", failing)
    errors = [r.error for r in check_many([shelf]) if r.error]
    assert len(errors) == 2
    assert "ZeroDivisionError" in errors[0]


def test_a_file_that_holds_no_results_is_refused(tmp_path: Path) -> None:
    other = tmp_path / "shopping.txt"
    other.write_text("flour\n", encoding="utf-8")
    with pytest.raises(ReadError, match="is no result of a check"):
        list(read_results(other))


def test_parquet_says_what_it_needs(shelf: Path, tmp_path: Path) -> None:
    results = list(check_many([shelf / "00.txt"]))
    target = tmp_path / "out.parquet"
    if find_spec("pyarrow") is None:
        with pytest.raises(ReadError, match="pyarrow"):
            to_parquet(results, target)
    else:
        assert to_parquet(results, target) == len(results_frame(results))
        assert target.stat().st_size > 0


def test_an_accepted_finding_is_remembered(tmp_path: Path) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text(LOAF.format(1, 272, 3), encoding="utf-8")
    (clash,) = check(path).by_kind("conflict")
    accept(path, clash, 'as "printed" in 1912')
    again = check(path)
    assert again.by_kind("conflict") == ()
    assert {f.accepted for f in again.findings} == {"", 'as "printed" in 1912'}
    with pytest.raises(ReadError, match="with a reason"):
        accept(path, clash, " ")


def test_a_report_shows_itself() -> None:
    report = check(LOAF.format(1, 272, 3))
    assert frame_of([report])["identifier"].iloc[0] == "weight-against-volume"
    assert "weight-against-volume" in marked_text(report)
    assert "How to mend it" in report._repr_html_()
    assert check(report.recipe).by_kind("conflict")[0].message == (
        report.by_kind("conflict")[0].message
    )


def test_a_corrected_copy_has_grams_first_and_measures_that_exist() -> None:
    text = (
        "Loaf\n\n- 3 cups bread flour\n- 300 g (2 cups) water\n- 1½ tsp salt\n"
        "- ¾ oz (1 tbsp) sugar\n- 1-2 tsp yeast\n- a pinch of nutmeg\n"
    )
    made = corrected_copy(text)
    lines = made.text.splitlines()
    assert lines[2] == "- 378 g (3 cups) bread flour"
    assert lines[4] == "- 9 g (1½ tsp) salt"
    # TM 10-412 D 009 00: ¾ oz of sugar is 1⅔ tbsp, computed from the card
    assert lines[5] == "- 21 g (1 tbsp + 2 tsp) sugar"
    assert lines[6:8] == ["- 3.1–6.2 g (1-2 tsp) yeast", "- a pinch of nutmeg"]
    assert lines[9] == "[Left as written: line 8: a pinch is too little to weigh]"
    assert "disagree" in made.changes[1].why
    assert made.diff.count("\n+") == len(made.changes) + 3  # its head and the note


def test_a_market_without_cups_gets_none() -> None:
    text = (
        "Loaf\n\n- 3 cups bread flour\n- 1¼ cups water\n- 1½ tsp salt\n- 1 tsp yeast\n"
    )
    lines = corrected_copy(text, market="metric").text.splitlines()
    assert lines[2] == "- 378 g bread flour"
    assert lines[3] == "- 296 g (295 ml) water"
    assert lines[4] == "- 9 g (1½ tsp) salt"
    with pytest.raises(ReadError, match="no market 'mars'"):
        corrected_copy(text, market="mars")


@pytest.mark.parametrize(
    ("teaspoons", "market", "text"),
    [
        # 48 tsp to the cup, 3 to the tablespoon (UCUM)
        (72, "us", "1½ cups"),
        (48, "us", "1 cup"),
        (5, "us", "1 tbsp + 2 tsp"),
        (0.5, "us", "½ tsp"),
        (36, "us", "¾ cup"),
        (54, "us", "1 cup + 2 tbsp"),
        (4.057, "australia", "1 tbsp"),  # one spoon of 20 mL is 4.057 US teaspoons
        (50.72, "metric", "1 cup"),  # 250 mL
        (0.02, "us", "a pinch"),
    ],
)
def test_measures_are_those_that_exist(
    teaspoons: float, market: str, text: str
) -> None:
    assert measure_text(teaspoons, MARKETS[market]) == text


SHELF = """recipe,ingredient,grams,percent
Tin loaf,bread flour,500,100
Tin loaf,water,340,68
Tin loaf,salt,10,2
Wet loaf,bread flour,500,100
Wet loaf,water,400,72
Wet loaf,salt,10,2
"""


def test_csv_with_a_column_of_recipes(tmp_path: Path) -> None:
    """400 of 500 g are 80 %; it stands on line 6."""
    path = tmp_path / "shelf.csv"
    path.write_text(SHELF, encoding="utf-8")
    tin, wet = check_file(path)
    assert (tin.title, wet.title) == ("Tin loaf", "Wet loaf")
    assert tin.by_kind("conflict") == ()
    [found] = wet.by_kind("conflict")
    assert found.identifier == "percent-against-weight"
    assert found.line_no == 6


def test_csv_with_tables_below_each_other(tmp_path: Path) -> None:
    path = tmp_path / "shelf.csv"
    path.write_text(
        "Tin loaf\ningredient,grams\nbread flour,500\nwater,340\n\n"
        "Wet loaf\ningredient,grams\nbread flour,500\nwater,400\n",
        encoding="utf-8",
    )
    tin, wet = check_file(path)
    assert (tin.title, wet.title) == ("Tin loaf", "Wet loaf")
    assert wet.recipe.formula is not None
    assert wet.recipe.formula.water_pct == 80


def test_lines_that_a_corrected_copy_leaves_are_named_in_it() -> None:
    made = corrected_copy(
        "# Loaf\n\n- 3 cups bread flour\n- 2-3 tbsp honey\n- a pinch of nutmeg\n"
        "- 2 eggs\n\n| Butter | 2 oz |\n"
    )
    assert "42–63 g (2-3 tbsp) honey" in made.text
    assert [one.line_no for one in made.left] == [5, 6, 8]
    assert "Left as written: line 5: a pinch is too little to weigh" in made.text
    assert corrected_copy(made.text).changes == ()
