"""How long the exact chance of a ranking takes, beside counting every order.

Counting would look at (5!)^12 = 9e24 orders of 12 tasters and 5 samples.
"""

from bakelab.tasting.exact import spread_chance, trend_chance

PANEL_S, TREND_S = 3.0, 0.1


def test_exact_friedman_of_twelve_tasters_and_five_samples(benchmark):
    rows = [(2, 4, 6, 8, 10)] * 12
    found = benchmark.pedantic(lambda: spread_chance(rows, 26500), rounds=3)
    assert 0 < found < 1
    benchmark.extra_info["aim_s"] = PANEL_S


def test_exact_page_of_sixty_tasters_and_eight_samples(benchmark):
    rows = [tuple(range(2, 18, 2))] * 60
    found = benchmark(lambda: trend_chance(rows, range(1, 9), 2 * 60 * 170))
    assert 0 < found < 1
    benchmark.extra_info["aim_s"] = TREND_S
