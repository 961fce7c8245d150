"""Volumes and surfaces of baking pans, exact for the shape that is described.

Inner code: plain floats, centimetres in, square or cubic centimetres out;
:class:`bakelab.pans.Pan` is the door that speaks in quantities.

Every pan here has a level cross-section whose area is a polynomial of at most
second degree in the height, so the prismatoid rule (Simpson's rule on the rim,
the middle and the base) is not an approximation but exact. The rule: W. F. Kern
and J. R. Bland, *Solid Mensuration with Proofs*, 2nd ed., 1948 (prismatoid).

What is *not* exact, and said so: fluting (a percentage that the user or the table
gives), the wall of an oval (Ramanujan's perimeter times the mean slope) and
the wall of a tapered pan with rounded corners (corners taken as upright).
"""

from __future__ import annotations

import math

__all__ = [
    "CORNER_LOSS",
    "annulus_area",
    "circle_area",
    "cone_frustum_volume",
    "cone_frustum_wall",
    "ellipse_area",
    "ellipse_perimeter",
    "less_fluting",
    "oval_frustum_volume",
    "oval_frustum_wall",
    "prismatoid_volume",
    "rectangle_area",
    "rectangular_frustum_volume",
    "rectangular_frustum_wall",
    "tube_volume",
    "tube_wall",
]

CORNER_LOSS = 4.0 - math.pi
"""Four quarter circles of radius r take (4 - pi) r^2 from a rectangle (exact)."""


def rectangle_area(length_cm: float, width_cm: float, corner_cm: float = 0.0) -> float:
    """Area of a rectangle with four corners rounded to a radius, cm2."""
    return length_cm * width_cm - CORNER_LOSS * corner_cm**2


def circle_area(diameter_cm: float) -> float:
    """Area of a circle, cm2."""
    return math.pi / 4.0 * diameter_cm**2


def ellipse_area(length_cm: float, width_cm: float) -> float:
    """Area of an ellipse from its two full axes, cm2."""
    return math.pi / 4.0 * length_cm * width_cm


def annulus_area(diameter_cm: float, tube_cm: float) -> float:
    """Area of the ring between an outer wall and the tube in its middle, cm2."""
    return circle_area(diameter_cm) - circle_area(tube_cm)


def prismatoid_volume(
    rim_area_cm2: float, middle_area_cm2: float, base_area_cm2: float, depth_cm: float
) -> float:
    """Volume between two level faces, ``h/6 (A_rim + 4 A_middle + A_base)``, cm3."""
    return depth_cm / 6.0 * (rim_area_cm2 + 4.0 * middle_area_cm2 + base_area_cm2)


def rectangular_frustum_volume(
    *,
    rim_cm: tuple[float, float],
    base_cm: tuple[float, float],
    depth_cm: float,
    corner_cm: float = 0.0,
) -> float:
    """Volume of a flat-sided pan, rim and base as (length, width), cm3.

    The corner radius is the same from base to rim, so the corners take
    ``(4 - pi) r^2`` from every section: exact.
    """
    middle = ((rim_cm[0] + base_cm[0]) / 2.0, (rim_cm[1] + base_cm[1]) / 2.0)
    return prismatoid_volume(
        rectangle_area(*rim_cm, corner_cm),
        rectangle_area(*middle, corner_cm),
        rectangle_area(*base_cm, corner_cm),
        depth_cm,
    )


def cone_frustum_volume(rim_cm: float, base_cm: float, depth_cm: float) -> float:
    """Volume of a tapered round pan from two diameters, cm3.

    ``pi h / 12 (D^2 + D d + d^2)``.
    """
    squares = rim_cm**2 + rim_cm * base_cm + base_cm**2
    return math.pi * depth_cm / 12.0 * squares


def oval_frustum_volume(
    *, rim_cm: tuple[float, float], base_cm: tuple[float, float], depth_cm: float
) -> float:
    """Volume of an oval pan, rim and base as two full axes each, cm3."""
    middle = ((rim_cm[0] + base_cm[0]) / 2.0, (rim_cm[1] + base_cm[1]) / 2.0)
    return prismatoid_volume(
        ellipse_area(*rim_cm), ellipse_area(*middle), ellipse_area(*base_cm), depth_cm
    )


def tube_volume(
    *,
    rim_cm: float,
    base_cm: float,
    depth_cm: float,
    tube_rim_cm: float,
    tube_base_cm: float,
) -> float:
    """Volume of a ring pan: the outer cone frustum less the tube's own, cm3."""
    outer = cone_frustum_volume(rim_cm, base_cm, depth_cm)
    return outer - cone_frustum_volume(tube_rim_cm, tube_base_cm, depth_cm)


def less_fluting(volume_cm3: float, fluting_pct: float) -> float:
    """A smooth pan's volume less the percentage that its flutes take away, cm3.

    An allowance, not geometry: it stands for what weighing the pan full of water
    would show. Zero for a smooth pan.
    """
    return volume_cm3 * (1.0 - fluting_pct / 100.0)


def rectangular_frustum_wall(
    *,
    rim_cm: tuple[float, float],
    base_cm: tuple[float, float],
    depth_cm: float,
    corner_cm: float = 0.0,
) -> float:
    """Wall of a flat-sided pan, four trapezia along their slope, cm2.

    Exact with square corners, or with rounded ones on upright walls; a taper
    and rounded corners together are taken with the corners upright.
    """
    slope_of_long = math.hypot(depth_cm, (rim_cm[1] - base_cm[1]) / 2.0)
    slope_of_short = math.hypot(depth_cm, (rim_cm[0] - base_cm[0]) / 2.0)
    long_sides = (rim_cm[0] + base_cm[0]) * slope_of_long
    short_sides = (rim_cm[1] + base_cm[1]) * slope_of_short
    return long_sides + short_sides - (8.0 - 2.0 * math.pi) * corner_cm * depth_cm


def cone_frustum_wall(rim_cm: float, base_cm: float, depth_cm: float) -> float:
    """Wall of a tapered round pan along its slope, cm2."""
    slope = math.hypot(depth_cm, (rim_cm - base_cm) / 2.0)
    return math.pi * (rim_cm + base_cm) / 2.0 * slope


def ellipse_perimeter(length_cm: float, width_cm: float) -> float:
    """Perimeter of an ellipse from its two full axes, cm.

    Ramanujan's second formula (1914), within 0.05 % for any oval pan.
    """
    ratio = ((length_cm - width_cm) / (length_cm + width_cm)) ** 2
    round_one = math.pi / 2.0 * (length_cm + width_cm)
    return round_one * (1.0 + 3.0 * ratio / (10.0 + math.sqrt(4.0 - 3.0 * ratio)))


def oval_frustum_wall(
    *, rim_cm: tuple[float, float], base_cm: tuple[float, float], depth_cm: float
) -> float:
    """Wall of an oval pan: middle perimeter times the mean slope, cm2 (near)."""
    middle = ((rim_cm[0] + base_cm[0]) / 2.0, (rim_cm[1] + base_cm[1]) / 2.0)
    lean = (rim_cm[0] - base_cm[0] + rim_cm[1] - base_cm[1]) / 4.0
    return ellipse_perimeter(*middle) * math.hypot(depth_cm, lean)


def tube_wall(
    *,
    rim_cm: float,
    base_cm: float,
    depth_cm: float,
    tube_rim_cm: float,
    tube_base_cm: float,
) -> float:
    """Both walls of a ring pan, outer and tube, cm2."""
    outer = cone_frustum_wall(rim_cm, base_cm, depth_cm)
    return outer + cone_frustum_wall(tube_rim_cm, tube_base_cm, depth_cm)
