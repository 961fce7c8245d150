"""What is told of the bake at hand: its head, what follows, weights and cautions."""

from typing import TYPE_CHECKING

import ipywidgets as widgets

from bakelab.charts.written import xml_text
from bakelab.errors import BakelabError
from bakelab.oven import expected_bake
from bakelab.panels.answer_html import listed, note, table
from bakelab.panels.bench.values import day_text
from bakelab.panels.layout import set_html
from bakelab.panels.parts import Fold
from bakelab.sheets import cautions
from bakelab.sheets.bake import baked_in
from bakelab.sheets.bake_entries import IMPOSSIBLE, computed_entries, off_plan
from bakelab.weighing import round_to_scale

if TYPE_CHECKING:
    from bakelab.bakebook import Bake

__all__ = ["Telling", "bake_words"]

_MOST_NUMBERS = 6
_URGENT = ("Rich", "Hot pan", "Filled")
_LID = "Hot lid: open it with dry oven gloves and away from you, steam comes out first."


class Telling:
    """Words and numbers that follow from the bake at hand.

    Attributes
    ----------
    head, numbers, urgent : HTML widget
    care, weigh : Fold
    """

    def __init__(self) -> None:
        self.head, self.numbers, self.urgent = (widgets.HTML() for _ in range(3))
        self.care, self.weigh = Fold("Take care"), Fold("Weigh out")

    def show(self, bake: "Bake") -> None:
        """Tell of a bake."""
        set_html(self.head, _head(bake))
        set_html(self.numbers, _numbers(bake))
        factor = float(bake.facts.get("batch_factor") or 1)
        formula = bake.formula.scaled(factor)
        try:
            self.weigh.html = table(round_to_scale(formula), factor)
        except BakelabError as error:
            self.weigh.html = note(str(error))
        due = cautions(formula, baked_in(bake))
        self.care.title, self.care.html = f"Take care ({len(due)})", listed(due)
        urgent = [words for words in due if words.startswith(_URGENT)]
        lid = bake.facts.get("lid") and not any(w.startswith("Hot") for w in urgent)
        set_html(self.urgent, listed([*urgent, _LID] if lid else urgent))


def bake_words(bake: "Bake") -> str:
    """A bake by its trial, if it is one, its bread and when it began."""
    title, began = bake.formula.title or "Bread", day_text(bake.started_at)
    return ": ".join([*_trial(bake), f"{title}, {began}"])


def _trial(bake: "Bake") -> list[str]:
    """Which trial of which plan it is: breads of one plan have one title."""
    plan, trial = bake.facts.get("plan"), bake.facts.get("trial")
    return [f"Trial {trial} of {plan or 'a plan'}"] if trial else []


def _head(bake: "Bake") -> str:
    words = [
        *_trial(bake),
        f"started {day_text(bake.started_at)}",
        *(str(bake.facts[n]) for n in ("pan", "baker") if bake.facts.get(n)),
    ]
    retired = note("This bake is retired.") if bake.retired else ""
    found = expected_bake(bake.formula)
    planned = found is not None and bake.facts.get("planned_bake_min")
    said = found.text if found and planned == found.middle_min else ""
    expected = f"<p>{xml_text(said)}</p>" if said else ""
    title = xml_text(bake.formula.title or "Bread")
    return (
        f'<p class="bakelab-title">{title}</p>'
        f"<p>{xml_text(' · '.join(words))}</p>{expected}{retired}"
    )


def _numbers(bake: "Bake") -> str:
    """What follows from the numbers, and how far they are from the plan."""
    followed = computed_entries(bake)
    big = "".join(
        f'<div><span class="bakelab-caption">{xml_text(e.label)}</span>'
        f'<span class="bakelab-number bakelab-smaller">{xml_text(e.value)}</span></div>'
        for e in followed[:_MOST_NUMBERS]
    )
    wrong = [e for e in followed if e.state == IMPOSSIBLE]
    beside = (*wrong, *off_plan(bake.facts))
    off = [f"{e.label}: {e.value} ({e.state})" for e in beside]
    return f'<div class="bakelab-big">{big}</div>{listed(off)}' if big or off else ""
