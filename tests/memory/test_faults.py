"""A full disk, a folder that cannot be written to, a damaged file."""

import os
import resource
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import alembic.command  # noqa: F401  # read in before rights are given up
import pytest
from sqlalchemy import event

from bakelab.bakebook import BakeBook, BookError, DamagedBookError
from bakelab.formula import Formula

NOBODY = 65534


@contextmanager
def largest_file(size: int) -> Iterator[None]:
    """No file may grow past a size: writing then fails as on a full disk."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@contextmanager
def without_rights() -> Iterator[None]:
    """Root may write anywhere, so it becomes nobody for a while."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder whose parents everybody may pass."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755)
    shutil.rmtree(folder)


def fill(book: BakeBook, bake_id: str) -> tuple[int, str]:
    """Write notes until the book refuses one: how many it took, what it said."""
    for taken in range(10_000):
        try:
            book.note(bake_id, f"{taken} " + "crumb " * 500)
        except BookError as error:
            return taken, str(error)
    return 10_000, ""


@pytest.mark.parametrize("how", ["file size limit", "most pages"])
def test_a_full_disk_is_said_and_loses_nothing(
    file_book: BakeBook, dough: Formula, how: str
) -> None:
    """By `RLIMIT_FSIZE` (the system refuses) and `max_page_count` (SQLITE_FULL)."""
    bake_id = file_book.start(dough)
    limit = (
        largest_file(1_000_000) if how == "file size limit" else few_pages(file_book)
    )
    with limit:
        taken, said = fill(file_book, bake_id)
        assert list(file_book.bakes()["id"]) == [bake_id]  # it can still be read
        assert "could not be kept" in file_book.remarks[-1]
    assert 0 < taken < 10_000
    assert "the disk is full or refuses to write" in said
    assert "every earlier one is kept" in said
    notes = file_book.bake(bake_id).notes
    assert [note.text.split()[0] for note in notes] == [str(n) for n in range(taken)]
    assert file_book.examine() == ()
    file_book.note(bake_id, "there is room again")
    assert len(file_book.bake(bake_id).notes) == taken + 1


@contextmanager
def few_pages(book: BakeBook) -> Iterator[None]:
    """SQLite itself says that the disk is full past 200 pages."""

    def limit(connection: Any, _record: object) -> None:
        connection.execute("PRAGMA max_page_count = 200")

    book._engine.dispose()
    event.listen(book._engine, "connect", limit)
    yield
    event.remove(book._engine, "connect", limit)
    book._engine.dispose()


def test_a_backup_that_has_no_room_is_said(file_book: BakeBook, dough: Formula) -> None:
    bake_id = file_book.start(dough)
    for _ in range(20):
        file_book.note(bake_id, "crumb " * 5_000)
    with largest_file(100_000), pytest.raises(BookError, match="no backup could be"):
        file_book.back_up()
    assert list(file_book.backups_folder.iterdir()) == []


def test_no_room_for_the_daily_backup_still_opens(
    tmp_path: Path, dough: Formula
) -> None:
    path = tmp_path / "book.sqlite"
    with BakeBook(path) as book:
        bake_id = book.start(dough)
        for _ in range(20):
            book.note(bake_id, "crumb " * 5_000)
    with largest_file(100_000), BakeBook(path) as book:
        assert "no backup could be written" in book.remarks[0]
        assert len(book.bake(bake_id).notes) == 20


def test_a_folder_that_cannot_be_written_to(open_folder: Path) -> None:
    open_folder.chmod(0o555)
    with without_rights(), pytest.raises(BookError, match="cannot be written to"):
        BakeBook(open_folder / "book.sqlite")
    with without_rights(), pytest.raises(BookError, match="cannot be made"):
        BakeBook(open_folder / "deeper" / "book.sqlite")
    assert list(open_folder.iterdir()) == []


def test_a_book_that_cannot_be_written_to(open_folder: Path, dough: Formula) -> None:
    path = open_folder / "book.sqlite"
    with BakeBook(path) as book:
        book.start(dough)
    before = path.read_bytes()
    path.chmod(0o444)
    open_folder.chmod(0o555)
    with (
        without_rights(),
        pytest.raises(BookError, match="cannot be written to; move it") as told,
    ):
        BakeBook(path)
    assert "\n" not in str(told.value)
    assert path.read_bytes() == before


@pytest.fixture
def kept(tmp_path: Path, dough: Formula) -> Path:
    """A closed book of some pages, with today's backup beside it."""
    path = tmp_path / "book.sqlite"
    with BakeBook(path) as book:
        for number in range(60):
            bake_id = book.start(dough.scaled(1 + number / 100), folds=number)
            book.note(bake_id, f"{number}: " + "crumb " * 100)
    with BakeBook(path):
        pass
    return path


def damage(path: Path, page: int) -> None:
    """Nonsense over one page of a file."""
    with closing(sqlite3.connect(path)) as db:
        size = db.execute("PRAGMA page_size").fetchone()[0]
    with path.open("r+b") as file:
        file.seek(page * size)
        file.write(b"\xa5" * size)


def test_every_damaged_page_is_found_and_a_backup_offered(
    kept: Path, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(kept)) as db:
        pages = db.execute("PRAGMA page_count").fetchone()[0]
    assert pages > 30
    missed = []
    for page in range(pages):
        copy = tmp_path / "damaged" / "book.sqlite"
        shutil.rmtree(copy.parent, ignore_errors=True)
        shutil.copytree(kept.with_name("book-backups"), copy.with_name("book-backups"))
        shutil.copy(kept, copy)
        damage(copy, page)
        said = _what_is_said(copy)
        if not said:
            missed.append(page)
        assert "take it with BakeBook.from_backup" in said or page in missed
    assert missed == []


def _what_is_said(path: Path) -> str:
    try:
        with BakeBook(path) as book:
            return " ".join(book.examine())
    except DamagedBookError as error:
        return str(error)


def test_the_daily_backup_finds_the_damage(kept: Path) -> None:
    today = kept.with_name("book-backups") / f"book-{date.today()}.sqlite"
    yesterday = today.with_name("book-2025-01-01.sqlite")
    today.rename(yesterday)
    with closing(sqlite3.connect(kept)) as db:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'notes'"
        (root,) = db.execute(query).fetchone()  # pages count from 1 there
    damage(kept, root - 1)
    with pytest.raises(DamagedBookError, match=r"is damaged .*book-2025-01-01.sqlite"):
        BakeBook(kept)
    assert list(yesterday.parent.iterdir()) == [yesterday]  # no bad copy is kept
    with BakeBook(kept, check=False) as book:  # what can still be read
        assert len(book.formulas()) == 60


def test_a_backup_takes_the_place_of_a_damaged_book(kept: Path) -> None:
    damage(kept, 0)
    with pytest.raises(DamagedBookError):
        BakeBook(kept)
    damaged = kept.read_bytes()
    with BakeBook.from_backup(kept) as book:
        assert len(book.bakes()) == 60
        assert book.examine() == ()
        assert "the damaged file is kept as" in book.remarks[-1]
    (aside,) = kept.parent.glob("book-damaged-*.sqlite")
    assert aside.read_bytes() == damaged


def test_a_damaged_backup_is_not_taken(kept: Path) -> None:
    (backup,) = kept.with_name("book-backups").iterdir()
    damage(backup, 20)
    before = kept.read_bytes()
    with pytest.raises(DamagedBookError):
        BakeBook.from_backup(kept)
    assert kept.read_bytes() == before


def test_examine_finds_what_the_database_cannot(
    file_book: BakeBook, dough: Formula
) -> None:
    """A formula, a version and a link changed behind the book's back."""
    bake_id = file_book.start(dough)
    file_book.write(bake_id, folds=3)
    assert file_book.examine() == ()
    assert file_book.path is not None
    with closing(sqlite3.connect(file_book.path)) as db:
        db.execute("UPDATE formulas SET content = replace(content, '340.0', '430.0')")
        db.execute("UPDATE bakes SET version = 1")
        db.execute("INSERT INTO tags VALUES ('nobody', 'lost', '2025-01-01', '')")
        db.commit()
    assert list(file_book.bakes()["id"]) == [bake_id]  # the rest can still be seen
    said = " ".join(file_book.examine())
    assert f"formula {dough.key} is no longer what was kept" in said
    assert f"{bake_id} in bakes is older than its history" in said
    assert "of tags belongs to something in bakes that is missing" in said


def test_a_damaged_formula_hides_no_bake(file_book: BakeBook, dough: Formula) -> None:
    bake_id = file_book.start(dough, crumb_words="even")
    with file_book._writing() as db:
        db.exec_driver_sql("UPDATE formulas SET content = 'crumbs'")
    assert list(file_book.bakes(text="EVEN")["id"]) == [bake_id]
    with pytest.raises(DamagedBookError, match=f"formula {dough.key} .*is damaged"):
        file_book.bake(bake_id)
    file_book.write(bake_id, crumb_words="coarse")
    assert list(file_book.bakes()["crumb_words"]) == ["coarse"]
