"""Names read and sheets made for a class.

What is checked here follows from open standards: CSV is RFC 4180, the notebook
is nbformat 4.5 (validated by nbformat itself), the PDF is read back by pypdf.
That a cell must not start a formula follows OWASP, "CSV Injection".
"""

import csv
import io
import json
import re
from pathlib import Path

import nbformat
import pytest
from pypdf import PdfReader

from bakelab.errors import BakelabError, ReadError
from bakelab.lessons import mark
from bakelab.lessons.classroom import (
    class_set,
    read_students,
    write_class,
)
from bakelab.lessons.classroom.roll import spreadsheet_text
from bakelab.lessons.classroom.sheets import load_class
from tests.lessons.class_folders import (
    TRICKS,
    names_file,
    sheet_of,
)


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
    few = read_students(names_file(tmp_path, ("Anna", "Bo")), seed=3)
    more = read_students(names_file(tmp_path, ("Anna", "Cem", "Bo")), seed=3)
    assert few[1].code == more[2].code
    first = class_set(few, seed=3, lesson=2).sheets[1].items
    assert first == class_set(more, seed=3, lesson=2).sheets[2].items


def test_codes_and_files_are_each_others_own(tmp_path: Path) -> None:
    students = read_students(names_file(tmp_path, ("Mia",) * 300), seed=1)
    assert len({s.code for s in students}) == 300
    assert len({s.file_stem for s in students}) == 300


def test_the_same_seed_gives_the_same_set(made: Path, tmp_path: Path) -> None:
    students = read_students(names_file(tmp_path), seed=7)
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
        path, notebook = sheet_of(made, number)
        nbformat.validate(nbformat.reads(json.dumps(notebook), as_version=4))
        text = path.read_text(encoding="utf-8")
        assert "solution" not in text
        assert "distractor" not in text
        assert all(c["cell_type"] != "code" for c in notebook["cells"])
        assert "seed" not in json.dumps(notebook["metadata"])
        assert sheet.student.code in notebook["cells"][0]["source"][0]


def test_markup_in_names_is_no_markup(made: Path) -> None:
    _, notebook = sheet_of(made, 5)
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
        ({"items": 0}, "give 1 to 30"),
        ({"items": 31}, "give 1 to 30"),
    ],
)
def test_what_cannot_be_set_is_refused(asked: dict[str, int], said: str) -> None:
    with pytest.raises(BakelabError, match=said):
        class_set([], seed=1, **asked)


@pytest.mark.parametrize("items", [1, 5, 13])
def test_as_many_exercises_as_asked(tmp_path: Path, items: int) -> None:
    students = read_students(names_file(tmp_path, ("Bo",)), seed=1)
    made = class_set(students, seed=1, items=items)
    assert len(made.sheets[0].items) == items
