"""How long a move, its answer and a plan of trials take."""

from typing import Any

import pytest

from bakelab.formula import Formula
from bakelab.panels.ratio_answer import strips, weights_table
from bakelab.preferments import with_preferment
from bakelab.variants import change, plan_trials, set_ratios, substitute

BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("milk_whole", 50), ("salt_table", 10),
     ("sugar_white", 20), ("butter_unsalted", 25), ("yeast_instant", 5)]
)  # fmt: skip


def test_one_ratio_moved(benchmark: Any) -> None:
    done = benchmark(change, BREAD, "salt", to=1.7)
    assert done.formula.role_pct("salt") == pytest.approx(1.7)
    benchmark.extra_info["aim_s"] = 0.001


def test_one_ratio_moved_in_stages(benchmark: Any) -> None:
    """Aim: under 2 ms, as a slider that is held down asks for it."""
    split = with_preferment(BREAD, "poolish", flour_pct=30, yeast_pct=0.1)
    done = benchmark(change, split, "water", to=64)
    assert done.formula.role_pct("water") == pytest.approx(64)
    benchmark.extra_info["aim_s"] = 0.002


def test_several_amounts_held(benchmark: Any) -> None:
    """Aim: under 5 ms."""
    holds = ("liquids", "fat", "sweetness")
    done = benchmark(change, BREAD, "milk_whole", to=30, hold=holds)
    assert len(done.held) == 3
    benchmark.extra_info["aim_s"] = 0.005


def test_an_exchange_by_linear_programme(benchmark: Any) -> None:
    """More amounts than masses: the programme runs. Aim: under 20 ms."""
    bare = BREAD.with_rows(r for r in BREAD.rows if r.role != "fat")
    done = benchmark(substitute, bare, "milk_to_dry_own_fat")
    assert done.not_held
    benchmark.extra_info["aim_s"] = 0.02


def test_several_ratios_set(benchmark: Any) -> None:
    ratios = {"hydration": 70.0, "salt": 1.8, "dairy": 12.0, "fat": 4.0}
    done = benchmark(set_ratios, BREAD, ratios)
    assert done.hydration_pct == pytest.approx(70)
    benchmark.extra_info["aim_s"] = 0.005


def test_the_answer_to_a_move(benchmark: Any) -> None:
    """Aim: well under the 100 ms of a repainted answer."""
    moved = change(BREAD, "salt", to=1.7).formula
    benchmark(lambda: (strips(moved, BREAD, "white_pan"), weights_table(moved, BREAD)))


def test_a_plan_of_64_trials(benchmark: Any) -> None:
    """Aim: under 50 ms."""
    ratios = {
        "salt": (1.5, 2.2), "water": (60.0, 68.0), "sweetener": (2.0, 6.0),
        "fat": (2.0, 6.0), "yeast": (0.6, 1.2), "dairy": (5.0, 15.0),
    }  # fmt: skip
    plan = benchmark(plan_trials, BREAD, ratios, kind="full", centres=0)
    assert len(plan.formulas) == 64
    benchmark.extra_info["aim_s"] = 0.05
