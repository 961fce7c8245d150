"""The pan that the words around a noun amount to: shape, sides, size, count."""

from __future__ import annotations

from dataclasses import replace

from bakelab.errors import PanError
from bakelab.pans.assembly import (
    CAPACITY_CM3,
    Written,
    rim_measures,
    shape_from_measures,
)
from bakelab.pans.findings import Findings
from bakelab.pans.measures import Group
from bakelab.pans.shapes import FORM_OF_SHAPE
from bakelab.pans.words import SHAPE_RANK, SIZE_WORDS

__all__ = ["written_of"]

_FEWEST_WELLS = 4  # four muffin moulds or more are wells, not whole tins


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
    near = 0.5 * main.values[0] < other.values[0] < 1.8 * main.values[0]
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
