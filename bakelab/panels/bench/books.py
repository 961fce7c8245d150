"""Which book the bench opens: the user's own, else a copy of the invented one."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bakelab.bakebook import BakeBook

__all__ = ["DEMO_NAME", "DEMO_WORDS", "book_to_open", "is_demo"]

DEMO_NAME = "demo-bakebook.sqlite"
"""The file of the copy, beside where the user's own book will be."""

DEMO_WORDS = (
    "This is a copy of the demo book: its kitchen, bakers and bakes are invented. Try "
    "anything in it; your own book is apart."
)


def book_to_open() -> "BakeBook":
    """The user's own book where there is one, else a copy of the demo book.

    The own book is where `BAKELAB_BOOK` says, else in the user's data folder. The
    copy stands beside it and is made once, so that what is tried in it stays.
    """
    from bakelab.bakebook import BakeBook

    return BakeBook()


def is_demo(book: "BakeBook") -> bool:
    """Whether a book is the copy of the invented one."""
    return book.path is not None and book.path.name == DEMO_NAME
