"""The stated total time beside the times of the steps."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Quote
from bakelab.reading.durations import clauses, duration
from bakelab.reading.facts import bake_part, says_bake

__all__ = ["find_times"]

_TOTAL = re.compile(
    r"(?i)^\W*(?:total(?:\s+time)?|time in all|gesamtzeit|zeit gesamt|temps total)"
    r"\W*[:=]\W*(.+)$"
)
_WAITS = re.compile(
    r"(?i)\b(?:ris(?:e|es|ing)|proof(?:s|ing)?|prov(?:e|es|ing)|ferment\w*|rest(?:s|ing)?|"
    r"gehen|ruhen|gären|reifen|lever|pousser|reposer)\b"
)
_NOT_ALL = re.compile(
    r"(?i)\b(plus|without|excluding|not counting|active|hands[- ]on|work|ohne|"
    r"zuzüglich|reine|sans|hors)\b|\+"
)
_MAYBE = re.compile(
    r"(?i)\b(or|optional\w*|if|alternativ\w*|instead|meanwhile|during|while|cool\w*|"
    r"after baking|overnight|yeast|starter|nach dem backen|hefe|"
    r"oder|falls|währenddessen|abkühl\w*|ou|si|pendant|refroidir)\b"
)


def find_times(case: Case) -> Iterator[Finding]:
    """Findings `time-in-all`: the waits and the bake take longer than the total.

    Only waits before the bake that are told without a choice count, at their
    shortest; a total "plus rising" is none.
    """
    bake = case.recipe.bake_minutes
    if bake is None:
        return
    waits = [w for text in _before_the_bake(case.method) if (w := _wait(text)) > 0]
    needed = bake[0] + sum(waits)
    for quote in case.prose:
        told = _TOTAL.match(quote.text)
        whole = told is not None and not _NOT_ALL.search(told[1])
        span = duration(told[1]) if told is not None and whole else None
        if span is not None and span[1] < needed:
            yield _too_short(quote, span[1], waits, bake[0])


def _before_the_bake(method: str) -> Iterator[str]:
    """Clauses up to the one that bakes; a loaf may rest outside the total."""
    for clause in clauses([method]):
        yield clause
        if says_bake(clause) and duration(bake_part(clause)):
            return


def _wait(clause: str) -> float:
    """The shortest minutes that the dough waits in a clause; 0 if none are told."""
    if not _WAITS.search(clause) or _MAYBE.search(clause):
        return 0.0
    minutes = 0.0
    for part in re.split(r",\s+", clause):
        span = duration(part) if _WAITS.search(part) else None
        minutes += span[0] if span else 0.0
    return minutes


def _too_short(quote: Quote, told: float, waits: list[float], bake: float) -> Finding:
    steps = " + ".join(f"{minutes:g}" for minutes in (*waits, bake))
    needed = sum(waits) + bake
    return Finding(
        "time-in-all",
        "conflict",
        f"{told:g} min are stated in all, the dough waits and bakes {needed:g} min",
        (quote,),
        (f"waits and bake at their shortest: {steps} = {needed:g} min",),
        f"Write {needed:g} min and the time for the work, or correct a step.",
        "medium",
        "the times of the method, those with a choice left out",
    )
