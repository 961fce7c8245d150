"""What the bake book hands out: frozen things, moments in UTC."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

import pandas as pd

from bakelab.formula import Formula

__all__ = ["Bake", "Mark", "Note", "Photo"]


@dataclass(frozen=True)
class Mark:
    """Something that happened at a moment; `due_at` is when its timer rings."""

    what: str
    at: datetime
    due_at: datetime | None = None
    id: str = ""
    who: str = ""


@dataclass(frozen=True)
class Note:
    """Words about a bake, in Markdown."""

    id: str
    at: datetime
    text: str
    who: str = ""
    version: int = 1


@dataclass(frozen=True)
class Photo:
    """A picture of a bake; the file is found by its hash beside the book."""

    id: str
    sha256: str
    name: str
    caption: str
    width: int
    height: int
    bytes: int
    taken_at: datetime | None
    added_at: datetime
    path: Path
    thumb_path: Path
    mime: str = "image/jpeg"


@dataclass(frozen=True)
class Bake:
    """One bake as the book holds it.

    `facts` has every fact of `FACTS` that was written; `computed` what follows
    from them. `readings` has the columns `id`, `kind`, `at`, `minute`, `value`
    and `unit`. `version` rises with each correction of a fact.
    """

    id: str
    version: int
    formula_key: str
    formula: Formula
    started_at: datetime
    facts: Mapping[str, Any]
    marks: tuple[Mark, ...] = ()
    readings: pd.DataFrame = field(default_factory=pd.DataFrame, compare=False)
    notes: tuple[Note, ...] = ()
    tags: tuple[str, ...] = ()
    photos: tuple[Photo, ...] = ()
    retired: bool = False
    who: str = ""
    computed: Mapping[str, Any] = field(default_factory=dict)

    def mark(self, what: str) -> Mark | None:
        """The last mark of that name, or None."""
        return next((m for m in reversed(self.marks) if m.what == what), None)
