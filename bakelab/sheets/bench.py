"""A plan of trials as a page for the bench."""

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from bakelab.variants import PLANS, Plan

if TYPE_CHECKING:
    from jinja2 import Template

__all__ = ["bench_html"]


def bench_html(plan: Plan, *, title: str = "Plan of trials") -> str:
    """A page to print: grams of every ingredient, a column for each trial.

    Self-contained and without scripts; every word is escaped.
    """
    bench = plan.bench
    rows = [
        (str(label), [f"{grams:,.1f}" for grams in cells])
        for label, *cells in bench.itertuples()
    ]
    return _template().render(
        title=title,
        kind=PLANS[plan.kind].capitalize(),
        trials=list(plan.frame["name"]),
        flour=f"{plan.flour_g:,.0f}",
        remarks=plan.remarks,
        rows=rows,
    )


@cache
def _template() -> "Template":
    from jinja2 import Environment

    text = Path(__file__).with_name("bench.html.j2").read_text(encoding="utf-8")
    return Environment(autoescape=True).from_string(text)
