"""Text that would be a command somewhere stays text; paths stay in their folder."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from bakelab.bakebook import FACTS, BakeBook, BookError, UnknownEntryError
from bakelab.errors import BakelabError
from bakelab.formula import Formula

TRICKS = [
    "Robert'); DROP TABLE bakes; --",
    "' OR '1'='1",
    '" OR ""="',
    "1; UPDATE bakes SET dough_c = 99",
    "%' AND 1=0 UNION SELECT content FROM formulas --",
    "$$; DROP SCHEMA public CASCADE; $$",
    ":name %(name)s ? {0} {name} %s",
    "\\x00\\' \\",
    "<script>alert(1)</script><img src=x onerror=alert(1)>",
    "../../../etc/passwd",
    "..\\..\\windows\\system32",
    "/etc/passwd",
    '=HYPERLINK("http://x")',
    "\u202egnp.exe",
    "a\tb\rc\nd",
]
IN_WORDS = [f.name for f in FACTS if f.kind == "text" and f.name != "pan"]


@pytest.mark.parametrize("trick", TRICKS)
def test_tricks_in_every_text_stay_text(
    book: BakeBook, dough: Formula, trick: str
) -> None:
    other = book.start(dough, dough_c=25)
    titled = Formula(dough.rows, title=trick, style=trick, notes=trick)
    key = book.keep(titled, name=trick, change=trick)
    bake_id = book.start(key, **dict.fromkeys(IN_WORDS, trick))
    note_id = book.note(bake_id, trick)
    book.own("oven", trick or "x", offset_c=1)
    book.own("price", "p", ingredient="water", price=1, currency=trick)
    tasting = book.serve(trick, [trick], key={trick: trick}, name=trick)
    book.answer(tasting, {trick: trick}, verdict=trick)
    book.retire(note_id, trick)
    book.restore(note_id)
    bake = book.bake(bake_id)
    assert bake.formula == titled
    assert dict(bake.facts) == dict.fromkeys(IN_WORDS, trick)
    assert bake.notes[0].text == trick
    assert book.tastings()["answers"][0] == {trick: trick}
    assert list(book.house("oven")["name"]) == [trick.strip()]
    assert book.bake(other).facts["dough_c"] == 25.0
    assert len(book.bakes()) == 2
    assert book.examine() == ()


@pytest.mark.parametrize("trick", TRICKS)
def test_tricks_in_filters_find_only_themselves(
    book: BakeBook, dough: Formula, trick: str
) -> None:
    book.start(dough, crumb_words="plain")
    bake_id = book.start(dough, crumb_words=trick, baker=trick)
    assert list(book.bakes(text=trick)["id"]) == [bake_id]
    assert list(book.bakes(baker=trick)["id"]) == [bake_id]
    for filters in ({"tag": trick}, {"pan": trick}, {"formula": trick}):
        assert book.bakes(**filters).empty
    assert len(book.bakes()) == 2


@pytest.mark.parametrize("trick", TRICKS)
def test_tricks_as_ids_are_unknown(book: BakeBook, dough: Formula, trick: str) -> None:
    bake_id = book.start(dough)
    for verb in (book.bake, book.past, book.retire, book.formula):
        with pytest.raises(UnknownEntryError):
            verb(trick)
    with pytest.raises(BakelabError):
        book.start(trick)
    assert list(book.bakes()["id"]) == [bake_id]


@pytest.mark.parametrize("trick", [t for t in TRICKS if "\n" not in t])
def test_tricks_as_marks_and_tags(book: BakeBook, dough: Formula, trick: str) -> None:
    bake_id = book.start(dough)
    book.mark(bake_id, trick)
    book.tag(bake_id, trick)
    bake = book.bake(bake_id)
    assert [mark.what for mark in bake.marks] == [trick.strip()]
    assert set(bake.tags) == {part.strip() for part in trick.split(",")}


@pytest.mark.parametrize(
    "name",
    [
        "dough_c; DROP TABLE bakes",
        "id",
        "who",
        "computed",
        "found_by",
        "formula_key = 1",
    ],
)
def test_only_facts_can_be_written(book: BakeBook, dough: Formula, name: str) -> None:
    bake_id = book.start(dough)
    with pytest.raises(BookError, match="no fact is called"):
        book.write(bake_id, **{name: "x"})
    assert book.bake(bake_id).version == 1


def test_a_title_that_no_database_can_keep_is_said(
    book: BakeBook, dough: Formula
) -> None:
    for bad in ("a\0b", "a\ud800b"):
        with pytest.raises(BookError, match=r"unprintable character U\+"):
            book.keep(Formula(dough.rows, title=bad))
        with pytest.raises(BookError, match=r"unprintable character U\+"):
            book.serve("triangle", [bad])
        with pytest.raises(BookError, match=r"unprintable character U\+"):
            book.bakes(text=bad)


def test_who_writes_is_a_name_and_nothing_else(tmp_path: Path, dough: Formula) -> None:
    path = tmp_path / "book.sqlite"
    with BakeBook(path, who="x'); DROP TABLE bakes; --") as book:
        bake_id = book.start(dough)
        assert book.bake(bake_id).who == "x'); DROP TABLE bakes; --"
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("SELECT count(*) FROM bakes").fetchone() == (1,)
