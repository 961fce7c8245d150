"""How long a move, its answer and a plan of trials take."""

from typing import Any

from bakelab.formula import Formula
from bakelab.panels.ratio_answer import strips, weights_table
from bakelab.variants import change, plan_trials

BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("milk_whole", 50), ("salt_table", 10),
     ("sugar_white", 20), ("butter_unsalted", 25), ("yeast_instant", 5)]
)  # fmt: skip


def test_one_ratio_moved(benchmark: Any) -> None:
    benchmark(change, BREAD, "salt", to=1.7)


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
