"""An open book: its place, its backups, and the way in and out of it."""

import os
import weakref
from contextlib import AbstractContextManager
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import Connection

from bakelab.bakebook import derived
from bakelab.bakebook.backups import back_up, back_up_daily, take_backup
from bakelab.bakebook.examining import examine
from bakelab.bakebook.opening import make_engine, reading, writing
from bakelab.bakebook.place import locate, who_writes
from bakelab.bakebook.upgrading import bring_up_to_date
from bakelab.errors import BookError

__all__ = ["Address", "OpenBook"]

Address = str | os.PathLike[str]


class OpenBook:
    """What `BakeBook` is under its verbs: an open place, looked after."""

    def __init__(
        self,
        path_or_url: Address | None = None,
        *,
        folder: Address | None = None,
        who: str | None = None,
        check: bool = True,
    ) -> None:
        self._place = locate(path_or_url, folder)
        self.who = who_writes(who)
        self._engine = make_engine(self._place)
        self._finalizer = weakref.finalize(self, self._engine.dispose)
        try:
            self.remarks = self._open(check=check)
        except BaseException:
            self.close()
            raise

    @classmethod
    def from_backup(
        cls, path: Address, backup: Address | None = None, **options: Any
    ) -> Self:
        """Take a backup (the newest beside the book) and open it.

        The file that was there is kept under another name. Close the book
        wherever it is open first.
        """
        chosen = None if backup is None else Path(backup)
        aside = take_backup(locate(path, options.get("folder")), chosen)
        book = cls(path, **options)
        if aside is not None:
            book.remarks = (*book.remarks, f"the damaged file is kept as {aside}")
        return book

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def __repr__(self) -> str:
        return f"<{type(self).__name__}: {self._place.words}>"

    def close(self) -> None:
        """Let go of the file or the server; everything is written already."""
        self._finalizer()

    @property
    def path(self) -> Path | None:
        """The file, or None where the book is on a server."""
        return self._place.path

    @property
    def folder(self) -> Path:
        """The folder that holds the photos and the backups."""
        return self._place.folder

    @property
    def photos_folder(self) -> Path:
        """The folder of the photos."""
        return self._place.photos

    @property
    def backups_folder(self) -> Path:
        """The folder of the backups."""
        return self._place.backups

    def back_up(self) -> Path:
        """A checked copy of the whole book in its backups folder."""
        return back_up(self._engine, self._place)

    def examine(self) -> tuple[str, ...]:
        """What is wrong with the book, a sentence each; empty if nothing is."""
        return examine(self._engine, self._place)

    def _open(self, *, check: bool) -> tuple[str, ...]:
        new, said = bring_up_to_date(self._engine, self._place)
        daily = check and not new and self._place.path is not None
        warned = back_up_daily(self._engine, self._place) if daily else ""
        return tuple(sentence for sentence in (said, warned) if sentence)

    def _work_out(self) -> None:
        """What follows from bakes that changed; a full disk hides no bake."""
        try:
            with self._reading() as db:
                outdated = derived.stale(db)
            derived.bring_up_to_date(self._writing, outdated)
        except BookError as error:
            said = f"what follows from the last bakes could not be kept: {error}"
            if said not in self.remarks:
                self.remarks = (*self.remarks, said)

    def _reading(self) -> AbstractContextManager[Connection]:
        return reading(self._engine, self._place)

    def _writing(self) -> AbstractContextManager[Connection]:
        return writing(self._engine, self._place)
