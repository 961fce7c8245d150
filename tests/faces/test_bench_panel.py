"""The bench panel: taps and fields reach the book, refusals lose nothing."""

import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from bakelab.bakebook import BakeBook
from bakelab.bakebook.facts import FACTS
from bakelab.panels import BenchPanel
from bakelab.reading import read_recipe

RECIPE = """Quay loaf

500 g bread flour
330 g water
10 g salt
5 g instant yeast

Bake in a 9 x 5 x 2.75 in loaf pan at 220 °C for 35 to 40 minutes.
"""
EVIL = "<img src=x onerror=alert(1)>'; DROP TABLE bakes;--../../etc/passwd"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[BakeBook]:
    with BakeBook(tmp_path / "book.sqlite", who="Mina") as opened:
        formula = read_recipe(RECIPE).formula
        assert formula is not None
        opened.keep(formula, name="house")
        yield opened


@pytest.fixture
def panel(book: BakeBook) -> BenchPanel:
    made = BenchPanel(book)
    made.starting.start.click()
    return made


def _said(panel: BenchPanel, name: str) -> str:
    return str(panel.form.states[name]["text"])


def _facts(panel: BenchPanel) -> dict[str, object]:
    return dict(panel.book.bake(panel.bake_id).facts)


def _picture(colour: str = "#a63") -> bytes:
    written = BytesIO()
    Image.new("RGB", (400, 300), colour).save(written, "JPEG")
    return written.getvalue()


def _upload(name: str, content: bytes) -> dict[str, object]:
    return {
        "name": name,
        "type": "",
        "size": len(content),
        "content": memoryview(content),
        "last_modified": datetime.now(UTC),
    }


def test_one_click_starts_a_bake_with_what_the_recipe_plans(panel: BenchPanel) -> None:
    assert panel.bake_id
    facts = _facts(panel)
    assert facts["pan"] == "loaf 9 x 5 x 2.75 in"
    assert facts["planned_bake_min"] == 37.5
    assert facts["planned_oven_c"] == 220
    assert "as the recipe says" in panel.starting.told.value
    assert panel.starting.view.layout.display == "none"


def test_the_next_bake_takes_over_pan_and_plan(panel: BenchPanel) -> None:
    first = panel.bake_id
    panel.form.type("planned_proof_min", "55")
    panel.starting.start.click()
    assert panel.bake_id != first
    assert _facts(panel)["planned_proof_min"] == 55


def test_a_recipe_is_kept_and_started_from_an_empty_book(tmp_path: Path) -> None:
    with BakeBook(tmp_path / "empty.sqlite") as book:
        panel = BenchPanel(book)
        assert panel.starting.start.disabled
        panel.starting.recipe.value = "no flour here"
        panel.starting.keep.click()
        assert "Not kept" in panel.starting.told.value
        panel.starting.recipe.value = RECIPE
        panel.starting.keep.click()
        panel.starting.start.click()
        assert panel.bake_id


def test_every_fact_has_its_field_with_label_unit_and_band(panel: BenchPanel) -> None:
    fields = [f for group in panel.form.groups for f in group["fields"]]
    assert {f["name"] for f in fields} == {f.name for f in FACTS}
    dough = next(f for f in fields if f["name"] == "dough_c")
    assert (dough["unit"], dough["band"]) == ("°C", "−5 to 60")
    assert panel.form.groups[-1]["title"].startswith("What was planned")


@pytest.mark.parametrize(
    ("name", "typed", "kept"),
    [
        ("dough_c", "26,5", 26.5),
        ("dough_c", "78 F", 25.6),  # (78 − 32) × 5/9 = 25.6
        ("dough_c", "25 °C", 25),
        ("water_c", "−2", -2),
        ("bake_min", "1:05", 65),
        ("bake_min", "1.5 h", 90),
        ("dough_in_g", "1 lb", 453.592),  # 453.59237 g, NIST SP 811 (2008), app. B.8
        ("height_cm", "4 in", 10.16),  # 2.54 cm, NIST SP 811 (2008), app. B.8
        ("steam", "yes", True),
        ("volume_method", "seed displacement", "seed displacement"),
        ("crumb_words", EVIL, EVIL),
    ],
)
def test_what_is_typed_is_saved_in_the_unit_of_the_book(
    panel: BenchPanel, name: str, typed: str, kept: object
) -> None:
    panel.form.type(name, typed)
    assert _facts(panel)[name] == kept
    assert _said(panel, name).startswith("saved ")


@pytest.mark.parametrize(
    ("name", "typed", "allowed"),
    [
        ("dough_c", "warm", "a number from -5 to 60 °C"),
        ("dough_c", "260", "a number from -5 to 60 °C"),
        ("room_c", "1e308", "a number from -20 to 60 °C"),
        ("crumb_1_9", "10", "a number from 1 to 9"),
        ("steam", "perhaps", "yes or no"),
        ("pan", "<script>", "is not a pan"),
        ("bake_min", "nan", "a number from 0 to 2880 min"),
    ],
)
def test_nonsense_is_one_sentence_beside_the_field_and_stays(
    panel: BenchPanel, name: str, typed: str, allowed: str
) -> None:
    before = _facts(panel)
    panel.form.type(name, typed)
    assert _facts(panel) == before
    assert panel.form.states[name]["kind"] == "refused"
    assert allowed in _said(panel, name)
    assert panel.form.values[name] == typed
    panel.stamps.ask("stamp", what="mixed")  # redraws; what was typed is still there
    assert panel.form.values[name] == typed


def test_a_blank_clears_and_the_old_value_is_kept_in_the_past(
    panel: BenchPanel,
) -> None:
    panel.form.type("dough_c", "26")
    panel.form.type("dough_c", "24")
    panel.form.type("dough_c", "")
    assert _facts(panel).get("dough_c") is None
    past = panel.book.past(panel.bake_id)
    assert {26.0, 24.0} <= set(past.loc[past["field"] == "dough_c", "old"])


def test_two_who_write_different_fields_disturb_nobody(panel: BenchPanel) -> None:
    other = BenchPanel(panel.book)
    other.form.type("room_c", "22", was="")
    panel.form.type("dough_c", "26", was="")
    facts = _facts(panel)
    assert (facts["room_c"], facts["dough_c"]) == (22, 26)


@pytest.mark.parametrize(("mine", "kept"), [(True, 27.0), (False, 25.0)])
def test_two_who_write_one_field_see_both_values_and_choose(
    panel: BenchPanel, mine: bool, kept: float
) -> None:
    other = BenchPanel(panel.book)
    other.form.type("dough_c", "25", was="")
    panel.form.type("dough_c", "27", was="")
    state = panel.form.states["dough_c"]
    assert (state["kind"], state["mine"], state["theirs"]) == ("conflict", "27", "25")
    assert _facts(panel)["dough_c"] == 25
    panel.form.choose("dough_c", mine=mine)
    assert _facts(panel)["dough_c"] == kept
    assert panel.form.values["dough_c"] == f"{kept:g}"
    assert panel.form.states["dough_c"]["kind"] == "saved"


def test_stamps_have_the_time_of_the_tap_and_give_the_minutes(
    panel: BenchPanel,
) -> None:
    now = datetime.now(UTC)
    for what, ago in (("proof", 50), ("in the oven", 40), ("out", 2)):
        at = (now - timedelta(minutes=ago)).timestamp() * 1000
        panel.stamps.ask("stamp", what=what, at=at)
    facts = _facts(panel)
    assert facts["proof_min"] == pytest.approx(10)
    assert facts["bake_min"] == pytest.approx(38)
    assert "bake 38 min from the times" in panel.stamps.told["text"]


def test_a_number_that_was_typed_is_not_replaced_by_the_stamps(
    panel: BenchPanel,
) -> None:
    panel.form.type("bake_min", "41")
    panel.stamps.ask("stamp", what="in the oven")
    panel.stamps.ask("stamp", what="out")
    assert _facts(panel)["bake_min"] == 41


def test_a_wrong_tap_is_taken_back_and_moved(panel: BenchPanel) -> None:
    panel.stamps.ask("stamp", what="in the oven")
    panel.stamps.ask("stamp", what="out")
    out = panel.stamps.stamps[-1]
    panel.stamps.ask("back", id=out["id"])
    assert [s["what"] for s in panel.stamps.stamps] == ["in the oven"]
    assert _facts(panel).get("bake_min") is None
    assert panel.stamps.timers[0]["what"] == "in the oven"
    panel.stamps.ask("move", id=panel.stamps.stamps[0]["id"], clock="25:99")
    assert "hours:minutes" in panel.stamps.told["text"]
    earlier = datetime.now().astimezone() - timedelta(minutes=30)
    clock = f"{earlier:%H:%M}"
    panel.stamps.ask("move", id=panel.stamps.stamps[0]["id"], clock=clock)
    mark = panel.book.bake(panel.bake_id).marks[0]
    assert f"{mark.at.astimezone():%H:%M}" == clock
    assert mark.due_at is not None
    assert mark.due_at - mark.at == timedelta(minutes=37.5)


def test_planned_stages_and_own_timers_run_and_end(panel: BenchPanel) -> None:
    panel.stamps.ask("timer", what="egg wash", minutes="20")
    panel.stamps.ask("stamp", what="in the oven")
    assert [t["what"] for t in panel.stamps.timers] == ["egg wash", "in the oven"]
    panel.stamps.ask("done", id=panel.stamps.timers[0]["id"])
    panel.stamps.ask("stamp", what="out")
    assert panel.stamps.timers == []
    assert any(s["what"] == "egg wash: done" for s in panel.stamps.stamps)


@pytest.mark.parametrize("minutes", ["", "abc", "0", "-5", "1e9", "<b>"])
def test_a_timer_without_minutes_is_refused(panel: BenchPanel, minutes: str) -> None:
    panel.stamps.ask("timer", what="fold", minutes=minutes)
    assert panel.stamps.told["text"].startswith("Not written down: a timer takes")
    assert panel.stamps.timers == []


def test_after_a_restart_the_running_bake_is_there_with_its_timers(
    panel: BenchPanel,
) -> None:
    panel.stamps.ask("timer", what="fold", minutes="30")
    again = BenchPanel(panel.book.path)
    assert again.bake_id == panel.bake_id
    assert again.stamps.timers == panel.stamps.timers
    again.stamps.ask("stamp", what="finished")
    again.book.close()
    assert BenchPanel(panel.book).bake_id == ""


def test_readings_are_added_pasted_and_read_from_a_probe(panel: BenchPanel) -> None:
    entry = panel.readings
    entry.value.value, entry.minute.value = "88,5", "30"
    entry.add.click()
    entry.pasted.value = "10 54.2\n20;71,8\nwarm\n"
    entry.take.click()
    assert entry.pasted.value == "warm"
    assert "1 lines are not understood" in entry.told["readings"].value
    text = b"kind,minute,value,unit\nrise_ml,0,100,ml\nrise_ml,30,130,ml\n"
    entry.file.value = (_upload("probe.csv", text),)
    frame = panel.book.bake(panel.bake_id).readings
    core = frame[frame["kind"] == "core_c"].sort_values("minute")
    assert list(core["value"]) == [54.2, 71.8, 88.5]
    assert (frame["kind"] == "rise_ml").sum() == 2
    entry.back.click()
    assert len(panel.book.bake(panel.bake_id).readings) == 4


def test_a_pasted_path_is_never_opened(panel: BenchPanel, tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_text("10 54.2\n20 71.8\n")
    panel.readings.pasted.value = str(secret)
    panel.readings.take.click()
    assert panel.book.bake(panel.bake_id).readings.empty


@pytest.mark.parametrize("text", ["abc", "10", "10 hot", EVIL])
def test_readings_that_are_none_are_said_and_stay_in_the_field(
    panel: BenchPanel, text: str
) -> None:
    panel.readings.pasted.value = text
    panel.readings.take.click()
    assert 'role="alert"' in panel.readings.told["readings"].value
    assert "<img" not in panel.readings.told["readings"].value
    assert panel.readings.pasted.value == text
    assert panel.book.bake(panel.bake_id).readings.empty


def test_photos_tags_and_notes(panel: BenchPanel) -> None:
    extras = panel.extras
    extras.caption.value = EVIL
    extras.photos.value = (_upload("<b>x.jpg", _picture()),)
    extras.tags.value = "house, too sour"
    extras.tags.value = "house"
    extras.text.value = "**Good** spring"
    extras.text.value = "**Very good** spring"
    bake = panel.book.bake(panel.bake_id)
    assert bake.tags == ("house",)
    assert [n.text for n in bake.notes] == ["**Very good** spring"]
    assert bake.photos[0].caption == EVIL
    assert "<img src=x" not in extras.told["shown"].value
    good, bad = _upload("y.jpg", _picture("#fff")), _upload("x.jpg", b"no photo")
    extras.photos.value = (bad, good)
    assert "Not saved: x.jpg" in extras.told["photos"].value
    assert len(panel.book.bake(panel.bake_id).photos) == 2
    extras.photos.value = (_upload("../../up.jpg", _picture("#000")),)
    assert "Not saved" in extras.told["photos"].value


def test_bakes_are_found_and_opened(panel: BenchPanel) -> None:
    panel.form.type("baker", "Oona")
    panel.extras.tags.value = "sour"
    panel.tabs.value = "bakes"
    browsing = panel.browsing
    assert [r["cells"][1] for r in browsing.table.rows] == ["Quay loaf"]
    browsing.tag.value = "sour"
    browsing.baker.value = "Oona"
    assert len(browsing.table.rows) == 1
    browsing.text.value = EVIL
    assert browsing.table.rows == []
    assert "No bake is found" in browsing.count.value
    browsing.clear.click()
    browsing.since.value = "yesterday-ish"
    assert 'role="alert"' in browsing.told.value
    browsing.clear.click()
    browsing.table.open_row(panel.bake_id)
    assert panel.tabs.value == "page"
    assert "Quay loaf" in panel.paging.page.value


def test_the_page_prints_retires_and_brings_back(panel: BenchPanel) -> None:
    bake_id = panel.bake_id
    panel.form.type("crumb_words", EVIL)
    panel.tabs.value = "page"
    paging = panel.paging
    assert "<img src=x" not in paging.page.value
    paging.print_page.click()
    assert "application/pdf" in paging.told.value
    paging.save_page.click()
    assert "text/html" in paging.told.value
    paging.reason.value = "wrong flour"
    paging.retire.click()
    assert panel.book.bakes().empty
    assert "never deleted" in paging.told.value
    paging.restore.click()
    assert list(panel.book.bakes()["id"]) == [bake_id]
    paging.write_in.click()
    assert panel.tabs.value == "bench"


def test_the_usual_cautions_are_at_hand(panel: BenchPanel) -> None:
    assert "Raw dough" in panel.telling.care.html
    assert "gluten" in panel.telling.care.html
    panel.form.type("lid", "yes")
    assert "away from you" in panel.telling.urgent.value
    assert "bakelab-weights" in panel.telling.weigh.html


def test_two_who_correct_one_note_lose_no_word(panel: BenchPanel) -> None:
    panel.extras.text.value = "pale"
    other = BenchPanel(panel.book)
    other.extras.which.value = panel.book.bake(panel.bake_id).notes[0].id
    other.extras.text.value = "pale and flat"
    panel.extras.text.value = "pale, sweet"
    text = panel.book.bake(panel.bake_id).notes[0].text
    assert "pale and flat" in text
    assert "pale, sweet" in text


def test_without_a_book_a_copy_of_the_invented_one_opens_and_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BAKELAB_BOOK", str(tmp_path / "mine" / "bakebook.sqlite"))
    panel = BenchPanel()
    assert "invented" in panel.book_told.value
    assert panel.bake_id == ""
    assert len(panel.book.bakes()) >= 40
    panel.starting.start.click()
    started = panel.bake_id
    again = BenchPanel()
    assert again.bake_id == started
    again.other_book.click()
    assert "invented" not in again.book_told.value
    assert again.book.bakes().empty
    again.other_book.click()
    assert again.bake_id == started
    for one in (panel, again):
        one.book.close()


def test_a_start_while_the_book_is_changed_goes_back_to_its_book(
    panel: BenchPanel, book: BakeBook, tmp_path: Path
) -> None:
    """The tap reaches a part of the book that was shown when it was made."""
    start = panel.starting.start
    with BakeBook(tmp_path / "other.sqlite") as other:
        panel.use(other)
        start.click()
        assert panel.book is book
        assert panel.bake_id == book.bakes(newest=1)["id"].iloc[0]
        assert other.bakes().empty


def test_a_damaged_formula_is_said_where_it_is_chosen_and_stops_no_bench(
    tmp_path: Path,
) -> None:
    path, formula = tmp_path / "book.sqlite", read_recipe(RECIPE).formula
    assert formula is not None
    with BakeBook(path) as opened:
        opened.keep(formula, name="house")
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("update formulas set content = '{}'")
    connection.close()
    with BakeBook(path) as opened:
        panel = BenchPanel(opened)
        assert "in the bake book is damaged" in panel.starting.expected.value
        panel.starting.start.click()
        assert "in the bake book is damaged" in panel.starting.told.value
