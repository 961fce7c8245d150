"""`bakelab book`: look after the bake book."""

import argparse
import json
from collections.abc import Callable, Iterator
from pathlib import Path

from bakelab.cli.exit_codes import FOUND, GOOD
from bakelab.errors import BookError

__all__ = ["add_arguments", "look_after"]

Work = Callable[[argparse.Namespace], int]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The words of `bakelab book` and their options."""
    words = parser.add_subparsers(title="words", metavar="WORD", required=True)
    for name, (work, about) in _WORDS.items():
        word = words.add_parser(name, help=about, description=about)
        word.add_argument(
            "--book", metavar="PLACE",
            help="a file or postgresql://…; BAKELAB_BOOK or your own book if left out",
        )  # fmt: skip
        word.add_argument("--json", action="store_true", help="print JSON for machines")
        word.set_defaults(command=look_after, work=work)
        if name in _FOLDERS:
            word.add_argument(_FOLDERS[name], type=Path, help=_ABOUT[name])
        if name == "take-backup":
            word.add_argument(
                "backup", nargs="?", help="path of a backup; the newest if left out"
            )


def look_after(options: argparse.Namespace) -> int:
    """Do what the word says; 0 good, 1 findings."""
    work: Work = options.work
    return work(options)


def _examine(options: argparse.Namespace) -> int:
    from bakelab.bakebook import BakeBook

    with BakeBook(options.book, check=False) as book:
        found = (*book.remarks, *book.examine())
        bakes = len(book.bakes(retired=True))
    told = "1 bake" if bakes == 1 else f"{bakes} bakes"
    if options.json:
        print(json.dumps({"bakes": bakes, "findings": found}, ensure_ascii=False))
    else:
        print("\n".join(found) or f"The book is sound: {told}.")
    return FOUND if found else GOOD


def _back_up(options: argparse.Namespace) -> int:
    from bakelab.bakebook import BakeBook

    with BakeBook(options.book) as book:
        return _say(options, backup=book.back_up())


def _take_backup(options: argparse.Namespace) -> int:
    from bakelab.bakebook import BakeBook
    from bakelab.bakebook.place import locate

    path = locate(options.book).path
    if path is None:
        raise BookError(
            "a shared book is brought back by the backup of its server; ask who "
            "looks after that"
        )
    with BakeBook.from_backup(path, options.backup) as book:
        return _say(options, book=path, remarks=list(book.remarks))


def _export(options: argparse.Namespace) -> int:
    from bakelab.bakebook import BakeBook

    with BakeBook(options.book) as book:
        done = book.export(options.folder)
    entries = sum(done.rows.values())
    return _say(
        options, folder=done.folder, entries=entries, photos=done.photos,
        remarks=list(done.remarks),
    )  # fmt: skip


def _import(options: argparse.Namespace) -> int:
    from bakelab.bakebook import BakeBook

    with BakeBook(options.book) as book:
        taken = book.take_in(options.folder)
    _say(options, taken=taken.text, photos=taken.photos, remarks=list(taken.remarks))
    return FOUND if taken.conflicts else GOOD


def _demo(options: argparse.Namespace) -> int:
    from bakelab.bakebook.demo import INVENTED, write_demo_book

    with write_demo_book(options.file) as book:
        return _say(options, book=options.file, bakes=len(book.bakes()), note=INVENTED)


def _say(options: argparse.Namespace, **said: object) -> int:
    plain = {name: str(v) if isinstance(v, Path) else v for name, v in said.items()}
    if options.json:
        print(json.dumps(plain, ensure_ascii=False))
    else:
        print("\n".join(_lines(plain)))
    return GOOD


def _lines(said: dict[str, object]) -> Iterator[str]:
    for name, value in said.items():
        if isinstance(value, list):
            yield from (str(line) for line in value)
        else:
            yield f"{name}: {value}"


_WORDS: dict[str, tuple[Work, str]] = {
    "examine": (_examine, "look for damage: the file, formulas, photos"),
    "back-up": (_back_up, "write a checked copy beside the book"),
    "take-backup": (_take_backup, "put a backup in the place of a damaged book"),
    "export": (_export, "put the whole book into a folder: JSON, CSV, photos"),
    "import": (_import, "take in an exported book; conflicts are told, none is lost"),
    "demo": (_demo, "write the book of an invented kitchen, to try things out"),
}
_ABOUT = {
    "demo": "a new file for the demo book",
    "export": "a new folder, or one with an earlier export",
    "import": "the folder of an exported book",
}
_FOLDERS = {"demo": "file", "export": "folder", "import": "folder"}
