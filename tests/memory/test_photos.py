"""Photos: cleaned of what they tell, bounded, and nothing but photos taken in."""

import hashlib
import io
import os
import resource
import zlib
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest
from PIL import Image, ImageCms

from bakelab.bakebook.photos import (
    MOST_KEPT_BYTES,
    MOST_SIDE,
    photo_path,
    store_photo,
    take_photo,
    thumbnail_path,
)
from bakelab.errors import BookError

# Numbers of the Exif standard, CIPA DC-008: orientation, Exif part, GPS part.
ORIENTATION, EXIF_PART, GPS_PART, SERIAL = 0x0112, 0x8769, 0x8825, 0xA431


def picture(width: int = 60, height: int = 40, mode: str = "RGB") -> Image.Image:
    """Left half red, right half blue."""
    image = Image.new("RGB", (width, height), "red")
    image.paste("blue", (width // 2, 0, width, height))
    return image.convert(mode)


def encoded(image: Image.Image, kind: str = "JPEG", **options) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def located() -> bytes:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # to be turned a quarter to the right
    exif[0x010F] = "Invented Cameras"
    part = exif.get_ifd(EXIF_PART)
    part[36867], part[36881] = "2026:03:05 14:30:00", "+01:00"
    part[SERIAL] = "SN-123456"
    exif.get_ifd(GPS_PART).update({1: "N", 2: (47.0, 3.0, 9.5), 3: "E", 4: (8, 18, 0)})
    return encoded(picture(), exif=exif, comment=b"my kitchen")


def test_place_and_serial_number_are_gone_and_the_picture_stands_upright(tmp_path):
    data = located()
    assert b"SN-123456" in data
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(GPS_PART)
    kept = store_photo(tmp_path, data, "crumb.jpg")
    for path in (
        photo_path(tmp_path, kept.sha256),
        thumbnail_path(tmp_path, kept.sha256),
    ):
        raw = path.read_bytes()
        for told in (b"SN-123456", b"Invented", b"Exif", b"my kitchen"):
            assert told not in raw
        with Image.open(path) as image:
            assert not image.getexif()
            assert image.info.keys() <= {
                "jfif", "jfif_version", "jfif_unit", "jfif_density",
                "progressive", "progression",
            }  # fmt: skip
    assert (kept.width, kept.height) == (40, 60)
    with Image.open(photo_path(tmp_path, kept.sha256)) as image:
        top, bottom = image.getpixel((20, 5)), image.getpixel((20, 55))
    assert top[0] > 200
    assert top[2] < 60
    assert bottom[2] > 200
    assert bottom[0] < 60


def test_time_taken_is_read_in_utc(tmp_path):
    kept = store_photo(tmp_path, located(), "crumb.jpg")
    assert kept.taken_at == datetime(2026, 3, 5, 13, 30, tzinfo=UTC)
    assert store_photo(tmp_path, encoded(picture()), "x.jpg").taken_at is None


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF", "GIF", "BMP"])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_kinds_of_picture(tmp_path, kind, mode):
    kept = store_photo(tmp_path, encoded(picture(mode=mode), kind), f"a.{kind.lower()}")
    raw = photo_path(tmp_path, kept.sha256).read_bytes()
    assert hashlib.sha256(raw).hexdigest() == kept.sha256
    assert (kept.mime, kept.width, kept.height) == ("image/jpeg", 60, 40)
    assert len(raw) == kept.bytes


def test_content_decides_over_the_ending(tmp_path):
    assert store_photo(tmp_path, encoded(picture(), "PNG"), "sent.jpg").width == 60


def test_transparent_is_on_white(tmp_path):
    clear = Image.new("RGBA", (30, 30), (0, 0, 0, 0))
    kept = store_photo(tmp_path, encoded(clear, "PNG"), "a.png")
    with Image.open(photo_path(tmp_path, kept.sha256)) as image:
        assert min(image.getpixel((15, 15))) > 250


def test_colours_of_a_profile_are_kept_as_seen(tmp_path):
    """A profile in CIE L*a*b* terms: grey at L* 50 is 119 in sRGB (IEC 61966-2-1)."""
    lab = ImageCms.createProfile("LAB")
    srgb = ImageCms.createProfile("sRGB")
    grey = Image.new("LAB", (8, 8), (127, 128, 128))
    seen = ImageCms.profileToProfile(grey, lab, srgb, outputMode="RGB")
    assert seen.getpixel((0, 0))[0] == pytest.approx(119, abs=2)
    profile = ImageCms.ImageCmsProfile(srgb).tobytes()
    data = encoded(seen, "PNG", icc_profile=profile)
    kept = store_photo(tmp_path, data, "grey.png")
    with Image.open(photo_path(tmp_path, kept.sha256)) as image:
        assert image.getpixel((4, 4))[1] == pytest.approx(119, abs=3)


def test_same_photo_is_kept_once(tmp_path):
    first = store_photo(tmp_path, located(), "a.jpg")
    again = store_photo(tmp_path, located(), "b.jpg")
    raw = photo_path(tmp_path, first.sha256).read_bytes()
    as_kept = store_photo(tmp_path, raw, "c.jpg")
    assert first.sha256 == again.sha256 == as_kept.sha256
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(
        [f"{first.sha256}.jpg", f"{first.sha256}-small.jpg"]
    )


def test_large_photo_is_made_smaller(tmp_path):
    noise = Image.frombytes("RGB", (3000, 2250), os.urandom(3000 * 2250 * 3))
    kept = store_photo(tmp_path, encoded(noise, quality=95), "noise.jpg")
    assert max(kept.width, kept.height) <= MOST_SIDE
    assert photo_path(tmp_path, kept.sha256).stat().st_size <= MOST_KEPT_BYTES
    assert thumbnail_path(tmp_path, kept.sha256).stat().st_size < 60_000


def test_what_hides_behind_a_picture_is_left_out(tmp_path):
    data = encoded(picture()) + b"<script>alert(1)</script>PK\x03\x04"
    kept = store_photo(tmp_path, data, "a.jpg")
    assert b"script" not in photo_path(tmp_path, kept.sha256).read_bytes()


def bomb(side: int = 50_000) -> bytes:
    """A PNG of a few bytes that says it has 2500 million pixels (PNG, ISO 15948)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        crc = zlib.crc32(kind + body).to_bytes(4, "big")
        return len(body).to_bytes(4, "big") + kind + body + crc

    head = side.to_bytes(4, "big") * 2 + bytes([8, 2, 0, 0, 0])
    body = zlib.compress(bytes(1000))
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", body)
        + chunk(b"IEND", b"")
    )


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.mark.parametrize(
    ("data", "name", "words"),
    [
        (b"", "a.jpg", "is empty"),
        (b"500 g flour", "a.jpg", "is not a photo"),
        (SVG, "a.svg", "does not end like a photo"),
        (SVG, "a.png", "is not a photo"),
        (b"<html><script>alert(1)</script>", "a.jpg", "is not a photo"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "a.png", "not a photo"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "a.jpg", "HEIC"),
        (encoded(picture())[:400], "a.jpg", "damaged"),
        (bomb(), "a.png", "million pixels"),
        (bomb(9_000), "a.png", "million pixels"),
        (bomb(13_000), "a.png", "million pixels"),
        (encoded(picture()), "../../etc/a.jpg", "has a path in it"),
        (encoded(picture()), "C:\\secret\\a.jpg", "has a path in it"),
        (encoded(picture()), "..", "has a path in it"),
        (encoded(picture()), "a\0.jpg", "cannot be seen"),
        (encoded(picture()), "a\u202egpj.exe", "cannot be seen"),
        (encoded(picture()), "a.exe", "does not end like a photo"),
        (encoded(picture()), "a.jpg.html", "does not end like a photo"),
        (encoded(picture()), "a" * 300 + ".jpg", "300|304"),
    ],
    ids=lambda v: v if isinstance(v, str) else f"{len(v)}-bytes",
)
def test_refused_in_one_sentence_and_nothing_is_written(tmp_path, data, name, words):
    folder = tmp_path / "photos"
    with pytest.raises(BookError, match=words) as refusal:
        store_photo(folder, data, name)
    assert "\n" not in str(refusal.value)
    assert not folder.exists()
    assert list(tmp_path.iterdir()) == []


def test_file_too_large_is_not_even_opened(tmp_path):
    with pytest.raises(BookError, match=r"60 MB, more than 50 MB"):
        store_photo(tmp_path, bytes(60_000_000), "a.jpg")


def test_folder_that_cannot_be_written(tmp_path):
    blocked = tmp_path / "photos"
    blocked.write_text("a file stands here")
    with pytest.raises(BookError, match="cannot be kept in"):
        store_photo(blocked, encoded(picture()), "a.jpg")


@pytest.mark.parametrize("sha256", ["../../x", "", "A" * 64, "0" * 63])
def test_a_hash_never_becomes_another_path(tmp_path, sha256):
    with pytest.raises(BookError, match="not the hash of a photo"):
        photo_path(tmp_path, sha256)
    with pytest.raises(BookError, match="not the hash of a photo"):
        thumbnail_path(tmp_path, sha256)


@contextmanager
def full_disk(most_bytes: int):
    """No file may grow past so many bytes, as on a full disk."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_full_disk_leaves_no_half_a_photo(tmp_path):
    noise = Image.frombytes("RGB", (300, 300), os.urandom(300 * 300 * 3))
    data = encoded(noise, quality=95)
    with full_disk(10_000), pytest.raises(BookError, match="make room"):
        store_photo(tmp_path, data, "a.jpg")
    assert list(tmp_path.iterdir()) == []
    assert store_photo(tmp_path, data, "a.jpg").width == 300


def test_photo_of_another_book_is_taken_as_it_is(tmp_path):
    kept = store_photo(tmp_path / "one", located(), "a.jpg")
    raw = photo_path(tmp_path / "one", kept.sha256).read_bytes()
    take_photo(tmp_path / "two", raw, kept.sha256)
    assert photo_path(tmp_path / "two", kept.sha256).read_bytes() == raw
    assert thumbnail_path(tmp_path / "two", kept.sha256).is_file()
    with pytest.raises(BookError, match="changed or damaged"):
        take_photo(tmp_path / "two", raw + b"x", kept.sha256)
