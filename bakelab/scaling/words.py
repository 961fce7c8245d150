"""Numbers as the working prints them: short, and still adding up."""

from bakelab.units import Quantity, in_unit, quantity

__all__ = ["factor_text", "grams", "mass_g", "pct_of", "percent", "volume"]

CM3_PER_IN3 = 16.387064  # exact: 2.54 cubed


def grams(mass_g: float) -> str:
    """``480 g``, ``9.6 g``, ``0.85 g``: one decimal, two under 10 g."""
    if mass_g >= 1e5:
        return f"{mass_g:.0f} g"
    digits = 2 if mass_g < 10 else 1
    return f"{_trim(f'{mass_g:.{digits}f}')} g"


def volume(volume_cm3: float, *, inches: bool = False) -> str:
    """``2950 cm³``, with cubic inches behind it for pans given in inches."""
    text = f"{volume_cm3:.0f} cm³"
    if not inches:
        return text
    cubic = _trim(f"{volume_cm3 / CM3_PER_IN3:.1f}")
    return f"{text} ({cubic} in³)"


def factor_text(factor: float) -> str:
    """A ratio with four decimals, or four figures where it is small."""
    return f"{factor:.4f}" if factor >= 0.1 else f"{factor:.4g}"


def pct_of(pct: float, whole_g: float) -> str:
    """``2.0 %``: as few decimals as still give the grams it is meant for."""
    for digits in (1, 2, 3):
        if abs(round(pct, digits) - pct) * whole_g / 100 < 0.05:
            return f"{pct:.{digits}f} %"
    return f"{pct:.4f} %"


def percent(change: float) -> str:
    """A change as ``14 % more`` or ``3 % less``, from a ratio minus one."""
    size = abs(100 * change)
    text = f"{size:.0f}" if size >= 10 else f"{size:.1f}"
    return f"{text} % {'more' if change >= 0 else 'less'}"


def mass_g(value: Quantity | str, name: str) -> float:
    """An argument that is a mass, as a quantity or in words, in g."""
    if isinstance(value, str):
        value = quantity(value, dimension="[mass]")
    return in_unit(value, "g", name)


def _trim(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text
