"""What the words around a pan noun have told, and the pan they make together."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from bakelab.errors import PanError
from bakelab.pans.assembly import (
    CAPACITY_CM3,
    Written,
    rim_measures,
    shape_from_measures,
)
from bakelab.pans.measures import Group
from bakelab.pans.shapes import FORM_OF_SHAPE
from bakelab.pans.words import (
    DEPTH_WORDS,
    DIAMETER_WORDS,
    LENGTH_WORDS,
    NOT_A_MEASURE,
    SHAPE_RANK,
    SIDES,
    SIZE_WORDS,
    WIDTH_WORDS,
    Head,
)

__all__ = ["Findings", "written_of"]

_LARGEST_COUNT = 24
_FEWEST_WELLS = 4  # four muffin moulds or more are wells, not whole tins
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
            return False
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


def written_of(findings: Findings, text: str) -> Written | None:
    """The pan that the findings amount to; None if they cannot be one."""
    main = _main_group(findings)
    unit = _unit(findings, main)
    values = _rim_values(main, unit)
    shape = _shape(findings, values, main)
    try:
        measures = _measures(findings, shape, values, main, unit)
    except PanError:
        return None
    wells = findings.wells if shape in ("muffin", "roll well") else None
    count = (findings.count or 1) * (wells or 1)
    if wells is None and shape == "muffin" and count < _FEWEST_WELLS:
        count *= 12
        findings.notes.append("number of wells not written, 12 taken")
    return Written(
        shape,
        measures,
        _hints(findings),
        language=findings.head.language,
        unit="in" if unit == "in" else ("cm" if unit else ""),
        capacity_cm3=_capacity(findings, shape),
        count=count,
        lidded=findings.lidded,
        text=" ".join(text.split()),
        notes=_notes(main, unit),
    )


def _main_group(findings: Findings) -> Group | None:
    """The measures that count: the first written of those nearest the noun."""
    groups = [g for g in findings.lengths if g.is_length]
    if not groups:
        return None
    main = next((g for g in groups if len(g.values) > 1), groups[0])
    main = groups[0] if len(groups[0].values) >= len(main.values) else main
    if main.high is not None:
        findings.notes.append(
            f"a range was written, {main.values[0]:g}-{main.high:g} {main.unit}; "
            "its first size is taken"
        )
    other = next((g for g in groups if _is_alternative(g, main)), None)
    if other is not None:
        findings.notes.append("two sizes were written; the first is taken")
        main = replace(main, unit=other.unit)
    return main


def _is_alternative(other: Group, main: Group) -> bool:
    """`8 x 4 or 9 x 5 in`: another size, not the same one in another unit."""
    if len(other.values) != len(main.values) or other.values == main.values:
        return False
    near = 0.5 < other.values[0] / main.values[0] < 1.8
    return other.unit == main.unit or (main.unit == "" and near)


def _unit(findings: Findings, main: Group | None) -> str:
    group = main or next(iter(findings.labelled.values()), None)
    if group is None:
        return ""
    if group.unit:
        return group.unit
    inches = findings.head.language == "en" and max(group.values) <= 20.0
    return "in" if inches else "cm"


def _rim_values(main: Group | None, unit: str) -> tuple[float, ...]:
    if main is None:
        return ()
    return main.in_cm(unit)


def _shape(findings: Findings, values: tuple[float, ...], main: Group | None) -> str:
    told = _told_shapes(findings, several=len(values) > 1)
    for shape in SHAPE_RANK:
        if shape in told:
            return "roll well" if findings.wells and shape in _SMALL else shape
    if findings.lidded and len(values) >= 2:
        return "loaf"
    if values:
        return _plain_shape(findings, values, main)
    if findings.weight:
        return "loaf"
    open_shape = "pot" if _OVEN_SAFE & set(findings.sides) else "loaf"
    findings.notes.append(f"the words leave the shape open; {open_shape} is taken")
    return open_shape


def _told_shapes(findings: Findings, *, several: bool) -> set[str]:
    """Shapes told by the noun and the words beside it."""
    told = set(findings.shape_words)
    if findings.head.shape:
        told.add(findings.head.shape)
    if "tray" in findings.noun and told != {"sheet"}:
        told.discard("sheet")
    if "sheet" in told and "cake" in findings.sides:
        told = {"rectangle"}
    if "sandwich" in findings.sides and not told:
        told = {"loaf" if several or findings.lidded else "round"}
    return told


_SMALL = ("pie", "round", "sheet")  # with a number of wells: tart tins, bun tins
_OVEN_SAFE = frozenset({"oven", "ovenproof", "ovensafe", "heatproof"})


def _plain_shape(
    findings: Findings, values: tuple[float, ...], main: Group | None
) -> str:
    is_diameter = findings.diameter or bool(main and main.is_diameter)
    shape = shape_from_measures(values, is_diameter=is_diameter)
    if len(values) == 1 and not is_diameter:
        if "baking" in findings.sides and "cake" not in findings.sides:
            shape = "square"
        if not {"cake", "cakes", "gâteau"} & set(findings.sides):
            findings.notes.append(f"the words leave the shape open; {shape} is taken")
    return shape


def _measures(
    findings: Findings,
    shape: str,
    values: tuple[float, ...],
    main: Group | None,
    unit: str,
) -> dict[str, float]:
    is_diameter = findings.diameter or bool(main and main.is_diameter)
    is_diameter = is_diameter or "round" in findings.shape_words
    form = FORM_OF_SHAPE[shape]
    if " or " in form and shape == "basket" and len(values) == 1:
        is_diameter = True
    if form in ("flat", "oval") or (" or " in form and not is_diameter):
        values = (*sorted(values[:2], reverse=True), *values[2:])
    measures = rim_measures(shape, values, is_diameter=is_diameter) if values else {}
    for name, group in findings.labelled.items():
        key = name
        if form in ("round", "ring") and name != "depth_cm":
            key = "diameter_cm"
        measures.setdefault(key, group.in_cm(unit or group.unit)[0])
    return measures


def _hints(findings: Findings) -> tuple[str, ...]:
    hints = [_weight_class(findings)] if findings.weight else []
    if findings.lidded:
        hints.append("lidded")
    hints.append(findings.head.language)  # only German and French have their own
    hints += [SIZE_WORDS[word] for word in findings.sides if word in SIZE_WORDS]
    return tuple(hint for hint in hints if hint)


def _weight_class(findings: Findings) -> str:
    group = findings.weight
    if group is None:
        return ""
    grams = {"lb": 453.59237, "g": 1.0, "kg": 1000.0, "500 g": 500.0}[group.unit]
    pounds = round(group.values[0] * grams / 453.59237)
    american = findings.noun.startswith("pan") and group.unit == "lb" and pounds == 1
    return "1 lb US" if american else f"{pounds} lb"


def _capacity(findings: Findings, shape: str) -> float | None:
    group = findings.capacity
    if group is None or (shape in ("muffin", "roll well") and group.unit == "cup"):
        return None
    return group.values[-1] * CAPACITY_CM3[group.unit]


def _notes(main: Group | None, unit: str) -> tuple[str, ...]:
    if main is not None and not main.unit:
        name = "inches" if unit == "in" else "cm"
        return (f"unit {name}: none was written",)
    return ()
