"""How long fitting and weighing take: one fit aims at under 3 ms."""

from itertools import count

from bakelab.formula import Formula
from bakelab.scaling import fit
from bakelab.weighing import SPOON_AND_KITCHEN_SCALE, round_to_scale

AIM_S = 0.003
PAIRS = [
    ("water", 273.0),
    ("salt_table", 8.4),
    ("yeast_instant", 4.2),
    ("egg_whole", 50.0),
    ("butter_unsalted", 20.0),
]


def _bread(flour_g: float) -> Formula:
    pairs = [("wheat_bread", flour_g), *PAIRS]
    return Formula.from_pairs(pairs, stated_pan="loaf 9 x 5 x 3 in", style="white_pan")


def test_one_fit_to_a_pan(benchmark):
    """Every round fits a formula that was never seen before."""
    flours = count(400)
    fitted = benchmark.pedantic(
        fit,
        setup=lambda: ((_bread(next(flours)),), {"to": "loaf 13 x 4 x 4 in, lidded"}),
        rounds=60,
        warmup_rounds=3,
    )
    assert fitted.other_way is not None
    benchmark.extra_info["aim_s"] = AIM_S


def test_one_fit_when_only_the_pan_changes(benchmark):
    """What a moved control costs: the same formula, another depth each time."""
    formula = _bread(420)
    fit(formula, to="loaf 23 x 13 x 7 cm")
    depths = count(50)
    fitted = benchmark.pedantic(
        lambda to: fit(formula, to=to),
        setup=lambda: ((f"loaf 23 x 13 x {next(depths) / 10:g} cm",), {}),
        rounds=60,
        warmup_rounds=3,
    )
    assert fitted.factor > 1
    benchmark.extra_info["aim_s"] = AIM_S


def test_round_to_scale(benchmark):
    formula = _bread(421.3).scaled(1.0379)
    weighed = benchmark(round_to_scale, formula, SPOON_AND_KITCHEN_SCALE)
    assert weighed.remarks
    benchmark.extra_info["aim_s"] = AIM_S


def test_round_fourteen_weights(benchmark):
    """All 16 384 ways of rounding fourteen weights."""
    pairs = [("sugar_white", 10.3 + 1.1 * i) for i in range(8)]
    formula = _bread(421.3)
    more = Formula.from_pairs(pairs).rows
    full = formula.with_rows((*formula.rows, *more)).scaled(1.0379)
    weighed = benchmark(round_to_scale, full)
    assert len(weighed.frame) == 14
    benchmark.extra_info["aim_s"] = 10 * AIM_S
