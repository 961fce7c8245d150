"""How long a book of 20 000 bakes takes to open, to filter and to write into.

Aims: open in under 1 s, filter in under 100 ms. Nothing here asserts a time.
"""

import json
import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import insert, update

from bakelab.bakebook import BakeBook
from bakelab.bakebook.computed import COMPUTED_BY
from bakelab.bakebook.entries import new_id
from bakelab.bakebook.tables import BAKES, MARKS, NOTES, READINGS, TAGS
from bakelab.formula import Formula

BAKES_IN_IT = 20_000
FIRST = datetime(2015, 1, 1, 8, tzinfo=UTC)
PANS = ("loaf 9 x 5 x 2.75 in", "loaf 30 x 11 x 7 cm", "round 20 x 5 cm")


def _bake(number: int, key: str, chance: random.Random) -> dict[str, Any]:
    return {
        "id": new_id(), "version": 1, "who": "Anna", "formula_key": key,
        "started_at": FIRST + timedelta(hours=4 * number), "pan": PANS[number % 3],
        "baker": ("Anna", "Bo", "Chris")[number % 3], "room_c": chance.gauss(22, 2),
        "dough_c": chance.gauss(25, 1), "planned_dough_c": 25.0, "bake_min": 35.0,
        "dough_in_g": 900.0, "loaf_out_g": chance.gauss(800, 8),
        "loaf_volume_cm3": chance.gauss(3300, 120), "crumb_1_9": 6.0,
        "crumb_words": "open", "crust_words": "thin", "computed_by": COMPUTED_BY,
        "computed": json.dumps({"bake_loss_pct": 11.1, "specific_volume_cm3_g": 4.1}),
        "found_by": f"bake {number}: even crumb, a little pale open thin",
    }  # fmt: skip


def _around(bake: dict[str, Any], number: int) -> Iterator[tuple[Any, dict[str, Any]]]:
    common = {"bake_id": bake["id"], "who": "Anna"}
    entry = {**common, "version": 1}
    at = bake["started_at"]
    for hours, what in enumerate(("mixed", "shaped", "in the oven", "out")):
        moment = at + timedelta(hours=hours)
        yield MARKS, {**entry, "id": new_id(), "what": what, "at": moment}
    for minute in (0, 30, 60) if number % 20 == 0 else ():
        reading = {"kind": "rise_ml", "minute": minute, "value": 100 + minute}
        yield READINGS, {**entry, "id": new_id(), "unit": "ml", **reading}
    text = f"Bake {number}: even crumb, a little pale"
    yield NOTES, {**entry, "id": new_id(), "at": at, "text": text}
    yield TAGS, {**common, "word": f"week {number % 52}", "at": at}


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of 20 000 bakes of 40 formulas, ten years of a busy kitchen."""
    path = tmp_path_factory.mktemp("speed") / "book.sqlite"
    chance = random.Random(1)
    with BakeBook(path) as book:
        pairs = [("wheat_bread", 500.0), ("salt_table", 10.0)]
        keys = [
            book.keep(Formula.from_pairs([*pairs, ("water", 320.0 + n)]))
            for n in range(40)
        ]
        bakes = [_bake(n, keys[n % 40], chance) for n in range(BAKES_IN_IT)]
        rows: dict[Any, list[dict[str, Any]]] = {BAKES: bakes}
        for number, bake in enumerate(bakes):
            for table, row in _around(bake, number):
                rows.setdefault(table, []).append(row)
        with book._writing() as db:
            for table, whole in rows.items():
                db.execute(insert(table), whole)
    with BakeBook(path):
        return path  # and today's backup is made


@pytest.fixture
def book(path: Path) -> Iterator[BakeBook]:
    """The book, opened."""
    with BakeBook(path) as opened:
        yield opened


def test_opening(benchmark: Any, path: Path) -> None:
    """Aim: under 1 s."""

    def opened() -> int:
        with BakeBook(path) as book:
            return len(book.bakes(newest=20))

    assert benchmark(opened) == 20


def test_opening_first_thing_in_the_morning(benchmark: Any, path: Path) -> None:
    """With the day's checked backup. Aim: under 1 s."""

    def forget() -> None:
        for backup in path.with_name("book-backups").iterdir():
            backup.unlink()

    def opened() -> int:
        with BakeBook(path) as book:
            return len(list(book.backups_folder.iterdir()))

    assert benchmark.pedantic(opened, setup=forget, rounds=3) == 1


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        pytest.param({"tag": "week 7"}, 385, id="tag"),
        pytest.param(
            {"since": "2024-01-01", "baker": "Anna"}, 93, id="since and baker"
        ),
        pytest.param({"text": "bake 1234"}, 11, id="words"),
        pytest.param({"text": "NIRGENDS Ä"}, 0, id="words that nobody wrote"),
        pytest.param({"pan": PANS[0], "newest": 50}, 50, id="pan, the newest 50"),
    ],
)
def test_filtering(
    benchmark: Any, book: BakeBook, wanted: dict[str, Any], found: int
) -> None:
    """Aim: under 100 ms."""
    assert len(benchmark(book.bakes, **wanted)) == found


def test_one_formula(benchmark: Any, book: BakeBook) -> None:
    """500 bakes. Aim: under 100 ms."""
    key = book.formulas()["key"][0]
    assert len(benchmark(book.bakes, formula=key)) == 500


def test_the_whole_table(benchmark: Any, book: BakeBook) -> None:
    table = benchmark.pedantic(book.bakes, rounds=3)
    assert len(table) == BAKES_IN_IT
    assert table["bake_loss_pct"].notna().all()


def test_working_out_what_changed(benchmark: Any, book: BakeBook) -> None:
    """40 bakes that were corrected since they were last listed."""
    ids = book.bakes(newest=40)["id"]

    def change() -> None:
        with book._writing() as db:
            db.execute(
                update(BAKES).where(BAKES.c.id.in_(ids)).values(computed_by=None)
            )

    benchmark.pedantic(lambda: book.bakes(newest=40), setup=change, rounds=5)
    assert book.bakes(newest=40)["bake_loss_pct"].between(5, 20).all()


def test_one_bake(benchmark: Any, book: BakeBook) -> None:
    bake_id = book.bakes(newest=1)["id"][0]
    assert benchmark(book.bake, bake_id).id == bake_id


def test_one_entry(benchmark: Any, book: BakeBook) -> None:
    bake_id = book.bakes(newest=1)["id"][0]
    assert benchmark(book.mark, bake_id, "folded").what == "folded"
