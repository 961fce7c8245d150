"""What is written down of a bake and of the house: one list for everything.

The list makes the columns of the book, says what `fact_checks` lets pass,
and gives the bench panel its fields.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

__all__ = [
    "FACTS",
    "FACTS_BY_NAME",
    "GROUPS",
    "HOUSE",
    "MARKS",
    "READINGS",
    "Fact",
]

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
