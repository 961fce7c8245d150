"""A whole book out to a folder and back, exactly; two books put together."""

import csv
import hashlib
import io
import json
import random
import subprocess

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from sqlalchemy import select

from bakelab.bakebook import BakeBook, tables
from bakelab.bakebook.demo import write_demo_book
from bakelab.bakebook.exchange import export_book, take_in_book
from bakelab.bakebook.exchange_csv import csv_text, harmless_text, plain_text
from bakelab.bakebook.exchange_rows import DERIVED, TABLES
from bakelab.errors import BookError
from bakelab.formula import Formula
from tests.memory.test_photos import full_disk

RISKY = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "＝1", "'=1", "''@x", " =1"]


def all_files(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def contents(book):
    """Every row of every table, but for what is worked out again."""
    found = {}
    with book._reading() as db:
        for table in TABLES:
            skipped = DERIVED.get(table.name, ())
            names = [c.name for c in table.columns if c.name not in skipped]
            rows = db.execute(select(*(table.c[name] for name in names)))
            found[table.name] = sorted(repr(tuple(row)) for row in rows)
    return found


@pytest.fixture(scope="module")
def exported(tmp_path_factory):
    """The demo book and its export."""
    folder = tmp_path_factory.mktemp("exported")
    with write_demo_book(folder / "demo.sqlite") as demo:
        yield demo, demo.export(folder / "out").folder


def test_out_in_and_out_again_is_the_same_byte_for_byte(exported, book, tmp_path):
    demo, folder = exported
    taken = book.take_in(folder)
    assert (taken.conflicts, taken.remarks, taken.same) == ((), (), 0)
    assert taken.new["bakes"] == 73
    assert contents(book) == contents(demo)
    again = export_book(book, tmp_path / "again")
    assert all_files(again.folder) == all_files(folder)
    assert book.examine() == ()
    assert len(book.bakes()) == len(demo.bakes())


def test_taken_in_twice_changes_nothing(exported, tmp_path):
    _, folder = exported
    with BakeBook(tmp_path / "b.sqlite") as book:
        take_in_book(book, folder)
        before = contents(book)
        taken = take_in_book(book, folder)
        assert (taken.new, taken.newer, taken.conflicts) == ({}, {}, ())
        assert contents(book) == before
        assert "nothing new" in taken.text


def test_checksums_are_those_of_the_usual_tool(exported):
    """GNU coreutils: sha256sum --check."""
    _, folder = exported
    done = subprocess.run(
        ["sha256sum", "--check", "--strict", "--quiet", "SHA256SUMS"],
        cwd=folder,
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (0, b"")
    listed = (folder / "SHA256SUMS").read_text().splitlines()
    assert len(listed) == len(all_files(folder)) - 1


def test_csv_files_are_what_they_say(exported):
    demo, folder = exported
    text = (folder / "bakes.csv").read_bytes().decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    frame = demo.bakes(retired=True).set_index("id")
    assert len(rows) == len(frame)
    for row in rows:
        assert float(row["dough_in_g"]) == frame.loc[row["id"], "dough_in_g"]
        assert row["title"] == frame.loc[row["id"], "title"]
    for table in TABLES:
        assert (folder / f"{table.name}.csv").is_file()


@pytest.fixture
def dressed(tmp_path, dough):
    """A book in which every text wants to be a formula, a script or a query."""
    with BakeBook(tmp_path / "dressed.sqlite", who="=who()") as book:
        titled = Formula(dough.rows, title="=cmd|' /C calc'!A1", notes="@x")
        bake = book.start(titled, baker="-2+3", crumb_words='"; DROP TABLE bakes; --')
        for text in (*RISKY, 'a;=b,"+c\n-d', "<script>alert(1)</script>"):
            book.note(bake, f"{text} ")
            book.tag(bake, " ".join(text.split()))
        book.own("flour", "+flour", lot="=1", protein_pct=12.0)
        picture = io.BytesIO()
        Image.new("RGB", (9, 9), "tan").save(picture, "PNG")
        book.photo(bake, picture.getvalue(), name="=1.png", caption="@caption")
        yield book


def test_no_cell_runs_in_a_spreadsheet_and_all_comes_back(dressed, tmp_path):
    """CWE-1236: no cell begins with a sign of a formula, whatever the separator."""
    out = export_book(dressed, tmp_path / "out").folder
    for path in out.glob("*.csv"):
        text = path.read_bytes().decode("utf-8-sig")
        for separator in (",", ";", "\t", "|"):
            reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
            for cell in (cell for row in reader for cell in row):
                bare = cell.strip(' "')
                number = bare.lstrip("-").replace(".", "", 1).isdigit()
                assert number or not bare.startswith(tuple("=+-@\t\r＝＋－＠")), cell
    with BakeBook(tmp_path / "back.sqlite") as back:
        take_in_book(back, out)
        assert contents(back) == contents(dressed)


@given(st.text(alphabet="=+-@\t\r\n'\" ,;|a1＝", max_size=14))
def test_harmless_text_comes_back(text):
    made = harmless_text(text)
    assert plain_text(made) == text
    assert not made.startswith(("=", "+", "-", "@", "\t", "\r", "＝"))


def test_numbers_of_a_table_stay_numbers():
    text = csv_text(["a", "b"], [[-1.5, "-1.5"], [None, True]])
    assert text == '"a","b"\r\n-1.5,"\'-1.5"\r\n"","yes"\r\n'


def two_books(tmp_path, dough):
    """A book, and another one that began as its copy."""
    one = BakeBook(tmp_path / "one.sqlite", who="Anna")
    bake = one.start(dough, room_c=21, dough_c=25)
    one.note(bake, "begun")
    other = BakeBook(tmp_path / "other.sqlite", who="Ben")
    take_in_book(other, export_book(one, tmp_path / "copy").folder)
    return one, other, bake


def test_what_was_corrected_there_comes_without_a_conflict(tmp_path, dough):
    one, other, bake = two_books(tmp_path, dough)
    with one, other:
        other.write(bake, room_c=23)
        other.write(bake, room_c=24, loaf_out_g=500)
        more = other.start(dough, room_c=20)
        taken = take_in_book(one, export_book(other, tmp_path / "b").folder)
        assert taken.conflicts == ()
        assert (taken.newer, taken.new) == ({"bakes": 1}, {"bakes": 1, "history": 3})
        assert one.bake(bake).facts["room_c"] == 24
        assert one.bake(more).facts["room_c"] == 20
        assert list(one.past(bake)["new"]) == [23, 500, 24]
        assert one.bake(bake).version == 3
        assert one.examine() == ()
        # The other way round there is nothing to do, and nothing goes back.
        again = take_in_book(other, export_book(one, tmp_path / "c").folder)
        assert (again.new, again.newer, again.conflicts) == ({}, {}, ())
        assert contents(one) == contents(other)


def test_conflict_is_told_and_nothing_is_lost(tmp_path, dough):
    one, other, bake = two_books(tmp_path, dough)
    with one, other:
        one.write(bake, room_c=22, dough_c=26)
        other.write(bake, room_c=28)
        taken = take_in_book(one, export_book(other, tmp_path / "b").folder)
        (conflict,) = taken.conflicts
        assert (conflict.ours, conflict.theirs, conflict.kept) == (22, 28, 22)
        assert "28" in taken.text
        past = one.past(bake)
        assert {21, 28} <= set(past.loc[past["field"] == "room_c", "old"])
        assert one.bake(bake).facts["dough_c"] == 26
        assert one.examine() == ()
        known = contents(one)
        again = take_in_book(one, tmp_path / "b")
        assert again.conflicts == ()
        assert contents(one) == known


def test_two_who_corrected_different_fields_are_no_conflict(tmp_path, dough):
    one, other, bake = two_books(tmp_path, dough)
    with one, other:
        one.write(bake, dough_c=26)
        other.write(bake, room_c=28)
        taken = take_in_book(one, export_book(other, tmp_path / "b").folder)
        assert (taken.conflicts, taken.newer) == ((), {"bakes": 1})
        facts = one.bake(bake).facts
        assert (facts["room_c"], facts["dough_c"]) == (28, 26)
        assert one.bake(bake).version == 3
        assert set(one.past(bake)["old"]) == {21, 25}
        back = take_in_book(other, export_book(one, tmp_path / "c").folder)
        assert back.conflicts == ()
        assert contents(one) == contents(other)


def test_higher_version_counts_where_both_went_their_own_way(tmp_path, dough):
    one, other, bake = two_books(tmp_path, dough)
    with one, other:
        one.write(bake, room_c=22)
        other.write(bake, room_c=28)
        other.write(bake, room_c=29)
        taken = take_in_book(one, export_book(other, tmp_path / "b").folder)
        (conflict,) = taken.conflicts
        assert (conflict.ours, conflict.theirs, conflict.kept) == (22, 29, 29)
        assert 22 in set(one.past(bake)["old"])
        assert one.examine() == ()


def test_retired_there_is_retired_here(tmp_path, dough):
    one, other, bake = two_books(tmp_path, dough)
    with one, other:
        other.retire(bake, "twice")
        take_in_book(one, export_book(other, tmp_path / "b").folder)
        assert len(one.bakes()) == 0
        assert one.bake(bake).retired


def changed(folder, path, change):
    """An export in which somebody changed one row."""
    data = json.loads((folder / "book.json").read_text(encoding="utf-8"))
    place = data
    for step in path:
        place = place[step]
    change(place)
    (folder / "book.json").write_text(json.dumps(data), encoding="utf-8")


@pytest.mark.parametrize(
    ("path", "change", "words"),
    [
        (["tables", "bakes", 0], {"room_c": "warm"}, "'warm' as its room_c"),
        (["tables", "bakes", 0], {"room_c": 900.0}, "from -20 to 60"),
        (["tables", "bakes", 0], {"started_at": "noon"}, "date and time"),
        (["tables", "bakes", 0], {"formula_key": "none"}, "in neither book"),
        (["tables", "bakes", 0], {"steam": "maybe"}, "steam"),
        (["tables", "bakes", 0], {"version": 1.5}, "version"),
        (["tables", "bakes", 0], {"baker": 5}, "baker"),
        (["tables", "bakes", 0], {"baker": "a\0b"}, "U\\+0000"),
        (["tables", "bakes", 0], {"id": ""}, "id of 0 letters"),
        (["tables", "bakes", 0], {"future": 1}, "'future'"),
        (["tables", "formulas", 0], {"content": "{}"}, "its key stands for"),
        (["tables", "photos", 0], {"sha256": "../../x"}, "as its hash"),
        (["tables", "notes", 0], {"bake_id": "none"}, "in neither book"),
        (["tables"], {"sauces": []}, "newer bakelab"),
        (["tables"], {"bakes": 5}, "no list"),
        ([], {"format": "letters"}, "no exported bake book"),
    ],
)
def test_damaged_export_is_refused_and_nothing_taken(
    dressed, tmp_path, path, change, words
):
    out = export_book(dressed, tmp_path / "out").folder
    changed(out, path, lambda place: place.update(change))
    with BakeBook(tmp_path / "new.sqlite") as book:
        with pytest.raises(BookError, match=words) as refusal:
            take_in_book(book, out)
        assert "\n" not in str(refusal.value)
        assert not any(contents(book).values())


def test_unreadable_or_absent_export(tmp_path, file_book):
    with pytest.raises(BookError, match=r"holds no book\.json"):
        take_in_book(file_book, tmp_path / "none")
    (tmp_path / "book.json").write_text('{"format": ')
    with pytest.raises(BookError, match="damaged and cannot be read"):
        take_in_book(file_book, tmp_path)


def test_photo_that_is_not_what_its_name_says(dressed, tmp_path):
    out = export_book(dressed, tmp_path / "out").folder
    (photo,) = (out / "photos").iterdir()
    photo.write_bytes(photo.read_bytes() + b"x")
    with (
        BakeBook(tmp_path / "new.sqlite") as book,
        pytest.raises(BookError, match="changed or damaged"),
    ):
        take_in_book(book, out)
    photo.unlink()
    with BakeBook(tmp_path / "newer.sqlite") as book:
        assert any("is missing" in said for said in take_in_book(book, out).remarks)


def test_a_script_with_the_right_hash_is_no_photo(dressed, tmp_path):
    out = export_book(dressed, tmp_path / "out").folder
    script = b"<script>alert(1)</script>"
    sha256 = hashlib.sha256(script).hexdigest()
    (out / "photos" / f"{sha256}.jpg").write_bytes(script)
    changed(out, ["tables", "photos", 0], lambda row: row.update(sha256=sha256))
    with (
        BakeBook(tmp_path / "new.sqlite") as book,
        pytest.raises(BookError, match="not a photo"),
    ):
        take_in_book(book, out)
    assert not list((tmp_path / "new-photos").glob("*"))


def test_changes_in_a_csv_are_told_and_not_taken_in(dressed, tmp_path):
    out = export_book(dressed, tmp_path / "out").folder
    path = out / "notes.csv"
    path.write_bytes(path.read_bytes().replace(b"script", b"SCRIPT"))
    with BakeBook(tmp_path / "new.sqlite") as book:
        remarks = take_in_book(book, out).remarks
        assert remarks == (
            "notes.csv was changed since it was exported; only book.json is taken in",
        )
        assert contents(book) == contents(dressed)


def test_export_over_an_earlier_one_but_over_nothing_else(dressed, tmp_path):
    first = all_files(export_book(dressed, tmp_path / "out").folder)
    assert all_files(export_book(dressed, tmp_path / "out").folder) == first
    assert not list(tmp_path.glob(".*"))
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "one.txt").write_text("mine")
    with pytest.raises(BookError, match="holds other things"):
        export_book(dressed, tmp_path / "letters")
    with pytest.raises(BookError, match="is a file"):
        export_book(dressed, tmp_path / "letters" / "one.txt")
    with pytest.raises(BookError, match="cannot be written"):
        export_book(dressed, tmp_path / "letters" / "one.txt" / "out")


def test_every_table_is_exchanged():
    assert {t.name for t in TABLES} == set(tables.METADATA.tables) - {"book"}


def test_full_disk_leaves_the_earlier_export(dressed, tmp_path):
    first = all_files(dressed.export(tmp_path / "out").folder)
    dressed.note(dressed.bakes()["id"].iloc[0], "x" * 9000)
    dressed.bakes()
    with full_disk(4000), pytest.raises(BookError, match="make room"):
        dressed.export(tmp_path / "out")
    assert all_files(tmp_path / "out") == first
    assert not list(tmp_path.glob(".*"))


def test_two_books_grow_together_and_no_value_is_lost(tmp_path, dough):
    chance = random.Random(7)
    one, other, bake = two_books(tmp_path, dough)
    written = {"room_c": {21.0}, "dough_c": {25.0}, "mix_min": set()}
    told = 0
    with one, other:
        for turn in range(10):
            for book in (one, other):
                for name in chance.sample(sorted(written), chance.randint(0, 2)):
                    value = float(chance.randint(10, 50))
                    book.write(bake, **{name: value})
                    written[name].add(value)
            told += len(
                one.take_in(other.export(tmp_path / f"b{turn}").folder).conflicts
            )
            back = other.take_in(one.export(tmp_path / f"c{turn}").folder)
            assert back.conflicts == ()
            assert contents(one) == contents(other)
        past, facts = one.past(bake), one.bake(bake).facts
        for name, values in written.items():
            kept = set(past.loc[past["field"] == name, "old"]) | {facts.get(name)}
            assert values <= kept
        assert told > 0
        assert one.examine() == other.examine() == ()
