"""A picture out of a file, with nothing but the picture: upright, in sRGB, bounded."""

from __future__ import annotations

import io
import warnings
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from bakelab.errors import BookError

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = [
    "ADVICE",
    "KINDS",
    "MOST_BYTES",
    "MOST_KEPT_BYTES",
    "MOST_PIXELS",
    "MOST_SIDE",
    "bounded",
    "decoded",
    "thumbnail",
]

MOST_BYTES = 50_000_000  # of a file that comes in
MOST_PIXELS = 64_000_000  # of a picture that comes in
MOST_SIDE = 2048  # of a picture that is kept
MOST_KEPT_BYTES = 2_000_000
THUMBNAIL_SIDE = 320
QUALITIES = (88, 78, 66, 50)
KINDS = ("JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP")
ADVICE = f"give a photo as {', '.join(KINDS)}"
# Numbers of the Exif standard (CIPA DC-008): part of Exif, time taken, its offset.
_EXIF_PART, _TAKEN, _TAKEN_OFFSET = 0x8769, 36867, 36881


def decoded(
    data: bytes, name: str, kinds: Sequence[str] = KINDS
) -> tuple[Image, datetime | None]:
    """The picture, turned upright, and when it was taken.

    Raises
    ------
    BookError
        If it is no picture, a damaged one, or too large.
    """
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


def bounded(image: Image) -> tuple[bytes, tuple[int, int]]:
    """JPEG of at most `MOST_KEPT_BYTES`: coarser first, then smaller."""
    while True:
        for quality in QUALITIES:
            kept = _jpeg(image, quality)
            if len(kept) <= MOST_KEPT_BYTES:
                return kept, image.size
        image = image.reduce(2)


def thumbnail(image: Image) -> bytes:
    """A small JPEG of a picture."""
    small = image.copy()
    small.thumbnail((THUMBNAIL_SIDE, THUMBNAIL_SIDE))
    return _jpeg(small, 82)


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
        return f"{what} is empty; {ADVICE}"
    return f"{what} is not a photo, or a damaged one; {ADVICE}"


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


def _jpeg(image: Image, quality: int) -> bytes:
    from PIL import Image

    plain = Image.frombytes("RGB", image.size, image.tobytes())  # nothing beside it
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=quality, optimize=True, progressive=True)
    return out.getvalue()
