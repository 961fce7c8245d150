"""What is kept of each checked file: JSON lines that survive a stop, and tables."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bakelab.checking.model import Finding
from bakelab.errors import ReadError

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["FileResult", "keep", "mend", "read_results", "results_frame", "to_parquet"]

COLUMNS = ("file", "recipe", "line_no", "kind", "identifier", "message", "confidence",
           "accepted")  # fmt: skip
_BATCH = 1000  # files whose findings are written to a Parquet file at a time


@dataclass(frozen=True)
class FileResult:
    """What was found in one file, without its texts: small enough to send.

    `recipes` has for each recipe its name, title, counts and findings as
    plain data; `error` says why a file could not be read.
    """

    file: str
    recipes: tuple[dict[str, Any], ...] = ()
    error: str = ""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The findings of all its recipes."""
        return tuple(Finding.from_dict(f) for r in self.recipes for f in r["findings"])


def keep(kept: Path, result: FileResult) -> None:
    """Add one result to a file of JSON lines."""
    line = json.dumps(
        {"file": result.file, "recipes": result.recipes, "error": result.error},
        ensure_ascii=False,
    )
    try:
        with kept.open("a", encoding="utf-8") as out:
            out.write(f"{line}\n")
    except OSError as error:
        raise ReadError(f"cannot write {kept}: {error.strerror}") from None


def mend(kept: Path) -> None:
    """Cut a last line that a kill left unfinished."""
    with kept.open("rb+") as data:
        size = data.seek(0, 2)
        end, block = size, 1 << 16
        while end:
            start = max(0, end - block)
            data.seek(start)
            last = data.read(end - start).rfind(b"\n")
            if last >= 0:
                data.truncate(start + last + 1)
                return
            end = start
        data.truncate(0)


def read_results(path: str | Path) -> Iterator[FileResult]:
    """The results of a file of JSON lines that `check_many` wrote.

    Raises
    ------
    ReadError
        If the file is missing or holds something else.
    """
    kept = Path(path)
    try:
        with kept.open(encoding="utf-8") as lines:
            for number, line in enumerate(lines, 1):
                yield _parsed(line, kept, number)
    except (OSError, UnicodeDecodeError) as error:
        why = getattr(error, "strerror", None) or "it is no text"
        raise ReadError(f"cannot read {kept}: {why}") from None


def _parsed(line: str, kept: Path, number: int) -> FileResult:
    try:
        data = json.loads(line)
        recipes = tuple(_as_read(r) for r in data["recipes"])
        return FileResult(data["file"], recipes, data["error"])
    except (ValueError, KeyError, TypeError):
        raise ReadError(
            f"{kept}, line {number}, is no result of a check; give a file of its own"
        ) from None


def _as_read(recipe: dict[str, Any]) -> dict[str, Any]:
    """Lists of JSON as the tuples that were written."""
    for found in recipe["findings"]:
        found["quotes"] = tuple(found["quotes"])
        found["working"] = tuple(found["working"])
    return recipe


def results_frame(results: Iterable[FileResult]) -> "pd.DataFrame":
    """One row per finding: file, recipe, line, kind, identifier, message."""
    import pandas as pd

    return pd.DataFrame(list(_rows(results)), columns=list(COLUMNS))


def _rows(results: Iterable[FileResult]) -> Iterator[tuple[Any, ...]]:
    for result in results:
        for one in result.recipes:
            for f in one["findings"]:
                line_no = f["quotes"][0]["line_no"] if f["quotes"] else 0
                yield (result.file, one["title"], line_no, f["kind"],
                       f["identifier"], f["message"], f["confidence"],
                       f["accepted"])  # fmt: skip


def to_parquet(results: Iterable[FileResult], path: str | Path) -> int:
    """Write the table of findings as Parquet, as the results come; needs pyarrow.

    Parameters
    ----------
    results : iterable of FileResult
        From `check_many` or `read_results`; not kept in memory.
    path : str or Path
        The file; a query engine such as DuckDB reads it by its name.

    Returns
    -------
    int
        The number of findings written.

    Raises
    ------
    ReadError
        If pyarrow is not installed, or the file cannot be written.
    """
    try:
        pa = import_module("pyarrow")
        pq = import_module("pyarrow.parquet")
    except ImportError:
        raise ReadError(
            "Parquet needs the package pyarrow; install it, or keep the JSON lines"
        ) from None
    number = pa.int64()
    fields = [(c, number if c == "line_no" else pa.string()) for c in COLUMNS]
    schema, count = pa.schema(fields), 0
    try:
        with pq.ParquetWriter(path, schema) as writer:
            coming = iter(results)
            while batch := list(islice(coming, _BATCH)):
                rows = [dict(zip(COLUMNS, row, strict=True)) for row in _rows(batch)]
                if rows:
                    writer.write_table(pa.Table.from_pylist(rows, schema))
                count += len(rows)
    except OSError as error:
        raise ReadError(f"cannot write {path}: {error.strerror or error}") from None
    return count
