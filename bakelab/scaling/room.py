"""The room that pans give to a dough, and the arithmetic from one to another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from bakelab.errors import FitError, PanError
from bakelab.pans import Pan, pan
from bakelab.scaling.words import factor_text, percent, volume
from bakelab.units import in_unit

__all__ = [
    "Room",
    "box_note",
    "dome_note",
    "one_dome_unit",
    "read_pans",
    "room_of",
    "total_usable",
    "total_volume",
    "volume_working",
]

DOME_EFFECT = 0.03  # of the ratio; smaller effects of the dome rule are not told
_SMALL_BOX = 0.002


@dataclass(frozen=True)
class Room:
    """One kind of pan as floats: what it holds, and what may rise above it."""

    pan: Pan
    volume_cm3: float
    top_cm2: float
    dome_cm: float
    surface_cm2: float
    depth_cm: float

    @property
    def count(self) -> int:
        """Pans or wells of this kind."""
        return self.pan.count

    @property
    def usable_cm3(self) -> float:
        """To the rim and the dome, one pan."""
        return self.volume_cm3 + self.top_cm2 * self.dome_cm

    @property
    def surface_to_volume(self) -> float:
        """Wall, base and opening over the volume to the rim, per cm."""
        return (self.surface_cm2 + self.top_cm2) / self.volume_cm3


def read_pans(to: Pan | str | Sequence[Pan | str]) -> tuple[Pan, ...]:
    """The pans of an argument: one, several, or text for each."""
    if isinstance(to, (Pan, str)) or not isinstance(to, Iterable):
        return (pan(to),)
    several = tuple(to)
    if not several:
        raise FitError("no pan was given to fit to; name one, or give a dough mass")
    return tuple(pan(one) for one in several)


def one_dome_unit(pans: Sequence[Pan]) -> tuple[Pan, ...]:
    """The pans with one fixed dome for all: 1 in as soon as one is in inches."""
    unit = "in" if any(p.dome_unit == "in" for p in pans) else "cm"
    return tuple(p if p.dome_unit == unit else replace(p, dome_unit=unit) for p in pans)


def room_of(one: Pan, dome: str | None) -> Room:
    """The room of a pan under a rule for the dome ("fixed", "width", None)."""
    if not one.has_volume:
        raise PanError(
            "a free-standing loaf has no volume to fit to; "
            "give a dough mass, or pieces of a weight"
        )
    return Room(one, *_measured(one, dome))


def total_usable(rooms: Sequence[Room]) -> float:
    """Usable volume of all pans, cm3."""
    return sum(room.count * room.usable_cm3 for room in rooms)


def total_volume(rooms: Sequence[Room]) -> float:
    """Volume of all pans to the rim, cm3."""
    return sum(room.count * room.volume_cm3 for room in rooms)


def volume_working(old: Room, new: Sequence[Room]) -> list[str]:
    """The ratio of usable volumes, step by step."""
    inches = old.pan.dome_unit == "in"
    lines = [f"Old pan, {_room_line(old, inches)}"]
    lines += [f"New pan, {_room_line(room, inches)}" for room in new]
    top, bottom = total_usable(new), total_usable([old])
    if len(new) > 1:
        parts = [volume(r.count * r.usable_cm3) for r in new]
        lines.append(
            f"New pans together: {' + '.join(parts)} = {volume(top, inches=inches)}."
        )
    lines.append(
        f"Ratio: {volume(top, inches=inches)} / {volume(bottom, inches=inches)} "
        f"= {factor_text(top / bottom)}."
    )
    return lines


def box_note(room: Room) -> str:
    """The plain box beside the exact volume of a tapered flat-sided pan."""
    one = room.pan
    box = _box_cm3(room)
    if box is None or abs(box / room.usable_cm3 - 1) < _SMALL_BOX:
        return ""
    height = f"{room.depth_cm:g}"
    if room.dome_cm:
        height = f"({room.depth_cm:g} + {room.dome_cm:g})"
    return (
        f"Plain box of the tapered {name_of(one)}: {one.length_cm:g} x "
        f"{one.width_cm:g} x {height} cm = {volume(box)}, "
        f"{percent(box / room.usable_cm3 - 1)} than the exact "
        f"{volume(room.usable_cm3)} that is used."
    )


def dome_note(old: Room, new: Sequence[Room], dome: str | None) -> str:
    """What the other rule for the dome would do, where it is over 3 %."""
    if dome is None:
        return ""
    other = "width" if dome == "fixed" else "fixed"
    ratio = total_usable(new) / total_usable([old])
    rooms = [room_of(room.pan, other) for room in (old, *new)]
    changed = total_usable(rooms[1:]) / total_usable(rooms[:1])
    if abs(changed / ratio - 1) <= DOME_EFFECT:
        return ""
    words = {
        "fixed": "a fixed dome (1 in or 2.5 cm)",
        "width": "a quarter of the width",
    }
    return (
        f"With {words[other]} instead of {words[dome]} as dome allowance the ratio "
        f"would be {factor_text(changed)}, {percent(changed / ratio - 1)} dough."
    )


def name_of(one: Pan) -> str:
    """Short words for a pan: its name, else how it was written."""
    return one.name or one.text or one.describe().split(",", 1)[0]


@lru_cache(maxsize=1024)
def _measured(one: Pan, dome: str | None) -> tuple[float, float, float, float, float]:
    return (
        in_unit(one.volume, "cm^3", "volume"),
        in_unit(one.top_area, "cm^2", "top_area"),
        in_unit(one.dome_height(dome), "cm", "dome_height"),
        in_unit(one.surface, "cm^2", "surface"),
        in_unit(one.depth, "cm", "depth"),
    )


def _room_line(room: Room, inches: bool) -> str:
    parts = [
        f"{name_of(room.pan)}: {volume(room.volume_cm3, inches=inches)} to the rim"
    ]
    if room.dome_cm:
        parts.append(
            f"dome allowance {room.dome_cm:.4g} cm x {room.top_cm2:.0f} cm² = "
            f"{volume(room.dome_cm * room.top_cm2)}"
        )
    else:
        parts.append("no dome, it has a lid" if room.pan.lidded else "no dome allowed")
    usable = volume(room.usable_cm3, inches=inches)
    if room.count == 1:
        parts.append(f"usable {usable}")
    else:
        total = volume(room.count * room.usable_cm3, inches=inches)
        parts.append(f"usable {room.count} x {usable} = {total}")
    return "; ".join(parts) + "."


def _box_cm3(room: Room) -> float | None:
    one = room.pan
    tapered = one.base_length_cm is not None or one.base_width_cm is not None
    if one.form_name != "flat" or not tapered or one.capacity_cm3 is not None:
        return None
    if one.length_cm is None or one.width_cm is None:
        return None
    return one.length_cm * one.width_cm * (room.depth_cm + room.dome_cm)
