"""What the tasting panel shows on the right: plan, verdict, files to print."""

import re
from collections.abc import Mapping
from typing import Any

from bakelab.charts import (
    few_chart,
    guess_chart,
    likeness_chart,
    power_chart,
    rank_chart,
)
from bakelab.panels.controls import show
from bakelab.panels.layout import set_html
from bakelab.panels.saving import download_link
from bakelab.panels.svg import svg_of
from bakelab.panels.taste.answer_html import plan_words, verdict_html
from bakelab.panels.taste.controls import TasteControls
from bakelab.panels.taste.wish import PlanWish, aim_of, names_of
from bakelab.sheets import key_html, key_pdf, slips_html, slips_pdf
from bakelab.tasting import Likeness, Ranking, Tasting, Verdict, kind_of

__all__ = [
    "file_link",
    "offer_references",
    "show_controls",
    "show_plan",
    "show_verdict",
]

_FALSE_FIND, _MISSED = "Risk of a false find (%)", "Risk of missing it (%)"
_NOT_ALIKE = "Risk of not showing it (%)"
_WRONGLY_ALIKE = "Risk of showing it wrongly (%)"
_TASTE = "People who taste it, at least (%)"
_MAY_TASTE = "People who may taste it, below (%)"
_FILES = {
    ("slips", "pdf"): slips_pdf,
    ("slips", "html"): slips_html,
    ("key", "pdf"): key_pdf,
    ("key", "html"): key_html,
}


def show_plan(outputs: Mapping[str, Any], wish: PlanWish) -> None:
    """What the plan takes and finds, with its curve."""
    set_html(outputs["state"], plan_words(wish))
    chart = ""
    if wish.aim == "likeness":
        drawn = likeness_chart(
            wish.test, wish.tasters, share=wish.share, beta=wish.beta
        )
        chart = svg_of(drawn)
    elif not kind_of(wish.test).ranks:
        drawn = power_chart(wish.test, wish.tasters, alpha=wish.alpha, share=wish.share)
        chart = svg_of(drawn)
    set_html(outputs["chart"], chart)


def show_verdict(
    outputs: Mapping[str, Any], tasting: Tasting, verdict: Verdict
) -> None:
    """The verdict, with what guessing gives or the ranks side by side."""
    set_html(outputs["verdict"], verdict_html(verdict))
    found = verdict.result
    if isinstance(found, Ranking):
        drawn = rank_chart(found, tasting.samples)
    elif isinstance(found, Likeness):
        drawn = few_chart(found)
    else:
        drawn = guess_chart(
            found.test, found.tasters, alpha=found.alpha, correct=found.correct
        )
    set_html(outputs["chart"], svg_of(drawn))


def file_link(tasting: Tasting, what: str, *, format_: str, paper: str) -> str:
    """A link to the slips or the key, never both in one file."""
    make: Any = _FILES[what, format_]
    content = make(tasting, paper=paper) if format_ == "pdf" else make(tasting)
    words = re.sub(r"[^a-z0-9]+", "-", tasting.title.casefold()).strip("-")
    return download_link(
        content, f"{words[:40] or 'tasting'}-{what}.{format_}", format_
    )


def show_controls(
    c: TasteControls, parts: Mapping[str, Any], *, served: bool, book: bool
) -> None:
    """The controls that the test and the stage of the tasting call for."""
    test = str(c.test.value)
    ranks = kind_of(test).ranks
    for name, part in parts.items():
        show(part, served == (name in ("print", "answers")) and name != "decide")
    show(c.kept, book)
    show(c.add, book)
    show(c.expected, test in ("paired", "ranking"))
    show(c.aim, test in ("triangle", "duo-trio"))
    show(c.reference, test == "duo-trio")
    show(c.share, not ranks)
    likeness = aim_of(c) == "likeness"
    c.alpha.description = _NOT_ALIKE if likeness else _FALSE_FIND
    c.beta.description = _WRONGLY_ALIKE if likeness else _MISSED
    c.share.description = _MAY_TASTE if likeness else _TASTE
    show(c.gap, ranks)


def offer_references(c: TasteControls) -> None:
    """The samples as they are called now, in the list of references."""
    names = names_of(c.samples.value)
    chosen = c.reference.value
    always = [(f"always {name}", name) for name in names]
    c.reference.options = [("both samples take turns", ""), *always]
    c.reference.value = chosen if chosen in names else ""
