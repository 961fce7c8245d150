"""`bakelab check`: documented keys, exit codes, reports for machines and editors."""

import json
import xml.etree.ElementTree as ET
from io import StringIO
from pathlib import Path

import pytest

from bakelab.checking import check_file
from bakelab.cli import main

CLEAN = """# Tin loaf

## Ingredients

- 400 g bread flour
- 272 g water
- 8 g salt
- 4 g instant yeast

## Method

Mix the flour, water, salt and yeast and knead. Bake in a 9 x 5 x 3 inch loaf pan
at 220 °C (425 °F) for 30 minutes. Makes one loaf.
"""
CLASH = CLEAN.replace("272 g water", "272 g (3 cups) water").replace("Tin", "Wet")

CUPS = """Loaf

- 3 cups bread flour
- 300 g (1¼ cups) water
- 1½ tsp salt
- 1 tsp yeast
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "clean.md").write_text(CLEAN, encoding="utf-8")
    (tmp_path / "part").mkdir()
    (tmp_path / "part" / "clash.md").write_text(CLASH, encoding="utf-8")
    (tmp_path / "picture.png").write_bytes(b"\x89PNG")
    return tmp_path


def test_a_clean_file_is_good(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(folder / "clean.md")]) == 0
    assert "1 recipe:" in capsys.readouterr().out


def test_a_folder_prints_the_documented_keys(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(folder), "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert set(data) == {"recipes", "counts", "unread"}
    assert len(data["recipes"]) == 2
    clash = next(r for r in data["recipes"] if r["title"] == "Wet loaf")
    finding = clash["findings"][0]
    assert set(finding) == {"identifier", "kind", "message", "quotes", "working",
                            "mend", "confidence", "basis", "accepted"}  # fmt: skip
    assert finding["quotes"] == [{"line_no": 6, "text": "272 g (3 cups) water"}]
    assert data["counts"]["conflict"] == 1


def test_the_terminal_report_quotes_line_arithmetic_and_mending(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(folder / "part" / "clash.md")]) == 1
    printed = capsys.readouterr().out
    assert "✕ conflict" in printed
    assert "weight-against-volume" in printed
    assert "6 | 272 g (3 cups) water" in printed
    assert "272 g stands for 271.5 to 272.5 g" in printed


def test_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", StringIO(CLASH))
    assert main(["check", "-", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["recipes"][0]["title"] == "Wet loaf"


def test_sarif_has_a_rule_and_a_place_for_every_result(
    folder: Path, tmp_path: Path
) -> None:
    """OASIS SARIF 2.1.0: version, runs, tool.driver.rules, results by ruleId."""
    out = tmp_path / "out.sarif"
    main(["check", str(folder), "--sarif", str(out)])
    data = json.loads(out.read_text(encoding="utf-8"))
    assert data["version"] == "2.1.0"
    (run,) = data["runs"]
    rules = [r["id"] for r in run["tool"]["driver"]["rules"]]
    for result in run["results"]:
        assert rules[result["ruleIndex"]] == result["ruleId"]
        assert result["level"] in ("error", "warning", "note")
        place = result["locations"][0]["physicalLocation"]
        assert place["region"]["startLine"] >= 1
    errors = [r for r in run["results"] if r["level"] == "error"]
    place = errors[0]["locations"][0]["physicalLocation"]
    assert place["artifactLocation"]["uri"].endswith("part/clash.md")
    assert place["region"]["startLine"] == 6


def test_junit_has_a_case_for_every_recipe(folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.xml"
    main(["check", str(folder), "--junit", str(out)])
    suite = ET.fromstring(out.read_text(encoding="utf-8")).find("testsuite")
    assert suite is not None
    assert suite.get("tests") == "2"
    assert suite.get("failures") == "1"
    assert len(suite.findall("testcase/failure")) == 1


def test_the_page_marks_the_line(folder: Path, tmp_path: Path) -> None:
    from bs4 import BeautifulSoup

    out = tmp_path / "out.html"
    main(["check", str(folder / "part"), "--html", str(out)])
    page = BeautifulSoup(out.read_text(encoding="utf-8"), "html.parser")
    assert [m.text for m in page.select("mark.conflict")] == ["- 272 g (3 cups) water"]
    assert not page.find_all(["script", "link", "img"])


def test_an_accepted_finding_no_longer_fails(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    part = folder / "part"
    kept = part / ".bakelab-accepted.toml"
    kept.write_text(
        '[[keep]]\nfile = "clash.md"\nfinding = "weight-against-volume"\n'
        'quote = "3 cups"\nreason = "printed so in 1912"\n',
        encoding="utf-8",
    )
    assert main(["check", str(part)]) == 0
    assert "1 kept on purpose" in capsys.readouterr().out
    kept.write_text(kept.read_text(encoding="utf-8").replace("3 cups", "4 cups"))
    assert main(["check", str(part)]) == 1


def test_an_accepted_finding_needs_a_reason(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = folder / ".bakelab-accepted.toml"
    kept.write_text('[[keep]]\nfile = "clean.md"\nfinding = "no-salt"\n', "utf-8")
    assert main(["check", str(folder / "clean.md")]) == 2
    assert "needs a reason" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["check", "nowhere.md"], "there is no file or folder"),
        (["check", "clean.md", "part", "--mend", "new.md"], "give one path"),
        (["check", "clean.md", "--mend", "clean.md"], "is a new file"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    says: str,
) -> None:
    monkeypatch.chdir(folder)
    assert main(arguments) == 2
    assert says in capsys.readouterr().err


def test_ctrl_c_leaves_what_was_found(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopping(path: Path, **_: object) -> object:
        if "clean" in str(path):
            return check_file(path)
        raise KeyboardInterrupt

    monkeypatch.setattr("bakelab.cli.checking.check_file", stopping)
    assert main(["check", str(folder)]) == 130
    assert "1 recipe:" in capsys.readouterr().out


def test_what_fails_can_be_chosen(folder: Path) -> None:
    lean = folder / "lean.md"
    lean.write_text(CLEAN.replace("- 8 g salt\n", "").replace(", salt", ""), "utf-8")
    assert main(["check", str(lean)]) == 0
    assert main(["check", str(lean), "--fail-on", "missing"]) == 1


def test_a_corrected_copy_is_a_new_file(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cups = folder / "cups.md"
    cups.write_text(CUPS, "utf-8")
    assert main(["check", str(cups), "--mend", "-"]) == 1
    assert "+- 378 g (3 cups) bread flour" in capsys.readouterr().out
    new = folder / "new.md"
    assert main(["check", str(cups), "--mend", str(new)]) == 1
    assert "378 g (3 cups) bread flour" in new.read_text(encoding="utf-8")
    assert cups.read_text(encoding="utf-8").startswith("Loaf\n\n- 3 cups")


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("words.md", "Good morning.\n", "has no ingredient line"),
        ("head.csv", "recipe;ingredient;grams\n", "has no ingredient line"),
        ("cells.ipynb", '{"cells": 3}', "is not a notebook"),
        ("half.json", '{"name": ', "is not valid JSON"),
        ("noise.md", "\x00\x01\x02", "is not a text file"),
    ],
)
def test_what_is_no_recipe_is_not_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, content: str,
    says: str,
) -> None:  # fmt: skip
    path = tmp_path / name
    path.write_text(content, "utf-8")
    assert main(["check", str(path)]) == 2
    assert says in capsys.readouterr().out


def test_a_folder_that_links_to_itself_ends(folder: Path) -> None:
    (folder / "again").symlink_to(folder)
    (folder / "gone.md").symlink_to(folder / "nowhere.md")
    assert main(["check", str(folder)]) == 1
