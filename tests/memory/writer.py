"""A process that writes into a bake book and prints what was acknowledged.

Started once (`python -m tests.memory.writer`), it forks a writer for each line
that it reads, as importing is slow: ``<until killed or how many> <who> <address>``.
"""

import os
import sys
import warnings
from itertools import count

import alembic.command  # noqa: F401  # read in before the first fork

from bakelab.bakebook import BakeBook
from bakelab.formula import Formula

DOUGH = Formula.from_pairs([("wheat_bread", 500), ("water", 340)])


def say(*words: object) -> None:
    """One line, in one piece."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def write(most: int, who: str, address: str) -> None:
    """Entries of every kind, each printed once the book has taken it."""
    with BakeBook(address, folder=os.environ.get("FOLDER"), who=who) as book:
        bake = book.start(DOUGH, baker=who)
        say("bake", bake)
        for number in count(1):
            if number > most:
                break
            entry(book, bake, number)


def entry(book: BakeBook, bake: str, number: int) -> None:
    """One entry, of a kind that changes with its number."""
    if number % 4 == 0:
        say("version", bake, book.write(bake, folds=number % 100, crumb_words="open"))
    elif number % 4 == 1:
        say("note", book.note(bake, f"note {number}"))
    elif number % 4 == 2:
        say("mark", book.mark(bake, "folded").id)
    else:
        rows = [{"kind": "ph", "minute": number + i / 5, "value": 5} for i in range(5)]
        book.read(bake, rows)
        say("readings", bake, number)


def main() -> None:
    """Fork a writer for each line; say when it has ended, and how."""
    warnings.simplefilter("ignore")
    say("ready")
    for line in sys.stdin:
        most, who, address = line.strip().split(" ", 2)
        child = os.fork()
        if child == 0:
            code = 1
            try:
                write(int(most), who, address)
                code = 0
            finally:
                os._exit(code)
        say("writing", child)
        say("ended", os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))


if __name__ == "__main__":
    main()
