"""Where readings come from: text, a file, or anything with columns."""

import re
from datetime import datetime
from pathlib import Path
from typing import Any

from bakelab.errors import BookError

__all__ = ["MOST_LINES", "given_rows", "given_text", "written_lines"]

MOST_LINES = 100_000
MOST_BYTES = 20_000_000


def given_text(what: str | bytes | Path) -> tuple[str, list[str]]:
    """The text of what was given, and what had to be decided to read it.

    A one-line text that names a file there is stands for that file.

    Raises
    ------
    BookError
        If the file cannot be read, or there is more than `MOST_BYTES`.
    """
    if isinstance(what, str) and "\n" not in what and re.search(r"\.\w{2,4}$", what):
        path = Path(what)
        what = (
            path if "\0" not in what and len(what) < 1000 and path.is_file() else what
        )
    if isinstance(what, Path):
        what = _file(what)
    if len(what) > MOST_BYTES:
        raise BookError(
            f"more than {MOST_BYTES / 1e6:.0f} MB of readings; cut it in parts"
        )
    if isinstance(what, str):
        return what.lstrip("\ufeff"), []
    if what.startswith((b"\xff\xfe", b"\xfe\xff")):
        return what.decode("utf-16", errors="replace"), []
    try:
        return what.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        return what.decode("cp1252", errors="replace"), [
            "the file is not UTF-8; its letters are taken as Windows-1252"
        ]


def written_lines(text: str) -> list[tuple[int, str]]:
    """The lines that are not blank, numbered from 1; at most `MOST_LINES`."""
    lines = [(n, t) for n, t in enumerate(text.splitlines(), 1) if t.strip()]
    if len(lines) > MOST_LINES:
        raise BookError(f"more than {MOST_LINES} lines of readings; cut it in parts")
    return lines


def given_rows(what: Any) -> list[tuple[int, str, list[str]]]:
    """Rows of anything that has columns, as cells of text."""
    import pandas as pd

    try:
        frame = what if isinstance(what, pd.DataFrame) else pd.DataFrame(list(what))
    except (TypeError, ValueError):
        raise BookError(
            f"got {type(what).__name__} where readings are needed; give text, a file, "
            "or a table with a time and a value"
        ) from None
    if frame.index.name is not None:
        frame = frame.reset_index()
    rows = [[str(name) for name in frame.columns]]
    rows += [[_cell(v) for v in row] for row in frame.itertuples(index=False)]
    return [(n, "; ".join(cells), cells) for n, cells in enumerate(rows)]


def _file(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise BookError(
            f"{path} cannot be read ({error.strerror}); give a CSV or text file"
        ) from None


def _cell(value: Any) -> str:
    import pandas as pd

    if value is None or value is pd.NaT or value != value:  # noqa: PLR0124  # NaN
        return ""
    if isinstance(value, pd.Timedelta):
        return f"{value.total_seconds() / 60:g} min"
    if isinstance(value, datetime):
        return value.isoformat()
    return str(value)
