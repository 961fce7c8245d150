"""Photos of a bake: cleaned, made smaller, kept by the hash of what is kept.

Whatever comes in is decoded and written anew as a plain JPEG, so that nothing
but the picture stays: no place where it was taken, no serial number, nothing
hidden behind the picture's end. The picture is turned upright and its colours
are brought to sRGB first.
"""

from __future__ import annotations

import hashlib
import io
import os
import re
import tempfile
import unicodedata
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from bakelab.bakebook.photo_cleaning import (
    ADVICE,
    MOST_BYTES,
    MOST_KEPT_BYTES,
    MOST_PIXELS,
    MOST_SIDE,
    bounded,
    decoded,
    thumbnail,
)
from bakelab.errors import BookError

__all__ = [
    "MOST_BYTES",
    "MOST_KEPT_BYTES",
    "MOST_PIXELS",
    "MOST_SIDE",
    "StoredPhoto",
    "photo_path",
    "store_photo",
    "take_photo",
    "thumbnail_path",
]

ENDINGS = (".jpg", ".jpeg", ".jfif", ".png", ".webp", ".tif", ".tiff", ".gif", ".bmp")
LONGEST_NAME = 200
_SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class StoredPhoto:
    """A photo as it is kept; `taken_at` is in UTC, None if the file says nothing.

    A time without an offset in the file is taken in this computer's time zone.
    """

    sha256: str
    name: str
    mime: str
    width: int
    height: int
    bytes: int
    taken_at: datetime | None = None


def store_photo(folder: Path, data: bytes, name: str) -> StoredPhoto:
    """Keep a photo and its thumbnail in a folder; the same photo is kept once.

    Parameters
    ----------
    folder : Path
        Made if it is not there.
    data : bytes
        The file: JPEG, PNG, WebP, TIFF, GIF or BMP; its content decides, not
        its name.
    name : str
        The file's name, to be shown; it never becomes a path.

    Raises
    ------
    BookError
        In one sentence: a name with a path or without a picture's ending, a
        file that is no picture or a damaged one, more than `MOST_BYTES` or
        `MOST_PIXELS`, or a folder that cannot be written to.
    """
    shown = _checked_name(name)
    known = _already_kept(folder, data, shown)
    if known is not None:
        return known
    upright, taken_at = decoded(data, shown)
    kept, size = bounded(upright)
    sha256 = hashlib.sha256(kept).hexdigest()
    small = thumbnail(upright)
    _write(folder, {f"{sha256}.jpg": kept, f"{sha256}-small.jpg": small})
    return StoredPhoto(sha256, shown, "image/jpeg", *size, len(kept), taken_at)


def take_photo(folder: Path, data: bytes, sha256: str) -> None:
    """Keep a photo of another book as it is, and make its thumbnail.

    Raises
    ------
    BookError
        If it is not the file of that hash, or no JPEG.
    """
    path = photo_path(folder, sha256)
    if hashlib.sha256(data).hexdigest() != sha256:
        raise BookError(f"the photo {sha256} was changed or damaged; export it again")
    image, _ = decoded(data, path.name, kinds=("JPEG",))
    small = thumbnail(image)
    _write(folder, {path.name: data, thumbnail_path(folder, sha256).name: small})


def photo_path(folder: Path, sha256: str) -> Path:
    """Where a kept photo lies.

    Raises
    ------
    BookError
        If it is no SHA-256 in hexadecimal.
    """
    return folder / f"{_checked_hash(sha256)}.jpg"


def thumbnail_path(folder: Path, sha256: str) -> Path:
    """Where the thumbnail of a kept photo lies."""
    return folder / f"{_checked_hash(sha256)}-small.jpg"


def _checked_hash(sha256: str) -> str:
    if not _SHA256.fullmatch(sha256):
        raise BookError(
            f"{sha256[:70]!r} is not the hash of a photo; it has 64 digits 0-9 and a-f"
        )
    return sha256


def _checked_name(name: str) -> str:
    shown = unicodedata.normalize("NFC", name).strip()
    quoted = repr(shown if len(shown) <= 60 else shown[:57] + "...")
    if re.search(r"[/\\:]", shown) or shown.startswith(".."):
        raise BookError(
            f"the photo's name {quoted} has a path in it; give the name only"
        )
    if any(unicodedata.category(c) in ("Cc", "Cf", "Cs") for c in shown):
        raise BookError(
            f"the photo's name {quoted} has letters that cannot be seen; rename it"
        )
    if len(shown) > LONGEST_NAME:
        raise BookError(
            f"the photo's name has {len(shown)} letters, more than {LONGEST_NAME}; "
            "shorten it"
        )
    ending = Path(shown).suffix.lower()
    if ending and ending not in ENDINGS:
        raise BookError(f"{quoted} does not end like a photo; {ADVICE}")
    return shown


def _already_kept(folder: Path, data: bytes, name: str) -> StoredPhoto | None:
    """A file of the folder that comes in again, as it is."""
    from PIL import Image

    sha256 = hashlib.sha256(data).hexdigest()
    if not (photo_path(folder, sha256).is_file()):
        return None
    with Image.open(io.BytesIO(data), formats=["JPEG"]) as image:
        width, height = image.size
    return StoredPhoto(sha256, name, "image/jpeg", width, height, len(data))


def _write(folder: Path, files: dict[str, bytes]) -> None:
    """Every file whole or not at all; one that is there already stays."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            path = folder / name
            if path.is_file() and path.stat().st_size == len(data):
                continue
            _write_whole(path, data)
    except OSError as error:
        raise BookError(
            f"the photo cannot be kept in {folder}: {error.strerror or error}; "
            "make room there or let bakelab write to it"
        ) from None


def _write_whole(path: Path, data: bytes) -> None:
    with tempfile.NamedTemporaryFile(
        dir=path.parent, prefix=".new-", delete=False
    ) as new:
        half = Path(new.name)
        try:
            new.write(data)
            new.flush()
            os.fsync(new.fileno())
        except OSError:
            half.unlink()
            raise
    half.chmod(0o644)
    half.replace(path)
