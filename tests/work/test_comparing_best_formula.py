"""The best point of a surface as a formula: only inside what was tried."""

import numpy as np
import pandas as pd
import pytest

from bakelab.comparing import (
    ComparisonError,
    Surface,
    best_formula,
    best_words,
    nearest_trial,
    none_inside,
    response_surface,
)
from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.variants import plan_trials, trial_at

DOUGH = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("salt_table", 10)],
    title="Quay loaf", stated_pan="loaf 9 x 5 x 2.75 in",
)  # fmt: skip
MOVED = ["salt_pct", "water_pct"]


def _surface(top: tuple[float, float], *, noise: float = 0.01) -> Surface:
    """Eleven trials of a hill whose top is known, with a little scatter."""
    ratios = {"salt": (1.6, 2.2), "water": (62.0, 70.0)}
    frame = plan_trials(DOUGH, ratios, kind="curved", centres=3).frame
    salt, water = frame["salt_pct"], frame["water_pct"]
    height = 10 - 9 * (salt - top[0]) ** 2 - 0.05 * (water - top[1]) ** 2
    height += np.random.default_rng(3).normal(0, noise, len(frame))
    return response_surface(
        frame.assign(height_cm=height), result="height_cm", ratios=MOVED
    )


def _best(found: Surface) -> Formula:
    return best_formula(found, DOUGH, moved=MOVED, kind="curved", plan="spring")


def test_a_top_inside_becomes_the_formula_with_its_interval() -> None:
    found = _surface((1.9, 66.5))
    assert none_inside(found) == ""
    made = _best(found)
    assert made.role_pct("salt") == pytest.approx(1.9, abs=0.02)
    assert made.water_pct == pytest.approx(66.5, abs=0.2)
    assert made.flour_g == pytest.approx(500)
    assert made.stated_pan == DOUGH.stated_pan
    noted = made.assumptions[-1]
    assert noted.subject == "Best point of spring"
    assert "95 % interval" in noted.value
    assert "computed from 11 trials" in noted.basis
    assert best_words(found).startswith("Computed, not baked: salt 1.9")


@pytest.mark.parametrize(
    ("top", "noise", "said"),
    [
        ((2.6, 66.0), 0.01, "edge of what was baked"),
        ((1.9, 66.0), 3.0, "no effect beyond the scatter"),
    ],
)
def test_without_a_top_inside_nothing_is_made(
    top: tuple[float, float], noise: float, said: str
) -> None:
    found = _surface(top, noise=noise)
    assert said in none_inside(found)
    with pytest.raises(ComparisonError, match="no best point to keep"):
        _best(found)


def test_the_nearest_trial_is_the_middle_for_a_top_in_the_middle() -> None:
    found = _surface((1.9, 66.0))
    near = found.trials.iloc[nearest_trial(found)]
    assert near["salt_pct"] == pytest.approx(1.9)
    assert near["water_pct"] == pytest.approx(66.0)


def test_a_flour_that_follows_is_worked_out() -> None:
    """Of a blend the last flour makes up 100 %; the best point has all of them."""
    flours = {"wheat_bread": (60.0, 90.0), "wheat_whole": (10.0, 40.0)}
    plan = plan_trials(DOUGH, flours, kind="blend", centres=2)
    frame = pd.concat([plan.frame] * 2, ignore_index=True)
    whole = frame["wheat_whole_pct"]
    more = pd.DataFrame({"wheat_whole_pct": [17.0, 33.0, 17.0, 33.0]})
    more["wheat_bread_pct"] = 100 - more["wheat_whole_pct"]
    frame = pd.concat([frame, more], ignore_index=True)
    whole = frame["wheat_whole_pct"]
    scatter = np.random.default_rng(5).normal(0, 0.02, len(frame))
    frame["height_cm"] = 9 - 0.01 * (whole - 24) ** 2 + scatter
    columns = [f"{key}_pct" for key in flours]
    found = response_surface(frame, result="height_cm", ratios=columns)
    made = best_formula(
        found, plan.formulas[0], moved=columns, kind="blend", plan="blend"
    )
    assert made.pct("wheat_whole") == pytest.approx(24, abs=1)
    both = made.pct("wheat_bread") + made.pct("wheat_whole")
    assert both == pytest.approx(100)
    assert made.flour_g == pytest.approx(500)


def test_a_trial_is_made_as_its_plan_makes_it() -> None:
    plan = plan_trials(DOUGH, {"salt": (1.6, 2.2)})
    point = {"salt": float(plan.frame["salt_pct"].iloc[0])}
    assert trial_at(DOUGH, point, kind="full") == plan.formulas[0]
    with pytest.raises(FormulaError, match="no plan 'half'"):
        trial_at(DOUGH, point, kind="half")
