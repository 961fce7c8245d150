"""Tasting beside the published tables: every cell that was seen."""

import pytest
from scipy import stats

from bakelab.tasting import most_correct, needed_correct
from bakelab.tasting.exact import exact_cost, spread_chance, trend_chance

from .tasting_tables import DUO_TRIO, FRIEDMAN, LIKENESS, PAGE, TRIANGLE, rows

FOUR = (0.1, 0.05, 0.01, 0.001)
FIVE = (0.2, *FOUR)
QUICK = 7e5

# In these cells of the Friedman table a digit is misprinted: the value cannot be
# reached or stands out of its column (13.200 between 12.110 and 12.440, 10.050
# between 10.950 and 10.930).
MISPRINTED = {(5, 8, 0.01), (4, 17, 0.01)}
# Page took the larger panels from the normal distribution: in these cells his L
# has a chance a little above the risk (or, of 8 samples and 2 tasters, one L less
# has it too).
BY_NORMAL = {
    (6, 8, 0.001), (7, 10, 0.05), (7, 8, 0.001), (7, 10, 0.001), (8, 10, 0.05),
    (8, 11, 0.05), (8, 12, 0.05), (8, 2, 0.01), (8, 3, 0.01), (8, 10, 0.01),
    (8, 10, 0.001), (8, 12, 0.001),
}  # fmt: skip


@pytest.mark.parametrize("row", rows(TRIANGLE), ids=lambda row: f"n={row[0]:g}")
def test_triangle_table(row: list[float | None]) -> None:
    """FAO Fisheries Technical Paper 348 (Huss 1995), appendix A, 176 cells."""
    n, *cells = row
    assert n is not None
    assert [needed_correct("triangle", int(n), alpha=a) for a in FOUR] == cells


@pytest.mark.parametrize("row", rows(DUO_TRIO), ids=lambda row: f"n={row[0]:g}")
@pytest.mark.parametrize("test", ["duo-trio", "paired"])
def test_duo_trio_table(row: list[float | None], test: str) -> None:
    """GOST ISO 10399-2015 (and GOST ISO 5495), table A.1, 200 cells."""
    n, *cells = row
    assert n is not None
    assert [needed_correct(test, int(n), alpha=a) for a in FIVE] == cells


@pytest.mark.parametrize("n", [5, 6, 12, 18, 24, 30, 36, 60, 100])
def test_two_sided_paired_test_beside_scipy(n: int) -> None:
    """No table of ISO 5495 A.2 was seen: scipy's exact two-sided binomial instead."""
    for alpha in FIVE:
        votes = needed_correct("paired two-sided", n, alpha=alpha)
        fit = [
            k
            for k in range((n + 1) // 2, n + 1)
            if stats.binomtest(k, n, 0.5).pvalue <= alpha
        ]
        assert votes == (fit[0] if fit else None)


@pytest.mark.parametrize("row", rows(LIKENESS), ids=lambda row: f"{row[0]}-{row[1]}")
def test_likeness_table(row: list[float | None]) -> None:
    """GOST R 53161-2008 table A.3, 40 cells. Its cells at a risk of 0.1 % are one less
    than the exact binomial allows (126 tasters, 40 %: 70, and P(71 or fewer) is
    0.00081), so they are not asked for."""
    n, beta, *cells = row
    assert n is not None
    assert beta is not None
    shares = (0.1, 0.2, 0.3, 0.4, 0.5)
    ours = [most_correct("duo-trio", int(n), share=s, beta=beta) for s in shares]
    assert ours == cells


def _untied(samples: int, tasters: int) -> list[tuple[int, ...]]:
    return [tuple(range(2, 2 * samples + 2, 2))] * tasters


def _friedman_cells() -> list[tuple[int, int, float, float | None]]:
    wanted = [(k, a) for k in (3, 4, 5, 6) for a in (0.05, 0.01)]
    return [
        (k, int(row[0] or 0), a, cell)
        for row in rows(FRIEDMAN)
        for (k, a), cell in zip(wanted, row[1:], strict=True)
        if exact_cost(_untied(k, int(row[0] or 0))) < QUICK
        and (k, int(row[0] or 0), a) not in MISPRINTED
    ]


@pytest.mark.parametrize(("samples", "tasters", "alpha", "printed"), _friedman_cells())
def test_friedman_table(
    samples: int, tasters: int, alpha: float, printed: float | None
) -> None:
    """The printed value has the risk or less, the next lower statistic has more."""
    table = _untied(samples, tasters)
    middle = samples * (tasters * (samples + 1)) ** 2  # of doubled sums, squared
    unit = tasters * samples * (samples + 1) / 12 * 4
    most = unit * tasters * (samples - 1)
    if printed is None:
        assert spread_chance(table, round(middle + most)) > alpha
        return
    rounding = 0.0006 if printed < 10 else 0.006
    least = round(middle + (printed - rounding) * unit)
    chance = spread_chance(table, least)
    assert chance <= alpha
    while (lower := spread_chance(table, least)) == pytest.approx(chance):
        least -= 4
    assert lower > alpha


def _page_cells() -> list[tuple[int, int, float, float | None]]:
    return [
        (samples, tasters, alpha, cell)
        for samples, table in PAGE.items()
        for alpha, line in zip((0.05, 0.01, 0.001), rows(table), strict=True)
        for tasters, cell in enumerate(line, start=2)
    ]


@pytest.mark.parametrize(("samples", "tasters", "alpha", "printed"), _page_cells())
def test_page_table(
    samples: int, tasters: int, alpha: float, printed: float | None
) -> None:
    """Siegel and Castellan, table N, 222 cells: L has the risk, one less has not."""
    places = list(range(1, samples + 1))
    table = _untied(samples, tasters)
    if printed is None:
        top = 2 * tasters * sum(place**2 for place in places)
        assert trend_chance(table, places, top) > alpha
        return
    chance = trend_chance(table, places, int(2 * printed))
    below = trend_chance(table, places, int(2 * printed) - 2)
    if (samples, tasters, alpha) in BY_NORMAL:
        assert chance < 1.05 * alpha
        assert below > 0.99 * alpha
    else:
        assert chance <= alpha < below
