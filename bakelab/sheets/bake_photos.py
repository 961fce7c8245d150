"""Pictures of a bake for its page: small copies, as data addresses."""

import base64
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from bakelab.bakebook import Bake
    from bakelab.bakebook.model import Photo

__all__ = ["SMALL_PX", "photo_addresses"]

SMALL_PX = 640
"""The longer side of a picture on a page."""

_QUALITY = 82


def photo_addresses(
    bake: "Bake", *, most: int = 6, side_px: int = SMALL_PX
) -> list[tuple["Photo", str, tuple[int, int]]]:
    """Photos of a bake with a small JPEG of each as a data address, and its size.

    A photo whose file is missing or damaged is left out.
    """
    found = []
    for photo in bake.photos[:most]:
        small = _small(photo.path, side_px)
        if small is not None:
            data = base64.b64encode(small[0]).decode("ascii")
            found.append((photo, f"data:image/jpeg;base64,{data}", small[1]))
    return found


def _small(path: Path, side_px: int) -> tuple[bytes, tuple[int, int]] | None:
    from PIL import Image

    try:
        with Image.open(path) as picture:
            copy = picture.convert("RGB")
            copy.thumbnail((side_px, side_px))
            written = BytesIO()
            copy.save(written, "JPEG", quality=_QUALITY)
    except (OSError, ValueError, Image.DecompressionBombError):
        return None
    return written.getvalue(), copy.size
