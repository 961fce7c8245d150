"""`kill -9` at random moments: nothing acknowledged is lost, the book is intact."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from bakelab.bakebook import BakeBook

RUNS = 200
ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def writers(folder: Path) -> Iterator["subprocess.Popen[str]"]:
    """The process that forks writers, one after the other."""
    with subprocess.Popen(
        [sys.executable, "-m", "tests.memory.writer"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1, cwd=ROOT,
        env={**os.environ, "FOLDER": str(folder), "PYTHONPATH": str(ROOT)},
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        yield process
        assert process.stdin is not None
        process.stdin.close()


def killed_run(
    process: "subprocess.Popen[str]", path: Path, wait_s: float, *, opening: bool
) -> list[str]:
    """What a writer acknowledged before it was killed.

    It is killed a while after it began (it may still be opening the book), or a
    while after its first entry was acknowledged.
    """
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(f"1000000 run {path}\n")
    said = [process.stdout.readline()]
    while not said[-1].startswith("writing"):
        said.append(process.stdout.readline())
    child = int(said.pop().split()[1])
    if not opening:
        said.append(process.stdout.readline())
    time.sleep(wait_s)
    os.kill(child, signal.SIGKILL)
    while not said or not said[-1].startswith("ended"):
        said.append(process.stdout.readline())
    assert said.pop().split()[1] == str(-signal.SIGKILL)
    return [line.strip() for line in said]


def lost(path: Path, said: list[str]) -> list[str]:
    """What was acknowledged and is not in the file, seen by SQLite alone."""
    if not said:
        return []
    missing = []
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        for line in said:
            kind, entry, *more = line.split()
            query = {
                "bake": "SELECT 1 FROM bakes WHERE id = ?",
                "note": "SELECT 1 FROM notes WHERE id = ?",
                "mark": "SELECT 1 FROM marks WHERE id = ?",
                "version": "SELECT version >= ? FROM bakes WHERE id = ?",
                "readings": "SELECT count(*) = 5 FROM readings WHERE minute >= ? "
                "AND minute < ? AND bake_id = ?",
            }[kind]
            values: list[object] = [int(word) for word in more]
            if kind == "readings":
                values = [int(more[0]), int(more[0]) + 1]
            found = db.execute(query, [*values, entry]).fetchone()
            if found != (1,):
                missing.append(line)
    return missing


def half_entries(path: Path) -> list[tuple[object, ...]]:
    """Corrections without their history, readings of a paste without the others."""
    with closing(sqlite3.connect(path)) as db:
        versions = db.execute(
            "SELECT b.id FROM bakes b WHERE b.version - 1 != (SELECT "
            "count(DISTINCT version) FROM history WHERE subject = b.id)"
        ).fetchall()
        readings = db.execute(
            "SELECT bake_id FROM readings GROUP BY bake_id HAVING count(*) % 5"
        ).fetchall()
    return versions + readings


def test_200_killed_writers_lose_nothing(tmp_path: Path) -> None:
    chance = random.Random(4)
    acknowledged: dict[Path, list[str]] = {}
    with writers(tmp_path) as process:
        for run in range(RUNS):
            path = tmp_path / f"book-{run // 20}.sqlite"  # the first run makes it
            wait_s = chance.uniform(0, 0.2 if run % 20 == 0 else 0.03)
            said = killed_run(process, path, wait_s, opening=run % 4 == 0)
            assert lost(path, said) == []
            acknowledged.setdefault(path, []).extend(said)
    assert sum(map(len, acknowledged.values())) > RUNS * 3 // 4
    for path, said in acknowledged.items():
        with BakeBook(path) as book:
            assert book.examine() == ()
        assert lost(path, said) == []
        assert half_entries(path) == []
