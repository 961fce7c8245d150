"""Words of the command line, and what each of them starts."""

import argparse
import json
import sys
from collections.abc import Callable, Sequence

from bakelab import __version__
from bakelab.cli.exit_codes import GOOD, UNUSABLE
from bakelab.cli.numbers import a_port
from bakelab.errors import BakelabError

__all__ = ["main"]

Command = Callable[[argparse.Namespace], int]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code is 0 good, 1 findings, 2 unusable input."""
    _speak_utf8()
    options = _parser().parse_args(arguments)
    command: Command = options.command
    try:
        return command(options)
    except BakelabError as error:
        _refuse(str(error), as_json=getattr(options, "json", False))
        return UNUSABLE
    except BrokenPipeError:
        sys.stderr.close()
        return GOOD
    except KeyboardInterrupt:
        return 130


def _speak_utf8() -> None:
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")


def _refuse(sentence: str, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps({"error": sentence}, ensure_ascii=False))
    print(f"bakelab: {sentence}", file=sys.stderr)


def _open(options: argparse.Namespace) -> int:
    from bakelab.cli.lab import open_lab

    return open_lab(browser=not options.no_browser, port=options.port)


def _app(options: argparse.Namespace) -> int:
    from bakelab.cli.app import open_app

    return open_app(browser=not options.no_browser, port=options.port)


def _new(options: argparse.Namespace) -> int:
    from bakelab.cli.lab import new_lab

    made, kept = new_lab(options.folder)
    print(
        f"{made} files made in {options.folder}, {kept} were there and stay as they are"
    )
    return GOOD


def _read(options: argparse.Namespace) -> int:
    from bakelab.cli.reading import read

    return read(options)


def _fit(options: argparse.Namespace) -> int:
    from bakelab.cli.fitting import fit_file

    return fit_file(options)


def _check(options: argparse.Namespace) -> int:
    from bakelab.cli.checking import check_paths

    return check_paths(options)


def _class(options: argparse.Namespace) -> int:
    from bakelab.cli.classroom import make_class

    return make_class(options)


def _mark(options: argparse.Namespace) -> int:
    from bakelab.cli.classroom import mark_folder

    return mark_folder(options)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bakelab",
        description="A lab for people who develop bread recipes. "
        "Without a word it opens the lab in the browser.",
    )
    parser.add_argument("--version", action="version", version=f"bakelab {__version__}")
    _door(parser)
    parser.set_defaults(command=_open)
    words = parser.add_subparsers(title="words")
    app = words.add_parser("app", help="open the panels as pages without code")
    _door(app)
    app.set_defaults(command=_app)
    _maker(words.add_parser("new", help="make a lab folder of your own"))
    _reader(words.add_parser("read", help="show what is understood of a recipe"), _read)
    fit = words.add_parser("fit", help="fit a recipe to a pan, a dough or a flour mass")
    _reader(fit, _fit)
    _fitter(fit)
    _checker(words.add_parser("check", help="find numbers that cannot all be true"))
    _booker(words.add_parser("book", help="look after the bake book"))
    _teacher(
        words.add_parser("class", help="make exercise sheets and a key for a class"),
        words.add_parser("mark", help="mark the notebooks that a class returned"),
    )
    return parser


def _maker(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", help="a new folder, or one that is to be completed")
    parser.set_defaults(command=_new)


def _checker(parser: argparse.ArgumentParser) -> None:
    from bakelab.cli.check_options import add_arguments

    add_arguments(parser)
    parser.set_defaults(command=_check)


def _door(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--no-browser", action="store_true", help="print the address only"
    )
    parser.add_argument(
        "--port", metavar="PORT", type=a_port, help="port of the lab on this machine"
    )


def _teacher(sheets: argparse.ArgumentParser, marks: argparse.ArgumentParser) -> None:
    from bakelab.cli.classroom import add_class_arguments, add_mark_arguments

    add_class_arguments(sheets)
    sheets.set_defaults(command=_class)
    add_mark_arguments(marks)
    marks.set_defaults(command=_mark)


def _booker(parser: argparse.ArgumentParser) -> None:
    from bakelab.cli.book import add_arguments

    add_arguments(parser)


def _fitter(parser: argparse.ArgumentParser) -> None:
    from bakelab.cli.recipe_options import add_aims, add_ways

    add_aims(parser)
    add_ways(parser)


def _reader(parser: argparse.ArgumentParser, command: Command) -> None:
    from bakelab.cli.recipe_options import add_language_and_market

    parser.add_argument(
        "file", help="a .txt, .md, .csv, .html or .json recipe; - for input"
    )
    parser.add_argument("--json", action="store_true", help="print JSON for machines")
    add_language_and_market(parser)
    parser.set_defaults(command=command)
