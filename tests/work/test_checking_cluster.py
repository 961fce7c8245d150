"""A collection on a real cluster of several processes, kills, and query engines."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import duckdb
import pytest
from distributed import Client, LocalCluster

from bakelab.checking import (
    check_many,
    files_of,
    read_results,
    results_frame,
    to_parquet,
)

LOAF = "Loaf {0}\n\n- 400 g bread flour\n- {1} g ({2} cups) water\n- 8 g salt\n"
CLASHES = 12


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """60 recipes, of which every fifth has water whose cups are not its grams."""
    folder = tmp_path_factory.mktemp("shelf")
    for number in range(60):
        cups = 3 if number % 5 == 0 else 1.25
        text = LOAF.format(number, 296, cups)
        (folder / f"{number:02}.md").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def client() -> Iterator[Client]:
    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        Client(cluster) as client,
    ):
        yield client


@pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::ResourceWarning")
def test_a_dask_cluster_of_several_processes(client: Client, shelf: Path) -> None:
    processes = client.run(os.getpid)
    assert len(set(processes.values()) - {os.getpid()}) == 2
    results = list(check_many([shelf], client.get_executor()))
    assert [r.file for r in results] == [str(p) for p in files_of([shelf])]
    assert (results_frame(results)["kind"] == "conflict").sum() == CLASHES
    assert results == list(check_many([shelf], workers=1))


@pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::ResourceWarning")
def test_results_of_a_cluster_are_read_by_a_query_engine(
    client: Client, shelf: Path, tmp_path: Path
) -> None:
    target = tmp_path / "findings.parquet"
    written = to_parquet(check_many([shelf], client.get_executor()), target)
    found = _asked(
        f"SELECT identifier, count(*) AS many FROM '{target}' "
        "WHERE kind = 'conflict' GROUP BY identifier"
    )
    assert found == [("weight-against-volume", CLASHES)]
    assert _asked(f"SELECT count(*) FROM '{target}'") == [(written,)]


def test_the_json_lines_are_read_by_a_query_engine(shelf: Path, tmp_path: Path) -> None:
    kept = tmp_path / "results.jsonl"
    list(check_many([shelf], results=kept, workers=1))
    query = f"SELECT count(*) FROM read_json('{kept}', format='newline_delimited')"
    assert _asked(query) == [(60,)]


def _asked(query: str) -> list[tuple[object, ...]]:
    with duckdb.connect() as database:
        return database.execute(query).fetchall()


SCRIPT = """
import sys, time
from bakelab.checking import check_many
for number, _ in enumerate(check_many([sys.argv[1]], results=sys.argv[2], workers=1)):
    print(number, flush=True)
    time.sleep(0.02)
"""


def test_a_killed_run_goes_on_where_it_was(shelf: Path, tmp_path: Path) -> None:
    """SIGKILL in the middle: nothing is lost, nothing is checked twice."""
    kept = tmp_path / "results.jsonl"
    run = subprocess.Popen(
        [sys.executable, "-c", SCRIPT, str(shelf), str(kept)], stdout=subprocess.PIPE
    )
    assert run.stdout is not None
    for _ in range(10):
        run.stdout.readline()
    run.send_signal(signal.SIGKILL)
    run.wait(timeout=20)
    run.stdout.close()
    before = kept.read_text(encoding="utf-8").splitlines()
    assert 10 <= len(before) < 60
    seen: list[int] = []
    results = list(check_many([shelf], results=kept, workers=1, progress=seen.append))
    assert [r.file for r in results] == [str(p) for p in files_of([shelf])]
    assert seen[-1] == 60
    assert len(seen) <= 60 - len(before) + 1
    assert len(list(read_results(kept))) == 60


def test_the_processes_of_this_machine_are_the_usual_executor(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(40):
        text = LOAF.format(number, 296, 1.25)
        (tmp_path / f"{number:02}.md").write_text(text, encoding="utf-8")
    monkeypatch.setattr("bakelab.checking.many._FEW", 20)
    results = list(check_many([tmp_path], workers=2))
    assert len(results) == 40
    assert not any(r.error for r in results)
    assert json.dumps([r.recipes for r in results])
