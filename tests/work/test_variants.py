"""Ratios changed, ingredients exchanged, trials planned, variants kept."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.preferments import stage_table, with_preferment
from bakelab.variants import (
    Family,
    History,
    Variant,
    blend_to_protein,
    change,
    consequences,
    exchange,
    plan_trials,
    rehydrate_starter,
    set_ratios,
    side_by_side,
    substitute,
    substitutions,
    swap_yeast,
)
from bakelab.variants.balance import solve
from bakelab.variants.designs import fraction, mixed_up
from bakelab.variants.moving import percent

BREAD = Formula.from_pairs(
    [
        ("wheat_bread", 400),
        ("wheat_whole", 100),
        ("water", 250),
        ("milk_whole", 100),
        ("butter_unsalted", 25),
        ("sugar_white", 15),
        ("egg_whole", 50),
        ("salt_table", 10),
        ("yeast_instant", 5),
    ]
)
SOFT = BREAD.with_rows(
    replace(r, mass_g=300) if r.ingredient == "water" else r for r in BREAD.rows
)
SOUR = Formula(
    (
        Row("dough", "wheat_bread", "flour", "flour", 450),
        Row("dough", "water", "water", "water", 300),
        Row("dough", "starter_liquid", "levain", "starter", 100, 100),
        Row("dough", "salt_table", "salt", "salt", 10),
    )
)


def _fat_g(formula: Formula) -> float:
    return formula.composition()["fat"] * formula.dough_g / 100


class TestChange:
    def test_salt_by_hand(self) -> None:
        """1.5 % of 500 g is 7.5 g; all else stays."""
        done = change(BREAD, "salt", to=1.5)
        assert done.formula.role_g("salt") == pytest.approx(7.5)
        assert done.formula.flour_g == pytest.approx(500)
        assert done.sentences == ("salt 2.00 % becomes 1.50 %",)

    def test_down_to_nothing_and_up_again(self) -> None:
        none = change(BREAD, "salt", to=0).formula
        assert change(none, "salt", to=2).formula.role_g("salt") == pytest.approx(10)

    def test_a_step(self) -> None:
        assert change(BREAD, "water", by=2).formula.water_pct == pytest.approx(52)

    @given(st.floats(0, 90))
    def test_true_hydration_is_moved_by_plain_water(self, above: float) -> None:
        floor = 100 * (BREAD.water_g - BREAD.plain_water_g) / BREAD.flour_g
        done = change(BREAD, "hydration", to=floor + above)
        assert done.formula.hydration_pct == pytest.approx(floor + above, abs=1e-9)

    def test_a_flour_gives_way_to_another(self) -> None:
        done = change(BREAD, "wheat_whole", to=60).formula
        assert done.pct("wheat_whole") == pytest.approx(60)
        assert done.pct("wheat_bread") == pytest.approx(40)

    @given(st.floats(1, 60))
    def test_more_starter_leaves_flour_and_water(self, pct: float) -> None:
        done = change(SOUR, "starter", to=pct).formula
        assert done.role_pct("starter") == pytest.approx(pct, abs=1e-9)
        assert done.flour_g == pytest.approx(SOUR.flour_g, abs=1e-9)
        assert done.water_g == pytest.approx(SOUR.water_g, abs=1e-9)

    @given(st.sampled_from(["salt", "water", "egg", "fat"]), st.floats(0.1, 30))
    def test_the_dough_is_held(self, what: str, pct: float) -> None:
        done = change(BREAD, what, to=pct, hold="dough").formula
        assert done.dough_g == pytest.approx(BREAD.dough_g, abs=1e-9)

    @given(st.sampled_from(["salt", "water", "egg", "fat"]), st.floats(0.1, 30))
    def test_the_dry_solids_are_held(self, what: str, pct: float) -> None:
        def solids(dough: Formula) -> float:
            return dough.dough_g * (1 - dough.composition()["water"] / 100)

        done = change(BREAD, what, to=pct, hold="solids").formula
        assert solids(done) == pytest.approx(solids(BREAD), abs=1e-9)

    @given(st.floats(0, 40))
    def test_all_water_is_held_when_milk_moves(self, pct: float) -> None:
        done = change(BREAD, "dairy", to=pct, hold="liquids")
        assert done.formula.water_g == pytest.approx(BREAD.water_g, abs=1e-9)

    @given(st.floats(0, 12))
    def test_all_fat_is_held_when_egg_moves(self, pct: float) -> None:
        done = change(BREAD, "egg", to=pct, hold="fat")
        assert _fat_g(done.formula) == pytest.approx(_fat_g(BREAD), abs=1e-9)

    @given(st.floats(2, 30))
    def test_several_things_are_held_at_once(self, pct: float) -> None:
        """Milk, egg and butter bring water, fat and sugar; all three are made up."""
        done = change(BREAD, "milk_whole", to=pct, hold=("liquids", "fat", "sweetness"))
        assert len(done.held) == 3
        assert done.formula.water_g == pytest.approx(BREAD.water_g, abs=1e-9)
        assert _fat_g(done.formula) == pytest.approx(_fat_g(BREAD), abs=1e-9)
        before, after = (HELD["sweetness"](f) for f in (BREAD, done.formula))
        assert after == pytest.approx(before, abs=1e-9)

    @given(st.floats(1, 20))
    def test_flour_and_dough_are_held_by_water(self, pct: float) -> None:
        done = change(BREAD, "egg", to=pct, hold=("flour", "dough"))
        assert done.formula.flour_g == pytest.approx(500, abs=1e-9)
        assert done.formula.dough_g == pytest.approx(BREAD.dough_g, abs=1e-9)

    @given(st.floats(1, 20))
    def test_liquids_per_flour_are_held_in_a_dough_of_the_same_weight(
        self, pct: float
    ) -> None:
        done = change(BREAD, "egg", to=pct, hold=("liquids", "pan"))
        assert done.formula.dough_g == pytest.approx(BREAD.dough_g, abs=1e-9)
        assert done.formula.hydration_pct == pytest.approx(
            BREAD.hydration_pct, abs=1e-9
        )

    def test_two_things_that_clash_are_not_both_promised(self) -> None:
        done = change(BREAD, "hydration", to=80, hold="liquids")
        assert done.held == ()
        assert "water itself is what moves" in done.not_held[0]
        both = change(BREAD, "egg", to=20, hold=("flour", "dough", "liquids"))
        assert len(both.held) == 2
        assert "all the water" in both.not_held[0]
        sizes = change(BREAD, "egg", to=20, hold=("dough", "solids"))
        assert "as well as the dough's weight" in sizes.not_held[0]

    def test_something_new_goes_into_the_dough(self) -> None:
        done = change(BREAD, "milk_dry_nonfat", to=4).formula
        assert done.pct("milk_dry_nonfat") == pytest.approx(4)
        rye = change(BREAD, "rye_medium", to=20).formula
        assert [rye.pct(k) for k in ("wheat_bread", "wheat_whole", "rye_medium")] == (
            pytest.approx([64, 16, 20])
        )

    @given(st.floats(45, 90), st.floats(0, 40))
    def test_a_preferment_keeps_its_own_ratios(
        self, water: float, whole: float
    ) -> None:
        split = with_preferment(SOFT, "poolish", flour_pct=20, yeast_pct=0.2)
        for what, pct in (("water", water), ("wheat_whole", 4 + whole), ("salt", 1)):
            done = change(split, what, to=pct).formula
            assert percent(done, what) == pytest.approx(pct, abs=1e-9)
            assert done.flour_g == pytest.approx(500, abs=1e-9)
            own = [r for r in split.rows if r.stage == "poolish"]
            assert [r for r in done.rows if r.stage == "poolish"] == own

    def test_what_the_stages_before_hold_is_said(self) -> None:
        split = with_preferment(SOFT, "poolish", flour_pct=20)
        with pytest.raises(FormulaError, match="stages before the final dough hold"):
            change(split, "water", to=10)
        with pytest.raises(FormulaError, match="the stages before hold more"):
            change(split, "wheat_whole", to=1)

    def test_prefermented_flour_is_a_ratio_too(self) -> None:
        split = with_preferment(SOFT, "poolish", flour_pct=20)
        done = change(split, "prefermented_flour", by=10)
        assert done.sentences == ("prefermented flour 20.00 % becomes 30.00 %",)
        assert done.formula.water_g == pytest.approx(split.water_g)

    @given(
        st.floats(0, 40), st.floats(0, 40), st.floats(60, 90), st.floats(0, 30),
        st.floats(1, 30),
    )  # fmt: skip
    def test_several_ratios_stand_in_the_end(
        self, whole: float, rye: float, hydration: float, milk: float, sour: float
    ) -> None:
        wanted = {"hydration": hydration, "wheat_whole": whole, "dairy": milk,
                  "rye_medium": rye, "starter": sour}  # fmt: skip
        base = SOUR.with_rows(
            [*SOUR.rows, Row("dough", "milk_whole", "milk", "dairy", 20)]
        )
        done = set_ratios(base, wanted)
        for what, pct in wanted.items():
            assert percent(done, what) == pytest.approx(pct, abs=1e-9)
        assert done.flour_g == pytest.approx(base.flour_g, abs=1e-9)

    def test_ratios_that_cannot_stand_together(self) -> None:
        with pytest.raises(FormulaError, match="others have to make up the rest"):
            set_ratios(BREAD, {"wheat_bread": 70, "wheat_whole": 20})
        with pytest.raises(FormulaError, match="cannot all be set"):
            set_ratios(BREAD, {"dairy": 20, "milk_whole": 10})

    def test_what_cannot_be_held_is_said(self) -> None:
        done = change(BREAD, "dairy", to=200, hold="liquids")
        assert not done.held
        assert "not enough water" in done.not_held[0]

    @pytest.mark.parametrize(
        ("what", "words", "said"),
        [
            ("flour", {"to": 90}, "100 %"),
            ("gravel", {"to": 3}, "no 'gravel'"),
            ("leavening", {"to": 3}, "add it to the recipe first"),
            ("salt", {"to": -1}, "give 0 to 1000 %"),
            ("salt", {"to": math.nan}, "give 0 to 1000 %"),
            ("salt", {}, "either"),
            ("salt", {"to": 1, "by": 1}, "either"),
            ("salt", {"to": 1, "hold": "breath"}, "use one of"),
            ("wheat_whole", {"to": 120}, "cannot be 120 %"),
            ("hydration", {"to": 1}, "without any water"),
        ],
    )
    def test_impossible_moves(
        self, what: str, words: dict[str, object], said: str
    ) -> None:
        with pytest.raises(FormulaError, match=said):
            change(BREAD, what, **words)  # type: ignore[arg-type]


RICH = Formula.from_pairs(
    [("wheat_bread", 800), ("water", 600), ("salt_table", 8), ("lard", 60)]
    + [(key, 40.0) for key in (
        "milk_whole", "milk_skim", "milk_dry_nonfat", "butter_unsalted",
        "butter_salted", "oil_vegetable", "egg_whole", "egg_yolk", "egg_white",
        "egg_dried", "honey", "sugar_white")]
)  # fmt: skip
HELD = {
    "water": lambda f: f.water_g,
    "fat": _fat_g,
    "protein": lambda f: f.composition()["protein"] * f.dough_g / 100,
    # Milk sugar counts 16 %, every other sugar 100 %; flour brings no sweetness.
    "sweetness": lambda f: sum(
        r.mass_g
        * ingredient(r.ingredient).sugars_g
        / 100
        * (0.16 if r.role == "dairy" else 1.0)
        for r in f.rows
        if r.role != "flour"
    ),
    "sodium": lambda f: f.composition()["sodium_mg"] * f.dough_g / 100,
    "mass": lambda f: f.dough_g,
    "solids": lambda f: f.dough_g - HELD["water"](f),
    "lean_solids": lambda f: f.dough_g - HELD["water"](f) - _fat_g(f),
}


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
    assert done.held == ("rising power", "true hydration")
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


def test_consequences_are_in_words_with_their_basis() -> None:
    said = consequences(BREAD, change(BREAD, "salt", to=0.8).formula)
    sharp = "Salt under 1 %: fast proof, slack dough, flat taste; watch the time."
    assert said == (f"{sharp} (common practice, no source)",)
    assert consequences(BREAD, BREAD) == ()


class TestFamily:
    first = Variant(BREAD, "house loaf")
    second = Variant(change(BREAD, "salt", to=1.5).formula, "less salt", "taste",
                     first.key)  # fmt: skip

    def test_the_same_dough_is_the_same_variant(self) -> None:
        titled = Variant(replace(BREAD, title="Other", notes="x"), "again")
        assert titled.key == self.first.key
        assert self.second.key != self.first.key

    def test_order_lines_and_rounding_do_not_make_another_dough(self) -> None:
        halves = [Row("dough", "water", "warm water", "water", 125.0)] * 2
        rest = [r for r in BREAD.rows if r.role != "water"]
        nothing = Row("dough", "honey", "honey", "sweetener", 0.0)
        mixed = BREAD.with_rows([*halves, nothing, *reversed(rest)])
        assert Variant(mixed, "mixed").key == self.first.key
        there_and_back = change(self.second.formula, "salt", to=2.0).formula
        assert Variant(there_and_back, "back").key == self.first.key
        assert Variant(BREAD.scaled(1.001), "more").key != self.first.key
        split = with_preferment(BREAD, "poolish", flour_pct=10)
        assert Variant(split, "poolish").key != self.first.key

    def test_a_long_line_of_descent_and_orphans(self) -> None:
        line = [self.first]
        for n in range(1500):
            line.append(line[-1].child(BREAD.scaled(2 + n), f"{n}"))
        assert len(Family(line).lines()) == 1501
        with pytest.raises(FormulaError, match="keep the parent first"):
            Family([self.second])

    def test_it_only_grows(self) -> None:
        family = Family().add(self.first)
        more = family.add(self.second).add(self.second)
        assert (len(family), len(more)) == (1, 2)
        assert more.lines() == ("house loaf", "— less salt: taste")
        assert list(more.frame["parent"]) == ["", "house loaf"]
        with pytest.raises(FormulaError, match="keep the parent first"):
            Family().add(self.second)

    def test_side_by_side_in_words(self) -> None:
        table = side_by_side([self.first, self.second]).set_index("what")
        words = table["less salt: difference"]
        assert words["all salt (% of flour)"] == "down −0.50"
        assert words["flour (g)"] == "same"
        grams = side_by_side([self.first, self.second], show="grams").set_index("what")
        assert grams.loc["Table salt (g)", "less salt"] == pytest.approx(7.5)
        assert "milk solids (% of flour)" in grams.index
        assert "flour prefermented (% of flour)" not in grams.index
        with pytest.raises(FormulaError, match="no values"):
            side_by_side([self.first, self.second], show="ounces")
        with pytest.raises(FormulaError, match="two to five"):
            side_by_side([self.first])


def test_undo_and_redo() -> None:
    steps = History(1)
    steps.add(2)
    steps.add(3)
    assert (steps.undo(), steps.undo(), steps.undo()) == (2, 1, 1)
    steps.add(9)
    assert (steps.can_redo, steps.now) == (False, 9)


RATIOS = {"salt": (1.4, 2.2), "water": (46.0, 54.0), "egg": (5.0, 15.0)}


class TestPlans:
    def test_a_full_plan_has_every_corner_once(self) -> None:
        plan = plan_trials(BREAD, RATIOS, centres=0)
        corners = set(itertools.product(*RATIOS.values()))
        found = plan.frame[["salt_pct", "water_pct", "egg_pct"]]
        assert {tuple(r) for r in found.itertuples(index=False)} == corners
        for formula, salt in zip(plan.formulas, found["salt_pct"], strict=True):
            assert formula.role_pct("salt") == pytest.approx(salt)

    @pytest.mark.parametrize(
        ("kind", "trials"),
        [("one at a time", 7), ("full", 9), ("fraction", 5), ("curved", 15)],
    )
    def test_how_many_trials(self, kind: str, trials: int) -> None:
        assert len(plan_trials(BREAD, RATIOS, kind=kind).formulas) == trials

    def test_a_fraction_is_balanced(self) -> None:
        plan = plan_trials(BREAD, RATIOS, kind="fraction", centres=0)
        for what, (low, high) in RATIOS.items():
            assert sorted(plan.frame[f"{what}_pct"]) == pytest.approx(
                [low, low, high, high]
            )

    @pytest.mark.parametrize("ratios", range(3, 13))
    def test_no_two_single_effects_are_mixed(self, ratios: int) -> None:
        """Columns of a two-level plan are at right angles: Box, Hunter & Hunter."""
        levels = {f"x{n}": (-1.0, 1.0) for n in range(ratios)}
        codes = np.array([list(p.values()) for p in fraction(levels)])
        assert (codes.T @ codes == len(codes) * np.eye(ratios)).all()
        assert len(codes) <= 2 ** (ratios - 1)

    def test_what_a_fraction_cannot_tell_apart_is_said(self) -> None:
        """The half of a 2^3 plan has c = ab (resolution III): Box, Hunter & Hunter."""
        plan = plan_trials(BREAD, RATIOS, kind="fraction")
        assert len(plan.remarks) == 3
        assert "egg cannot be told from salt and water acting" in plan.remarks[-1]
        assert "single effects stand clear" in mixed_up("abcd")[0]
        assert mixed_up("abcde") == ()

    def test_every_trial_has_all_its_ratios(self) -> None:
        """Hydration moves with milk, and two flours with each other."""
        ratios = {"hydration": (68.0, 76.0), "dairy": (10.0, 30.0),
                  "wheat_whole": (10.0, 30.0), "rye_medium": (5.0, 10.0)}  # fmt: skip
        plan = plan_trials(BREAD, ratios, kind="fraction")
        for formula, row in zip(plan.formulas, plan.frame.to_dict("records"),
                                strict=True):  # fmt: skip
            for what in ratios:
                assert percent(formula, what) == pytest.approx(row[f"{what}_pct"])

    def test_a_blend_with_bounds_has_the_corners_that_are_allowed(self) -> None:
        """By hand: three flours of at most 50 % have the corners (50, 50, 0), ..."""
        bands = dict.fromkeys(("wheat_bread", "wheat_whole", "rye_medium"), (0.0, 50.0))
        plan = plan_trials(BREAD, bands, kind="blend", centres=2)
        found = plan.frame[[f"{k}_pct" for k in bands]].round(6)
        points = sorted(tuple(r) for r in found.itertuples(index=False))
        third = pytest.approx(100 / 3, abs=1e-5)
        assert points[0] == (0, 50, 50)
        assert sum(p == (third, third, third) for p in points) == 2
        assert len(points) == 3 + 3 + 2
        with pytest.raises(FormulaError, match="no blend of these flours"):
            plan_trials(BREAD, {"wheat_bread": (0, 40), "rye_medium": (0, 40)},
                        kind="blend")  # fmt: skip

    def test_a_flour_left_out_of_a_blend_is_said(self) -> None:
        shares = {"wheat_bread": (40.0, 100.0), "rye_medium": (0.0, 60.0)}
        plan = plan_trials(BREAD, shares, kind="blend")
        assert "Whole-wheat flour" in plan.remarks[-1]

    def test_a_formula_in_stages_keeps_them(self) -> None:
        split = with_preferment(BREAD, "poolish", flour_pct=20, yeast_pct=0.2)
        plan = plan_trials(split, {"salt": (1.5, 2.0)})
        assert "poolish: Water" in plan.bench.index
        shares = {"wheat_bread": (40.0, 100.0), "wheat_whole": (0.0, 60.0)}
        for formula in plan_trials(split, shares, kind="blend").formulas:
            table = stage_table(formula).set_index("stage")
            assert table.loc["poolish", "flour_pct"] == pytest.approx(20)

    def test_what_all_trials_take(self) -> None:
        plan = plan_trials(BREAD, RATIOS)
        needs = plan.needs.set_index("label")["mass_g"]
        assert needs.sum() == pytest.approx(plan.frame["dough_g"].sum())
        assert needs["Bread flour (strong white)"] == pytest.approx(400 * 9)

    def test_the_order_is_random_and_the_same_for_a_seed(self) -> None:
        first, again = (plan_trials(BREAD, RATIOS, seed=4) for _ in range(2))
        other = plan_trials(BREAD, RATIOS, seed=5)
        assert list(first.frame["name"]) == list(again.frame["name"])
        assert list(first.frame["name"]) != list(other.frame["name"])

    def test_a_blend_shares_out_all_flour(self) -> None:
        shares = {"wheat_bread": (40.0, 100.0), "wheat_whole": (0.0, 60.0)}
        plan = plan_trials(BREAD, shares, kind="blend")
        for formula in plan.formulas:
            assert formula.flour_g == pytest.approx(500)
        assert sorted(plan.frame["wheat_whole_pct"]) == pytest.approx([0, 30, 60])

    def test_trials_are_sized_to_a_small_pan(self) -> None:
        plan = plan_trials(BREAD, RATIOS, pan="loaf 5.5 x 3 x 2.25 in")
        assert np.ptp(plan.frame["flour_g"]) == pytest.approx(0, abs=1e-9)
        assert max(plan.frame["dough_g"]) < 400
        assert plan.flour_g == pytest.approx(sum(f.flour_g for f in plan.formulas))
        assert plan.bench.shape[1] == len(plan.formulas)

    @pytest.mark.parametrize(
        ("ratios", "kind", "said"),
        [
            ({}, "full", "more ratios"),
            ({"salt": (2, 1)}, "full", "a higher one"),
            ({"salt": (1, 2)}, "star", "use one of"),
            ({"salt": (1, 2)}, "curved", "more ratios"),
            ({"salt": (math.nan, 2)}, "full", "a higher one"),
            ({f"x{n}": (1, 2) for n in range(9)}, "full", "too many"),
        ],
    )
    def test_plans_that_cannot_be(
        self, ratios: dict[str, tuple[float, float]], kind: str, said: str
    ) -> None:
        with pytest.raises(FormulaError, match=said):
            plan_trials(BREAD, ratios, kind=kind)
