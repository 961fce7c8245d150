"""A photo as it comes: a path or bytes, read no further than a photo can be."""

import os
from pathlib import Path
from typing import Any

from bakelab.errors import BookError

__all__ = ["stored_photo"]

_KEPT = ("sha256", "name", "width", "height", "bytes", "taken_at")


def stored_photo(
    folder: Path, photo: str | os.PathLike[str] | bytes, name: str
) -> dict[str, Any]:
    """The photo's row for the book, once its file is kept in the folder.

    Raises
    ------
    BookError
        If there is no such file, or it is no photo.
    """
    from bakelab.bakebook.photos import store_photo

    if isinstance(photo, bytes | bytearray | memoryview):
        stored = store_photo(folder, bytes(photo), name)
    else:
        path = Path(photo)
        stored = store_photo(folder, _data(path), name or path.name)
    return {column: getattr(stored, column) for column in _KEPT}


def _data(path: Path) -> bytes:
    from bakelab.bakebook.photos import MOST_BYTES

    try:
        with path.expanduser().open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise BookError(
            f"the photo {path} cannot be read ({reason}); give the path of a photo"
        ) from None
