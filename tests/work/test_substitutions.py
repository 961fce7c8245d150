"""Blends to a protein content, and what is said of an exchange, hold what they say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FormulaError
from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.variants import (
    Change,
    blend_to_protein,
    change,
    consequences,
    substitute,
    swap_yeast,
)

BREAD = Formula.from_pairs(
    [("wheat_bread", 400), ("wheat_whole", 100), ("water", 300), ("salt_table", 10)]
)
SWEET = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 250), ("milk_whole", 300), ("honey", 80),
     ("butter_salted", 120), ("butter_unsalted", 60), ("salt_table", 10),
     ("yeast_instant", 5)]
)  # fmt: skip


def _protein_pct(formula: Formula) -> float:
    """Protein in percent of all weighed flour, by the table of ingredients."""
    rows = [r for r in formula.rows if r.role == "flour"]
    inside = sum(r.mass_g * ingredient(r.ingredient).protein_g for r in rows)
    return inside / sum(r.mass_g for r in rows)


class TestBlend:
    def test_gluten_by_hand(self) -> None:
        """USDA SR26: bread flour 11.98 % protein (20083), gluten 75.16 % (48052); of
        500 g, x as gluten makes 14 %: x = 500 (14 - 11.98) / (75.16 - 11.98) = 16.0 g.
        The table's own figures differ in the second decimal."""
        white = Formula.from_pairs([("wheat_bread", 500), ("water", 300)])
        done = blend_to_protein(white, 14).formula
        assert done.pct("wheat_gluten") * 5 == pytest.approx(15.99, abs=0.15)

    @given(st.floats(12.3, 20), st.floats(12.3, 20))
    def test_a_second_blend_is_as_exact_as_the_first(
        self, first: float, second: float
    ) -> None:
        """Up or down: gluten that is in already is no part of what gives way."""
        once = blend_to_protein(BREAD, first).formula
        done = blend_to_protein(once, second)
        assert _protein_pct(done.formula) == pytest.approx(second, abs=1e-9)
        assert done.formula.flour_g == pytest.approx(500, abs=1e-9)
        assert done.held == ("flour",)

    @given(st.floats(12.0, 13.1))
    def test_a_strong_flour_that_is_in_already(self, target: float) -> None:
        for strong in ("wheat_whole", "wheat_bread"):
            done = blend_to_protein(BREAD, target, strong=strong).formula
            assert _protein_pct(done) == pytest.approx(target, abs=1e-9)
            assert done.flour_g == pytest.approx(500, abs=1e-9)

    @given(st.floats(12.0, 13.1))
    def test_the_strong_flour_named_among_the_others(self, target: float) -> None:
        done = blend_to_protein(
            BREAD, target, strong="wheat_whole", flours=("wheat_bread", "wheat_whole")
        ).formula
        assert _protein_pct(done) == pytest.approx(target, abs=1e-9)

    @given(st.floats(12.5, 20))
    def test_gluten_beside_the_flour_is_counted_and_said(self, target: float) -> None:
        """10 g of gluten beside 500 g of flour: 510 g of flour, the dough the same."""
        beside = BREAD.with_rows(
            [*BREAD.rows, Row("dough", "wheat_gluten", "gluten", "other", 10)]
        )
        done = blend_to_protein(beside, target)
        assert _protein_pct(done.formula) == pytest.approx(target, abs=1e-9)
        assert done.formula.dough_g == pytest.approx(beside.dough_g, abs=1e-9)
        assert done.formula.flour_g == pytest.approx(510, abs=1e-9)
        assert done.held == ("dough",)
        assert "500.0 g becomes 510.0 g" in done.not_held[0]

    def test_what_the_flours_reach_is_said(self) -> None:
        """Bread flour 11.98 and whole wheat 13.21 % protein (USDA SR26 20083, 20080)
        reach what lies between."""
        with pytest.raises(FormulaError, match=r"between 1[12]\.\d and 13\.\d % prot"):
            blend_to_protein(BREAD, 14, strong="wheat_whole")
        with pytest.raises(FormulaError, match=r"between 12\.\d and 75\.\d % protein"):
            blend_to_protein(BREAD, 5)


class TestWhatIsSaid:
    """No sentence says that more or less of what an exchange held is in the dough."""

    @pytest.mark.parametrize(
        ("key", "never"),
        [
            ("honey_to_sugar", "ess sugar"),  # sweetness is held
            ("salted_to_unsalted", "salt"),  # sodium is held
            ("milk_to_dry", "fat"),  # fat is held
            ("milk_to_dry", "milk solids"),  # all that is not fat is held
            ("milk_to_dry_own_fat", "milk solids"),
            ("salted_butter_to_oil", "salt"),
        ],
    )
    def test_what_is_held_is_not_said_to_move(self, key: str, never: str) -> None:
        done = substitute(SWEET, key)
        assert done.not_held == ()
        assert not [s for s in consequences(SWEET, done.formula) if never in s]

    @pytest.mark.parametrize(
        ("what", "step", "said"),
        [
            ("salt", 0.1, "More salt"),
            ("honey", -4.0, "Less sugar"),
            ("butter_unsalted", -3.0, "Less fat"),
            ("milk_whole", 10.0, "More milk solids"),
        ],
    )
    def test_what_moves_is_still_said(self, what: str, step: float, said: str) -> None:
        moved = change(SWEET, what, by=step).formula
        assert any(s.startswith(said) for s in consequences(SWEET, moved))

    def test_an_ingredient_outside_the_table_is_still_told(self) -> None:
        """Nothing is known of it but its role and weight, which moved."""
        own = SWEET.with_rows(
            [*(r for r in SWEET.rows if r.role != "salt"),
             Row("dough", "grandmothers_salt", "her salt", "salt", 10)]
        )  # fmt: skip
        less = change(own, "her salt", to=1.2).formula
        assert any(s.startswith("Less salt") for s in consequences(own, less))

    def test_another_kind_of_the_same_yeast_is_no_move(self) -> None:
        done: Change = swap_yeast(SWEET, "yeast_fresh")
        assert consequences(SWEET, done.formula) == ()
