"""`bakelab book …` and the book of a new lab folder."""

import json
from pathlib import Path

import pytest

from bakelab.bakebook import BakeBook
from bakelab.cli import main
from bakelab.cli.lab import new_lab
from bakelab.formula import Formula

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def path(tmp_path: Path, dough: Formula) -> Path:
    """A closed book with one bake."""
    path = tmp_path / "book.sqlite"
    with BakeBook(path) as book:
        book.start(dough)
    return path


def test_a_sound_book(path: Path, capsys: Printed) -> None:
    assert main(["book", "examine", "--book", str(path)]) == 0
    assert capsys.readouterr().out == "The book is sound: 1 bake.\n"


def test_findings_for_machines(path: Path, capsys: Printed) -> None:
    with BakeBook(path) as book, book._writing() as db:
        db.exec_driver_sql("UPDATE formulas SET content = '{}'")
    assert main(["book", "examine", "--book", str(path), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert "no longer what was kept" in found["findings"][0]
    assert found["bakes"] == 1


def test_the_book_of_the_environment(
    path: Path, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BAKELAB_BOOK", str(path))
    assert main(["book", "back-up"]) == 0
    backup = Path(capsys.readouterr().out.removeprefix("backup: ").strip())
    with BakeBook(backup) as book:
        assert len(book.bakes()) == 1


def test_a_backup_is_taken(path: Path, capsys: Printed) -> None:
    assert main(["book", "back-up", "--book", str(path)]) == 0
    path.write_bytes(b"flour" * 1000)
    assert main(["book", "examine", "--book", str(path)]) == 2
    assert "the newest backup is" in capsys.readouterr().err
    assert main(["book", "take-backup", "--book", str(path)]) == 0
    assert "the damaged file is kept as" in capsys.readouterr().out
    assert main(["book", "examine", "--book", str(path)]) == 0


def test_no_backup_to_take(path: Path, capsys: Printed) -> None:
    assert main(["book", "take-backup", "--book", str(path)]) == 2
    assert "has no backup beside it" in capsys.readouterr().err


def test_a_demo_book(tmp_path: Path, capsys: Printed) -> None:
    path = tmp_path / "demo.sqlite"
    assert main(["book", "demo", str(path)]) == 0
    assert "invented" in capsys.readouterr().out
    with BakeBook(path) as book:
        assert len(book.bakes()) >= 40
        assert book.examine() == ()
    assert main(["book", "demo", str(path)]) == 2
    assert "in use" in capsys.readouterr().err


def test_out_of_one_book_and_into_another(
    path: Path, tmp_path: Path, capsys: Printed
) -> None:
    out, other = str(tmp_path / "out"), str(tmp_path / "other.sqlite")
    assert main(["book", "export", out, "--book", str(path)]) == 0
    assert main(["book", "import", out, "--book", other]) == 0
    assert "1 new in bakes" in capsys.readouterr().out
    with BakeBook(path) as book, BakeBook(other) as copy:
        (bake_id,) = book.bakes()["id"]
        assert copy.bake(bake_id) == book.bake(bake_id)
        copy.write(bake_id, dough_c=20)
        book.write(bake_id, dough_c=30)
    assert main(["book", "import", out + "2", "--book", other]) == 2
    assert "holds no book.json" in capsys.readouterr().err
    assert main(["book", "export", out, "--book", str(path)]) == 0
    assert main(["book", "import", out, "--book", other]) == 1
    assert "dough_c" in capsys.readouterr().out


def test_a_new_lab_has_an_empty_book_of_its_own(
    tmp_path: Path, dough: Formula, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("BAKELAB_BOOK", raising=False)
    new_lab(tmp_path / "lab")
    monkeypatch.chdir(tmp_path / "lab")
    with BakeBook() as book:
        assert book.path == tmp_path / "lab" / "bakebook.sqlite"
        assert book.bakes().empty
        bake_id = book.start(dough)
    new_lab(tmp_path / "lab")
    with BakeBook() as book:
        assert list(book.bakes()["id"]) == [bake_id]
