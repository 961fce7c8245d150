"""The comparing panel over a small book: each comparison, filters, refusals."""

import base64
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from bakelab.bakebook import BakeBook
from bakelab.comparing import Against, Control, Mixed, Paired, Surface, Variants
from bakelab.formula import Formula
from bakelab.panels import ComparePanel
from bakelab.panels.compare.controls import KINDS
from bakelab.panels.compare.html import table_html
from bakelab.variants import plan_trials

START = datetime(2026, 1, 5, 8, tzinfo=UTC)
SMALL, LARGE = "loaf 15 x 9 x 6 cm", "loaf 23 x 13 x 7 cm"


def dough(salt_g: float, title: str = "Quay loaf") -> Formula:
    pairs = [("wheat_bread", 500), ("water", 330), ("salt_table", salt_g)]
    formula = Formula.from_pairs(pairs)
    return Formula(rows=formula.rows, title=title)


def fill(book: BakeBook) -> None:
    """Two salts in two pans on six days; a plan of two ratios with three middles."""
    random = np.random.default_rng(4)
    for day in range(6):
        for salt_g in (8.0, 11.0):
            for pan, more in ((SMALL, 0.0), (LARGE, 0.9)):
                height = 9 + more - 0.1 * salt_g + 0.3 * day + random.normal(0, 0.1)
                bake = book.start(
                    dough(salt_g), pan=pan, at=START + timedelta(days=day),
                    height_cm=round(height, 2), baker="<b>Ada</b>" if day % 2 else "Bo",
                )  # fmt: skip
                if day == 5:
                    book.tag(bake, "late", "odd, word")
    plan = plan_trials(
        dough(10, "Trial loaf"), {"salt": (1.6, 2.2), "water": (62, 70)},
        kind="curved", centres=3,
    )  # fmt: skip
    book.plan(plan, "spring trials")
    for n, formula in enumerate(plan.formulas):
        salt, water = formula.role_pct("salt"), formula.water_pct
        height = 10 - 9 * (salt - 1.9) ** 2 - 0.05 * (water - 66.5) ** 2
        book.start(
            formula, at=START + timedelta(days=30 + n),
            height_cm=round(height + random.normal(0, 0.04), 2),
        )  # fmt: skip


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BakeBook]:
    with BakeBook(tmp_path_factory.mktemp("book") / "book.sqlite", who="me") as kept:
        fill(kept)
        yield kept


@pytest.fixture(scope="module")
def opened(book: BakeBook) -> ComparePanel:
    return ComparePanel(book)


@pytest.fixture
def panel(opened: ComparePanel) -> ComparePanel:
    """The one panel, with every filter cleared."""
    for name in (
        "formula",
        "pan",
        "since",
        "until",
        "tag",
        "text",
        "without",
        "baseline",
    ):
        getattr(opened.controls, name).value = ""
    return opened


def choose(panel: ComparePanel, kind: int, **values: object) -> None:
    panel.controls.kind.value = list(KINDS)[kind]
    for name, value in values.items():
        getattr(panel.controls, name).value = value


def test_a_ratio_is_compared_at_once_with_the_part_of_the_scale(
    panel: ComparePanel,
) -> None:
    choose(panel, 0, ratio="salt_pct", text="quay")
    assert isinstance(panel.found, Against)
    assert len(panel.found.points) == 24
    assert panel.found.widest_doubt > 0
    assert "The scale leaves up to" in panel.outputs["text"].value
    assert "<svg" in panel.outputs["chart"].value
    assert panel.outputs["alert"].value == ""


def test_filters_choose_among_bakes(panel: ComparePanel) -> None:
    choose(panel, 0, ratio="salt_pct", pan=SMALL, until="2026-01-06")
    assert isinstance(panel.found, Against)
    assert len(panel.found.points) == 4
    assert "4 bakes in this choice" in panel.outputs["count"].value
    panel.controls.pan.value = panel.controls.until.value = ""
    panel.controls.without.value = "late"
    assert len(panel.found.points) == 31


def test_variants_of_one_title_are_told_apart(panel: ComparePanel) -> None:
    choose(panel, 1, text="quay", by="variant")
    assert isinstance(panel.found, Variants)
    names = panel.found.table["variant"].tolist()
    assert len(names) == 2
    assert all(n.startswith("Quay loaf (") for n in names)


def test_two_pans_are_paired_by_day(panel: ComparePanel) -> None:
    choose(panel, 2, text="quay", by="pan", first=SMALL, second=LARGE, pair="day")
    assert isinstance(panel.found, Paired)
    assert len(panel.found.pairs) == 12  # two doughs on each of six days
    assert panel.found.middle == pytest.approx(0.9, abs=0.15)
    assert panel.outputs["remarks"].value == ""


def test_house_loaf_over_time_shows_a_drift(panel: ComparePanel) -> None:
    choose(panel, 3, text="quay", pan=SMALL, baseline="4")
    assert isinstance(panel.found, Control)
    assert panel.found.frame["sets_limits"].sum() == 4
    panel.controls.baseline.value = "a few"
    assert "whole number of bakes" in panel.outputs["alert"].value
    assert panel.found is None
    panel.controls.baseline.value = ""
    assert panel.outputs["alert"].value == ""


def test_a_complete_plan_has_its_best_point_with_an_interval(
    panel: ComparePanel,
) -> None:
    choose(panel, 4)
    assert isinstance(panel.found, Surface)
    assert panel.found.ratios == ("salt_pct", "water_pct")
    best = panel.found.best
    for ratio, truth in (("salt_pct", 1.9), ("water_pct", 66.5)):
        assert best.low[ratio] <= truth <= best.high[ratio]
    assert "can carry this best point" in panel.outputs["text"].value
    assert panel.more.html.count("<svg") == 2
    panel.controls.surface.value = "straight"
    assert "only a best corner" in panel.outputs["text"].value


def test_the_best_point_is_kept_as_a_formula_of_the_trials(
    panel: ComparePanel, book: BakeBook
) -> None:
    choose(panel, 4, surface="", aim="largest")
    assert isinstance(panel.found, Surface)
    best = panel.found.best
    assert panel.best.view.layout.display is None
    said = panel.best.words.value
    assert "Computed, not baked: salt" in said
    assert "95 % interval" in said
    panel.best.shelf.name.value = "spring best"
    panel.best.shelf.keep.click()
    assert "Kept in your bake book as “spring best”" in panel.best.shelf.told.value
    row = book.formulas().set_index("name").loc["spring best"]
    made = book.formula(str(row["key"]))
    assert made.role_pct("salt") == pytest.approx(best.at["salt_pct"])
    assert made.water_pct == pytest.approx(best.at["water_pct"])
    assert made.flour_g == pytest.approx(500)
    assert row["change"].startswith("Computed, not baked")
    assert "computed from 11 trials" in made.assumptions[-1].basis
    trials = book.plans()["trials"].iloc[0]
    near = trials.set_index("formula_key").loc[[row["parent"]]]
    assert near["salt_pct"].iloc[0] == pytest.approx(1.9)
    assert near["water_pct"].iloc[0] == 66
    book.retire(str(row["key"]), "only tried here")


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"surface": "straight", "aim": "largest"}, "only a best corner"),
        ({"surface": "", "aim": "smallest"}, "at the edge of what was baked"),
    ],
)
def test_without_a_best_point_inside_there_is_a_sentence_and_no_button(
    panel: ComparePanel, values: dict[str, str], said: str
) -> None:
    choose(panel, 4, **values)
    assert "There is no best point to keep" in panel.best.words.value
    assert said in panel.best.words.value
    assert panel.best.shelf.keeping.layout.display == "none"
    panel.best.shelf.keep.click()
    assert "there is no best point to keep" in panel.best.shelf.told.value
    choose(panel, 4, surface="", aim="largest")
    assert panel.best.shelf.keeping.layout.display is None
    choose(panel, 1, by="variant", text="quay")
    assert panel.best.view.layout.display == "none"


def test_batches_are_set_apart(panel: ComparePanel) -> None:
    choose(panel, 5, text="quay", by="variant", batch="day")
    assert isinstance(panel.found, Mixed)
    assert panel.found.batches == 6
    assert "is the batch" in panel.outputs["text"].value


def test_only_the_controls_that_are_needed_are_seen(panel: ComparePanel) -> None:
    seen = {}
    for n, needed in enumerate(KINDS.values()):
        choose(panel, n)
        every = {name for names in KINDS.values() for name in names}
        seen = {
            name
            for name in every
            if getattr(panel.controls, name).layout.display != "none"
        }
        assert seen == set(needed)


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("since", "soon", "soon"),
        ("text", "no such word", "No bake in the book is like that"),
        ("tag", "<script>alert(1)</script>", "No bake in the book is like that"),
    ],
)
def test_nonsense_is_a_sentence_in_place(
    panel: ComparePanel, name: str, value: str, said: str
) -> None:
    getattr(panel.controls, name).value = value
    told = panel.outputs["alert"].value
    assert said in told
    assert 'role="alert"' in told
    assert "<script>" not in told
    assert panel.outputs["chart"].value == ""
    getattr(panel.controls, name).value = ""
    assert "<svg" in panel.outputs["chart"].value


def test_a_plan_that_is_not_complete_says_what_is_missing(tmp_path: Path) -> None:
    with BakeBook(tmp_path / "book.sqlite", who="me") as book:
        plan = plan_trials(dough(10), {"salt": (1.6, 2.2), "water": (62, 70)})
        book.plan(plan, "small")
        for n, formula in enumerate(plan.formulas[:2]):
            book.start(formula, at=START, height_cm=9.0 + n)
        panel = ComparePanel(book)
        choose(panel, 4)
        assert "was the same in every bake" in panel.outputs["alert"].value


def test_an_empty_book_says_what_to_do(tmp_path: Path) -> None:
    panel = ComparePanel(tmp_path / "empty.sqlite")
    assert "log a bake first" in panel.outputs["alert"].value
    choose(panel, 4)
    assert "no plan of trials" in panel.outputs["alert"].value
    panel._source.book.close()


def test_what_others_wrote_is_read_again(tmp_path: Path) -> None:
    with BakeBook(tmp_path / "book.sqlite", who="me") as book:
        panel = ComparePanel(book)
        for n, salt_g in enumerate((8.0, 10.0, 11.0)):
            book.start(dough(salt_g), at=START, height_cm=9.0 + n)
        panel.controls.again.click()
        assert isinstance(panel.found, Against)
        assert len(panel.found.points) == 3


def test_words_of_the_book_cannot_become_markup(panel: ComparePanel) -> None:
    choose(panel, 1, by="baker", text="quay")
    assert "<b>Ada" not in panel.outputs["text"].value
    assert "<b>Ada" not in panel.outputs["chart"].value
    assert "<b>" not in panel.table.html


def test_an_answer_is_taken_along_as_a_file(panel: ComparePanel) -> None:
    choose(panel, 1, by="baker", text="quay")
    panel.controls.save.click()
    link = panel.outputs["saved"].value
    assert 'download="variants-side-by-side.csv"' in link
    data = base64.b64decode(link.split("base64,")[1].split('"')[0]).decode("utf-8-sig")
    assert data.splitlines()[0].startswith('"Variant","Bakes","Mean"')
    panel.controls.save_as.value = "svg"
    panel.controls.save.click()
    link = panel.outputs["saved"].value
    picture = base64.b64decode(link.split("base64,")[1].split('"')[0]).decode()
    assert picture.startswith("<svg")
    assert "currentColor" not in picture


def test_long_tables_are_cut_and_say_so() -> None:
    import pandas as pd

    table = table_html(pd.DataFrame({"Bake": range(600), "x": ["<i>"] * 600}))
    assert "100 more rows are not shown" in table
    assert "<i>" not in table
