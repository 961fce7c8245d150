"""`bakelab check`: what cannot be true in files and folders of recipes."""

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from bakelab import __version__
from bakelab.checking import (
    KINDS,
    Finding,
    Report,
    check,
    check_file,
    files_of,
)
from bakelab.checking.many import NOT_CHECKED
from bakelab.cli.exit_codes import FOUND, GOOD, UNUSABLE
from bakelab.errors import BakelabError, ReadError

if TYPE_CHECKING:
    from rich.console import Console

__all__ = ["check_paths"]

_SIGNS = {"conflict": "✕", "unlikely": "?", "missing": "○", "note": "·"}
_COLOURS = {"conflict": "bold red", "unlikely": "yellow", "missing": "blue",
            "note": "dim"}  # fmt: skip


@dataclass
class _Run:
    """What a run has found so far."""

    reports: list[Report] = field(default_factory=list)
    unread: dict[str, str] = field(default_factory=dict)
    stopped: bool = False


def check_paths(options: argparse.Namespace) -> int:
    """Check all paths; 0 nothing found, 1 findings, 2 nothing could be read.

    Ctrl-C ends the run and reports what was found so far.
    """
    if options.mend:
        return _mend(options)
    run = _Run()
    try:
        for path, step in _with_progress(_files(options.paths)):
            _one(run, path, options)
            step()
    except KeyboardInterrupt:
        run.stopped = True
    _write(run, options)
    if options.json:
        from bakelab.checking.outputs import to_json

        print(to_json(run.reports, unread=run.unread))
    else:
        _print(run, options)
    return _code(run, options)


def _code(run: _Run, options: argparse.Namespace) -> int:
    if run.stopped:
        return 130
    if not run.reports:
        return UNUSABLE
    grave = KINDS[: KINDS.index(options.fail_on) + 1]
    return FOUND if any(r.by_kind(k) for r in run.reports for k in grave) else GOOD


def _files(paths: Sequence[str]) -> list[Path | None]:
    """The files in order; None stands for standard input."""
    found: list[Path | None] = []
    for path in paths:
        found += [None] if path == "-" else list(files_of([path]))
    if not found:
        raise ReadError(
            f"no recipe file in {', '.join(paths)}; give a folder with files "
            "that end in .md, .txt, .csv, .html, .json or .ipynb"
        )
    return found


def _one(run: _Run, path: Path | None, options: argparse.Namespace) -> None:
    asked = {"market": options.market, "language": options.language,
             "style": options.style}  # fmt: skip
    try:
        if path is None:
            run.reports.append(check(sys.stdin.read() + "\n", name="input", **asked))
        else:
            run.reports.extend(check_file(path, **asked))
    except BakelabError as error:
        run.unread[str(path or "input")] = str(error)
    except (ArithmeticError, LookupError, TypeError, ValueError) as error:
        run.unread[str(path or "input")] = NOT_CHECKED.format(type(error).__name__)


def _with_progress(
    files: Sequence[Path | None],
) -> Iterator[tuple[Path | None, Callable[[], None]]]:
    """Each file, with what to call when it is done; a bar if it takes long."""
    if len(files) < 20 or not sys.stderr.isatty():
        yield from ((f, lambda: None) for f in files)
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("recipes", total=len(files))
        yield from ((f, lambda: bar.advance(task)) for f in files)


def _write(run: _Run, options: argparse.Namespace) -> None:
    from bakelab.checking.outputs import to_junit, to_sarif
    from bakelab.checking.page import to_html

    if options.sarif:
        _save(Path(options.sarif), to_sarif(run.reports, version=__version__))
    if options.junit:
        _save(Path(options.junit), to_junit(run.reports))
    if options.html:
        _save(Path(options.html), to_html(run.reports))


def _save(path: Path, text: str) -> None:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise ReadError(
            f"cannot write {path} ({error.strerror}); choose another place"
        ) from None


def _print(run: _Run, options: argparse.Namespace) -> None:
    from rich.console import Console

    console = Console(highlight=False, soft_wrap=not sys.stdout.isatty())
    shown = KINDS[: KINDS.index(options.show) + 1]
    for report in run.reports:
        found = [f for f in report.open if f.kind in shown]
        if found:
            _head(console, report)
            for one in found:
                _finding(console, one)
    for name, why in run.unread.items():
        console.print(f"not read  {name}: {why}", markup=False)
    if run.stopped:
        console.print("stopped; this is what was found so far", markup=False)
    console.print(_summary(run, shown), markup=False)


def _head(console: "Console", report: Report) -> None:
    title = report.title or "Recipe without a title"
    console.print()
    console.print(f"{title}  ({report.name or 'text'})", style="bold", markup=False)


def _finding(console: "Console", found: Finding) -> None:
    from rich.padding import Padding
    from rich.text import Text

    head = Text(f"{_SIGNS[found.kind]} {found.kind:<9}", style=_COLOURS[found.kind])
    where = f"line {found.line_no}: " if found.line_no else ""
    head.append(f" {where}{found.message}", style="default")
    head.append(f"  [{found.identifier}]", style="dim")
    console.print(head)
    lines = [f"{q.line_no:>5} | {q.text[:200]}" for q in found.quotes]
    lines += [f"      = {step}" for step in found.working]
    lines += [f"      > {found.mend}"] if found.mend else []
    for line in lines:
        # Padding folds a line under itself on a screen; a file gets it whole.
        text = Text(line)
        padded = Padding(text, (0, 0, 0, 4))
        console.print(padded if console.is_terminal else Text("    ") + text)


def _summary(run: _Run, shown: Iterable[str]) -> str:
    total = {k: sum(len(r.by_kind(k)) for r in run.reports) for k in KINDS}
    kept = sum(1 for r in run.reports for f in r.findings if f.accepted)
    parts = [f"{n} {k}" for k, n in total.items() if n]
    hidden = sum(n for k, n in total.items() if k not in shown)
    count = len(run.reports)
    noun = "recipe" if count == 1 else "recipes"
    text = f"\n{count} {noun}: {', '.join(parts) or 'nothing found'}"
    text += f"; {kept} kept on purpose" if kept else ""
    text += f" ({hidden} not shown, see --show note)" if hidden else ""
    return text


def _mend(options: argparse.Namespace) -> int:
    from bakelab.checking.corrected import corrected_copy

    if len(options.paths) != 1:
        raise ReadError("a corrected copy is made of one file; give one path")
    path = options.paths[0]
    source = sys.stdin.read() + "\n" if path == "-" else Path(path)
    made = corrected_copy(source, market=options.market)
    if options.mend == "-":
        print(made.diff or "every line is in house style already")
        for one in made.left:
            print(f"left as written, line {one.line_no}: {one.why}", file=sys.stderr)
    else:
        if path != "-" and Path(options.mend).resolve() == Path(path).resolve():
            raise ReadError("a corrected copy is a new file; give another name")
        _save(Path(options.mend), made.text)
        left = f", {len(made.left)} left as written" if made.left else ""
        print(f"{len(made.changes)} lines changed{left}, written to {options.mend}")
    return FOUND if made.changes else GOOD
