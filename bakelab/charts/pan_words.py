"""A drawn pan in words: its kind, and the description for screen readers."""

from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.charts.pan_profile import profiles
from bakelab.charts.written import cm_and_in, plain_number, volume_text
from bakelab.pans import Pan

__all__ = ["PanFill", "describe_fills", "dome_cm", "kind", "share_pct", "title_of"]

_NOUNS = {
    "muffin": "muffin well",
    "roll well": "roll well",
    "springform": "springform",
    "pot": "pot",
    "dish": "dish",
    "skillet": "skillet",
    "basket": "basket",
}


@dataclass(frozen=True)
class PanFill:
    """A pan, the raw dough in one of it in cm³, and the word above it."""

    pan: Pan
    dough_cm3: float | None = None
    heading: str = ""


def kind(pan: Pan) -> str:
    """A pan in a few words: `2 × loaf pan, lid on`."""
    if not pan.has_volume:
        return "free on the hearth (not to scale)"
    word = _NOUNS.get(pan.shape, f"{pan.shape} pan")
    if pan.count > 1:
        word = f"{pan.count} × {word}"
    return f"{word}, {'lid on' if pan.lidded else 'no lid'}"


def describe_fills(fills: Sequence[PanFill], dome: str | None) -> str:
    """All that a drawing of pans shows, in sentences."""
    return " ".join(_described(f, dome) for f in fills)


def dome_cm(pan: Pan, dome: str | None) -> float:
    """The allowance above the rim in cm; none for a loaf without a pan."""
    if not pan.has_volume:
        return 0.0
    return float(pan.dome_height(dome).to("cm").magnitude)


def title_of(fills: Sequence[PanFill]) -> str:
    """Which pans the drawing shows."""
    names = [f"{f.heading or 'Pan'}: {kind(f.pan)}" for f in fills]
    return "Pans drawn to one scale. " + "; ".join(names)


def _described(fill: PanFill, dome: str | None) -> str:
    pan, start = fill.pan, f"{fill.heading or 'Pan'}: {kind(fill.pan)}"
    if not pan.has_volume:
        return f"{start}."
    across = " by ".join(cm_and_in(v.rim_cm) for v in profiles(pan))
    parts = [f"{start}, {across} at the rim, {cm_and_in(pan.depth_cm or 0.0)} deep"]
    parts.append(f"holds {volume_text(pan.volume.to('cm^3').magnitude)}")
    if fill.dough_cm3:
        parts.append(_filled(pan, fill.dough_cm3))
    if not pan.lidded and dome is not None:
        parts.append(
            f"room for a dome of {cm_and_in(dome_cm(pan, dome))} above the rim"
        )
    return ", ".join(parts) + "."


def _filled(pan: Pan, dough_cm3: float) -> str:
    share = plain_number(share_pct(pan, dough_cm3), 0)
    if share_pct(pan, dough_cm3) > 100:
        return f"raw dough is more than it holds ({share} %)"
    return f"raw dough fills {share} % of it"


def share_pct(pan: Pan, dough_cm3: float) -> float:
    """A volume of dough over what the pan holds to its rim, in percent."""
    return 100 * dough_cm3 / float(pan.volume.to("cm^3").magnitude)
