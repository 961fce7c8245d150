"""The demo book: the same for the same seed, and true to what lies underneath."""

import pytest
from sqlalchemy import select

from bakelab.bakebook import BakeBook
from bakelab.bakebook.demo import (
    INVENTED,
    LARGE_TIN,
    PAIRS_NAME,
    PLAN_NAME,
    SMALL_TIN,
    TRUTH,
    write_demo_book,
)
from bakelab.bakebook.demo.truth import plan_volume_cm3_g
from bakelab.bakebook.exchange_rows import DERIVED, TABLES
from bakelab.comparing import control_chart, paired, response_surface
from bakelab.errors import BookError
from bakelab.tasting import Tasting, answers_from_data, judge


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with write_demo_book(tmp_path_factory.mktemp("demo") / "demo.sqlite") as book:
        yield book


@pytest.fixture(scope="module")
def bakes(demo):
    frame = demo.bakes()
    frame["volume"] = frame["loaf_volume_cm3"] / frame["loaf_out_g"]
    frame["loss"] = 100 * (1 - frame["loaf_out_g"] / frame["dough_in_g"])
    return frame


def rows(book):
    """Every row, but for what is worked out again."""
    found = {}
    with book._reading() as db:
        for table in TABLES:
            skipped = DERIVED.get(table.name, ())
            columns = [column for column in table.c if column.name not in skipped]
            found[table.name] = sorted(
                repr(tuple(r)) for r in db.execute(select(*columns))
            )
    return found


def test_same_seed_same_book_another_seed_another(tmp_path):
    books = []
    for name, seed in (("a", 5), ("b", 5), ("c", 6)):
        with write_demo_book(tmp_path / f"{name}.sqlite", seed=seed) as book:
            books.append(rows(book))
    photos = [
        sorted(path.name for path in (tmp_path / f"{name}-photos").iterdir())
        for name in "abc"
    ]
    assert books[0] == books[1]
    assert photos[0] == photos[1]
    assert books[0]["bakes"] != books[2]["bakes"]
    ids = [row for table in ("bakes", "marks") for row in books[0][table]]
    assert len(set(ids)) == len(ids)


def test_half_a_year_with_failures_and_nothing_wrong(demo, bakes):
    assert len(bakes) >= 40
    assert (bakes["started_at"].max() - bakes["started_at"].min()).days > 120
    assert bakes["tags"].str.contains("failure").sum() >= 5
    assert len(demo.bakes(retired=True)) == len(bakes) + 1
    assert demo.examine() == ()
    assert "invented" in INVENTED
    assert len(demo.house("price")) > 10
    assert len(demo.past(bakes["id"].iloc[0])) == 0


def test_readings_notes_photos_and_corrections(demo, bakes):
    whole = [demo.bake(bake_id) for bake_id in bakes["id"]]
    kinds = {kind for bake in whole for kind in bake.readings["kind"]}
    assert kinds == {"core_c", "rise_ml", "rise_mm"}
    assert sum(bool(len(bake.readings)) for bake in whole) >= 20
    assert any("**" in note.text for bake in whole for note in bake.notes)
    photos = [photo for bake in whole for photo in bake.photos]
    assert len(photos) >= 10
    assert all("drawn" in photo.caption for photo in photos)
    assert sum(len(demo.past(bake.id)) for bake in whole) == 2
    for bake in whole:
        order = [mark.at for mark in bake.marks]
        assert order == sorted(order)


def test_control_chart_shows_the_one_real_shift(demo):
    weekly = demo.bakes(tag="weekly")
    weekly["volume"] = weekly["loaf_volume_cm3"] / weekly["loaf_out_g"]
    first = int(TRUTH["shift_after_bakes"])
    found = control_chart(weekly, result="volume", baseline=first)
    assert found.centre == pytest.approx(TRUTH["house_volume_cm3_g"], abs=0.08)
    signals = found.frame.loc[found.frame["signal"] != "", "order"]
    assert (signals > first).sum() >= 3
    assert (signals <= first).sum() == 0


def test_small_tin_loses_more(bakes):
    frame = bakes[bakes["plan"] == PAIRS_NAME]
    assert len(frame) == 16
    found = paired(
        frame, result="loss", by="pan", pair="trial", first=LARGE_TIN, second=SMALL_TIN
    )
    assert found.low < TRUTH["small_more_loss_pct"] < found.high
    assert found.low > 0


def test_plan_is_complete_and_its_best_point_is_found(demo, bakes):
    plan = demo.plans().iloc[0]
    trials = plan["trials"].assign(trial=plan["trials"]["trial"].astype(str))
    frame = bakes[bakes["plan"] == PLAN_NAME].merge(trials, on="trial")
    assert len(frame) == len(trials) == 12
    assert (frame["formula_key_x"] == frame["formula_key_y"]).all()
    found = response_surface(
        frame, result="volume", ratios=["water_pct", "yeast_pct"], draws=200
    )
    at = (TRUTH["plan_best_water_pct"], TRUTH["plan_best_yeast_pct"])
    assert tuple(found.best.at) == pytest.approx(at, rel=0.1)
    true = plan_volume_cm3_g(water_pct=at[0], yeast_pct=at[1])
    assert found.best.new_low < true < found.best.new_high


def test_best_point_of_the_plan_is_where_it_is_level():
    best = {
        "water_pct": TRUTH["plan_best_water_pct"],
        "yeast_pct": TRUTH["plan_best_yeast_pct"],
    }
    top = plan_volume_cm3_g(**best)
    for name, step in (("water_pct", 0.2), ("yeast_pct", 0.02)):
        for sign in (-1, 1):
            assert plan_volume_cm3_g(**{**best, name: best[name] + sign * step}) < top


def test_tastings_can_be_judged_again(demo):
    kept = demo.tastings()
    assert sorted(kept["kind"]) == ["ranking", "triangle"]
    for row in kept.to_dict("records"):
        plan = Tasting.from_data(row)
        answers = answers_from_data(plan, row["answers"])
        assert judge(plan, answers).to_data()["headline"] == row["verdict"]["headline"]


def test_a_book_in_use_is_left_alone(tmp_path):
    path = tmp_path / "own.sqlite"
    with write_demo_book(path, seed=1) as book:
        before = rows(book)
    with pytest.raises(BookError, match="in use"):
        write_demo_book(path)
    with BakeBook(path) as book:
        assert rows(book) == before


def test_rate_of_the_rise_is_that_of_the_curve_underneath(demo, bakes):
    """A line through the steady part is at most the steepest slope, 75 % at least.

    The steepest slope of the curve is 75 % an hour at 25 °C and 9 % more a degree.
    """
    with_jar = [demo.bake(i) for i in bakes["id"]]
    with_jar = [b for b in with_jar if (b.readings["kind"] == "rise_ml").any()]
    assert len(with_jar) >= 10
    for bake in with_jar:
        steepest = 75 * 1.09 ** (bake.facts["dough_c"] - 25)
        assert bake.computed["rise_rate_low_pct_h"] < steepest
        assert bake.computed["rise_rate_high_pct_h"] > 0.75 * steepest
