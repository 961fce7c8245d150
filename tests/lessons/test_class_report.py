"""Tables and chart of the marks, and both words on the command line."""

import csv
import io
import json
import re
import socket
from pathlib import Path

import pytest

from bakelab.cli import main
from bakelab.errors import BakelabError
from bakelab.lessons import make
from bakelab.lessons.classroom import (
    class_set,
    mark_class,
    read_students,
    write_class,
    write_marks,
)
from bakelab.lessons.classroom.paper import sheet_pdf
from bakelab.lessons.classroom.report import chart_html, chart_svg, marks_csv
from bakelab.lessons.classroom.sheet_notebook import answer_label
from bakelab.lessons.classroom.sheets import load_class
from tests.lessons.class_folders import (
    TRICKS,
    filled,
    marks_of,
    names_file,
    right_answers,
    save,
)


def test_tables_are_safe_and_the_chart_has_no_name(made: Path, returned: Path) -> None:
    for number in range(1, len(TRICKS) + 1):
        answers = right_answers(made, number) | {1: "=cmd|' /C calc'!A0", 2: "<b>x</b>"}
        save(returned, f"{number}.ipynb", filled(made, number, answers))
    marks = marks_of(made, returned)
    place = write_marks(marks, returned)
    assert sorted(p.name for p in place.iterdir()) == [
        "answers.csv", "marks.csv", "misconceptions.csv", "misconceptions.html",
        "misconceptions.svg",
    ]  # fmt: skip
    for name in ("marks.csv", "answers.csv", "misconceptions.csv"):
        text = (place / name).read_text(encoding="utf-8-sig")
        for row in csv.reader(io.StringIO(text)):
            for cell in row:
                number = re.fullmatch(r"[-+]?\d+([.,/]\d+)?", cell)
                assert number or not cell.startswith(("=", "+", "-", "@"))
    for page in (chart_html(marks), chart_svg(marks)):
        for name in ("Mia", "Jonas", "passwd", "script>alert", "李"):
            assert name not in page
        addresses = set(re.findall(r'(?:https?:)?//[^"\s<]+', page))
        assert addresses <= {"http://www.w3.org/2000/svg"}
        assert "<script" not in page
    assert write_marks(marks, returned).name == "marks-2"


def test_marks_have_a_row_for_everyone(made: Path, returned: Path) -> None:
    save(returned, "a.ipynb", filled(made, 1, right_answers(made, 1)))
    rows = list(csv.DictReader(io.StringIO(marks_csv(marks_of(made, returned))[1:])))
    assert len(rows) == len(TRICKS)
    assert (rows[0]["right"], rows[0]["of"]) == ("6", "6")
    assert rows[1]["state"] == "nothing returned"


def test_marks_of_marks_are_no_returned_files(made: Path, returned: Path) -> None:
    save(returned, "a.ipynb", filled(made, 1, right_answers(made, 1)))
    write_marks(marks_of(made, returned), returned)
    assert sum(s.path is not None for s in marks_of(made, returned).sheets) == 1


def test_sheets_filled_in_where_they_lie_are_marked(made: Path) -> None:
    marks = marks_of(made, made / "for-students")
    assert {s.state for s in marks.sheets} == {"empty"}
    assert len(marks.sheets) == len(TRICKS)


def test_the_same_sheet_is_the_same_pdf(made: Path) -> None:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[0]
    assert sheet_pdf(sheet, title="T") == sheet_pdf(sheet, title="T")
    with pytest.raises(BakelabError, match="no paper 'a5'"):
        sheet_pdf(sheet, title="T", paper="a5")


def test_every_place_for_an_answer_names_its_unit() -> None:
    item = make("weight_to_percent", 3, level=1)
    assert answer_label(2, item) == "Answer 2 (%):"


def test_the_whole_way_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = names_file(tmp_path, ("Anna", "Bo"))
    out = tmp_path / "class"
    words = ["--seed", "5", "--students", str(names), "--lesson", "2"]
    assert main(["class", *words, "--out", str(out)]) == 0
    assert "2 sheets of 6 exercises" in capsys.readouterr().out
    notebook = filled(out, 1, right_answers(out, 1))
    save(out / "returned", "a.ipynb", notebook)
    assert main(["mark", str(out / "returned")]) == 0
    said = capsys.readouterr().out
    assert "6 of 6" in said
    assert "nothing returned" in said
    save(out / "returned", "b.ipynb", "{")
    assert main(["mark", str(out)]) == 1


def test_marks_as_json_say_what_the_tables_say(
    made: Path, returned: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[0]
    wrong = next(i for i, item in enumerate(sheet.items, 1) if not item.is_choice)
    slip = sheet.items[wrong - 1].distractors[0]
    answers = right_answers(made, 1) | {wrong: str(slip.value)}
    save(returned, "a.ipynb", filled(made, 1, answers))
    save(returned, "b.ipynb", "{")
    assert main(["mark", str(returned), "--class", str(made), "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    rows = list(csv.DictReader(io.StringIO(marks_csv(marks_of(made, returned))[1:])))
    assert [s["state"] for s in said["sheets"]] == [row["state"] for row in rows]
    first = said["sheets"][0]
    assert (first["file"], first["right"], first["of"]) == ("a.ipynb", 5, 6)
    assert first["answers"][wrong - 1]["misconception"] == slip.misconception
    assert said["sheets"][1]["right"] is None
    assert said["sheets"][-1]["student"] is None
    assert said["sheets"][-1]["remarks"]
    assert [(m["key"], m["times"], m["students"]) for m in said["misconceptions"]] == [
        (slip.misconception, 1, 1)
    ]
    assert Path(said["folder"]) == returned / "marks"
    assert main(["mark", str(returned / "none"), "--json"]) == 2
    assert "no folder" in json.loads(capsys.readouterr().out)["error"]


def test_nothing_leaves_the_machine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise AssertionError("a connection was tried")

    for name in ("connect", "connect_ex", "sendto"):
        monkeypatch.setattr(socket.socket, name, refuse)
    students = read_students(names_file(tmp_path, ("Anna", "Bo")), seed=2)
    write_class(class_set(students, seed=2, items=6), tmp_path / "set")
    returned = tmp_path / "set" / "returned"
    save(returned, "a.ipynb", filled(tmp_path / "set", 1, {1: "5"}))
    write_marks(mark_class(returned), returned)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["mark", "{}/none"], "no folder"),
        (["mark", "{}"], "no class list"),
        (["class", "--seed", "1", "--students", "{}/none.csv"], "cannot read"),
    ],
)
def test_refusals_are_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert main([w.format(tmp_path) for w in words]) == 2
    told = capsys.readouterr().err.strip()
    assert said in told
    assert told.count("\n") == 0
