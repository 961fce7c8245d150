"""Ratios changed, by hand: what moves, what is held, what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.preferments import with_preferment
from bakelab.variants import (
    change,
    consequences,
    set_ratios,
)
from bakelab.variants.moving import percent
from tests.work.variant_doughs import BREAD, HELD, SOFT, SOUR, fat_g


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
        assert fat_g(done.formula) == pytest.approx(fat_g(BREAD), abs=1e-9)

    @given(st.floats(2, 30))
    def test_several_things_are_held_at_once(self, pct: float) -> None:
        """Milk, egg and butter bring water, fat and sugar; all three are made up."""
        done = change(BREAD, "milk_whole", to=pct, hold=("liquids", "fat", "sweetness"))
        assert len(done.held) == 3
        assert done.formula.water_g == pytest.approx(BREAD.water_g, abs=1e-9)
        assert fat_g(done.formula) == pytest.approx(fat_g(BREAD), abs=1e-9)
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


def test_consequences_are_in_words_with_their_basis() -> None:
    said = consequences(BREAD, change(BREAD, "salt", to=0.8).formula)
    sharp = "Salt under 1 %: fast proof, slack dough, flat taste; watch the time."
    assert said == (f"{sharp} (common practice, no source)",)
    assert consequences(BREAD, BREAD) == ()
