"""The command line: documented keys, exit codes, one sentence on errors."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from bakelab.cli import main
from bakelab.cli.lab import (
    FIRST_NOTEBOOK,
    jupyter_environment,
    new_lab,
    notebooks_path,
)
from bakelab.reading import read_recipe

LOAF = """Tin loaf

400 g bread flour
272 g water
8 g salt
4 g instant yeast

Bake in a 9 x 5 x 3 inch loaf pan at 425 F for 30 to 35 minutes.
"""
LINE_KEYS = {
    "line_no", "text", "state", "low", "high", "unit", "stated_g", "ingredient",
    "label", "role", "stage", "optional", "mass_g", "basis", "remark",
}  # fmt: skip
PAN_KEYS = {
    "shape", "length_cm", "width_cm", "depth_cm", "diameter_cm", "count", "lidded",
    "volume_cm3", "text",
}  # fmt: skip


@pytest.fixture
def loaf(tmp_path: Path) -> str:
    path = tmp_path / "loaf.txt"
    path.write_text(LOAF, encoding="utf-8")
    return str(path)


def test_read_prints_the_documented_keys(
    loaf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["read", loaf, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"title", "language", "lines", "pan", "oven_c", "bake_minutes", "formula",
            "assumptions"} <= set(data)  # fmt: skip
    assert set(data["lines"][0]) >= LINE_KEYS
    assert set(data["pan"]) >= PAN_KEYS
    assert data["bake_minutes"] == [30, 35]
    assert data["oven_c"] == pytest.approx(218.3, abs=0.1)
    assert [row["bakers_pct"] for row in data["formula"]] == [100, 68, 2, 1]


def test_fit_prints_the_documented_keys(
    loaf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """13 x 4 x 4 in with a lid over 9 x 5 x (3 + 1) in without: 208/180, by the
    rule of the dome (common practice, no source)."""
    assert main(["fit", loaf, "--pan", "13 x 4 x 4 in lidded loaf", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"from_pan", "to_pan", "factor", "loading_cm3_g", "weigh", "remarks"} <= set(
        data
    )
    assert data["factor"] == pytest.approx(208 / 180)
    weigh = {row["ingredient"]: row for row in data["weigh"]}
    assert set(weigh["water"]) >= {"exact_g", "weigh_g", "off_pct", "risk_pct"}
    assert weigh["wheat_bread"]["exact_g"] == pytest.approx(400 * 208 / 180)
    assert weigh["wheat_bread"]["weigh_g"] == 462


def test_a_weight_of_tonnes_is_written_out(
    loaf: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fit", loaf, "--flour", "1234567 g"]) == 0
    assert "e+0" not in capsys.readouterr().out


def test_fit_in_plain_words(loaf: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", loaf, "--dough", "1368 g"]) == 0
    shown = capsys.readouterr().out
    assert "flour 800 g, dough 1368 g (times 2.000)" in shown


@pytest.mark.parametrize("ending", ["json", "csv"])
def test_the_style_that_was_named_is_kept_in_the_file(
    loaf: str, tmp_path: Path, ending: str
) -> None:
    file = tmp_path / f"fitted.{ending}"
    words = ["--dough", "900 g", "--style", "milk_bread", "--save", str(file)]
    assert main(["fit", loaf, *words]) == 0
    formula = read_recipe(file).formula
    assert formula is not None
    assert formula.style == "milk_bread"
    assert formula.dough_g == pytest.approx(900)


def test_eggs_are_counted_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "egg.txt"
    file.write_text("Egg loaf\n\n500 g flour\n200 g water\n100 g egg\n10 g salt\n")
    assert main(["fit", str(file), "--flour", "750 g"]) == 0
    assert capsys.readouterr().out.count("! Eggs: ") == 1


def test_the_stages_and_the_turned_oven_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "rye.txt"
    file.write_text(
        "Poolish:\n100 g flour\n100 g water\n\nDough:\n400 g flour\nall the poolish\n"
        "240 g water\n10 g salt\n\nMethod\nUse a 9 x 5 x 3 in loaf pan. Bake at 230 °C "
        "for 10 minutes. Reduce to 190 °C and bake 30 minutes more.\n",
        encoding="utf-8",
    )
    assert main(["fit", str(file), "--pan", "loaf 8.5 x 4.5 x 2.75 in"]) == 0
    told = capsys.readouterr().out
    rows = [line.split()[-1] for line in told.split("\n\n")[1].splitlines()[1:]]
    assert rows == ["Poolish", "flour", "water", "Dough", "flour", "water", "salt"]
    assert "oven: At 230 °C, from 10 min 190 °C: about" in told
    assert main(["read", str(file)]) == 0
    told = capsys.readouterr().out
    assert "230 °C (about 445 °F), from 10 min 190 °C (about 375 °F)" in told


@pytest.mark.parametrize(
    ("aim", "flour_g"),
    [
        (["--flour", "200 g"], 200),
        (["--pieces", "12x57 g"], 400),
        (["--dough", "684 g"], 400),
    ],
)
def test_other_aims(
    loaf: str, aim: list[str], flour_g: float, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fit", loaf, *aim, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["flour_g"] == pytest.approx(flour_g)


def test_lines_left_out_are_findings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.txt"
    path.write_text("400 g flour\n200 yogurt\nsalt to taste\n", encoding="utf-8")
    assert main(["read", str(path)]) == 1
    assert "200 of what?" in capsys.readouterr().out
    assert main(["fit", str(path), "--dough", "500 g"]) == 1
    assert "left out, give its grams: 200 yogurt" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("content", "words", "said"),
    [
        ("", ["--dough", "500 g"], "is empty"),
        ("just words\n", ["--dough", "500 g"], "no line of this recipe"),
        ("300 g water\n", ["--dough", "500 g"], "no flour"),
        (LOAF, ["--dough", "500"], "needs a unit"),
        (LOAF, ["--dough", "-5 g"], "dough"),
        (LOAF, ["--dough", "1e12 g"], "dough"),
        (LOAF, ["--pan", "9 x 5 x 0 in loaf"], "0"),
        (LOAF, ["--pan", "inf x 5 x 3 in loaf"], "inf"),
        (LOAF, ["--pan", "nonsense"], "nonsense"),
        (LOAF, ["--pieces", "many"], "12x60 g"),
        (LOAF, ["--dough", "500 g", "--scale", "heavy"], "heavy"),
    ],
)
def test_unusable_input_is_one_sentence(
    tmp_path: Path,
    content: str,
    words: list[str],
    said: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = tmp_path / "a.txt"
    path.write_text(content, encoding="utf-8")
    assert main(["fit", str(path), *words]) == 2
    told = capsys.readouterr().err
    assert told.startswith("bakelab: ")
    assert told.count("\n") == 1
    assert said in told


def test_a_missing_file_in_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", "no-such-file.txt", "--json"]) == 2
    assert "no file" in json.loads(capsys.readouterr().out)["error"]


def test_recipe_from_standard_input() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "bakelab", "read", "-", "--json"],
        input=LOAF, capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert json.loads(done.stdout)["title"] == "Tin loaf"


@pytest.mark.parametrize("ending", [".pdf", ".html", ".md", ".csv", ".json"])
def test_saving_what_was_fitted(loaf: str, tmp_path: Path, ending: str) -> None:
    target = tmp_path / f"sheet{ending}"
    assert main(["fit", loaf, "--dough", "800 g", "--save", str(target)]) == 0
    assert target.stat().st_size > 200


def test_a_new_lab_never_overwrites(tmp_path: Path) -> None:
    lab = tmp_path / "lab"
    lab.mkdir()
    (lab / FIRST_NOTEBOOK).write_text("mine")
    made, kept = new_lab(lab)
    assert made > 3
    assert kept == 1
    assert (lab / FIRST_NOTEBOOK).read_text() == "mine"
    assert new_lab(lab)[0] == 0


def test_a_lab_folder_that_cannot_be_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("x")
    assert main(["new", str(tmp_path / "file" / "lab")]) == 2
    assert "cannot write" in capsys.readouterr().err


def test_the_first_notebook_is_there() -> None:
    assert (notebooks_path() / FIRST_NOTEBOOK).is_file()


def test_a_refusal_to_fit_names_options_of_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "pot.txt"
    path.write_text("Pot\n\n300 g all-purpose flour\n360 g water\n5 g salt\n")
    assert main(["fit", str(path), "--pan", "8 x 4 x 2.5 in loaf"]) == 2
    said = capsys.readouterr().err
    assert "--style white_pan" in said
    assert "--from '9 x 5 x 3 in loaf'" in said
    assert "style=" not in said
    again = ["fit", str(path), "--pan", "8 x 4 x 2.5 in loaf", "--by", "volume"]
    assert main(again) == 2
    said = capsys.readouterr().err
    assert "--by loading" in said
    assert "from_" not in said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["fit", "LOAF", "--dough", "900 g", "--sticking", "x"], "'x' is no number"),
        (["fit", "LOAF", "--dough", "900 g", "--style", "baget"], "closest: bagel, ba"),
        (["fit", "LOAF", "--pieces", "0x60 g"], "make at least one piece"),
        (["fit", "LOAF", "--flour", "1000000 kg"], "tonnes of dough; fit to between"),
        (["class", "--seed", "x", "--students", "n.csv"], "'x' is no whole number"),
        (["--port", "99999"], "99999 is no port; give one from 1 to 65535"),
    ],
)
def test_a_slip_on_the_command_line_is_told_in_plain_words(
    loaf: str, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    try:
        code = main([loaf if word == "LOAF" else word for word in words])
    except SystemExit as end:
        code = int(str(end.code))
    shown = capsys.readouterr().err
    assert code == 2
    assert said in shown
    assert not any(word in shown for word in ("float", "int value", "None", "e+"))


def test_a_text_without_an_ingredient_is_a_finding(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "hello.md").write_text("hello world\n")
    assert main(["read", str(tmp_path / "hello.md")]) == 1
    assert "No ingredient line was found" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("address", "told"),
    [("kitchen/book.sqlite", "{here}/kitchen/book.sqlite"), ("/a.sqlite", "/a.sqlite"),
     ("postgresql://baker@host/book", "postgresql://baker@host/book"), (" ", " ")],
)  # fmt: skip
def test_a_lab_has_the_book_that_the_command_has(
    address: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Notebooks run in their own folders: a relative address would be another file."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BAKELAB_BOOK", address)
    monkeypatch.setenv("JUPYTER_PATH", "/others")
    given = jupyter_environment("JUPYTER_PATH", Path("/ours"))
    assert given["BAKELAB_BOOK"] == told.format(here=tmp_path)
    assert given["JUPYTER_PATH"] == f"/ours{os.pathsep}/others"
