"""Plans of trials: corners, fractions, blends, and what they mix up."""

import itertools
import math

import numpy as np
import pytest

from bakelab.errors import FormulaError
from bakelab.preferments import stage_table, with_preferment
from bakelab.variants import (
    plan_trials,
)
from bakelab.variants.designs import curved, fraction, mixed_up
from bakelab.variants.moving import percent
from tests.work.variant_doughs import BREAD

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

    @pytest.mark.parametrize("ratios", [2, 3, 5])
    def test_a_curved_plan_is_the_central_composite_of_pydoe3(
        self, ratios: int
    ) -> None:
        import pyDOE3

        levels = {f"x{n}": (-1.0, 1.0) for n in range(ratios)}
        codes = [list(point.values()) for point in curved(levels)]
        theirs = pyDOE3.ccdesign(ratios, center=(0, 0), face="ccf").tolist()
        assert sorted(codes) == sorted(theirs)

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
            ({}, "full", "moves 1 at least"),
            ({"salt": (2, 1)}, "full", "a higher one"),
            ({"salt": (1, 2)}, "star", "use one of"),
            ({"salt": (1, 2)}, "curved", "moves 2 at least"),
            ({"salt": (math.nan, 2)}, "full", "a higher one"),
            ({f"x{n}": (1, 2) for n in range(9)}, "full", "too many"),
        ],
    )
    def test_plans_that_cannot_be(
        self, ratios: dict[str, tuple[float, float]], kind: str, said: str
    ) -> None:
        with pytest.raises(FormulaError, match=said):
            plan_trials(BREAD, ratios, kind=kind)

    def test_the_middle_is_never_baked_less_than_not_at_all(self) -> None:
        with pytest.raises(FormulaError, match=r"baked -1 times; give .* 0 or more"):
            plan_trials(BREAD, RATIOS, centres=-1)
