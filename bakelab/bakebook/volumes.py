"""Volume of a loaf: by displaced seeds, or from its height and the pan's shape."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bakelab.errors import BookError, UnitError
from bakelab.pans import Pan, pan
from bakelab.units import Q_, Quantity, in_unit

__all__ = [
    "ShapeVolume",
    "reported_specific_volume",
    "volume_by_displacement",
    "volume_by_shape",
]

# A vault with the outline of a parabola (Archimedes) and a half ellipsoid both hold
# two thirds of base times height. A roof of two slopes holds a half, a flat top all.
CROWN_SHARE, CROWN_LEAST, CROWN_MOST = 2 / 3, 1 / 2, 1.0
FREE_LEAST, FREE_MOST = 0.55, 0.8  # of a loaf on the hearth; our own assumption
WALL_LEAST = 0.75  # crown below the rim: height at the wall; our own assumption


@dataclass(frozen=True)
class ShapeVolume:
    """A volume from height and shape, with the band that the crown leaves open.

    `working` tells how it was reckoned, with the numbers.
    """

    low_cm3: float
    middle_cm3: float
    high_cm3: float
    working: str

    @property
    def volume(self) -> Quantity:
        """The middle of the band."""
        return Q_(self.middle_cm3, "cm^3")


def volume_by_displacement(
    *, alone: Quantity, around: Quantity, per_volume: Quantity | None = None
) -> Quantity:
    """Volume of a loaf from the small seeds that it takes the place of.

    Fill a box with small round seeds (rape, millet), strike it level and measure
    the seeds; do the same with the loaf in the box. What is over is the loaf.

    Parameters
    ----------
    alone, around : Quantity, [volume] or [mass]
        Seeds that fill the empty box, and those that fill it around the loaf.
    per_volume : Quantity, [mass] / [volume], optional
        What the seeds weigh by volume, poured the same way; needed where they
        are weighed.

    Returns
    -------
    Quantity, in cm3

    Raises
    ------
    BookError
        If more seeds go around the loaf than into the empty box, or seeds are
        weighed and nobody says what they weigh by volume.

    Notes
    -----
    The loaf cools first: at least 2 h at no more than 74 degF (23 degC) and 55 %
    relative humidity, as in USDA Commercial Item Description A-A-20126F (2008),
    section 6.6.2.

    Examples
    --------
    >>> volume = volume_by_displacement(alone=Q_(5, "l"), around=Q_(2.4, "l"))
    >>> print(f"{volume:.0f~P}")
    2600 cm³
    """
    full, rest = (
        _seeds_cm3(seeds, name, per_volume)
        for seeds, name in ((alone, "alone"), (around, "around"))
    )
    if not 0 <= rest < full:
        raise BookError(
            f"{rest:.0f} cm³ of seeds around the loaf and {full:.0f} cm³ in the empty "
            "box leave no loaf; measure the empty box first"
        )
    return Q_(full - rest, "cm^3")


def _seeds_cm3(seeds: Quantity, name: str, per_volume: Quantity | None) -> float:
    try:
        mass_g = in_unit(seeds, "g", name)
    except UnitError:
        return in_unit(seeds, "cm^3", name)
    if per_volume is None:
        raise BookError(
            f"the seeds are weighed ({name}); say what they weigh by volume, such as "
            "per_volume=Q_(0.67, 'g/ml')"
        )
    return mass_g / in_unit(per_volume, "g/cm^3", "per_volume")


def reported_specific_volume(*, volume: Quantity, mass: Quantity) -> float:
    """Specific volume as it is reported: whole ml over whole g, to one decimal.

    As in USDA Commercial Item Description A-A-20126F (2008), section 6.6.2;
    a half goes up.

    Examples
    --------
    >>> reported_specific_volume(volume=Q_(2612, "ml"), mass=Q_(498, "g"))
    5.2
    """
    millilitres = math.floor(in_unit(volume, "ml", "volume") + 0.5)
    grams = math.floor(in_unit(mass, "g", "mass") + 0.5)
    if grams <= 0:
        raise BookError(f"a loaf of {grams} g has no specific volume; weigh it")
    return math.floor(10 * millilitres / grams + 0.5) / 10


def volume_by_shape(
    in_pan: Pan | str,
    *,
    height: Quantity,
    wall_height: Quantity | None = None,
    length: Quantity | None = None,
    width: Quantity | None = None,
) -> ShapeVolume:
    """Volume of a loaf from its height and the shape it was baked in.

    Parameters
    ----------
    in_pan : Pan or str
        The pan; a hearth loaf stands free.
    height : Quantity, [length]
        From the base to the highest point.
    wall_height : Quantity, [length], optional
        Height where the crown begins; the rim where the loaf stands over it. Above
        the rim the loaf is taken as upright up to there.
    length, width : Quantity, [length], optional
        Of a loaf that stands free; it needs both.

    Returns
    -------
    ShapeVolume
        With a band: the crown is taken as a round vault, and may be as lean as a
        roof of two slopes or as full as a flat top.

    Raises
    ------
    BookError
        If a measure is missing or not above zero.

    Notes
    -----
    The loaf is taken to fill the pan from wall to wall; one that shrank is
    smaller.

    Examples
    --------
    >>> found = volume_by_shape("loaf 20 x 10 x 8 cm", height=Q_(11, "cm"))
    >>> found.working
    '1600 cm³ up to 8 cm in the pan, and a crown of 200 cm² by 3 cm, two thirds full'
    >>> print(f"{found.volume:.0f~P}")
    2000 cm³
    """
    where = in_pan if isinstance(in_pan, Pan) else pan(in_pan)
    top_cm = _above_zero(height, "height")
    if not where.has_volume:
        return _free(top_cm, length, width)
    wall_cm = None if wall_height is None else _above_zero(wall_height, "wall_height")
    if wall_cm is not None and wall_cm > top_cm:
        raise BookError(
            f"the crown begins at {wall_cm:g} cm and ends at {top_cm:g} cm; give the "
            "height of the highest point"
        )
    depth_cm = in_unit(where.depth, "cm", "depth")
    if where.lidded or wall_cm is not None or top_cm > depth_cm:
        wall_cm = depth_cm if wall_cm is None else wall_cm
        return _crowned(where, top_cm, min(top_cm, wall_cm))
    return _below_the_rim(where, top_cm)


def _above_zero(measure: Quantity, name: str) -> float:
    value = in_unit(measure, "cm", name)
    if not 0 < value < math.inf:
        raise BookError(f"{name} is {value:g} cm; give it above 0 cm")
    return value


def _free(
    top_cm: float, length: Quantity | None, width: Quantity | None
) -> ShapeVolume:
    if length is None or width is None:
        raise BookError("a loaf that stands free needs its length and width as well")
    long_cm, wide_cm = _above_zero(length, "length"), _above_zero(width, "width")
    block = math.pi / 4 * long_cm * wide_cm * top_cm
    return ShapeVolume(
        FREE_LEAST * block,
        CROWN_SHARE * block,
        FREE_MOST * block,
        f"half of an ellipsoid, {long_cm:g} by {wide_cm:g} cm and {top_cm:g} cm high",
    )


def _crowned(where: Pan, top_cm: float, wall_cm: float) -> ShapeVolume:
    depth_cm = in_unit(where.depth, "cm", "depth")
    if where.lidded:
        wall_cm = min(top_cm, depth_cm)
    body = _filled(where, wall_cm)
    area = in_unit(_cut(where, wall_cm).top_area, "cm^2", "area")
    crown_cm = 0.0 if where.lidded else top_cm - wall_cm
    block = area * crown_cm
    body += area * max(0.0, wall_cm - depth_cm)  # upright above the rim
    said = f"{body:.0f} cm³ up to {wall_cm:g} cm in the pan"
    if block:
        said += f", and a crown of {area:.0f} cm² by {crown_cm:g} cm, two thirds full"
    low, middle, high = (
        body + share * block for share in (CROWN_LEAST, CROWN_SHARE, CROWN_MOST)
    )
    return ShapeVolume(low, middle, high, said)


def _below_the_rim(where: Pan, top_cm: float) -> ShapeVolume:
    """Nobody said where the crown begins: from level to well domed."""
    domed = _crowned(where, top_cm, WALL_LEAST * top_cm)
    level = _filled(where, top_cm)
    return ShapeVolume(
        domed.low_cm3,
        (domed.middle_cm3 + level) / 2,
        level,
        f"between level at {top_cm:g} cm and a crown from {WALL_LEAST * top_cm:.1f} cm "
        "up; measure the height at the wall as well for a narrower band",
    )


def _filled(where: Pan, height_cm: float) -> float:
    return in_unit(_cut(where, height_cm).volume, "cm^3", "volume")


def _cut(where: Pan, height_cm: float) -> Pan:
    """The pan cut off at a height; its measured capacity shrinks with it."""
    depth = float(where.depth_cm or 0.0)
    share = height_cm / depth
    if share >= 1:
        return where
    changes: dict[str, float | None] = {"depth_cm": height_cm, "capacity_cm3": None}
    for side in ("length_cm", "width_cm", "diameter_cm"):
        rim, base = getattr(where, side), getattr(where, f"base_{side}")
        if rim is not None and base is not None:
            changes[side] = base + (rim - base) * share
    cut = replace(where, **changes)  # type: ignore[arg-type]  # measures are floats
    if where.capacity_cm3 is None:
        return cut
    measured = where.capacity_cm3 / in_unit(where.geometric_volume, "cm^3", "volume")
    inside = in_unit(cut.geometric_volume, "cm^3", "volume")
    return replace(cut, capacity_cm3=inside * measured)
