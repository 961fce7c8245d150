"""What is written down of a bake and of the house: one list for everything.

The list makes the columns of the book, checks every value that is written,
and gives the bench panel its fields.
"""

import math
import numbers
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from types import MappingProxyType
from typing import Any

from bakelab.errors import BookError

__all__ = [
    "FACTS",
    "FACTS_BY_NAME",
    "GROUPS",
    "HOUSE",
    "LONGEST_TEXT",
    "MARKS",
    "READINGS",
    "Fact",
    "check_fact",
    "check_facts",
    "check_text",
]

LONGEST_TEXT = 100_000  # letters of one note or fact
GROUPS = ("plan", "dough", "oven", "result")
VOLUME_METHODS = ("seed displacement", "height and shape", "water displacement")
MARKS = (
    "mixed",
    "folded",
    "divided",
    "shaped",
    "proof",
    "in the oven",
    "lid off",
    "out",
    "cooled",
)


@dataclass(frozen=True)
class Fact:
    """One thing that can be written of a bake.

    `kind` is "number", "text", "choice" or "yes/no". `low` and `high` are the
    least and most that can be true, not what is usual. `label` is what a field
    is called, without its `unit`.
    """

    name: str
    label: str
    unit: str = ""
    kind: str = "number"
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    group: str = ""
    help: str = ""

    @property
    def allowed(self) -> str:
        """What the fact takes, in words."""
        if self.kind == "number":
            unit = f" {self.unit}" if self.unit else ""
            return f"a number from {self.low:g} to {self.high:g}{unit}"
        if self.kind == "choice":
            return f"one of {', '.join(self.choices)}"
        return "yes or no" if self.kind == "yes/no" else "text"


def _number(
    name: str, label: str, unit: str, low: float, high: float, about: str = ""
) -> Fact:
    return Fact(name, label, unit, "number", low, high, help=about)


def _text(name: str, label: str, about: str = "") -> Fact:
    return Fact(name, label, kind="text", help=about)


def _yes_no(name: str, label: str, about: str = "") -> Fact:
    return Fact(name, label, kind="yes/no", help=about)


def _grouped(group: str, *facts: Fact) -> tuple[Fact, ...]:
    return tuple(Fact(**{**vars(fact), "group": group}) for fact in facts)


_WEEK_MIN = 7 * 24 * 60
_PLAN = _grouped(
    "plan",
    _number("batch_factor", "Batch, times the formula", "", 0.001, 1000),
    _text("pan", "Pan", "measures as in 'loaf 9 x 5 x 2.75 in', or a pan of the house"),
    _number("pan_count", "Pans", "", 1, 1000),
    _text("flour_lot", "Flour lot", "as printed on the bag"),
    _text("oven", "Oven", "an oven of the house"),
    _text("baker", "Baker"),
    _number("planned_dough_g", "Planned dough in one pan", "g", 0.1, 1e6),
    _number("planned_dough_c", "Planned dough temperature", "°C", -5, 60),
    _number("planned_proof_min", "Planned proof", "min", 0, _WEEK_MIN),
    _number("planned_bake_min", "Planned bake", "min", 0, 2880),
    _number("planned_oven_c", "Planned oven setting", "°C", 30, 600),
    _text("plan", "Plan of trials"),
    _text("trial", "Trial of the plan"),
)
_DOUGH = _grouped(
    "dough",
    _number("room_c", "Room", "°C", -20, 60),
    _number("flour_c", "Flour", "°C", -30, 60),
    _number("water_c", "Water", "°C", -5, 100),
    _number("dough_c", "Dough after mixing", "°C", -5, 60),
    _number("mix_min", "Mixing", "min", 0, 240),
    _text("mix_speed", "Mixing speed", "such as 'slow 4, fast 6', or 'by hand'"),
    _number("folds", "Folds", "", 0, 100),
    _number("bulk_min", "Bulk fermentation", "min", 0, _WEEK_MIN),
    _number("bench_rest_min", "Bench rest", "min", 0, _WEEK_MIN),
    _number("proof_min", "Proof", "min", 0, _WEEK_MIN),
    _number("proof_c", "Proof temperature", "°C", -5, 60),
    _number("dough_ph", "Dough acidity", "pH", 2, 9),
)
_OVEN = _grouped(
    "oven",
    _number("oven_set_c", "Oven setting", "°C", 30, 600),
    _number("oven_real_c", "Oven measured", "°C", 20, 600, "by a thermometer inside"),
    _number("bake_min", "Bake", "min", 0, 2880),
    _yes_no("steam", "Steam"),
    _yes_no("lid", "Lid"),
    _number("lid_off_min", "Lid off after", "min", 0, 2880),
    _number("core_end_c", "Core at the end", "°C", 0, 130),
)
_RESULT = _grouped(
    "result",
    _number("dough_in_g", "Dough in one pan", "g", 0.1, 1e6),
    _number("dough_volume_cm3", "Dough volume at panning", "cm³", 0.1, 1e6),
    _number("loaf_out_g", "Loaf, cooled", "g", 0.1, 1e6),
    _number("loaf_volume_cm3", "Loaf volume", "cm³", 0.1, 1e7),
    Fact(
        "volume_method", "Volume measured by", kind="choice", choices=VOLUME_METHODS
    ),
    _number("height_cm", "Height", "cm", 0.1, 200),
    _number("length_cm", "Length", "cm", 0.1, 500),
    _number("width_cm", "Width", "cm", 0.1, 200),
    _number("slices", "Slices", "", 0, 1000),
    _number("crumb_1_9", "Crumb, 1 to 9", "", 1, 9),
    _number("crust_1_9", "Crust, 1 to 9", "", 1, 9),
    _number("taste_1_9", "Taste, 1 to 9", "", 1, 9),
    _text("crumb_words", "Crumb in words"),
    _text("crust_words", "Crust in words"),
)  # fmt: skip

FACTS: tuple[Fact, ...] = (*_PLAN, *_DOUGH, *_OVEN, *_RESULT)
FACTS_BY_NAME: Mapping[str, Fact] = MappingProxyType({f.name: f for f in FACTS})

READINGS: Mapping[str, Fact] = MappingProxyType(
    {
        f.name: f
        for f in (
            _number("core_c", "Core temperature", "°C", -30, 300),
            _number("rise_ml", "Dough in the measuring jar", "ml", 0, 1e6),
            _number("rise_mm", "Height of the dough", "mm", 0, 5000),
            _number("ph", "Acidity", "pH", 0, 14),
            _number("loss_g", "Weight lost", "g", 0, 1e6),
        )
    }
)

HOUSE: Mapping[str, tuple[Fact, ...]] = MappingProxyType(
    {
        "pan": (_text("spec", "Pan", "measures as in 'loaf 9 x 5 x 2.75 in'"),),
        "flour": (
            _text("ingredient", "Ingredient", "a key of the table of ingredients"),
            _text("lot", "Lot", "as printed on the bag"),
            _number("protein_pct", "Protein as sold", "%", 0, 100),
        ),
        "scale": (_text("steps", "Steps", "such as '1 g, 0.1 g up to 100 g'"),),
        "oven": (
            _number("offset_c", "Real minus dial", "°C", -200, 200),
        ),
        "price": (
            _text("ingredient", "Ingredient", "a key of the table of ingredients"),
            _number("price", "Price", "", 0, 1e9),
            _text("currency", "Currency", "such as EUR"),
            _number("per_g", "For", "g", 0.001, 1e9),
            _text("date", "Date", "as year-month-day"),
        ),
    }
)  # fmt: skip


def check_facts(
    values: Mapping[str, Any], allowed: Mapping[str, Fact] = FACTS_BY_NAME
) -> dict[str, Any]:
    """Values as the book keeps them; None clears a fact.

    Raises
    ------
    BookError
        In one sentence: an unknown name with the closest known ones, or a
        value that cannot be true.
    """
    return {
        name: check_fact(_known(name, allowed), value) for name, value in values.items()
    }


def check_fact(fact: Fact | str, value: Any) -> float | str | bool | None:
    """One value as the book keeps it; None for a blank.

    Raises
    ------
    BookError
        If it is not what the fact takes, or no fact has that name.
    """
    if isinstance(fact, str):
        fact = _known(fact, FACTS_BY_NAME)
    if _is_blank(value):
        return None
    if fact.kind == "number":
        return _checked_number(fact, value)
    if fact.kind == "yes/no":
        return _checked_yes_no(fact, value)
    if isinstance(value, date):
        value = value.isoformat()
    if not isinstance(value, str):
        raise _refusal(fact, value)
    text = check_text(value, fact.name)
    if fact.kind == "choice" and text not in fact.choices:
        raise _refusal(fact, value)
    return text


def check_text(value: str, name: str) -> str:
    """Text that every database can keep, as it was given.

    Raises
    ------
    BookError
        If it is no text, too long, or has characters that are no letters.
    """
    if not isinstance(value, str):
        raise BookError(f"{name} is {_shown(value)}; give text")
    if len(value) > LONGEST_TEXT:
        raise BookError(
            f"{name} has {len(value)} letters, more than {LONGEST_TEXT}; shorten it"
        )
    broken = next((c for c in value if c == "\0" or "\ud800" <= c <= "\udfff"), None)
    if broken is not None:
        raise BookError(
            f"{name} holds the unprintable character U+{ord(broken):04X}; take it out"
        )
    return value


def _known(name: str, allowed: Mapping[str, Fact]) -> Fact:
    if name in allowed:
        return allowed[name]
    close = get_close_matches(name, allowed, n=3, cutoff=0.5) or list(allowed)
    raise BookError(f"nothing called {name!r} is written down; use {', '.join(close)}")


def _checked_number(fact: Fact, value: Any) -> float:
    number = _as_number(value)
    low = -math.inf if fact.low is None else fact.low
    high = math.inf if fact.high is None else fact.high
    if number is None or not low <= number <= high:
        raise _refusal(fact, value)
    return number


def _is_blank(value: Any) -> bool:
    if isinstance(value, str):
        return not value.strip()
    return value is None or (isinstance(value, float) and math.isnan(value))


def _as_number(value: Any) -> float | None:
    """A number, or text of one; a comma that could part thousands is refused."""
    if isinstance(value, str) and value.count(",") == 1:
        whole, _, part = value.strip().partition(",")
        value = (
            value if len(part) == 3 and whole not in ("0", "-0") else f"{whole}.{part}"
        )
    if isinstance(value, bool) or not isinstance(value, numbers.Real | str):
        return None
    try:
        number = float(value)
    except (ValueError, OverflowError):
        return None
    return number if math.isfinite(number) else None


def _checked_yes_no(fact: Fact, value: Any) -> bool:
    words = {"yes": True, "no": False}
    if isinstance(value, str) and value in words:
        return words[value]
    if value in (True, False):
        return bool(value)
    raise _refusal(fact, value)


def _refusal(fact: Fact, value: Any) -> BookError:
    unit = f" in {fact.unit}" if fact.unit else ""
    return BookError(
        f"{fact.label.lower()} ({fact.name}{unit}) is {_shown(value)}; "
        f"give {fact.allowed}"
    )


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
