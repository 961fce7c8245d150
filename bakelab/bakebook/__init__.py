"""The bake book: every bake with its numbers, readings and notes, kept for good."""

from typing import TYPE_CHECKING

from bakelab.bakebook.facts import FACTS, GROUPS, HOUSE, MARKS, READINGS, Fact
from bakelab.errors import (
    BookError,
    ConflictError,
    DamagedBookError,
    UnknownEntryError,
)
from bakelab.later import later, listed

if TYPE_CHECKING:
    from bakelab.bakebook.book import BakeBook
    from bakelab.bakebook.model import Bake, Mark, Note, Photo

__all__ = [
    "FACTS",
    "GROUPS",
    "HOUSE",
    "MARKS",
    "READINGS",
    "Bake",
    "BakeBook",
    "BookError",
    "ConflictError",
    "DamagedBookError",
    "Fact",
    "Mark",
    "Note",
    "Photo",
    "UnknownEntryError",
]
__getattr__ = later(
    __name__,
    {"BakeBook": "bakelab.bakebook.book"}
    | dict.fromkeys(("Bake", "Mark", "Note", "Photo"), "bakelab.bakebook.model"),
)
__dir__ = listed(__name__)
