"""Facts of a bake as labels with values: written, computed, off the plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from bakelab.bakebook.computed import COMPUTED
from bakelab.bakebook.facts import FACTS_BY_NAME, Fact
from bakelab.charts.written import plain_number

if TYPE_CHECKING:
    from bakelab.bakebook import Bake

__all__ = [
    "IMPOSSIBLE",
    "Entry",
    "computed_entries",
    "off_plan",
    "value_text",
    "was_done",
]

IMPOSSIBLE = "the loaf is heavier than its dough: correct one of the two weights"
"""What is said beside a bake loss below nothing."""

_PLANNED = (
    ("planned_dough_g", ("dough_in_g",)),
    ("planned_dough_c", ("dough_c",)),
    ("planned_proof_min", ("proof_min",)),
    ("planned_oven_c", ("oven_real_c", "oven_set_c")),
    ("planned_bake_min", ("bake_min",)),
)
_PLACES = 2
_WHOLE_FROM = 100  # from here on whole numbers say enough of what is worked out
_BESIDE = {
    "rise_rate_low_pct_h", "rise_rate_high_pct_h", "cost_currency", "cost_words",
}  # fmt: skip


@dataclass(frozen=True)
class Entry:
    """A label with its value, as text; `state` says more where it is due."""

    label: str
    value: str
    state: str = ""


def off_plan(facts: Mapping[str, Any]) -> tuple[Entry, ...]:
    """What was done beside what was planned, where both are known."""
    found = []
    for planned, done in _PLANNED:
        name = next((n for n in done if facts.get(n) is not None), "")
        if name and facts.get(planned) is not None:
            found.append(_off(FACTS_BY_NAME[name], facts[name], facts[planned]))
    return tuple(found)


def computed_entries(bake: "Bake") -> tuple[Entry, ...]:
    """What follows from a bake's numbers, as text with units and bands.

    What is off the plan is left to `off_plan`.
    """
    known = bake.computed
    return tuple(
        Entry(fact.label, _with_currency(fact, known), _beside(fact, known))
        for fact in COMPUTED
        if known.get(fact.name) is not None
        and not fact.name.startswith("off_")
        and fact.name not in _BESIDE
    )


def value_text(fact: Fact, value: Any) -> str:
    """A fact with its unit, as people write it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        words = plain_number(float(value), _PLACES)
        return f"{words} {fact.unit}" if fact.unit else words
    return str(value)


def was_done(planned: str, facts: Mapping[str, Any]) -> bool:
    """Whether what was planned was also written as done."""
    return any(facts.get(n) is not None for n in dict(_PLANNED).get(planned, ()))


def _with_currency(fact: Fact, known: Mapping[str, Any]) -> str:
    value = known[fact.name]
    if isinstance(value, float):
        value = round(value, 0 if abs(value) >= _WHOLE_FROM else _PLACES)
    words = value_text(fact, value)
    return (
        f"{words} {known.get('cost_currency') or ''}" if fact.name == "cost" else words
    )


def _beside(fact: Fact, known: Mapping[str, Any]) -> str:
    """The band of a rate, the remark of a cost, what is wrong with a loss."""
    if fact.name == "bake_loss_pct" and known[fact.name] < 0:
        return IMPOSSIBLE
    if fact.name == "rise_rate_pct_h":
        ends = [known.get(f"rise_rate_{end}_pct_h") for end in ("low", "high")]
        if None in ends:
            return ""
        low, high = (
            plain_number(float(end), _PLACES) for end in ends if end is not None
        )
        return f"{low} to {high}, 95 %"
    if fact.name == "cost":
        return str(known.get("cost_words") or "")
    return ""


def _off(fact: Fact, done: Any, planned: Any) -> Entry:
    gap = float(done) - float(planned)
    words = value_text(fact, round(abs(gap), _PLACES))
    way = "above" if gap > 0 else "below"
    plan = value_text(fact, planned)
    state = "as planned" if abs(gap) < 0.005 else f"{words} {way} the plan of {plan}"
    return Entry(fact.label, value_text(fact, done), state)
