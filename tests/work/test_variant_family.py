"""Variants kept with their parents, side by side, undone and redone."""

from dataclasses import replace

import pytest

from bakelab.errors import FormulaError
from bakelab.formula import Row
from bakelab.preferments import with_preferment
from bakelab.variants import (
    Family,
    History,
    Variant,
    change,
    side_by_side,
)
from tests.work.variant_doughs import BREAD


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
