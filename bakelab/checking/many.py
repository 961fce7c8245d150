"""A whole collection: many files, any executor, results that survive a stop."""

import os
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from itertools import chain, islice
from pathlib import Path

from bakelab.checking.check import check_file
from bakelab.checking.results import (
    FileResult,
    keep,
    mend,
    read_results,
    results_frame,
    to_parquet,
)
from bakelab.checking.source import files_of
from bakelab.errors import BakelabError

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
_AHEAD = 32  # tasks that wait at a time, where an executor does not tell its workers
_FEW = 500  # files for which starting processes does not pay


def check_many(
    paths: Iterable[str | Path],
    executor: Executor | None = None,
    *,
    results: str | Path | None = None,
    market: str | None = None,
    style: str | None = None,
    progress: Callable[[int], None] | None = None,
    workers: int | None = None,
) -> Generator[FileResult, None, None]:
    """Check every file of many paths, results as they come, in order.

    Parameters
    ----------
    paths : iterable of str or Path
        Files and folders.
    executor : concurrent.futures.Executor, optional
        Any executor: a process pool, a thread pool, or that of a cluster,
        such as ``Client.get_executor()`` of Dask. Without one, more than 500
        files are checked by processes of this machine, fewer in this one.
    results : str or Path, optional
        A file of JSON lines. Each result is added to it as it comes; files
        that it already holds are not checked again, so a run that was
        stopped or killed goes on where it was.
    market, style : str, optional
        As for `check`.
    progress : callable, optional
        Called with the number of files done.
    workers : int, optional
        Processes to start where no executor is given; 1 checks all files in
        this one. By default as many as there are processors.

    Yields
    ------
    FileResult
        Of each file, those kept in `results` first. A few hundred files wait
        at a time, so memory does not grow with the collection.

    Raises
    ------
    ReadError
        If a path does not exist or `results` cannot be read or written.
    """
    kept = None if results is None else Path(results)
    done: set[str] = set()
    if kept is not None and kept.exists():
        mend(kept)
        for result in read_results(kept):
            done.add(result.file)
            yield result
    todo = (name for name in map(str, files_of(paths)) if name not in done)
    count = len(done)
    for result in _results(todo, executor, workers, market, style):
        if kept is not None:
            keep(kept, result)
        count += 1
        if progress is not None:
            progress(count)
        yield result


def _results(
    names: Iterator[str], executor: Executor | None, workers: int | None,
    market: str | None, style: str | None,
) -> Iterator[FileResult]:  # fmt: skip
    if executor is not None:
        yield from _spread(names, executor, market, style)
        return
    first = list(islice(names, _FEW + 1))
    count = (os.cpu_count() or 1) if workers is None else workers
    if len(first) <= _FEW or count < 2:
        yield from (_one(name, market, style) for name in chain(first, names))
        return
    with ProcessPoolExecutor(count) as pool:
        yield from _spread(chain(first, names), pool, market, style)


def _spread(
    names: Iterator[str], executor: Executor, market: str | None, style: str | None
) -> Iterator[FileResult]:
    """The results of an executor in order, with a bounded number of tasks ahead."""
    told = getattr(executor, "_max_workers", None)
    ahead = max(8, 2 * told) if isinstance(told, int) else _AHEAD
    waiting: deque[Future[list[FileResult]]] = deque()
    try:
        for chunk in _chunks(names):
            waiting.append(executor.submit(_some, chunk, market, style))
            if len(waiting) >= ahead:
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
