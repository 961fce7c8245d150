"""Where the parts of the tasting panel stand, and how they are called."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

import ipywidgets as widgets

from bakelab.panels.controls import beside, heading
from bakelab.panels.layout import two_columns
from bakelab.panels.taste.controls import TasteControls
from bakelab.panels.taste.keeping import Kept

__all__ = ["distinct", "slip_words", "taste_layout"]

_JOB = (
    "Taste blind and decide: plan the test, print slips and key, enter the codes, "
    "read what was shown, what could have been missed and what it does not say, and "
    "keep and print the loaf you choose."
)


def taste_layout(
    c: TasteControls, out: Mapping[str, Any], answered: Any
) -> tuple[dict[str, Any], Any]:
    """The parts that come and go with the stage of a tasting, and the whole view."""
    parts = {
        "plan": widgets.VBox(_plan(c)),
        "serve": c.serve,
        "print": widgets.VBox(_print(c, out)),
        "answers": widgets.VBox(_answers(c, out)),
        "decide": widgets.VBox(_decide(c, out)),
    }
    for name in ("plan", "print", "answers", "decide"):
        parts[name].layout.grid_gap = "6px"
    left = [c.kept, *(part for name, part in parts.items() if name != "decide")]
    right = [out["book"], out["alert"], out["state"], out["verdict"], parts["decide"],
             out["chart"], answered]  # fmt: skip
    return parts, two_columns(_JOB, left, right)


def _plan(c: TasteControls) -> list[Any]:
    return [
        heading("1  What is tasted"), c.test, c.aim, c.samples, c.add,
        beside(c.title, c.question), c.expected, c.reference, c.allergens,
        heading("2  How sure it has to be"),
        beside(c.alpha, c.beta), beside(c.share, c.gap, c.tasters),
    ]  # fmt: skip


def _print(c: TasteControls, out: Mapping[str, Any]) -> list[Any]:
    return [
        heading("3  Print: slips to hand out, key to keep apart"),
        beside(c.paper, c.as_file, least_px=110),
        beside(c.slips, c.key, least_px=110), out["saved"],
    ]  # fmt: skip


def _answers(c: TasteControls, out: Mapping[str, Any]) -> list[Any]:
    return [
        heading("4  Enter the answers"),
        beside(c.slip, c.answer, least_px=120), c.remark,
        out["told"],
        beside(c.enter, c.take_back, least_px=110),
        c.many, beside(c.enter_many, c.close, least_px=110),
        c.another,
    ]  # fmt: skip


def _decide(c: TasteControls, out: Mapping[str, Any]) -> list[Any]:
    return [
        heading("5  Decide"), out["yours"], beside(c.chosen, c.why), c.name,
        c.decide, beside(c.print_sheet, c.save_as, c.save, least_px=110),
        out["decided"],
    ]  # fmt: skip


def slip_words(kept: Kept, number: int) -> str:
    """A slip as the list of slips names it: its number, and its answer or open."""
    answer = kept.answers.get(number)
    return f"{number} · {answer.text if answer else 'open'}"


def distinct(names: Iterable[object]) -> list[str]:
    """Names, each its own: the second of a name gets a number, and so on."""
    found: list[str] = []
    for name in names:
        plain = re.sub(r"\s+", " ", str(name)).strip()[:50] or "formula"
        count = sum(1 for other in found if other.rpartition(" (")[0] == plain)
        again = plain in found
        found.append(f"{plain} ({count + 2})" if again else plain)
    return found
