"""Several people in one book: nothing lost, and the later one is told."""

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from bakelab.bakebook import BakeBook, ConflictError
from bakelab.formula import Formula

ROOT = Path(__file__).resolve().parents[2]


def test_two_writers_of_1000_entries_lose_none(address: str, tmp_path: Path) -> None:
    """Both begin at once, so that both make the book's tables as well."""
    processes = [
        subprocess.Popen(
            [sys.executable, "-m", "tests.memory.writer"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT,
            env={**os.environ, "FOLDER": str(tmp_path), "PYTHONPATH": str(ROOT)},
        )
        for _ in range(2)
    ]  # fmt: skip
    for process in processes:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    said: dict[str, list[str]] = {}
    listeners = [
        threading.Thread(target=_listen, args=(process, who, address, said))
        for process, who in zip(processes, ("Anna", "Bo"), strict=True)
    ]
    for listener in listeners:
        listener.start()
    for listener in listeners:
        listener.join()
    assert {who: lines[-1] for who, lines in said.items()} == {
        "Anna": "ended 0", "Bo": "ended 0",
    }  # fmt: skip
    with BakeBook(address, folder=tmp_path) as book:
        assert len(book.formulas()) == 1
        for who in ("Anna", "Bo"):
            (bake_id,) = book.bakes(baker=who)["id"]
            bake = book.bake(bake_id)
            # 1000 entries in turns of four: note, mark, five readings, correction.
            assert len(bake.notes) == len(bake.marks) == 250
            assert len(bake.readings) == 5 * 250
            assert bake.version == 251
            acknowledged = {line.split()[1] for line in said[who] if "note" in line}
            assert {note.id for note in bake.notes} == acknowledged
        assert book.examine() == ()


def _listen(
    process: "subprocess.Popen[str]", who: str, address: str, said: dict[str, list[str]]
) -> None:
    out, _ = process.communicate(f"1000 {who} {address}\n")
    said[who] = out.splitlines()


def test_the_later_writer_is_told(address: str, tmp_path: Path, dough: Formula) -> None:
    with (
        BakeBook(address, folder=tmp_path, who="Anna") as first,
        BakeBook(address, folder=tmp_path, who="Bo") as second,
    ):
        bake_id = first.start(dough, dough_c=25)
        seen = second.bake(bake_id).version
        first.write(bake_id, version=seen, dough_c=26, folds=3)
        with pytest.raises(ConflictError, match=r"Anna.*dough_c is now 26") as caught:
            second.write(bake_id, version=seen, dough_c=24)
        assert caught.value.version == 2
        assert dict(caught.value.others) == {"dough_c": 26.0, "folds": 3.0}
        assert second.bake(bake_id).facts["dough_c"] == 26.0
        assert second.write(bake_id, version=2, dough_c=24) == 3
        assert list(first.past(bake_id)["who"]) == ["Anna", "Anna", "Bo"]


def test_a_note_edited_twice_is_told(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with (
        BakeBook(address, folder=tmp_path, who="Anna") as first,
        BakeBook(address, folder=tmp_path, who="Bo") as second,
    ):
        bake_id = first.start(dough)
        note_id = first.note(bake_id, "pale")
        second.write(note_id, version=1, text="rather pale")
        with pytest.raises(ConflictError, match="text is now rather pale"):
            first.write(note_id, version=1, text="very pale")


def test_without_a_version_the_last_one_counts_and_both_are_kept(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with (
        BakeBook(address, folder=tmp_path, who="Anna") as first,
        BakeBook(address, folder=tmp_path, who="Bo") as second,
    ):
        bake_id = first.start(dough)
        first.write(bake_id, dough_c=26)
        second.write(bake_id, dough_c=24)
        assert first.bake(bake_id).facts["dough_c"] == 24.0
        assert list(first.past(bake_id)["new"]) == [26.0, 24.0]


def test_a_conflict_in_many_threads_has_one_winner(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with BakeBook(address, folder=tmp_path) as book:
        bake_id = book.start(dough)
        told: list[float] = []

        def correct(value: float) -> None:
            try:
                book.write(bake_id, version=1, dough_c=value)
            except ConflictError:
                told.append(value)

        threads = [threading.Thread(target=correct, args=(20.0 + i,)) for i in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(told) == 7
        assert book.bake(bake_id).version == 2
        assert book.bake(bake_id).facts["dough_c"] not in told


def test_two_notebooks_see_each_other(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with (
        BakeBook(address, folder=tmp_path) as first,
        BakeBook(address, folder=tmp_path) as second,
    ):
        bake_id = first.start(dough)
        first.mark(bake_id, "mixed")
        second.mark(bake_id, "folded")
        first.tag(bake_id, "house")
        second.tag(bake_id, "house")
        assert [m.what for m in first.bake(bake_id).marks] == ["mixed", "folded"]
        assert second.bake(bake_id).tags == ("house",)
