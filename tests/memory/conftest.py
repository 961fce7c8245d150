"""A bake book on each kind of place; with `CI=true` a server has to be there."""

import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from bakelab.bakebook import BakeBook
from bakelab.formula import Formula

SERVER = os.environ.get("BAKELAB_TEST_POSTGRES", "")
PLACES = ["file", "server"] if SERVER or os.environ.get("CI") == "true" else ["file"]


@pytest.fixture
def dough() -> Formula:
    """An invented dough."""
    return Formula.from_pairs(
        [
            ("wheat_bread", 500),
            ("water", 340),
            ("salt_table", 10),
            ("yeast_instant", 5),
        ],
        title="Weekday loaf",
    )


@pytest.fixture(params=PLACES)
def address(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a book that is not there yet."""
    if request.param == "file":
        yield str(tmp_path / "book.sqlite")
        return
    if not SERVER:
        pytest.fail("BAKELAB_TEST_POSTGRES is not set, and CI needs a server")
    schema = f"test_{uuid.uuid4().hex}"
    engine = create_engine(SERVER)
    with engine.begin() as db:
        db.execute(text(f"CREATE SCHEMA {schema}"))
    try:
        yield f"{SERVER}?options=-csearch_path%3D{schema}"
    finally:
        with engine.begin() as db:
            db.execute(text(f"DROP SCHEMA {schema} CASCADE"))
        engine.dispose()


@pytest.fixture
def book(address: str, tmp_path: Path) -> Iterator[BakeBook]:
    """A new book on each kind of place."""
    with BakeBook(address, folder=tmp_path, who="Anna") as opened:
        yield opened


@pytest.fixture
def file_book(tmp_path: Path) -> Iterator[BakeBook]:
    """A new book in a file."""
    with BakeBook(tmp_path / "book.sqlite", who="Anna") as opened:
        yield opened
