"""The bake book: every bake with its numbers, readings and notes, kept for good."""

from bakelab.bakebook.book import BakeBook
from bakelab.bakebook.facts import FACTS, GROUPS, HOUSE, MARKS, READINGS, Fact
from bakelab.bakebook.model import Bake, Mark, Note, Photo
from bakelab.errors import (
    BookError,
    ConflictError,
    DamagedBookError,
    UnknownEntryError,
)

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
