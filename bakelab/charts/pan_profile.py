"""The outline of a pan seen from the side, and how high a dough stands in it."""

from dataclasses import dataclass

from bakelab.pans import Pan

__all__ = ["Profile", "dough_level", "profiles"]

_HALVINGS = 50


@dataclass(frozen=True)
class Profile:
    """One view of a pan: inside widths at rim and base, depth, tube, in cm."""

    view: str
    rim_cm: float
    base_cm: float
    depth_cm: float
    tube_cm: float = 0.0

    def width_at(self, height_cm: float) -> float:
        """Inside width at a height above the base, in cm."""
        share = height_cm / self.depth_cm
        return self.base_cm + (self.rim_cm - self.base_cm) * share


def profiles(pan: Pan) -> tuple[Profile, ...]:
    """The views that tell a pan's shape: its side, and its end if that differs.

    A round or ring-shaped pan looks the same from all sides. A loaf on the
    hearth has no pan and no view.
    """
    depth, tube = pan.depth_cm or 0.0, pan.tube_cm or 0.0
    if not pan.has_volume:
        return ()
    if pan.diameter_cm is not None and pan.form_name in ("round", "ring"):
        base = pan.base_diameter_cm or pan.diameter_cm
        return (Profile("side", pan.diameter_cm, base, depth, tube),)
    length, width = pan.length_cm or 0.0, pan.width_cm or 0.0
    return (
        Profile("side", length, pan.base_length_cm or length, depth),
        Profile("end", width, pan.base_width_cm or width, depth),
    )


def dough_level(pan: Pan, dough_cm3: float) -> float:
    """Height above the base at which a volume of dough stands level, in cm.

    Walls are taken as straight from base to rim. A pan whose capacity was
    measured is filled in proportion to it. More dough than the pan holds
    stands at the rim.
    """
    share = dough_cm3 / float(pan.volume.to("cm^3").magnitude)
    low, high = 0.0, 1.0
    if share >= 1.0:
        return float(pan.depth_cm or 0.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _share_below(pan, middle) < share:
            low = middle
        else:
            high = middle
    return low * float(pan.depth_cm or 0.0)


def _share_below(pan: Pan, height: float) -> float:
    """Share of the volume below `height`, itself a share of the depth."""
    return _volume_below(pan, height) / _volume_below(pan, 1.0)


def _volume_below(pan: Pan, height: float) -> float:
    views = profiles(pan)
    first, second = views[0], views[-1]
    areas = [_area(first, second, height * part) for part in (0.0, 0.5, 1.0)]
    return height / 6 * (areas[0] + 4 * areas[1] + areas[2])


def _area(first: Profile, second: Profile, share: float) -> float:
    """Level section in proportion: the product of both widths, less the tube."""
    at = share * first.depth_cm
    return first.width_at(at) * second.width_at(at) - first.tube_cm**2
