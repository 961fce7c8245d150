"""Checking 1 000, 10 000 or 100 000 generated recipes: speed and memory, on demand.

Run ``python -m tests.benchmarks.measure_collection 100000``. It writes the recipes to
a folder of their own and removes it; results go to JSON lines and to Parquet.
"""

import argparse
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import psutil

from bakelab.checking import FileResult, check_many, to_parquet
from tests.benchmarks.test_check_speed import generated

__all__ = ["main", "measure"]

_FOLDER = 1000  # recipes in one folder


def main() -> None:
    """Measure one size and print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int, nargs="?", default=1000)
    parser.add_argument("--workers", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="bakelab-measure-") as folder:
        for line in measure(Path(folder), options.count, options.workers):
            print(line, flush=True)


def measure(folder: Path, count: int, workers: int) -> Iterator[str]:
    """The figures of one run, as they come: speed and memory at each tenth."""
    shelf = folder / "recipes"
    for number, text in enumerate(generated(count)):
        place = shelf / f"{number // _FOLDER:04}"
        place.mkdir(parents=True, exist_ok=True)
        (place / f"{number:06}.md").write_text(text, encoding="utf-8")
    own = psutil.Process()
    begun, used = time.perf_counter(), time.process_time()
    marks: list[str] = []
    findings = to_parquet(
        _watched(
            check_many([shelf], results=folder / "kept.jsonl", workers=workers),
            marks, own, max(1, count // 10),
        ),
        folder / "findings.parquet",
    )  # fmt: skip
    wall, processor = time.perf_counter() - begun, time.process_time() - used
    yield from marks
    peak = own.memory_full_info().rss / 2**20
    yield (
        f"{count} recipes, {workers} process(es): {wall:.1f} s, {count / wall:.0f} a "
        f"second; {processor:.1f} s of this processor, {count / processor:.0f} a "
        f"second of it; {findings} findings; {peak:.0f} MiB at the end"
    )


def _watched(
    results: Iterator[FileResult], marks: list[str], own: psutil.Process, every: int
) -> Iterator[FileResult]:
    for number, result in enumerate(results, 1):
        if number % every == 0:
            marks.append(f"{number:>7}: {own.memory_info().rss / 2**20:.0f} MiB")
        yield result


if __name__ == "__main__":
    main()
