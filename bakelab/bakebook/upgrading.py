"""New books get their tables, older ones are upgraded, newer ones refused."""

from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, inspect, text

from bakelab.bakebook.backups import back_up, before
from bakelab.bakebook.migrations import HEAD
from bakelab.bakebook.opening import reading, writing
from bakelab.bakebook.place import Place
from bakelab.errors import BookError

__all__ = ["bring_up_to_date", "migrate"]

_VERSION = "alembic_version"
_LOCK = 5_227_110  # any number, the same for every bakelab


def bring_up_to_date(engine: Engine, place: Place) -> tuple[bool, str]:
    """Make or upgrade the tables of a book.

    Returns
    -------
    tuple of (bool, str)
        Whether the book is new, and a sentence where it was upgraded.

    Raises
    ------
    BookError
        If the book is newer than this bakelab, or no bake book at all.
    """
    with reading(engine, place) as db:
        found = _revision(db, place)
    if found == HEAD:
        return False, ""
    if found is not None and found not in _known():
        raise BookError(
            f"{place.words} was written by a newer bakelab (its tables are {found!r}, "
            f"this bakelab knows up to {HEAD!r}); update bakelab; nothing was changed"
        )
    saved = None if found is None else back_up(engine, place, before(HEAD))
    with writing(engine, place) as db:
        if place.path is None:
            db.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": _LOCK})
        migrate(db)
    said = f"{place.words} was upgraded; as it was before: {saved}" if saved else ""
    return found is None, said


def migrate(db: Connection, revision: str = "head") -> None:
    """Bring the tables to a revision, inside the transaction that is open."""
    from alembic import command

    command.upgrade(alembic_config(db), revision)


def alembic_config(db: Connection | None = None) -> Any:
    """What Alembic needs to know, without a file of settings."""
    from alembic.config import Config

    config = Config()
    folder = Path(__file__).with_name("migrations")
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = db
    return config


def _revision(db: Connection, place: Place) -> str | None:
    names = set(inspect(db).get_table_names())
    if _VERSION in names and ({"bakes", "formulas"} <= names):
        found = db.execute(text(f"SELECT version_num FROM {_VERSION}")).scalar()
        return None if found is None else str(found)
    if place.path is not None and names:
        raise BookError(
            f"{place.path} is a database of something else (it holds "
            f"{', '.join(sorted(names)[:3])}); choose another file for the bake book"
        )
    return None


def _known() -> set[str]:
    from alembic.script import ScriptDirectory

    script = ScriptDirectory.from_config(alembic_config())
    return {revision.revision for revision in script.walk_revisions()}
