"""The house oven learned from bakes of the book."""

import math

import pytest

from bakelab.bakebook import BakeBook
from bakelab.bakebook.demo import LARGE_TIN, SMALL_TIN, TRUTH, write_demo_book
from bakelab.bakebook.house_oven import house_oven, ovens_of
from bakelab.errors import BookError
from bakelab.panels import HeatPanel


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with write_demo_book(tmp_path_factory.mktemp("oven") / "demo.sqlite") as book:
        yield book


@pytest.fixture(scope="module")
def learned(demo):
    return house_oven(demo, newest=5)


def test_heat_and_offset_of_the_demo_are_found_again(learned):
    """The demo's curves come from the model with a known heating, and noise."""
    assert learned.low < TRUTH["oven_heating"] < learned.high
    assert learned.heating == pytest.approx(TRUTH["oven_heating"], rel=0.1)
    assert learned.offset_k == pytest.approx(TRUTH["oven_offset_k"], abs=1.5)
    assert learned.count == 5
    assert learned.bakes["off_k"].max() < 1.5
    assert "deck oven: heating 1.3" in learned.text
    assert "12 K below its dial" in learned.text


def test_band_is_of_one_more_bake_by_hand(learned):
    """Student: middle ± t s sqrt(1 + 1/n) of the logarithms; t(4, 0.975) = 2.776."""
    logs = [math.log(h) for h in learned.bakes["heating"]]
    middle = sum(logs) / 5
    s = math.sqrt(sum((x - middle) ** 2 for x in logs) / 4)
    high = math.exp(middle + 2.776 * s * math.sqrt(1.2))
    assert learned.high == pytest.approx(high, rel=1e-3)


def test_dial_becomes_what_the_oven_does(learned):
    assert learned.setting("220 C").air_c == pytest.approx(220 + learned.offset_k)


def test_estimate_uses_the_own_heat_and_not_the_recipes_time(demo, learned):
    mill = demo.bake(demo.bakes(tag="weekly")["id"].iloc[0]).formula
    found = learned.estimate(mill, LARGE_TIN, SMALL_TIN, samples=0)
    slow = learned.estimate(mill, LARGE_TIN, SMALL_TIN, samples=0, bake_minutes=70)
    assert not found.from_recipe
    assert found.middle_minutes == pytest.approx(slow.middle_minutes, rel=0.02)
    assert found.middle_minutes < 34  # the small tin is done before the large one


def test_panel_with_the_oven_of_the_book(demo):
    panel = HeatPanel(book=demo)
    plain = panel.estimate.middle_minutes
    whose = panel.controls["whose"]
    assert whose.layout.display == ""
    assert [value for _, value in whose.options] == ["", *ovens_of(demo)]
    whose.value = "deck oven"
    panel.work_out()
    assert not panel.estimate.from_recipe
    assert panel.estimate.middle_minutes != plain
    assert "set its dial 12 K higher" in panel.assumed.html
    without = HeatPanel().controls["whose"]
    assert without.layout.display == "none"


def probed(book, dough, core, **facts):
    told = {"pan": LARGE_TIN, "dough_in_g": 700, "oven": "old oven", "oven_set_c": 220}
    bake = book.start(dough, **{**told, **facts})
    rows = [{"kind": "core_c", "minute": m, "value": c} for m, c in core]
    book.read(bake, rows)
    return bake


@pytest.mark.parametrize(
    ("core", "facts", "words"),
    [
        ([(0, 28), (10, 60)], {}, "no bake has 4 readings"),
        ([(m, 28) for m in range(0, 40, 5)], {}, "do not show how an oven heats"),
        ([(0, 28), (1, 99), (20, 99), (30, 99)], {}, "strength|curve"),
        ([(m, 28 + 2 * m) for m in range(0, 35, 5)], {"lid": True}, "a lid was on"),
        ([(m, 28 + 2 * m) for m in range(0, 35, 5)], {"oven_set_c": None}, "oven's"),
        ([(m, 28 + 2 * m) for m in range(0, 35, 5)], {"dough_in_g": None}, "dough in"),
    ],
)
def test_bakes_that_teach_nothing(file_book, dough, core, facts, words):
    probed(file_book, dough, core, **facts)
    with pytest.raises(BookError, match=words) as refusal:
        house_oven(file_book)
    assert "cannot be learned yet" in str(refusal.value)


def test_oven_that_is_not_in_the_book(file_book, dough):
    with pytest.raises(BookError, match="none is written yet"):
        house_oven(file_book, "deck oven")
    file_book.start(dough, oven="old oven")
    with pytest.raises(BookError, match="use one of old oven"):
        house_oven(file_book, "deck oven")


def test_offset_of_the_house_or_a_dial_taken_as_right(tmp_path, demo):
    weekly = demo.bakes(tag="weekly")
    full = next(b for b in map(demo.bake, weekly["id"]) if len(b.readings) > 6)
    core = full.readings[full.readings["kind"] == "core_c"]
    pairs = list(zip(core["minute"], core["value"], strict=True))
    with BakeBook(tmp_path / "own.sqlite") as book:
        probed(book, full.formula, pairs, dough_in_g=full.facts["dough_in_g"])
        found = house_oven(book)
        assert any("dial is taken as right" in r for r in found.remarks)
        assert found.offset_k == 0
        assert math.isnan(found.low)
        book.own("oven", "old oven", offset_c=-12)
        found = house_oven(book)
        assert found.offset_k == -12
        assert any("written of the house" in r for r in found.remarks)
