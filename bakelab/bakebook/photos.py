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
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from bakelab.errors import BookError

if TYPE_CHECKING:
    from PIL.Image import Image

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

MOST_BYTES = 50_000_000  # of a file that comes in
MOST_PIXELS = 64_000_000  # of a picture that comes in
MOST_SIDE = 2048  # of a picture that is kept
MOST_KEPT_BYTES = 2_000_000
THUMBNAIL_SIDE = 320
QUALITIES = (88, 78, 66, 50)
KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP")
ENDINGS = (".jpg", ".jpeg", ".jfif", ".png", ".webp", ".tif", ".tiff", ".gif", ".bmp")
LONGEST_NAME = 200
_SHA256 = re.compile(r"[0-9a-f]{64}")
# Numbers of the Exif standard (CIPA DC-008): part of Exif, time taken, its offset.
_EXIF_PART, _TAKEN, _TAKEN_OFFSET = 0x8769, 36867, 36881
_ADVICE = f"give a photo as {', '.join(KINDS)}"


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
    upright, taken_at = _decoded(data, shown)
    kept, size = _bounded(upright)
    sha256 = hashlib.sha256(kept).hexdigest()
    small = _thumbnail(upright)
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
    image, _ = _decoded(data, path.name, kinds=("JPEG",))
    small = _thumbnail(image)
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
        raise BookError(f"{quoted} does not end like a photo; {_ADVICE}")
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


def _decoded(
    data: bytes, name: str, kinds: Sequence[str] = KINDS
) -> tuple[Image, datetime | None]:
    from PIL import Image

    what = repr(name or "this file")
    if len(data) > MOST_BYTES:
        raise BookError(
            f"{what} has {len(data) / 1e6:.0f} MB, more than "
            f"{MOST_BYTES / 1e6:.0f} MB; save it smaller"
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a decoder's remarks; what counts is checked
        try:
            with Image.open(io.BytesIO(data), formats=list(kinds)) as image:
                _check_pixels(image.size, what)
                return _upright(image), _taken_at(image)
        except Image.DecompressionBombError:
            raise BookError(_too_many(what)) from None
        except BookError:
            raise
        except Exception:  # decoders of damaged files raise all kinds
            raise BookError(_not_a_photo(data, what)) from None


def _check_pixels(size: tuple[int, int], what: str) -> None:
    if size[0] * size[1] > MOST_PIXELS:
        raise BookError(_too_many(what))


def _too_many(what: str) -> str:
    return (
        f"{what} has more than {MOST_PIXELS / 1e6:.0f} million pixels; save it smaller"
    )


def _not_a_photo(data: bytes, what: str) -> str:
    if data[4:12] in (b"ftypheic", b"ftypheix", b"ftypmif1", b"ftypavif"):
        return f"{what} is a HEIC or AVIF photo, which is not read; save it as JPEG"
    if not data:
        return f"{what} is empty; {_ADVICE}"
    return f"{what} is not a photo, or a damaged one; {_ADVICE}"


def _upright(image: Image) -> Image:
    """Turned as its Exif says, no larger than kept, on white, in sRGB."""
    from PIL import ImageOps

    image.draft("RGB", (MOST_SIDE, MOST_SIDE))  # a JPEG is decoded smaller
    turned = ImageOps.exif_transpose(image)
    turned.thumbnail((MOST_SIDE, MOST_SIDE))
    if "A" in turned.getbands() or "transparency" in turned.info:
        return _on_white(turned)
    return _srgb(turned)


def _on_white(image: Image) -> Image:
    from PIL import Image

    seen = image.convert("RGBA")
    white = Image.new("RGBA", seen.size, "white")
    return Image.alpha_composite(white, seen).convert("RGB")


def _srgb(image: Image) -> Image:
    """Colours as seen; a profile that cannot be read is left out of account."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    if profile and image.mode in ("RGB", "CMYK", "L"):
        try:
            meant = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            plain = ImageCms.createProfile("sRGB")
            seen = ImageCms.profileToProfile(image, meant, plain, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError):
            seen = None
        if seen is not None:
            return seen
    return image.convert("RGB")


def _taken_at(image: Image) -> datetime | None:
    part = image.getexif().get_ifd(_EXIF_PART)
    text, offset = part.get(_TAKEN), part.get(_TAKEN_OFFSET)
    if not isinstance(text, str):
        return None
    try:
        taken = datetime.strptime(text.strip("\0 "), "%Y:%m:%d %H:%M:%S")
        if isinstance(offset, str) and offset.strip("\0 "):
            taken = datetime.fromisoformat(taken.isoformat() + offset.strip("\0 "))
        return taken.astimezone(UTC)
    except (ValueError, OverflowError, OSError):
        return None


def _bounded(image: Image) -> tuple[bytes, tuple[int, int]]:
    """JPEG of at most `MOST_KEPT_BYTES`: coarser first, then smaller."""
    while True:
        for quality in QUALITIES:
            kept = _jpeg(image, quality)
            if len(kept) <= MOST_KEPT_BYTES:
                return kept, image.size
        image = image.reduce(2)


def _thumbnail(image: Image) -> bytes:
    small = image.copy()
    small.thumbnail((THUMBNAIL_SIDE, THUMBNAIL_SIDE))
    return _jpeg(small, 82)


def _jpeg(image: Image, quality: int) -> bytes:
    from PIL import Image

    plain = Image.frombytes("RGB", image.size, image.tobytes())  # nothing beside it
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=quality, optimize=True, progressive=True)
    return out.getvalue()


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
