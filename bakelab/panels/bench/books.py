"""Which book a panel opens: the user's own, else a copy of the invented one."""

from contextlib import closing, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from bakelab.errors import BakelabError, BookError

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = [
    "DEMO_NAME",
    "DEMO_WORDS",
    "book_to_open",
    "demo_book",
    "demo_book_in_time",
    "is_demo",
]

DEMO_NAME = "demo-bakebook.sqlite"
"""The file of the copy, beside where the user's own book will be."""

DEMO_WORDS = (
    "This is a copy of the demo book: its kitchen, bakers and bakes are invented. Try "
    "anything in it; your own book is apart."
)


def book_to_open() -> "BakeBook":
    """The user's own book where there is one, else a copy of the demo book.

    The copy stands beside where the own book will be and is made once, so that
    what is tried in it stays.
    """
    from bakelab.bakebook import BakeBook
    from bakelab.bakebook.place import locate

    own = locate().path
    if own is None or own.exists():
        return BakeBook()
    return _demo(own.with_name(DEMO_NAME))


def demo_book() -> "BakeBook":
    """The copy of the demo book, wherever the own one is."""
    from bakelab.bakebook.place import locate

    place = locate()
    return _demo((place.path or place.folder / DEMO_NAME).with_name(DEMO_NAME))


def demo_book_in_time(notebooks: Path) -> None:
    """Make the copy of the demo book while a lab starts, if a panel would open it.

    With the numbers that follow from its bakes. What hinders it is said by the panel,
    where it can be mended.
    """
    from bakelab.bakebook.place import BOOK_FILE, locate

    with suppress(BakelabError):
        own = locate().path
        beside = notebooks / BOOK_FILE
        if own is not None and not own.exists() and not beside.exists():
            with closing(demo_book()) as book:
                book.bakes(newest=1)


def is_demo(book: "BakeBook") -> bool:
    """Whether a book is the copy of the invented one."""
    return book.path is not None and book.path.name == DEMO_NAME


def _demo(path: Path) -> "BakeBook":
    """The copy as it was left; made where it is missing or was cut short."""
    from bakelab.bakebook import BakeBook
    from bakelab.bakebook.demo import write_demo_book

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BookError(
            f"{path.parent} cannot be made ({error.strerror}); name a book with "
            "BAKELAB_BOOK or give its path"
        ) from None
    if path.exists():
        book = BakeBook(path)
        if len(book.bakes(newest=1)):
            return book
        book.close()
    try:
        return write_demo_book(path)
    except BookError:  # another notebook has just written it
        return BakeBook(path)
