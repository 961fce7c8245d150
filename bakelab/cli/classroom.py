"""`bakelab class` and `bakelab mark`: a class set, and what came back of it."""

import argparse
import json
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from bakelab.cli.exit_codes import FOUND, GOOD
from bakelab.cli.numbers import a_whole_number

__all__ = ["add_class_arguments", "add_mark_arguments", "make_class", "mark_folder"]

_PAPERS = ("a4", "us-letter")  # as in bakelab.sheets, which is slow to import
_FEW = 8  # sheets that are made before a bar is worth it


def add_class_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of `bakelab class`."""
    parser.add_argument(
        "--seed",
        type=a_whole_number,
        required=True,
        help="a whole number; the same one gives the same sheets again",
    )
    parser.add_argument(
        "--students", required=True, help="CSV file, one name on a line"
    )
    parser.add_argument(
        "--lesson", type=a_whole_number, help="1 to 6; all of them by default"
    )
    parser.add_argument(
        "--items", type=a_whole_number, help="exercises on a sheet, 1 to 30"
    )
    parser.add_argument("--out", default="class", help="new folder for the files")
    parser.add_argument(
        "--paper", choices=_PAPERS, default="a4", help="size of the paper"
    )


def add_mark_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of `bakelab mark`."""
    parser.add_argument("folder", help="folder of returned notebooks")
    parser.add_argument(
        "--class", dest="class_file", help="folder that bakelab class made"
    )
    parser.add_argument(
        "--out", help="where the folder marks is made; in the folder itself if left out"
    )
    parser.add_argument("--json", action="store_true", help="print JSON for machines")


def make_class(options: argparse.Namespace) -> int:
    """Make sheets, key and list; nothing is overwritten."""
    from bakelab.lessons.classroom import class_set, read_students, write_class

    students = read_students(options.students, seed=options.seed)
    made = class_set(
        students, seed=options.seed, lesson=options.lesson, items=options.items
    )
    with _progress("sheets", len(students)) as step:
        write_class(made, options.out, paper=options.paper, step=step)
    count = len(made.sheets[0].items)
    print(
        f"{len(students)} sheets of {count} exercises in {options.out}\n"
        "  for-students      give each student one sheet: the PDF or the notebook\n"
        "  for-the-teacher   the answer key (PDF and CSV), and the list of the class\n"
        "  returned          put the notebooks here that come back, then\n"
        f"                    bakelab mark {Path(options.out) / 'returned'}\n"
        "Names stay in this folder; nothing leaves your machine."
    )
    return GOOD


def mark_folder(options: argparse.Namespace) -> int:
    """Mark what came back; 1 where a file needs to be looked at by hand."""
    from bakelab.lessons.classroom import mark_class, marks_data, write_marks

    with _progress("files", 0) as step:
        marks = mark_class(options.folder, class_file=options.class_file, step=step)
    place = write_marks(marks, options.out or options.folder)
    if options.json:
        data = {**marks_data(marks), "folder": str(place)}
        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        print("\n".join(_lines(marks, place)))
    return FOUND if any(one.remarks for one in marks.sheets) else GOOD


def _lines(marks: Any, place: Path) -> Iterator[str]:
    for one in marks.sheets:
        yield _line(one)
        for remark in one.remarks:
            yield f"      {remark}"
    yield _summary(marks, place)


def _line(one: Any) -> str:
    who = one.sheet.student.code if one.sheet else "????"
    name = one.sheet.student.name if one.sheet else "unknown"
    score = f"{one.right} of {len(one.answers)}" if one.answers else ""
    file = one.path.name if one.path else ""
    return f"{who}  {score:>8}  {one.state:<17} {name[:30]:<30} {file}".rstrip()


def _summary(marks: Any, place: Path) -> str:
    from bakelab.lessons import misconception_name

    counted = marks.misconceptions.most_common(3)
    words = "; ".join(
        f"{misconception_name(k)} ({n} time{'s' if n > 1 else ''})" for k, n in counted
    )
    return (
        f"\nMost frequent misconceptions: {words or 'none recognised'}\n"
        f"Written to {place}: marks.csv, answers.csv, misconceptions.csv, and a chart "
        "without names in misconceptions.html and .svg"
    )


@contextmanager
def _progress(what: str, total: int) -> Iterator[Callable[[], None]]:
    """A bar on a screen where it takes long; what to call for each step."""
    if not sys.stderr.isatty() or 0 < total < _FEW:
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=total or None)
        yield lambda: bar.advance(task)
