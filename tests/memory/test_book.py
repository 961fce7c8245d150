"""The verbs of the bake book, the same on a file and on a server."""

from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from bakelab.bakebook import BakeBook, BookError, UnknownEntryError
from bakelab.errors import BakelabError
from bakelab.formula import Formula, formula_to_json
from bakelab.pans import pan
from bakelab.variants import plan_trials

START = datetime(2025, 3, 30, 0, 59, 59, 999_999, tzinfo=UTC)  # clocks change in Europe


def test_a_formula_comes_back_exactly(book: BakeBook, dough: Formula) -> None:
    key = book.keep(dough, name="first")
    assert book.formula(key) == dough
    assert key == dough.key


def test_the_same_formula_is_kept_once(book: BakeBook, dough: Formula) -> None:
    assert book.keep(dough, name="first") == book.keep(dough, name="again")
    table = book.formulas()
    assert list(table["name"]) == ["first"]


def test_a_variant_knows_its_parent(book: BakeBook, dough: Formula) -> None:
    parent = book.keep(dough, name="house")
    child = book.keep(
        dough.scaled(2), parent=parent, change="twice as much", name="double"
    )
    row = book.formulas().set_index("key").loc[child]
    assert (row["parent"], row["change"]) == (parent, "twice as much")
    # By hand: 340 g of water on 500 g of flour is 68 %, 10 g of salt 2 %; the little
    # water in dry yeast comes on top.
    assert row["hydration_pct"] == pytest.approx(68.0, abs=0.1)
    assert row["salt_pct"] == pytest.approx(2.0)
    assert (row["flour_g"], row["dough_g"]) == (1000.0, 1710.0)


def test_a_parent_has_to_be_kept_first(book: BakeBook, dough: Formula) -> None:
    with pytest.raises(UnknownEntryError, match="no formula 'nothing'"):
        book.keep(dough, parent="nothing")
    assert book.formulas().empty


def test_a_formula_is_never_written_over(book: BakeBook, dough: Formula) -> None:
    key = book.keep(dough)
    with pytest.raises(BookError, match="content cannot be written over in formulas"):
        book.write(key, content=formula_to_json(dough.scaled(2)))
    assert book.write(key, name="house loaf") == 2
    assert book.formula(key) == dough


def test_a_bake_holds_what_was_written(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(
        dough, pan="loaf 9 x 5 x 2.75 in", at=START, room_c=23.5, steam=True,
        volume_method="seed displacement", baker="Anna",
    )  # fmt: skip
    bake = book.bake(bake_id)
    assert dict(bake.facts) == {
        "pan": "loaf 9 x 5 x 2.75 in", "room_c": 23.5, "steam": True,
        "volume_method": "seed displacement", "baker": "Anna",
    }  # fmt: skip
    assert bake.started_at == START
    assert bake.started_at.tzinfo is UTC
    assert (bake.formula, bake.version, bake.who) == (dough, 1, "Anna")
    assert not bake.retired


def test_moments_of_any_zone_become_utc(book: BakeBook, dough: Formula) -> None:
    berlin = timezone(timedelta(hours=2))
    bake_id = book.start(dough, at=datetime(2025, 7, 1, 8, 30, tzinfo=berlin))
    assert book.bake(bake_id).started_at == datetime(2025, 7, 1, 6, 30, tzinfo=UTC)
    book.write(bake_id, started_at="2025-07-01T09:00:00+02:00")
    assert book.bake(bake_id).started_at == datetime(2025, 7, 1, 7, tzinfo=UTC)


@pytest.mark.parametrize("moment", ["soon", 7, datetime.max, "0001-01-01", pd.NaT])
def test_no_moment_is_refused(book: BakeBook, dough: Formula, moment: object) -> None:
    with pytest.raises(BookError, match="give a date and time"):
        book.start(dough, at=moment)  # type: ignore[arg-type]  # that is the test


def test_a_bake_of_a_key_needs_the_formula(book: BakeBook) -> None:
    with pytest.raises(UnknownEntryError, match="no formula"):
        book.start("feedfacefeedface")


def test_a_refused_start_keeps_nothing(book: BakeBook, dough: Formula) -> None:
    with pytest.raises(BookError, match="room_c"):
        book.start(dough, room_c=900)
    assert book.formulas().empty
    assert book.bakes().empty


def test_the_pan_is_read_at_the_door(book: BakeBook, dough: Formula) -> None:
    with pytest.raises(BakelabError, match="is not a pan"):
        book.start(dough, pan="the blue one")
    book.own("pan", "the blue one", spec="loaf 30 x 11 x 7 cm")
    bake_id = book.start(dough, pan="the blue one")
    assert book.bake(bake_id).facts["pan"] == "loaf 30 x 11 x 7 cm"
    other = book.start(dough, pan=pan("round 20 x 5 cm"))
    assert pan(book.bake(other).facts["pan"]) == pan("round 20 x 5 cm")


def test_a_correction_keeps_the_old_value(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough, dough_c=25)
    assert book.write(bake_id, dough_c=26, crumb_words="open") == 2
    assert book.write(bake_id, dough_c=None, steam=False) == 3
    assert dict(book.bake(bake_id).facts) == {"crumb_words": "open", "steam": False}
    past = book.past(bake_id)
    said = [tuple(r) for r in past[["field", "old", "new", "version"]].to_numpy()]
    assert said == [
        ("crumb_words", None, "open", 2),
        ("dough_c", 25.0, 26.0, 2),
        ("dough_c", 26.0, None, 3),
        ("steam", None, False, 3),
    ]
    assert set(past["who"]) == {"Anna"}


def test_writing_the_same_changes_nothing(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough, dough_c=25)
    assert book.write(bake_id, dough_c=25.0) == 1
    assert book.past(bake_id).empty


def test_marks_and_timers(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough, at=START)
    book.mark(bake_id, "in the oven", at=START + timedelta(hours=3))
    mixed = book.mark(bake_id, "mixed", at=START, due_at=START + timedelta(minutes=90))
    marks = book.bake(bake_id).marks
    assert [mark.what for mark in marks] == ["mixed", "in the oven"]
    assert marks[0] == mixed
    assert marks[0].due_at == START + timedelta(minutes=90)
    book.write(mixed.id, at=START + timedelta(minutes=5), due_at=None)
    corrected = book.bake(bake_id).mark("mixed")
    assert corrected is not None
    assert (corrected.at, corrected.due_at) == (START + timedelta(minutes=5), None)
    assert list(book.past(mixed.id)["old"]) == [START, START + timedelta(minutes=90)]


def test_readings_typed_and_as_a_table(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough, at=START)
    oven = START + timedelta(hours=3)
    book.mark(bake_id, "in the oven", at=oven)
    typed = [{"kind": "core_c", "minute": 10, "value": 61.5}]
    probe = pd.DataFrame(
        {"kind": "core_c", "at": [oven + timedelta(minutes=20)], "value": [93]}
    )
    assert book.read(bake_id, typed) == 1
    assert book.read(bake_id, probe) == 1
    assert book.read(bake_id, typed) == 0  # pasted a second time
    readings = book.bake(bake_id).readings
    assert list(readings["minute"]) == [10.0, 20.0]  # counted from the oven
    assert list(readings["value"]) == [61.5, 93.0]
    assert list(readings["unit"]) == ["°C", "°C"]
    book.write(readings["id"][0], value=62)
    book.retire(readings["id"][1])
    assert list(book.bake(bake_id).readings["value"]) == [62.0]


def test_readings_pasted_and_from_a_file(
    book: BakeBook, dough: Formula, tmp_path: Path
) -> None:
    bake_id = book.start(dough, at=START)
    assert book.read(bake_id, "minute;core °F\n10;142,7\n20;199.4") == 2
    readings = book.bake(bake_id).readings
    assert list(readings["value"]) == pytest.approx([61.5, 93.0])  # (F - 32) / 1.8
    probe = tmp_path / "probe.csv"
    probe.write_text("minute,ph\n0,5.6\n60,5.1\n")
    assert book.read(bake_id, probe) == 2
    assert book.read(bake_id, "0 100\n30 140", kind="rise_ml") == 2
    assert set(book.bake(bake_id).readings["kind"]) == {"core_c", "ph", "rise_ml"}
    with pytest.raises(BookError, match="nothing was kept"):
        book.read(bake_id, "minute;core °C\n10;61\n20;hot")
    assert len(book.bake(bake_id).readings) == 6


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"kind": "heat", "minute": 1, "value": 1}, "reading 2 is of the kind 'heat'"),
        ({"kind": "ph", "minute": 1, "value": 15}, "from 0 to 14"),
        ({"kind": "ph", "minute": 1}, "reading 2 lacks its value"),
        ({"kind": "ph", "value": 5}, "reading 2 lacks its time"),
        ({"kind": "ph", "minute": "x", "value": 5}, "minute 'x'"),
        ({"kind": "core_c", "minute": 1, "value": 200, "unit": "F"}, "in 'F'"),
    ],
)
def test_one_wrong_reading_keeps_none(
    book: BakeBook, dough: Formula, row: dict[str, object], says: str
) -> None:
    bake_id = book.start(dough)
    with pytest.raises(BookError, match=says):
        book.read(bake_id, [{"kind": "ph", "minute": 0, "value": 5.5}, row])
    assert book.bake(bake_id).readings.empty


def test_notes_and_tags(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough)
    note_id = book.note(bake_id, "Crust *too pale*.")
    book.tag(bake_id, "house, pale", "house")
    assert book.bake(bake_id).tags == ("house", "pale")
    book.untag(bake_id, "pale", "never there")
    book.write(note_id, text="Crust pale.")
    bake = book.bake(bake_id)
    assert [note.text for note in bake.notes] == ["Crust pale."]
    assert bake.tags == ("house",)
    assert list(book.past(bake_id)["old"]) == ["pale"]
    with pytest.raises(BookError, match="the note is empty"):
        book.note(bake_id, "  ")


def test_retired_entries_come_back(book: BakeBook, dough: Formula) -> None:
    bake_id = book.start(dough)
    book.retire(bake_id, "fell on the floor")
    assert book.bakes().empty
    assert list(book.bakes(retired=True)["id"]) == [bake_id]
    assert book.bake(bake_id).retired
    key = book.bake(bake_id).formula_key
    book.retire(key)
    assert book.formulas().empty
    assert book.formula(key) == dough
    book.restore(bake_id)
    book.restore(key)
    assert list(book.bakes()["id"]) == [bake_id]
    assert list(book.formulas()["bakes"]) == [1]
    assert "fell on the floor" in list(book.past(bake_id)["new"])


def test_bakes_are_found(book: BakeBook, dough: Formula) -> None:
    rye = Formula.from_pairs([("rye_dark", 500), ("water", 400)], title="Ferry rye")
    first = book.start(dough, at="2025-03-01T08:00:00+00:00", baker="Anna")
    second = book.start(
        rye, at="2025-04-01T08:00:00+00:00", baker="Bo", pan="round 20 x 5 cm",
        crust_words="50% darker_than before",
    )  # fmt: skip
    book.note(first, "Zu heiß gebacken, ÄRGERLICH")
    book.tag(second, "rye")

    def found(**wanted: Any) -> list[str]:
        return list(book.bakes(**wanted)["id"])

    assert found() == [second, first]
    assert found(baker="Anna") == [first]
    assert found(tag="rye") == [second]
    assert found(pan="round 20 x 5 cm") == [second]
    assert found(formula=rye.key) == [second]
    assert found(since="2025-03-15T00:00:00+00:00") == [second]
    assert found(until="2025-03-01") == [first]
    assert found(until=date(2025, 3, 1)) == [first]
    assert found(since=date(2025, 3, 2)) == [second]
    assert found(text="FERRY") == [second]
    assert found(text="ärgerlich") == [first]
    assert found(text="0% d") == [second]
    assert found(text="r_t") == [second]
    assert found(text="RYE") == [second]
    assert found(text="HEISS") == [first]  # ß is ss in capitals, by Unicode's folding
    assert found(text="a\u0308rger") == [first]  # ä as two signs
    book.untag(second, "rye")
    book.write(rye.key, name="Harvest loaf")
    assert found(text="harvest") == [second]
    assert found(tag="rye") == []
    assert found(text="%") == [second]


def test_the_table_has_every_fact(book: BakeBook, dough: Formula) -> None:
    book.start(dough, room_c=21, lid=True)
    table = book.bakes()
    assert table["room_c"].dtype == float
    assert bool(table["lid"][0]) is True
    assert pd.isna(table["steam"][0])
    assert table["crumb_words"][0] == ""
    assert str(table["started_at"].dtype).endswith("UTC]")
    empty = book.bakes(baker="nobody")
    assert list(empty.columns) == list(table.columns)
    assert empty["room_c"].dtype == float


def test_the_house(book: BakeBook) -> None:
    oven = book.own("oven", "deck", offset_c=-8)
    book.own("flour", "mill bag", ingredient="wheat_bread", lot="L7", protein_pct=12.4)
    book.own("scale", "bench", steps="1 g, 0.1 g up to 50 g")
    price = {
        "ingredient": "wheat_bread",
        "price": 1.1,
        "currency": "EUR",
        "per_g": 1000,
    }
    book.own("price", "bread flour", **price, date="2025-03-01")
    assert book.write(oven, offset_c=-12) == 2
    assert book.house("oven")["offset_c"].tolist() == [-12.0]
    assert book.house("price").loc[0, "price"] == 1.1
    assert book.house("flour").loc[0, "lot"] == "L7"
    book.retire(oven)
    assert book.house("oven").empty
    assert len(book.house("oven", retired=True)) == 1


@pytest.mark.parametrize(
    ("kind", "facts", "says"),
    [
        ("mixer", {}, "use one of pan, flour"),
        ("pan", {"spec": "blue"}, "is not a pan"),
        ("scale", {"steps": "0 g"}, "not possible"),
        ("flour", {"ingredient": "wheat_whit"}, "wheat_whit"),
        ("oven", {"spec": "x"}, "closest: offset_c"),
        ("price", {"date": "1.3.25"}, "give year-month-day"),
    ],
)
def test_the_house_refuses_nonsense(
    book: BakeBook, kind: str, facts: dict[str, object], says: str
) -> None:
    with pytest.raises(BakelabError, match=says):
        book.own(kind, "x", **facts)


def test_a_tasting_is_kept_with_its_key_apart(book: BakeBook) -> None:
    plan = [{"taster": 1, "codes": ("417", "802", "155")}]
    tasting = book.serve("triangle", plan, key={"417": "A", "802": "B"}, name="crumb")
    assert book.answer(tasting, {"1": "802"}) == 2
    assert book.answer(tasting, {"2": "155"}, verdict={"p": 0.04}) == 3
    row = book.tastings().iloc[0]
    assert row["plan"] == [{"taster": 1, "codes": ["417", "802", "155"]}]
    assert row["key"] == {"417": "A", "802": "B"}
    assert row["answers"] == {"1": "802", "2": "155"}
    assert row["verdict"] == {"p": 0.04}


def test_a_plan_of_trials_keeps_its_formulas(book: BakeBook, dough: Formula) -> None:
    plan = plan_trials(dough, {"salt": (1.5, 2.5), "water": (60, 70)})
    book.plan(plan, "salt and water")
    trials = book.plans().loc[0, "trials"]
    assert list(trials["salt_pct"]) == list(plan.frame["salt_pct"])
    kept = [book.formula(key) for key in trials["formula_key"]]
    assert kept == list(plan.formulas)


def test_unknown_entries_are_said(book: BakeBook, dough: Formula) -> None:
    key = book.keep(dough)
    for verb in (book.bake, book.past, book.retire, book.restore):
        with pytest.raises(UnknownEntryError, match="no entry 'x'"):
            verb("x")
    with pytest.raises(UnknownEntryError, match="not a bake"):
        book.mark(key, "mixed")
    with pytest.raises(UnknownEntryError, match="not a bake"):
        book.bake(key)


def test_everything_is_there_after_closing(
    address: str, tmp_path: Path, dough: Formula
) -> None:
    with BakeBook(address, folder=tmp_path) as book:
        bake_id = book.start(dough, at=START, dough_c=25.123456789012345)
        book.mark(bake_id, "mixed", at=START)
        before = book.bake(bake_id)
    with BakeBook(address, folder=tmp_path) as book:
        assert book.bake(bake_id) == before
        assert book.examine() == ()
