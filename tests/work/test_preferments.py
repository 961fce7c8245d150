"""Preferments: what moves, what stays, and feeds counted backwards."""

import datetime

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.preferments import (
    feeding_schedule,
    kind,
    kinds,
    overall,
    prefermented_pct,
    stage_sentences,
    stage_table,
    with_preferment,
    with_prefermented,
    with_soaker,
)
from bakelab.ranges import measures

BREAD = Formula.from_pairs(
    [
        ("wheat_bread", 400),
        ("rye_medium", 100),
        ("water", 340),
        ("milk_whole", 60),
        ("salt_table", 10),
        ("yeast_instant", 4),
    ]
)
NOON = datetime.datetime(2026, 11, 26, 12, 0)


def test_a_poolish_by_hand() -> None:
    """30 % of 500 g flour at 100 % water and 0.2 % yeast: 150 g, 150 g, 0.3 g."""
    split = with_preferment(BREAD, "poolish", flour_pct=30, yeast_pct=0.2)
    table = stage_table(split).set_index("stage")
    assert list(table.index) == ["poolish", "final dough"]
    first = {r.ingredient: r.mass_g for r in split.rows if r.stage == "poolish"}
    assert first == pytest.approx(
        {"wheat_bread": 120, "rye_medium": 30, "water": 150, "yeast_instant": 0.3}
    )
    assert table.loc["poolish", "flour_pct"] == pytest.approx(30)
    assert table.loc["poolish", "hydration_pct"] == pytest.approx(100, abs=0.2)


@given(
    st.sampled_from(
        ["poolish", "sponge", "biga", "old_dough", "levain_liquid", "scald"]
    ),
    st.floats(1, 60),
    st.floats(30, 150),
    st.floats(0, 0.5),
)
def test_totals_stay_whatever_is_moved(
    what: str, flour_pct: float, hydration_pct: float, yeast_pct: float
) -> None:
    assume(flour_pct * hydration_pct / 100 <= 340 / 5 - 1e-6)
    split = with_preferment(
        BREAD,
        what,
        flour_pct=flour_pct,
        hydration_pct=hydration_pct,
        yeast_pct=yeast_pct,
    )
    assert split.flour_g == pytest.approx(BREAD.flour_g, rel=1e-12)
    assert split.hydration_pct == pytest.approx(BREAD.hydration_pct, rel=1e-12)
    assert split.role_pct("salt") == pytest.approx(BREAD.role_pct("salt"), rel=1e-12)
    assert split.dough_g == pytest.approx(BREAD.dough_g, rel=1e-12)
    assert stage_table(split)["mass_g"].sum() == pytest.approx(BREAD.dough_g)


def test_back_into_the_overall_formula() -> None:
    split = with_preferment(BREAD, "old_dough", flour_pct=20)
    again = overall(split)
    assert {r.ingredient: r.mass_g for r in again.rows} == pytest.approx(
        {r.ingredient: r.mass_g for r in BREAD.rows}
    )
    assert again.stages == ("dough",)


def test_old_dough_holds_salt_and_a_milk_sponge_holds_milk() -> None:
    old = with_preferment(BREAD, "old_dough", flour_pct=20)
    assert stage_table(old).loc[0, "salt_pct"] == pytest.approx(2)
    sponge = with_preferment(
        BREAD, "sponge", flour_pct=20, hydration_pct=60, liquid="milk_whole"
    )
    assert {r.ingredient for r in sponge.rows if r.stage == "sponge"} >= {"milk_whole"}


def test_a_sponge_may_hold_fat() -> None:
    rich = BREAD.with_rows(
        [*BREAD.rows, *Formula.from_pairs([("butter_unsalted", 50)]).rows]
    )
    sponge = with_preferment(rich, "sponge", flour_pct=40, fat_pct=5)
    inside = [r for r in sponge.rows if r.stage == "sponge" and r.role == "fat"]
    assert inside[0].mass_g == pytest.approx(10)
    assert sponge.role_pct("fat") == pytest.approx(rich.role_pct("fat"))


def test_two_preferments_one_after_the_other() -> None:
    twice = with_preferment(
        with_preferment(BREAD, "poolish", flour_pct=20), "poolish", flour_pct=20
    )
    assert twice.flour_g == pytest.approx(500)
    assert twice.stages[0] == "poolish 2"
    table = stage_table(twice).set_index("stage")
    assert list(table.loc[["poolish", "poolish 2"], "flour_pct"]) == pytest.approx(
        [20, 20]
    )


def test_an_enriched_old_dough_holds_fat_and_milk() -> None:
    """By hand: 20 % of 500 g is 100 g flour; 8 % of that is 8 g butter."""
    rich = Formula.from_pairs([*((r.ingredient, r.mass_g) for r in BREAD.rows),
                               ("butter_unsalted", 40)])  # fmt: skip
    old = with_preferment(
        rich, "old_dough", flour_pct=20, also={"butter_unsalted": 8, "milk_whole": 12}
    )
    first = {r.ingredient: r.mass_g for r in old.rows if r.stage == old.stages[0]}
    assert first["butter_unsalted"] == pytest.approx(8)
    assert first["milk_whole"] == pytest.approx(12)
    assert old.hydration_pct == pytest.approx(rich.hydration_pct, rel=1e-12)


@pytest.mark.parametrize(
    ("key", "grams"), [("yeast_instant", 1.35), ("yeast_fresh", 1.35 / 0.33)]
)
def test_another_yeast_gets_what_raises_as_much(key: str, grams: float) -> None:
    """A sponge's usual middle is 0.9 % of instant yeast; fresh 1 : instant 0.33 is
    common practice, no source. 30 % of 500 g flour is 150 g."""
    pairs = [("wheat_bread", 500.0), ("water", 320.0), (key, 20.0)]
    split = with_preferment(Formula.from_pairs(pairs), "sponge", flour_pct=30)
    inside = [r.mass_g for r in split.rows if r.stage == "sponge" and r.role == "yeast"]
    assert inside == [pytest.approx(grams)]


def test_a_levain_holds_a_ripe_starter() -> None:
    """By hand: 20 % of 500 g is 100 g flour; a third of it comes with the
    starter, which at 50 % weighs 50 g; the stage stays at 60 % water."""
    split = with_preferment(
        BREAD, "levain_stiff", flour_pct=20, hydration_pct=60, seed_hydration_pct=50
    )
    seed = split.rows[0]
    assert (seed.role, seed.ingredient) == ("starter", "starter_stiff")
    assert seed.mass_g == pytest.approx(50)
    assert stage_table(split).loc[0, "hydration_pct"] == pytest.approx(60)
    assert split.flour_g == pytest.approx(500)
    again = overall(split, open_starters=True)
    assert again.pct("wheat_bread") == pytest.approx(80)
    assert again.water_pct == pytest.approx(BREAD.water_pct)
    assert again.assumptions[-1].what == "flour in the starter"
    with pytest.raises(FormulaError, match="less starter"):
        with_preferment(BREAD, "levain_stiff", hydration_pct=30, seed_pct=90)


def test_washes_and_dusting_are_not_taken_from() -> None:
    topped = BREAD.with_rows(
        [*BREAD.rows, Row("topping", "wheat_bread", "flour", "flour", 50.0)]
    )
    split = with_preferment(topped, "poolish", flour_pct=20)
    assert [r.mass_g for r in split.rows if r.stage == "topping"] == [50.0]
    assert overall(split).stages == ("dough", "topping")


SPLIT = with_preferment(BREAD, "poolish", flour_pct=20, yeast_pct=0.2)
LEVAIN = with_preferment(BREAD, "levain_liquid", flour_pct=20)


@given(st.sampled_from([SPLIT, LEVAIN]), st.floats(0, 60))
def test_more_or_less_prefermented_leaves_the_totals(
    split: Formula, pct: float
) -> None:
    made = with_prefermented(split, pct)
    assert prefermented_pct(made) == pytest.approx(pct, abs=1e-9)
    assert measures(made)["prefermented_flour"] == pytest.approx(pct, abs=1e-9)
    assert made.flour_g == pytest.approx(500, rel=1e-12)
    assert made.water_g == pytest.approx(split.water_g, rel=1e-12)
    assert made.dough_g == pytest.approx(split.dough_g, rel=1e-12)
    assert made.role_g("salt") == pytest.approx(10, rel=1e-12)


def test_prefermented_shares_that_cannot_be() -> None:
    with pytest.raises(FormulaError, match="nothing ferments before"):
        with_prefermented(BREAD, 20)
    with pytest.raises(FormulaError, match="a lower share fits"):
        with_prefermented(SPLIT, 99)


def test_each_stage_in_a_sentence_with_what_is_unusual() -> None:
    usual, rest = stage_sentences(SPLIT)
    assert usual.startswith("poolish: 200.2 g with 20.0 % of all flour")
    assert "usual" not in usual + rest
    wet = with_preferment(BREAD, "scald", flour_pct=15, hydration_pct=300)
    assert "flour share above the usual" in stage_sentences(wet)[0]


def test_a_soaker_takes_water_from_the_dough() -> None:
    seeds = Formula.from_pairs(
        [("wheat_bread", 500), ("flax_seeds", 50), ("water", 350)]
    )
    soaked = with_soaker(seeds, ["flax_seeds"], hydration_pct=150)
    assert stage_table(soaked).loc[0, "mass_g"] == pytest.approx(125)
    assert soaked.water_pct == pytest.approx(70)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"what": "poolis"}, "closest: poolish"),
        ({"what": "poolish", "flour_pct": 90}, "the dough has 340.0 g"),
        ({"what": "poolish", "flour_pct": -1}, "between 0 and 100"),
        ({"what": "poolish", "flour_pct": float("nan")}, "between 0 and 100"),
        ({"what": "biga", "flour": "spelt_white"}, "no flour 'spelt_white'"),
        ({"what": "biga", "yeast_pct": 50}, "the dough has 4.0 g"),
    ],
)
def test_what_cannot_be_moved_is_said(words: dict[str, object], said: str) -> None:
    with pytest.raises(FormulaError, match=said):
        with_preferment(BREAD, **words)  # type: ignore[arg-type]


def test_every_kind_has_bands_in_order_and_a_source() -> None:
    table = kinds()
    assert (table["flour_low"] <= table["flour_high"]).all()
    assert (table["hydration_low"] <= table["hydration_high"]).all()
    assert (table["source"] == "common practice, no source").all()
    assert kind("poolish").middle("hydration") == 100


def test_one_feed_by_hand() -> None:
    """90 g at 100 % from two parts: 15 g flour in the starter, 30 g fed."""
    plan = feeding_schedule(need="90 g", at=NOON, have="30 g", parts=2, hours=8)
    feed = plan.iloc[-1]
    assert len(plan) == 1
    assert (feed["starter_g"], feed["flour_g"], feed["water_g"]) == (30, 30, 30)
    assert feed["at"] == NOON - datetime.timedelta(hours=8)


def test_a_feed_in_the_past_is_refused() -> None:
    with pytest.raises(FormulaError, match="first of 1 feeds was due at 26 Nov 04:00"):
        feeding_schedule(need="90 g", at=NOON, now=NOON)
    assert len(feeding_schedule(need="90 g", at=NOON, now=NOON.replace(hour=4))) == 1


@given(st.floats(20, 2000), st.floats(50, 125), st.floats(0.6, 10))
def test_feeds_end_with_what_is_needed(
    need_g: float, hydration_pct: float, parts: float
) -> None:
    plan = feeding_schedule(
        need=f"{need_g:.3f} g", at=NOON, hydration_pct=hydration_pct, have="20 g",
        have_hydration_pct=min(100.0, hydration_pct), parts=parts,
    )  # fmt: skip
    assert plan["total_g"].iloc[-1] == pytest.approx(round(need_g, 3))
    assert plan["starter_g"].iloc[0] <= 20 * (1 + 1e-9)
    sums = plan["starter_g"] + plan["flour_g"] + plan["water_g"]
    assert list(sums) == pytest.approx(list(plan["total_g"]))
    assert list(plan["starter_g"])[1:] == pytest.approx(list(plan["total_g"])[:-1])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"need": "0 g"}, "how much levain"),
        ({"need": "1 kg", "parts": 0}, "0.5 to 10 parts"),
        ({"need": "1 kg", "hours": 99}, "2 to 24 hours"),
        ({"need": "1 kg", "hydration_pct": 10}, "30 to 300 %"),
        ({"need": "1000000 kg", "parts": 0.5}, "feeds"),
        ({"need": "40 g", "hydration_pct": 40.0, "have_hydration_pct": 300.0,
          "parts": 0.5}, "feed more flour"),
    ],
)  # fmt: skip
def test_feeds_that_cannot_be(words: dict[str, object], said: str) -> None:
    with pytest.raises(FormulaError, match=said):
        feeding_schedule(at=NOON, **words)  # type: ignore[arg-type]
