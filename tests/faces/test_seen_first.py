"""Panels whose controls are seen before their first answer is worked out."""

import sqlite3
from contextlib import closing
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import ipywidgets as widgets
import pytest

from bakelab.bakebook import BakeBook
from bakelab.panels import TastePanel
from bakelab.panels.bench.books import DEMO_NAME, demo_book_in_time
from bakelab.panels.seen_first import SeenFirst


class Counting(SeenFirst):
    """Notes what is done in which order."""

    def __init__(self, done: list[str]) -> None:
        self.view, self.told = widgets.HTML(), widgets.HTML()
        self.answer = ""
        self._done = done
        self._see_first(self.work_out, self.told)

    def work_out(self) -> None:
        self._done.append("answer")
        self.told.value = ""
        self.answer = "42 g"


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    seen: list[Any] = []
    monkeypatch.setattr("IPython.display.display", seen.append)
    return seen


def test_the_view_is_shown_before_the_answer_is_worked_out(shown: list[Any]) -> None:
    panel = Counting(shown)
    assert shown == []
    panel._ipython_display_()
    assert shown == [panel.view, "answer"]
    panel._ipython_display_()
    assert shown == [panel.view, "answer", panel.view]


def test_whoever_asks_for_a_part_gets_it_with_the_answer() -> None:
    done: list[str] = []
    panel = Counting(done)
    assert panel.answer == "42 g"
    assert (panel.answer, done) == ("42 g", ["answer"])
    with pytest.raises(AttributeError, match="'Counting' object has no attribute 'x'"):
        panel.x  # noqa: B018


class Stopped(Counting):
    """The kernel is interrupted while the first answer is worked out."""

    def work_out(self) -> None:
        raise KeyboardInterrupt


def test_a_first_answer_that_is_interrupted_is_not_said_to_be_on_its_way() -> None:
    panel = Stopped([])
    told = vars(panel)["_held"]["told"]
    assert "Working out the first answer" in told.value
    with pytest.raises(KeyboardInterrupt):
        panel.answer  # noqa: B018
    assert "not finished; run the cell again" in told.value
    assert panel.told is told


def test_parts_are_listed_and_can_be_set_before_the_first_answer() -> None:
    done: list[str] = []
    panel = Counting(done)
    panel.view = "another"
    assert {"answer", "view", "work_out"} <= set(dir(panel))
    assert done == []
    assert (panel.answer, panel.view) == ("42 g", "another")


@pytest.mark.usefixtures("shown")
def test_a_panel_of_tasting_shows_its_plan_after_its_controls(tmp_path: Path) -> None:
    with BakeBook(tmp_path / "book.sqlite") as book:
        panel = TastePanel(book)
        before = vars(panel)["_held"]["outputs"]
        assert "Working out the first answer" in before["alert"].value
        assert before["chart"].value == ""
        panel._ipython_display_()
        assert panel.outputs["alert"].value == ""
        assert "<svg" in panel.outputs["chart"].value


def test_a_lab_that_starts_makes_the_demo_book_where_a_panel_would_open_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BAKELAB_BOOK", str(tmp_path / "kitchen" / "bakebook.sqlite"))
    demo = tmp_path / "kitchen" / DEMO_NAME
    lab = tmp_path / "lab"
    lab.mkdir()
    (lab / "bakebook.sqlite").touch()
    demo_book_in_time(lab)
    assert not demo.exists()  # the lab has a book of its own
    demo_book_in_time(tmp_path)
    with closing(sqlite3.connect(demo)) as db:  # worked out, before anybody asks
        assert db.execute("SELECT count(*) > 50 FROM bakes").fetchone() == (1,)
        waits = "SELECT count(*) FROM bakes WHERE computed IS NULL"
        assert db.execute(waits).fetchone() == (0,)


def test_what_hinders_the_demo_book_stops_no_lab(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "kitchen").touch()  # a file where the folder should be
    monkeypatch.chdir(tmp_path)
    for address in (tmp_path / "kitchen" / "bakebook.sqlite", tmp_path / ("x" * 300)):
        monkeypatch.setenv("BAKELAB_BOOK", str(address))
        demo_book_in_time(tmp_path)
    assert list(tmp_path.iterdir()) == [tmp_path / "kitchen"]


@pytest.mark.parametrize(
    "name", ["bakelab", "bakelab.bakebook", "bakelab.charts", "bakelab.panels"]
)
def test_a_package_lists_and_has_what_it_imports_later(name: str) -> None:
    package = import_module(name)
    assert set(package.__all__) <= set(dir(package))
    for part in iter_modules(package.__path__):  # an imported module takes its name
        if not part.name.startswith("_"):
            import_module(f"{name}.{part.name}")
    for said in package.__all__:
        assert getattr(getattr(package, said), "__name__", said) == said
