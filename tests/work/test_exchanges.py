"""Ingredients exchanged: what is held, what cannot be, and by how much."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.ingredients import ingredient
from bakelab.preferments import stage_table, with_preferment
from bakelab.variants import (
    blend_to_protein,
    exchange,
    rehydrate_starter,
    substitute,
    substitutions,
    swap_yeast,
)
from bakelab.variants.balance import solve
from tests.work.variant_doughs import BREAD, HELD, SOUR

RICH = Formula.from_pairs(
    [("wheat_bread", 800), ("water", 600), ("salt_table", 8), ("lard", 60)]
    + [(key, 40.0) for key in (
        "milk_whole", "milk_skim", "milk_dry_nonfat", "butter_unsalted",
        "butter_salted", "oil_vegetable", "egg_whole", "egg_yolk", "egg_white",
        "egg_dried", "honey", "sugar_white")]
)  # fmt: skip


@pytest.mark.parametrize("key", list(substitutions()["key"]))
@settings(max_examples=25, deadline=None)
@given(share=st.floats(0.1, 100))
def test_what_an_exchange_holds_is_held(key: str, share: float) -> None:
    held = substitutions().set_index("key").loc[key, "held"].split("|")
    done = substitute(RICH, key, share_pct=share)
    assert done.held == tuple(held)
    assert done.not_held == ()
    for what in held:
        assert HELD[what](done.formula) == pytest.approx(HELD[what](RICH), abs=1e-9)
    assert min(r.mass_g for r in done.formula.rows) >= 0
    assert done.formula.flour_g == RICH.flour_g


def test_what_an_exchange_cannot_hold_is_said() -> None:
    """40 g of dry milk as milk wants 294 g less water, and the dough has 100 g."""
    dry = Formula.from_pairs([("wheat_bread", 500), ("water", 100),
                              ("milk_dry_nonfat", 40)])  # fmt: skip
    done = substitute(dry, "dry_to_skim")
    assert done.held == ("solids",)
    assert done.not_held[0].startswith("cannot hold water: ")
    bare = Formula.from_pairs([("wheat_bread", 500), ("water", 100),
                               ("milk_whole", 200)])  # fmt: skip
    less = substitute(bare, "milk_to_dry_own_fat")
    assert "fat: " in less.not_held[0]
    assert less.formula.hydration_pct == pytest.approx(bare.hydration_pct, abs=1e-9)


def test_milk_for_dry_milk_by_hand() -> None:
    """USDA SR28 01077 (milk: water 88.13, fat 3.25) and 01091 (dry milk: 3.16, 0.77):
    100 g of milk hold 8.62 g of lean solids, so 8.62 / 0.9607 = 8.97 g of dry milk."""
    done = substitute(BREAD, "milk_to_dry_own_fat")
    assert done.formula.pct("milk_dry_nonfat") == pytest.approx(8.97 / 5, abs=0.04)
    assert done.formula.plain_water_g == pytest.approx(250 + 88.13 - 0.28, abs=1.0)


def test_salted_butter_takes_salt_off_by_hand() -> None:
    """USDA SR28: butter with salt 643 mg sodium, without 11 mg, salt 38 758 mg in
    100 g: 25 g of butter bring 158 mg more, 0.41 g of salt."""
    done = substitute(BREAD, "unsalted_to_salted").formula
    assert done.role_g("salt") == pytest.approx(
        10 - 0.25 * (643 - 11) / 387.58, abs=5e-3
    )
    assert done.composition()["sodium_mg"] * done.dough_g == pytest.approx(
        BREAD.composition()["sodium_mg"] * BREAD.dough_g, rel=1e-9
    )


def test_an_exchange_stays_in_its_stage() -> None:
    split = with_preferment(
        BREAD, "sponge", flour_pct=20, hydration_pct=20, liquid="milk_whole"
    )
    done = substitute(split, "milk_to_dry").formula
    table = stage_table(done).set_index("stage")["hydration_pct"]
    before = stage_table(split).set_index("stage")["hydration_pct"]
    assert list(table) == pytest.approx(list(before), abs=1e-9)


def test_an_exchange_of_ones_own() -> None:
    held = ["lean_solids", "water"]
    done = exchange(BREAD, "milk_whole", ["yogurt_plain"], hold=held, balance=["water"])
    assert done.held == ("lean_solids", "water")
    assert done.formula.water_g == pytest.approx(BREAD.water_g, abs=1e-9)
    assert done.sentences[0].startswith("100.0 g Whole milk becomes ")
    with pytest.raises(FormulaError, match="what is held"):
        exchange(BREAD, "milk_whole", ["yogurt_plain"], hold=["breath"])


@given(
    st.lists(st.floats(0.05, 1), min_size=6, max_size=6),
    st.lists(st.floats(-50, 50), min_size=2, max_size=2),
    st.lists(st.floats(-40, 0), min_size=3, max_size=3),
)
@settings(max_examples=60, deadline=None)
def test_a_balance_is_possible_cheapest_and_exact(
    numbers: list[float], wanted: list[float], least: list[float]
) -> None:
    """Three masses for two amounts leave a line of answers; no possible one on it is
    cheaper (by the definition of the least sum)."""
    matrix = np.array([numbers[:3], numbers[3:]])
    assume(np.linalg.cond(matrix) < 1e4)
    found = solve(matrix.tolist(), wanted, least_g=least)
    masses, low = np.array(found.masses_g), np.array(least)
    assert (masses >= low - 1e-12).all()
    for n in found.held:
        assert matrix[n] @ masses == pytest.approx(wanted[n], abs=1e-9)
    if not found.missed:
        along = np.linalg.svd(matrix)[2][-1]
        others = masses + np.outer(np.linspace(-50, 50, 1001), along)
        possible = others[(others >= low).all(axis=1)]
        costs = np.abs(possible).sum(axis=1)
        assert (costs >= np.abs(masses).sum() - 1e-6).all()
    assert sorted([*found.held, *(n for n, _ in found.missed)]) == [0, 1]


def test_butter_for_oil_by_hand() -> None:
    """USDA SR28 01145: 81.11 g fat and 17.94 g water in 100 g of butter."""
    done = substitute(BREAD, "butter_to_oil").formula
    assert done.role_g("fat") == pytest.approx(25 * 0.8111, rel=0.001)
    assert done.plain_water_g == pytest.approx(250 + 25 * 0.1794, rel=1e-4)


def test_yeast_by_the_two_sets() -> None:
    """1 : 0.40 : 0.33 is common practice; 1 : 0.5 : 0.35 is from memory."""
    fresh = swap_yeast(BREAD, "yeast_fresh").formula
    assert fresh.role_g("yeast") == pytest.approx(5 / 0.33)
    other = swap_yeast(BREAD, "yeast_fresh", ratios="1 : 0.5 : 0.35").formula
    assert other.role_g("yeast") == pytest.approx(5 / 0.35)
    again = swap_yeast(fresh, "yeast_instant").formula
    assert again.role_g("yeast") == pytest.approx(5)


@given(st.floats(1, 20), st.sampled_from(["yeast_active_dry", "yeast_fresh"]))
def test_another_yeast_leaves_the_hydration(grams: float, to: str) -> None:
    """Fresh yeast holds 69 % water (USDA SR26 18374), which plain water makes up."""
    dough = Formula.from_pairs(
        [("wheat_bread", 500), ("water", 300), ("yeast_instant", grams)]
    )
    done = swap_yeast(dough, to)
    assert done.held == ("rising_power", "hydration")
    assert done.formula.hydration_pct == pytest.approx(dough.hydration_pct, abs=1e-9)
    assert any("common practice, no source" in line for line in done.sentences)
    dry = swap_yeast(dough.with_rows(r for r in dough.rows if r.role != "water"),
                     "yeast_fresh")  # fmt: skip
    assert "cannot hold the true hydration" in dry.not_held[0]


@given(st.floats(11.5, 14))
def test_flours_are_shifted_before_gluten_is_added(target: float) -> None:
    done = blend_to_protein(BREAD, target, flours=("wheat_whole", "wheat_pastry"))
    flours = [r for r in done.formula.rows if r.role == "flour"]
    protein = sum(r.mass_g * ingredient(r.ingredient).protein_g / 100 for r in flours)
    assert protein / 5 == pytest.approx(target, abs=1e-9)
    assert done.formula.flour_g == pytest.approx(500, abs=1e-9)
    assert done.formula.pct("wheat_bread") == pytest.approx(80, abs=1e-9)


def test_a_blend_reaches_its_protein() -> None:
    done = blend_to_protein(BREAD, 14.0).formula
    flours = [r for r in done.rows if r.role == "flour"]
    protein = sum(r.mass_g * ingredient(r.ingredient).protein_g / 100 for r in flours)
    assert 100 * protein / sum(r.mass_g for r in flours) == pytest.approx(14, abs=1e-9)
    assert done.flour_g == pytest.approx(500)
    with pytest.raises(FormulaError, match="protein"):
        blend_to_protein(BREAD, 5)


@given(st.floats(40, 200))
def test_a_starter_of_another_hydration(pct: float) -> None:
    done = rehydrate_starter(SOUR, pct).formula
    assert done.flour_g == pytest.approx(SOUR.flour_g, abs=1e-9)
    assert done.water_g == pytest.approx(SOUR.water_g, abs=1e-9)


def test_exchanges_that_cannot_be() -> None:
    with pytest.raises(FormulaError, match="closest: butter_to_oil"):
        substitute(BREAD, "butter_to_oils")
    with pytest.raises(FormulaError, match="has no Honey"):
        substitute(BREAD, "honey_to_sugar")
    with pytest.raises(FormulaError, match="over 0"):
        substitute(BREAD, "butter_to_oil", share_pct=0)
