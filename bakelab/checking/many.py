"""A whole collection: many files, any executor, results that survive a stop."""

import json
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bakelab.checking.check import check_file
from bakelab.checking.model import Finding
from bakelab.checking.source import files_of
from bakelab.errors import BakelabError, ReadError

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "NOT_CHECKED",
    "FileResult",
    "check_many",
    "read_results",
    "results_frame",
    "to_parquet",
]

#: Said of a file on which the check itself fails; a collection goes on.
NOT_CHECKED = "not checked, the check itself failed ({}); please report this text"
_CHUNK = 16  # files of one task
_AHEAD = 8  # tasks that wait at a time: memory stays flat


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


def check_many(
    paths: Iterable[str | Path],
    executor: Executor | None = None,
    *,
    results: str | Path | None = None,
    market: str | None = None,
    style: str | None = None,
    progress: Callable[[int], None] | None = None,
) -> Generator[FileResult, None, None]:
    """Check every file of many paths, results as they come, in order.

    Parameters
    ----------
    paths : iterable of str or Path
        Files and folders.
    executor : concurrent.futures.Executor, optional
        Any executor: a process pool, a thread pool, or that of a cluster.
        Without one the files are checked one by one in this process.
    results : str or Path, optional
        A file of JSON lines. Each result is added to it as it comes; files
        that it already holds are not checked again, so a run that was
        stopped goes on where it was.
    market, style : str, optional
        As for `check`.
    progress : callable, optional
        Called with the number of files done.

    Yields
    ------
    FileResult
        Of each file, those kept in `results` first. At most a few hundred
        files wait at a time, so memory does not grow with the collection.

    Raises
    ------
    ReadError
        If a path does not exist or `results` cannot be read or written.
    """
    kept = None if results is None else Path(results)
    done: set[str] = set()
    if kept is not None and kept.exists():
        _mend(kept)
        for result in read_results(kept):
            done.add(result.file)
            yield result
    wanted = (str(p) for p in files_of(paths))
    todo = (name for name in wanted if name not in done)
    count = len(done)
    for result in _results(todo, executor, market, style):
        if kept is not None:
            _append(kept, result)
        count += 1
        if progress is not None:
            progress(count)
        yield result


def _results(
    names: Iterator[str], executor: Executor | None, market: str | None,
    style: str | None,
) -> Iterator[FileResult]:  # fmt: skip
    if executor is None:
        for name in names:
            yield _one(name, market, style)
        return
    waiting: deque[Future[list[FileResult]]] = deque()
    try:
        for chunk in _chunks(names):
            waiting.append(executor.submit(_some, chunk, market, style))
            if len(waiting) >= _AHEAD:
                yield from waiting.popleft().result()
        while waiting:
            yield from waiting.popleft().result()
    finally:
        for future in waiting:
            future.cancel()


def _chunks(names: Iterator[str]) -> Iterator[list[str]]:
    while chunk := list(islice(names, _CHUNK)):
        yield chunk


def _some(
    names: Sequence[str], market: str | None, style: str | None
) -> list[FileResult]:
    return [_one(name, market, style) for name in names]


def _one(name: str, market: str | None, style: str | None) -> FileResult:
    try:
        reports = check_file(name, market=market, style=style)
    except BakelabError as error:
        return FileResult(name, (), str(error))
    except (ArithmeticError, LookupError, TypeError, ValueError) as error:
        return FileResult(name, (), NOT_CHECKED.format(type(error).__name__))
    return FileResult(name, tuple(r.to_dict() for r in reports))


def _append(kept: Path, result: FileResult) -> None:
    line = json.dumps(
        {"file": result.file, "recipes": result.recipes, "error": result.error},
        ensure_ascii=False,
    )
    try:
        with kept.open("a", encoding="utf-8") as out:
            out.write(f"{line}\n")
    except OSError as error:
        raise ReadError(f"cannot write {kept}: {error.strerror}") from None


def _mend(kept: Path) -> None:
    """Cut a last line that a kill left unfinished."""
    with kept.open("rb+") as data:
        size = data.seek(0, 2)
        if not size:
            return
        data.seek(size - 1)
        if data.read(1) == b"\n":
            return
        data.seek(0)
        whole = data.read()
        data.truncate(whole.rfind(b"\n") + 1)


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
    except OSError as error:
        raise ReadError(f"cannot read {kept}: {error.strerror}") from None


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

    rows = [
        (r.file, one["title"], (f["quotes"] or ({"line_no": 0},))[0]["line_no"],
         f["kind"], f["identifier"], f["message"], f["confidence"], f["accepted"])
        for r in results
        for one in r.recipes
        for f in one["findings"]
    ]  # fmt: skip
    columns = ["file", "recipe", "line_no", "kind", "identifier", "message",
               "confidence", "accepted"]  # fmt: skip
    return pd.DataFrame(rows, columns=columns)


def to_parquet(results: Iterable[FileResult], path: str | Path) -> int:
    """Write the table of findings as Parquet; needs pyarrow.

    Returns
    -------
    int
        The number of findings written.

    Raises
    ------
    ReadError
        If pyarrow is not installed.
    """
    try:
        pa = import_module("pyarrow")
        pq = import_module("pyarrow.parquet")
    except ImportError:
        raise ReadError(
            "Parquet needs the package pyarrow; install it, or keep the JSON lines"
        ) from None
    frame = results_frame(results)
    pq.write_table(pa.Table.from_pandas(frame), path)
    return len(frame)
