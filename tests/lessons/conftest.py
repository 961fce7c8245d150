"""A class folder for the tests of sheets and marks."""

from pathlib import Path

import pytest

from bakelab.lessons.classroom import class_set, read_students, write_class
from tests.lessons.class_folders import names_file


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class folder with names that try everything; no test writes into it."""
    place = tmp_path_factory.mktemp("class")
    students = read_students(names_file(place), seed=7)
    write_class(class_set(students, seed=7, items=6), place / "set")
    return place / "set"


@pytest.fixture
def returned(tmp_path: Path) -> Path:
    """An empty folder for what comes back."""
    return tmp_path
