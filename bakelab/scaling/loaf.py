"""How the new loaf differs from the old one in shape, and what that asks for."""

from collections.abc import Sequence

from bakelab.scaling.fitted import LoafChange
from bakelab.scaling.room import Room, name_of

__all__ = ["loaf_changes", "loaf_remark"]

_SAME = 0.03  # our own: a change under 3 % is not told as one


def loaf_changes(old: Room, new: Sequence[Room]) -> tuple[LoafChange, ...]:
    """Depth and surface to volume of each new pan beside the old one."""
    return tuple(_change(old, room) for room in new)


def loaf_remark(changes: Sequence[LoafChange]) -> str:
    """One sentence: bake and proof times of the recipe will not hold."""
    if all(_same(c) for c in changes):
        return (
            "The loaf keeps its depth and its surface for its volume, so the "
            "recipe's times should nearly hold; check the centre all the same."
        )
    texts = "; ".join(dict.fromkeys(c.text for c in changes))
    return (
        f"Change of loaf: {texts}. Bake and proof times will differ from the "
        "recipe's; check the centre with a thermometer."
    )


def _change(old: Room, room: Room) -> LoafChange:
    depth = room.depth_cm / old.depth_cm - 1
    surface = room.surface_to_volume / old.surface_to_volume - 1
    text = (
        f"{name_of(room.pan)}: depth {old.depth_cm:.1f} cm becomes "
        f"{room.depth_cm:.1f} cm ({100 * depth:+.0f} %), surface to volume "
        f"{old.surface_to_volume:.3f} per cm becomes {room.surface_to_volume:.3f} "
        f"({100 * surface:+.0f} %){_meaning(surface)}"
    )
    return LoafChange(
        name_of(room.pan),
        room.depth_cm,
        old.depth_cm,
        room.surface_to_volume,
        old.surface_to_volume,
        text,
    )


def _meaning(surface: float) -> str:
    if surface > _SAME:
        return ", so heat gets in sooner: look earlier"
    if surface < -_SAME:
        return ", so the centre takes longer: do not take it out by colour"
    return ""


def _same(change: LoafChange) -> bool:
    depth = change.depth_cm / change.old_depth_cm - 1
    surface = change.surface_to_volume / change.old_surface_to_volume - 1
    return abs(depth) <= _SAME and abs(surface) <= _SAME
