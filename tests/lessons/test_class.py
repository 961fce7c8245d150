"""Sheets for a class, and the marks of what comes back.

What is checked here follows from open standards: CSV is RFC 4180, the notebook
is nbformat 4.5 (validated by nbformat itself), the PDF is read back by pypdf.
That a cell must not start a formula follows OWASP, "CSV Injection".
"""

import csv
import io
import json
import re
import socket
from fractions import Fraction
from pathlib import Path
from typing import Any

import nbformat
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from bakelab.cli import main
from bakelab.errors import BakelabError, ReadError
from bakelab.lessons import make, mark
from bakelab.lessons.classroom import (
    class_set,
    mark_class,
    read_students,
    write_class,
    write_marks,
)
from bakelab.lessons.classroom.marks import NOT_WRITTEN, ClassMarks
from bakelab.lessons.classroom.paper import sheet_pdf
from bakelab.lessons.classroom.report import chart_html, chart_svg, marks_csv
from bakelab.lessons.classroom.returned import read_returned
from bakelab.lessons.classroom.roll import spreadsheet_text
from bakelab.lessons.classroom.sheet_notebook import answer_label
from bakelab.lessons.classroom.sheets import load_class

TRICKS = (
    "Mia Berg",
    "Jonas Østergård",
    '=HYPERLINK("http://example.invalid";"x")',
    "../../etc/passwd",
    "<script>alert(1)</script>",
    "Mia Berg",
    "CON",
    "#set page(width: 1cm) $x$ `*_",
    "\u202eevil\u0000 name",
    "李小龍",
    "+491234",
    "A" * 400,
)


def _names(folder: Path, names: tuple[str, ...] = TRICKS) -> Path:
    path = folder / "names.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([["name"], *([name] for name in names)])
    return path


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder with names that try everything."""
    place = tmp_path_factory.mktemp("class")
    students = read_students(_names(place), seed=7)
    write_class(class_set(students, seed=7, items=6), place / "set")
    return place / "set"


@pytest.fixture
def returned(tmp_path: Path) -> Path:
    """An empty folder for what comes back."""
    return tmp_path


def _notebook(made: Path, number: int) -> tuple[Path, dict[str, Any]]:
    path = sorted((made / "for-students").glob(f"{number:02d}-*.ipynb"))[0]
    return path, json.loads(path.read_text(encoding="utf-8"))


def _filled(made: Path, number: int, answers: dict[int, str]) -> dict[str, Any]:
    _, notebook = _notebook(made, number)
    for cell in notebook["cells"]:
        item = cell["metadata"].get("bakelab", {}).get("item")
        if item in answers:
            cell["source"] = ["".join(cell["source"]) + answers[item]]
    return notebook


def _right(made: Path, number: int) -> dict[int, str]:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[number - 1]
    return {n: item.answer_text for n, item in enumerate(sheet.items, 1)}


def _save(folder: Path, name: str, notebook: Any) -> Path:
    path = folder / name
    text = notebook if isinstance(notebook, str) else json.dumps(notebook)
    path.write_text(text, encoding="utf-8")
    return path


def _marks(made: Path, folder: Path) -> ClassMarks:
    return mark_class(folder, class_file=made)


# The class list


@pytest.mark.parametrize(
    ("text", "names"),
    [
        pytest.param("name\nAnna\nBo\n", ["Anna", "Bo"], id="with a head"),
        pytest.param("Anna\nBo", ["Anna", "Bo"], id="without a head"),
        pytest.param("Vorname;Nachname\nÄnne;Öhl\n", ["Änne Öhl"], id="semicolons"),
        pytest.param("id\tname\n7\tBo\n8\t\n", ["Bo", "8"], id="tabs; none dropped"),
        pytest.param('"Berg, Mia"\n', ["Berg, Mia"], id="a comma in quotes"),
        pytest.param("Berg, Mia\n", ["Berg Mia"], id="a comma without quotes"),
        pytest.param("name\n\n  \nBo\n", ["Bo"], id="blank lines"),
    ],
)
def test_lists_of_names_are_read(tmp_path: Path, text: str, names: list[str]) -> None:
    (tmp_path / "n.csv").write_text(text, encoding="utf-8")
    found = read_students(tmp_path / "n.csv", seed=1)
    assert [s.name for s in found] == names


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_any_usual_encoding_is_read(tmp_path: Path, encoding: str) -> None:
    (tmp_path / "n.csv").write_bytes("name\nZoë Müller\n".encode(encoding))
    assert read_students(tmp_path / "n.csv", seed=1)[0].name == "Zoë Müller"


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "no name in"),
        (b"name\n", "no name in"),
        (b"PK\x03\x04abc", "save it as CSV"),
        (b"n\n" * 1002, "at most 1000"),
    ],
)
def test_what_is_no_list_is_refused(tmp_path: Path, raw: bytes, said: str) -> None:
    (tmp_path / "n.csv").write_bytes(raw)
    with pytest.raises(ReadError, match=said):
        read_students(tmp_path / "n.csv", seed=1)


def test_a_missing_list_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(ReadError, match="cannot read"):
        read_students(tmp_path / "none.csv", seed=1)


def test_another_name_leaves_the_sheets_of_the_others_alone(tmp_path: Path) -> None:
    few = read_students(_names(tmp_path, ("Anna", "Bo")), seed=3)
    more = read_students(_names(tmp_path, ("Anna", "Cem", "Bo")), seed=3)
    assert few[1].code == more[2].code
    first = class_set(few, seed=3, lesson=2).sheets[1].items
    assert first == class_set(more, seed=3, lesson=2).sheets[2].items


def test_codes_and_files_are_each_others_own(tmp_path: Path) -> None:
    students = read_students(_names(tmp_path, ("Mia",) * 300), seed=1)
    assert len({s.code for s in students}) == 300
    assert len({s.file_stem for s in students}) == 300


# The sheets


def test_the_same_seed_gives_the_same_set(made: Path, tmp_path: Path) -> None:
    students = read_students(_names(tmp_path), seed=7)
    again = class_set(students, seed=7, items=6)
    assert again == load_class(made / "for-the-teacher" / "class.json")
    assert again != class_set(students, seed=8, items=6)


def test_every_student_has_own_numbers_of_the_same_families(made: Path) -> None:
    sheets = load_class(made / "for-the-teacher" / "class.json").sheets
    assert len({tuple(i.family for i in s.items) for s in sheets}) == 1
    assert (
        len({tuple(i.question + str(i.given) for i in s.items) for s in sheets}) == 12
    )


def test_tricks_in_names_stay_inside_the_folder(made: Path) -> None:
    files = sorted(p for p in made.rglob("*") if p.is_file())
    assert len(files) == 2 * len(TRICKS) + 3
    students = {p.parent.name for p in files}
    assert students == {"for-students", "for-the-teacher"}
    for path in files:
        assert re.fullmatch(r"[a-z0-9-]+\.(pdf|ipynb|csv|json)", path.name)
        assert len(path.name) < 60


def test_notebooks_are_valid_and_hold_no_answer_and_no_code(made: Path) -> None:
    sheets = load_class(made / "for-the-teacher" / "class.json").sheets
    for number, sheet in enumerate(sheets, 1):
        path, notebook = _notebook(made, number)
        nbformat.validate(nbformat.reads(json.dumps(notebook), as_version=4))
        text = path.read_text(encoding="utf-8")
        assert "solution" not in text
        assert "distractor" not in text
        assert all(c["cell_type"] != "code" for c in notebook["cells"])
        assert "seed" not in json.dumps(notebook["metadata"])
        assert sheet.student.code in notebook["cells"][0]["source"][0]


def test_markup_in_names_is_no_markup(made: Path) -> None:
    _, notebook = _notebook(made, 5)
    head = "".join(notebook["cells"][0]["source"])
    assert "<script" not in head
    assert "&lt;script&gt;" in head


def test_sheets_and_key_are_pdfs_that_hold_what_they_should(made: Path) -> None:
    whole = load_class(made / "for-the-teacher" / "class.json")
    pdf = PdfReader(made / "for-students" / f"{whole.sheets[1].student.file_stem}.pdf")
    text = "\n".join(page.extract_text() for page in pdf.pages)
    assert "Jonas Østergård" in text
    assert whole.sheets[1].student.code in text
    key = PdfReader(made / "for-the-teacher" / "answer-key.pdf")
    text = "\n".join(page.extract_text() for page in key.pages)
    for sheet in whole.sheets:
        assert sheet.student.code in text
    assert "#set page(width: 1cm)" in text  # set letter by letter, never run


def test_the_key_as_csv_has_every_answer_once(made: Path) -> None:
    raw = (made / "for-the-teacher" / "answer-key.csv").read_bytes()
    rows = list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig"))))
    assert len(rows) == 6 * len(TRICKS)
    for row in rows:
        assert not row["student"].startswith(("=", "@"))
    whole = load_class(made / "for-the-teacher" / "class.json")
    items = [item for sheet in whole.sheets for item in sheet.items]
    for row, item in zip(rows, items, strict=True):
        assert mark(item, row["answer"].split(":")[0]).is_right
        assert row["question"] == item.question.replace("*", "")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("=1+1", "'=1+1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        (" =1", "' =1"),
        ("-2+3", "'-2+3"),
        ("-2.5", "-2.5"),
        ("+49", "+49"),
        ("\tx", "' x"),
        ("plain", "plain"),
        ("a\nb", "a b"),
    ],
)
def test_a_cell_never_starts_a_formula(text: str, shown: str) -> None:
    assert spreadsheet_text(text) == shown


def test_nothing_is_overwritten(made: Path, tmp_path: Path) -> None:
    whole = load_class(made / "for-the-teacher" / "class.json")
    with pytest.raises(BakelabError, match="not an empty folder"):
        write_class(whole, made)
    (tmp_path / "file").write_text("mine")
    with pytest.raises(BakelabError, match="not an empty folder"):
        write_class(whole, tmp_path / "file")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"lesson": 9}, "lessons are 1 to 6"),
        ({"items": 0}, "between 1 and 30"),
        ({"items": 31}, "between 1 and 30"),
    ],
)
def test_what_cannot_be_set_is_refused(asked: dict[str, int], said: str) -> None:
    with pytest.raises(BakelabError, match=said):
        class_set([], seed=1, **asked)


@pytest.mark.parametrize("items", [1, 5, 13])
def test_as_many_exercises_as_asked(tmp_path: Path, items: int) -> None:
    students = read_students(_names(tmp_path, ("Bo",)), seed=1)
    made = class_set(students, seed=1, items=items)
    assert len(made.sheets[0].items) == items


# What comes back


def test_right_answers_are_right(made: Path, returned: Path) -> None:
    for number in range(1, len(TRICKS) + 1):
        notebook = _filled(made, number, _right(made, number))
        _save(returned, f"{number}.ipynb", notebook)
    marks = _marks(made, returned)
    assert [s.right for s in marks.sheets] == [6] * len(TRICKS)
    assert {s.state for s in marks.sheets} == {"marked"}
    assert not marks.misconceptions
    assert all(not s.remarks for s in marks.sheets)


def test_misconceptions_are_counted(made: Path, returned: Path) -> None:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[0]
    wrong = {}
    expected: dict[str, int] = {}
    for number, item in enumerate(sheet.items, 1):
        one = item.distractors[0]
        exact = isinstance(one.value, Fraction)
        wrong[number] = (
            f"{one.value.numerator}/{one.value.denominator}"
            if isinstance(one.value, Fraction)
            else item.letter(one.value)
        )
        assert exact != item.is_choice
        expected[one.misconception] = expected.get(one.misconception, 0) + 1
    _save(returned, "a.ipynb", _filled(made, 1, wrong))
    marks = _marks(made, returned)
    assert dict(marks.misconceptions) == expected
    assert marks.sheets[0].right == 0


def test_nothing_returned_is_said_for_each(made: Path, returned: Path) -> None:
    marks = _marks(made, returned)
    assert {s.state for s in marks.sheets} == {"nothing returned"}
    assert len(marks.sheets) == len(TRICKS)


def test_renamed_files_are_found_by_what_they_say(made: Path, returned: Path) -> None:
    notebook = _filled(made, 2, _right(made, 2))
    notebook["metadata"] = {}
    _save(returned, "Homework FINAL (2).ipynb", notebook)
    assert _marks(made, returned).sheets[1].right == 6


def test_a_file_without_any_mark_is_found_by_its_name(
    made: Path, returned: Path
) -> None:
    notebook = _filled(made, 2, _right(made, 2))
    notebook["metadata"] = {}
    notebook["cells"][0]["source"] = "my homework"
    code = load_class(made / "for-the-teacher" / "class.json").sheets[1].student.code
    _save(returned, f"work {code} copy.ipynb", notebook)
    assert _marks(made, returned).sheets[1].right == 6


def test_an_unknown_notebook_is_kept_and_told(made: Path, returned: Path) -> None:
    _save(returned, "other.ipynb", {"cells": [], "metadata": {}, "nbformat": 4})
    _save(returned, "other2.ipynb", {"cells": [{"source": "Answer 1: 5"}]})
    last = _marks(made, returned).sheets[-2:]
    assert [s.path.name for s in last if s.path] == ["other.ipynb", "other2.ipynb"]
    assert "by hand" in " ".join(last[1].remarks)


@pytest.mark.parametrize(
    ("broken", "state", "said"),
    [
        ("", "not readable", "empty"),
        ("{", "not readable", "broken at line 1"),
        ("[1, 2]", "not readable", "not a notebook"),
        ("null", "not readable", "not a notebook"),
        ('{"cells": 3}', "not readable", "not a notebook"),
        ("[" * 100_000, "not readable", "broken"),
        ("\x00\x01\x02", "not readable", "broken"),
    ],
)
def test_what_cannot_be_read_is_one_clear_sentence(
    made: Path, returned: Path, broken: str, state: str, said: str
) -> None:
    code = load_class(made / "for-the-teacher" / "class.json").sheets[2].student.code
    _save(returned, f"{code}.ipynb", broken)
    one = _marks(made, returned).sheets[2]
    assert one.state == state
    assert said in one.remarks[0]
    assert len(one.remarks) == 1


def test_a_cut_off_notebook_keeps_what_can_be_read(made: Path, returned: Path) -> None:
    text = json.dumps(_filled(made, 4, _right(made, 4)), indent=1)
    cut = text[: text.index("bakelab-answer-4")]
    _save(returned, "cut.ipynb", cut)
    one = _marks(made, returned).sheets[3]
    assert [a.state for a in one.answers][:3] == ["right"] * 3
    assert one.answers[5].state == NOT_WRITTEN
    assert "broken at line" in one.remarks[0]


def test_half_filled_sheets_count_what_is_there(made: Path, returned: Path) -> None:
    right = _right(made, 1)
    _save(returned, "half.ipynb", _filled(made, 1, {1: right[1], 2: "no idea"}))
    one = _marks(made, returned).sheets[0]
    assert one.state == "partly filled"
    states = [a.state for a in one.answers]
    assert states == ["right", "not understood", *([NOT_WRITTEN] * 4)]


def test_answers_in_other_cells_and_forms_are_read(made: Path, returned: Path) -> None:
    right = _right(made, 1)
    notebook = _filled(made, 1, {1: f"\n\n**{right[1]}**"})
    cells = notebook["cells"]
    place = next(n for n, c in enumerate(cells) if c["id"] == "bakelab-answer-2")
    cells.insert(
        place + 1,
        {"cell_type": "code", "id": "x", "metadata": {}, "source": right[2],
         "outputs": [], "execution_count": None},
    )  # fmt: skip
    third = next(c for c in cells if c["id"] == "bakelab-answer-3")
    third["source"], third["metadata"] = f'answer 3 = "{right[3]}"', {}
    fourth = next(c for c in cells if c["id"] == "bakelab-answer-4")
    fourth["source"] = right[4]
    fifth = next(c for c in cells if c["id"] == "bakelab-answer-5")
    cells.remove(fifth)
    _save(returned, "a.ipynb", notebook)
    one = _marks(made, returned).sheets[0]
    assert [a.state for a in one.answers][:4] == ["right"] * 4
    assert one.answers[4].state == NOT_WRITTEN
    assert "answer 5 is gone" in " ".join(one.remarks)


def test_two_answers_that_differ_are_never_guessed(made: Path, returned: Path) -> None:
    notebook = _filled(made, 1, {1: "12"})
    notebook["cells"].append(
        {"cell_type": "raw", "id": "y", "metadata": {}, "source": "Answer 1: 13"}
    )
    notebook["cells"].append(
        {"cell_type": "raw", "id": "z", "metadata": {}, "source": "Answer 77: 13"}
    )
    _save(returned, "a.ipynb", notebook)
    one = _marks(made, returned).sheets[0]
    assert one.answers[0].state == NOT_WRITTEN
    told = " ".join(one.remarks)
    assert "12; 13" in told
    assert "exercise 77" in told


def test_two_files_for_one_sheet_are_both_told(made: Path, returned: Path) -> None:
    right = _right(made, 1)
    _save(returned, "a.ipynb", _filled(made, 1, {1: right[1]}))
    _save(returned, "b.ipynb", _filled(made, 1, right))
    one, two = _marks(made, returned).sheets[:2]
    assert (one.counted, two.counted) == (False, True)
    assert "2 files came back" in one.remarks[0]


def test_nothing_in_a_notebook_is_executed(made: Path, returned: Path) -> None:
    flag = returned / "executed"
    notebook = _filled(
        made, 1, {1: f"__import__('pathlib').Path({str(flag)!r}).touch()"}
    )
    notebook["cells"].append(
        {"cell_type": "code", "id": "c", "metadata": {}, "outputs": [],
         "execution_count": None, "source": f"open({str(flag)!r}, 'w').close()"}
    )  # fmt: skip
    _save(returned, "a.ipynb", notebook)
    assert _marks(made, returned).sheets[0].answers[0].state == "not understood"
    assert not flag.exists()


@settings(
    max_examples=50,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(data=st.data())
def test_no_damage_to_a_notebook_stops_the_marking(
    made: Path, tmp_path: Path, data: st.DataObject
) -> None:
    """Bytes cut, doubled, swapped or overwritten anywhere: a state and no crash."""
    right = _right(made, 1)
    raw = json.dumps(_filled(made, 1, right), indent=1).encode()
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(raw)))
        end = min(start + data.draw(st.integers(0, 2000)), len(raw))
        raw = raw[:start] + data.draw(st.binary(max_size=20)) + raw[end:]
    folder = tmp_path / "damaged"
    folder.mkdir(exist_ok=True)
    (folder / "a.ipynb").write_bytes(raw)
    marks = _marks(made, folder)
    assert [s.path.name for s in marks.sheets if s.path] == ["a.ipynb"]
    assert marks_csv(marks)


@settings(max_examples=40, deadline=None)
@given(
    whole=st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=20),
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(
                st.sampled_from(
                    [
                        "cells",
                        "source",
                        "metadata",
                        "bakelab",
                        "item",
                        "sheet",
                        "id",
                        "worksheets",
                        "input",
                    ]
                ),
                inner,
                max_size=5,
            )
        ),
        max_leaves=20,
    )
)
def test_any_json_is_told_and_never_a_crash(
    tmp_path_factory: pytest.TempPathFactory, whole: Any
) -> None:
    path = tmp_path_factory.mktemp("json") / "a.ipynb"
    path.write_text(json.dumps(whole), encoding="utf-8")
    found = read_returned(path, frozenset({"ABCD"}))
    assert found.readable or len(found.remarks) == 1


def test_other_files_are_named_for_the_teacher(made: Path, returned: Path) -> None:
    (returned / "essay.pdf").write_bytes(b"%PDF")
    (returned / ".DS_Store").write_bytes(b"x")
    (returned / ".ipynb_checkpoints").mkdir()
    _save(returned / ".ipynb_checkpoints", "a.ipynb", _filled(made, 1, {1: "5"}))
    marks = _marks(made, returned)
    assert [s.path.name for s in marks.sheets if s.path] == ["essay.pdf"]
    assert "mark it by hand" in marks.sheets[-1].remarks[0]


# Tables and chart


def test_tables_are_safe_and_the_chart_has_no_name(made: Path, returned: Path) -> None:
    for number in range(1, len(TRICKS) + 1):
        answers = _right(made, number) | {1: "=cmd|' /C calc'!A0", 2: "<b>x</b>"}
        _save(returned, f"{number}.ipynb", _filled(made, number, answers))
    marks = _marks(made, returned)
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
    _save(returned, "a.ipynb", _filled(made, 1, _right(made, 1)))
    rows = list(csv.DictReader(io.StringIO(marks_csv(_marks(made, returned))[1:])))
    assert len(rows) == len(TRICKS)
    assert (rows[0]["right"], rows[0]["of"]) == ("6", "6")
    assert rows[1]["state"] == "nothing returned"


def test_marks_of_marks_are_no_returned_files(made: Path, returned: Path) -> None:
    _save(returned, "a.ipynb", _filled(made, 1, _right(made, 1)))
    write_marks(_marks(made, returned), returned)
    assert sum(s.path is not None for s in _marks(made, returned).sheets) == 1


def test_sheets_filled_in_where_they_lie_are_marked(made: Path) -> None:
    marks = _marks(made, made / "for-students")
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


# The command line


def test_the_whole_way_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = _names(tmp_path, ("Anna", "Bo"))
    out = tmp_path / "class"
    words = ["--seed", "5", "--students", str(names), "--lesson", "2"]
    assert main(["class", *words, "--out", str(out)]) == 0
    assert "2 sheets of 6 exercises" in capsys.readouterr().out
    notebook = _filled(out, 1, _right(out, 1))
    _save(out / "returned", "a.ipynb", notebook)
    assert main(["mark", str(out / "returned")]) == 0
    said = capsys.readouterr().out
    assert "6 of 6" in said
    assert "nothing returned" in said
    _save(out / "returned", "b.ipynb", "{")
    assert main(["mark", str(out)]) == 1


def test_nothing_leaves_the_machine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise AssertionError("a connection was tried")

    for name in ("connect", "connect_ex", "sendto"):
        monkeypatch.setattr(socket.socket, name, refuse)
    students = read_students(_names(tmp_path, ("Anna", "Bo")), seed=2)
    write_class(class_set(students, seed=2, items=6), tmp_path / "set")
    returned = tmp_path / "set" / "returned"
    _save(returned, "a.ipynb", _filled(tmp_path / "set", 1, {1: "5"}))
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
