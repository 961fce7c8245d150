"""Photos as entries of a bake; what a photo may be is tested by itself."""

import io
from pathlib import Path

import pytest
from PIL import Image

from bakelab.bakebook import BakeBook, BookError
from bakelab.formula import Formula


def picture(colour: str = "peru", kind: str = "JPEG") -> bytes:
    """A small plain picture."""
    out = io.BytesIO()
    Image.new("RGB", (60, 40), colour).save(out, kind)
    return out.getvalue()


def test_a_photo_by_path_and_by_bytes(
    book: BakeBook, dough: Formula, tmp_path: Path
) -> None:
    bake_id = book.start(dough)
    path = tmp_path / "crumb.png"
    path.write_bytes(picture(kind="PNG"))
    book.photo(bake_id, path, caption="the crumb")
    book.photo(bake_id, picture("tan"), name="crust.jpg")
    first, second = book.bake(bake_id).photos
    assert (first.name, first.caption) == ("crumb.png", "the crumb")
    assert (first.width, first.height) == (60, 40)
    assert second.name == "crust.jpg"
    for photo in (first, second):
        assert photo.path.parent == book.photos_folder
        assert photo.path.stat().st_size == photo.bytes
        assert photo.thumb_path.is_file()
        with Image.open(photo.path) as image:
            assert image.format == "JPEG"
    assert book.examine() == ()


def test_the_same_photo_is_one_entry(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough)
    first = book.photo(bake_id, picture(), name="a.jpg")
    assert book.photo(bake_id, picture(), name="b.jpg") == first
    other = book.start(dough)
    assert book.photo(other, picture()) != first
    assert len(list(book.photos_folder.glob("*.jpg"))) == 2  # and its thumbnail


def test_captions_are_corrected_and_photos_retired(
    book: BakeBook, dough: Formula
) -> None:
    bake_id = book.start(dough)
    photo_id = book.photo(bake_id, picture(), caption="crust")
    book.write(photo_id, caption="crumb")
    assert book.bake(bake_id).photos[0].caption == "crumb"
    book.retire(photo_id)
    assert book.bake(bake_id).photos == ()


def test_no_photo_no_entry(book: BakeBook, dough: Formula, tmp_path: Path) -> None:
    bake_id = book.start(dough)
    with pytest.raises(BookError, match="not a photo"):
        book.photo(bake_id, b"<svg onload=alert(1)>")
    with pytest.raises(BookError, match="cannot be read"):
        book.photo(bake_id, tmp_path / "nowhere.jpg")
    with pytest.raises(BookError, match="cannot be read"):
        book.photo(bake_id, "a\0b.jpg")
    with pytest.raises(BookError, match="no entry"):
        book.photo("nobody", picture())
    assert book.bake(bake_id).photos == ()
    assert book.examine() == ()


@pytest.mark.parametrize("name", ["../../loaf.jpg", "/etc/loaf.jpg", "..\\loaf.jpg"])
def test_a_name_is_no_way_out_of_the_folder(
    book: BakeBook, dough: Formula, tmp_path: Path, name: str
) -> None:
    bake_id = book.start(dough)
    with pytest.raises(BookError, match="has a path in it"):
        book.photo(bake_id, picture(), name=name)
    assert not list(tmp_path.rglob("loaf*"))


def test_examine_misses_a_lost_or_changed_photo(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough)
    book.photo(bake_id, picture(), name="crumb.jpg")
    book.photo(bake_id, picture("tan"), name="crust.jpg")
    crumb, crust = book.bake(bake_id).photos
    crumb.path.unlink()
    crust.path.write_bytes(picture("black"))
    said = " ".join(book.examine())
    assert "the photo crumb.jpg is missing" in said
    assert "the photo crust.jpg" in said
    assert "was changed or damaged" in said
