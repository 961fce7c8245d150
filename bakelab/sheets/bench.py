"""A plan of trials as a page for the bench."""

from bakelab.sheets.templates import page_of
from bakelab.variants import PLANS, Plan

__all__ = ["bench_html"]


def bench_html(plan: Plan, *, title: str = "Plan of trials") -> str:
    """A page to print: grams of every ingredient, a column for each trial.

    Self-contained and without scripts; every word is escaped.
    """
    bench = plan.bench
    rows = [
        (str(label), [f"{grams:.1f}" for grams in cells])
        for label, *cells in bench.itertuples()
    ]
    return page_of(
        "bench.html.j2",
        title=title,
        kind=PLANS[plan.kind].capitalize(),
        trials=list(plan.frame["name"]),
        flour=f"{plan.flour_g:.0f}",
        remarks=plan.remarks,
        rows=rows,
    )
