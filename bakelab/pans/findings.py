"""What the words around a pan noun have told, and the pan they make together."""

from __future__ import annotations

from dataclasses import dataclass, field

from bakelab.pans.assembly import (
    CAPACITY_CM3,
)
from bakelab.pans.measures import Group
from bakelab.pans.words import (
    DEPTH_WORDS,
    DIAMETER_WORDS,
    LENGTH_WORDS,
    NOT_A_MEASURE,
    SIDES,
    WIDTH_WORDS,
    Head,
)

__all__ = ["Findings"]

_LARGEST_COUNT = 24
_USUAL_CM = (14.0, 40.0)  # of a tin whose size stands without a unit; our own
_AFTER_SIZE = frozenset(["", ".", ",", ";", ")", "ø", "mit", "und", "et", "avec"])
_VERB_ENDS = ("en", "er")  # `füllen`, `fetten`, `beurrer`
_TIME_WORDS = frozenset(["minuten", "stunden", "sekunden", "heures", "personen"])
_NARROWEST_IN = {"in": 3.0, "cm": 5.0}


@dataclass
class Findings:
    """Everything read so far about one pan."""

    head: Head
    noun: str
    sides: list[str] = field(default_factory=list)
    clusters: list[list[Group]] = field(default_factory=list)
    labelled: dict[str, Group] = field(default_factory=dict)
    count: int | None = None
    wells: int | None = None
    capacity: Group | None = None
    weight: Group | None = None
    lidded: bool = False
    diameter: bool = False
    notes: list[str] = field(default_factory=list)
    label_taken: bool = False
    definite: bool = False

    # -- taking in --

    def take_count(self, count: int) -> None:
        """A number word or an article."""
        if self.count is None or count > 1:
            self.count = count

    def take_side(self, word: str) -> None:
        """A word beside the noun."""
        if word in ("lidded", "covered", "pullman", "lid"):
            self.lidded = True
        self.sides.append(word)

    def take_group(self, group: Group, after: str) -> None:
        """A group of measures, before the noun or after it."""
        group = self._without_count(group)
        if group.unit == "" and len(group.values) == 1:
            self._bare_number(group.values[0])
        elif group.unit in CAPACITY_CM3:
            self._cups_or_capacity(group)
        elif group.unit == "hole":
            self.wells = int(group.values[0])
        elif group.unit in ("lb", "g", "kg", "500 g"):
            self.weight = self.weight or group
        elif group.unit == "er":
            self._er(group)
        elif after in DEPTH_WORDS and len(group.values) == 1:
            self.labelled.setdefault("depth_cm", group)
        else:
            self.clusters.append([group])

    def take_right(self, group: Group, label: str, after: str, following: str) -> bool:
        """Measures after the noun; False if they measure something else."""
        if after in NOT_A_MEASURE and not (
            after == "of" and following in DIAMETER_WORDS
        ):
            return False
        if group.unit == "" and len(group.values) == 1:
            return self._in_unsaid_cm(group, after)
        key = _label_key(after) or _label_key(label)
        if key and len(group.values) == 1 and group.is_length:
            self.labelled.setdefault(key, group)
            return True
        if group.unit in ("g", "kg", "lb", "500 g") and self.head.shape != "loaf":
            return "loaf" in self.sides or "bread" in self.sides
        self.take_group(group, after)
        return True

    def takes_label(self, word: str) -> bool:
        """`Durchmesser`, `deep`, `long`: words that name a measure."""
        self.label_taken = False
        if word in DIAMETER_WORDS:
            self.diameter = True
            self.label_taken = bool(self.clusters)
            return True
        return bool(_label_key(word))

    def takes_right_side(self, word: str) -> bool:
        """`moule à cake`, `pan, round`: a shape told after the noun."""
        if self.noun.startswith("plaque") and word in ("cuisson", "four", "pâtisserie"):
            word = "baking"
        elif self.head.language in ("fr", "other") and word in ("cake", "cakes"):
            word = "loaf"
        elif word not in SIDES or not (
            self.head.language in ("fr", "other") or word in _AFTER
        ):
            return False
        self.sides.append(word)
        return True

    # -- what it amounts to --

    @property
    def lengths(self) -> list[Group]:
        """The groups of lengths, in the order written."""
        return [g for cluster in self.clusters for g in cluster]

    @property
    def is_sized(self) -> bool:
        """Whether the words give any size."""
        return bool(
            self.clusters or self.labelled or self.capacity or self.weight or self.wells
        )

    @property
    def is_certain(self) -> bool:
        """Whether size and shape were written without a choice."""
        return self.is_sized and not self.notes

    @property
    def shape_words(self) -> set[str]:
        """Shapes that the words beside the noun tell."""
        told = {SIDES[word] for word in self.sides if word in SIDES}
        if "spring" in self.sides and "form" in self.sides:
            told.add("springform")
        if "fluted" in self.sides:
            told.add(
                "fluted tube" if "tube" in told or "cake" in self.sides else "round"
            )
            told.discard("tube")
        if "roll" in self.sides and "jelly" not in self.sides:
            told.add("roll well")
        if "angel" in self.sides:
            told.add("tube")
        return told

    def _without_count(self, group: Group) -> Group:
        """`2 x 8 inch` and `2-8 inch` hold a count before the measure."""
        first, rest = group.values[0], group.values[1:]
        if first != int(first) or self.count not in (None, 1):
            return group
        if group.high is not None and first <= 4 and group.high >= max(6, 2 * first):
            self.count = int(first)
            return Group((group.high,), group.unit, None, group.is_diameter)
        if not rest or first > 4:
            return group
        capacity = group.unit in CAPACITY_CM3
        narrow = first < _NARROWEST_IN.get(group.unit, 3.0) and first < min(rest)
        smallest = len(rest) == 2 and first < min(rest) and rest[0] >= rest[1]
        if capacity or narrow or smallest:
            self.count = int(first)
            return Group(rest, group.unit, None, group.is_diameter)
        return group

    def _bare_number(self, value: float) -> None:
        if value == int(value) and 1 <= value <= _LARGEST_COUNT:
            self.count = int(value)

    def _in_unsaid_cm(self, group: Group, after: str) -> bool:
        """`Springform 26` and `moule Ø 24`: these kitchens mean centimetres."""
        size = group.values[0]
        metric = self.head.language in ("de", "fr") and bool(self.head.shape)
        ends = after in _AFTER_SIZE or after.endswith(_VERB_ENDS)
        plain = (ends or group.is_diameter) and after not in _TIME_WORDS
        if self.clusters or not (metric and plain) or not _USUAL_CM[0] <= size:
            return False
        if size > _USUAL_CM[1] or self.noun.startswith("back"):
            return False
        self.clusters.append([Group(group.values, "cm", None, group.is_diameter)])
        self.notes.append(f"{size:g} stands without a unit; it is taken for cm")
        return True

    def _cups_or_capacity(self, group: Group) -> None:
        wells = group.unit == "cup" and (
            self.head.shape == "muffin"
            or "muffin" in self.shape_words
            or self.noun in ("tin", "tins", "tray", "trays")
        )
        if wells and group.values[0] == int(group.values[0]):
            self.wells = int(group.values[0])
        if group.high is not None:
            self.notes.append(
                f"a range was written, {group.values[0]:g}-{group.high:g} "
                f"{group.unit}; its first size is taken"
            )
        self.capacity = self.capacity or group

    def _er(self, group: Group) -> None:
        if self.head.shape == "muffin":
            self.wells = int(group.values[0])
        else:
            self.clusters.append([Group(group.values, "cm")])


_AFTER = frozenset(["round", "square", "rectangular", "oval", "lidded", "tube"])


def _label_key(word: str) -> str:
    if word in DEPTH_WORDS:
        return "depth_cm"
    if word in LENGTH_WORDS:
        return "length_cm"
    return "width_cm" if word in WIDTH_WORDS else ""
