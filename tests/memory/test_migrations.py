"""Books of every earlier version are upgraded; the tables are those declared."""

import hashlib
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import DateTime, MetaData, create_engine, insert, text

from bakelab.bakebook import BakeBook, BookError, upgrading
from bakelab.bakebook.migrations import HEAD
from bakelab.bakebook.opening import make_engine, writing
from bakelab.bakebook.place import locate
from bakelab.bakebook.tables import METADATA
from bakelab.formula import Formula, formula_to_json

SCRIPTS = ScriptDirectory.from_config(upgrading.alembic_config())
REVISIONS = [revision.revision for revision in SCRIPTS.walk_revisions()]
MOMENT = datetime(2025, 1, 1, 8, tzinfo=UTC)


def test_there_is_one_newest_revision() -> None:
    assert SCRIPTS.get_heads() == [HEAD]


def test_no_revision_goes_back() -> None:
    """Migrations only grow: nothing offers to undo one."""
    for revision in SCRIPTS.walk_revisions():
        assert not hasattr(revision.module, "downgrade")


def older_book(address: str, folder: Path, revision: str, dough: Formula) -> None:
    """A book as an earlier bakelab has left it, with a row in every table."""
    place = locate(address, folder)
    engine = make_engine(place)
    with writing(engine, place) as db:
        upgrading.migrate(db, revision)
        tables = MetaData()
        tables.reflect(db)
        for table in tables.sorted_tables:
            if table.name != "alembic_version":
                db.execute(insert(table), [_row(table, dough)])
    engine.dispose()


def _row(table: Any, dough: Formula) -> dict[str, Any]:
    row: dict[str, Any] = {}
    for column in table.columns:
        if column.foreign_keys and not column.nullable:
            (target,) = column.foreign_keys
            row[column.name] = "1" if target.column.name == "id" else dough.key
        elif column.primary_key:
            row[column.name] = dough.key if table.name == "formulas" else "1"
        elif not column.nullable and column.server_default is None:
            row[column.name] = _value(column)
    if table.name == "formulas":
        row["content"] = formula_to_json(dough)
    if table.name == "readings":
        row |= {"kind": "core_c", "minute": 3.0}
    return row


def _value(column: Any) -> Any:
    if isinstance(column.type, DateTime):
        return MOMENT if column.type.timezone else MOMENT.replace(tzinfo=None)
    if column.name in ("plan", "key", "answers", "verdict"):
        return "{}"
    if column.name == "content":
        return '{"trials": [], "remarks": []}'
    if column.name == "sha256":
        return hashlib.sha256(b"").hexdigest()
    return "1" if column.type.python_type is str else 1


@pytest.mark.parametrize("revision", REVISIONS)
def test_a_book_of_every_version_is_upgraded(
    address: str, tmp_path: Path, dough: Formula, revision: str
) -> None:
    older_book(address, tmp_path, revision, dough)
    with BakeBook(address, folder=tmp_path) as book:
        upgraded = any("was upgraded" in said for said in book.remarks)
        assert upgraded == (revision != HEAD)
        bake = book.bake("1")
        assert bake.formula == dough
        assert len(bake.marks) == len(bake.notes) == len(bake.readings) == 1
        assert list(book.bakes()["id"]) == ["1"]
        assert len(book.tastings()) == len(book.plans()) == 1
        backups = list(book.backups_folder.glob(f"*-before-{HEAD}-*.sqlite"))
        assert len(backups) == upgraded
        for backup in backups:
            assert stored_revision(backup) == revision
            with BakeBook(backup) as old:  # it is upgraded in its turn
                assert list(old.bakes()["id"]) == ["1"]


def stored_revision(path: Path) -> str:
    with closing(sqlite3.connect(path)) as db:
        return str(db.execute("SELECT version_num FROM alembic_version").fetchone()[0])


@pytest.mark.parametrize("revision", ["base", *REVISIONS])
def test_the_migrated_tables_are_those_declared(
    address: str, tmp_path: Path, dough: Formula, revision: str
) -> None:
    if revision != "base":
        older_book(address, tmp_path, revision, dough)
    with BakeBook(address, folder=tmp_path) as book, book._reading() as db:
        options = {"compare_type": True, "compare_server_default": True}
        found = compare_metadata(MigrationContext.configure(db, opts=options), METADATA)
    assert found == []


def test_a_newer_book_is_refused_and_left_alone(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with BakeBook(address, folder=tmp_path) as book:
        book.start(dough)
        with book._writing() as db:
            db.execute(text("UPDATE alembic_version SET version_num = '9001'"))
    with pytest.raises(BookError, match=r"newer bakelab.*'9001'.*update bakelab"):
        BakeBook(address, folder=tmp_path)
    assert not (tmp_path / "book-backups").exists()


@pytest.fixture
def next_bakelab(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A bakelab with one more revision than this one."""
    folder = tmp_path / "migrations"
    shutil.copytree(Path(upgrading.__file__).with_name("migrations"), folder)
    (folder / "versions" / "r9001_next.py").write_text(
        "import sqlalchemy as sa\nfrom alembic import op\n"
        f"revision, down_revision = '9001', {HEAD!r}\n"
        "branch_labels = depends_on = None\n"
        "def upgrade():\n"
        "    op.add_column('bakes', sa.Column('weather', sa.Text))\n"
        "    op.execute(\"UPDATE bakes SET weather = 'dry'\")\n"
        "    if MISSHAP: raise RuntimeError('power cut')\n".replace("MISSHAP", "False")
    )
    usual = upgrading.alembic_config

    def config(db: Any = None) -> Any:
        made = usual(db)
        made.set_main_option("script_location", str(folder))
        return made

    monkeypatch.setattr(upgrading, "alembic_config", config)
    monkeypatch.setattr(upgrading, "HEAD", "9001")
    yield
    monkeypatch.undo()


def test_the_next_bakelab_upgrades_and_this_one_then_refuses(
    address: str,
    tmp_path: Path,
    dough: Formula,
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
) -> None:
    with BakeBook(address, folder=tmp_path) as book:
        bake_id = book.start(dough, dough_c=25)
    request.getfixturevalue("next_bakelab")
    with BakeBook(address, folder=tmp_path) as book:
        assert "was upgraded; as it was before: " in book.remarks[0]
        assert book.bake(bake_id).facts["dough_c"] == 25.0
        (backup,) = book.backups_folder.glob("*-before-9001-*")
        assert stored_revision(backup) == HEAD
    monkeypatch.undo()
    with pytest.raises(BookError, match="newer bakelab"):
        BakeBook(address, folder=tmp_path)
    with BakeBook(backup) as book:  # as it was before
        assert book.bake(bake_id).facts["dough_c"] == 25.0


def test_an_upgrade_that_fails_changes_nothing(
    address: str, tmp_path: Path, dough: Formula, request: pytest.FixtureRequest
) -> None:
    with BakeBook(address, folder=tmp_path) as book:
        bake_id = book.start(dough, dough_c=25)
    request.getfixturevalue("next_bakelab")
    script = tmp_path / "migrations" / "versions" / "r9001_next.py"
    script.write_text(script.read_text().replace("if False", "if True"))
    with pytest.raises(RuntimeError, match="power cut"):
        BakeBook(address, folder=tmp_path)
    engine = create_engine(locate(address, tmp_path).url)
    with engine.connect() as db:
        assert db.execute(text("SELECT version_num FROM alembic_version")).all() == [
            (HEAD,)
        ]
        assert db.execute(text("SELECT dough_c FROM bakes")).all() == [(25.0,)]
    engine.dispose()
    script.write_text(script.read_text().replace("if True", "if False"))
    with BakeBook(address, folder=tmp_path) as book:
        assert book.bake(bake_id).facts["dough_c"] == 25.0
