"""A pan in words: the spec that reads back exactly, and one line for people."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import lru_cache

from bakelab.errors import PanError
from bakelab.pans.measures import to_cm
from bakelab.pans.pan import CM_PER_INCH, Pan
from bakelab.pans.table import named_pan

__all__ = ["describe", "write_spec"]

_MOST_DECIMALS = 12


@lru_cache(maxsize=512)
def write_spec(pan: Pan) -> str:
    """The shortest text that `pan()` reads back as an equal pan."""
    from bakelab.pans.spec import pan as read

    known = named_pan(pan.name) if pan.name else None
    if known == pan and known is not None:
        return known.text
    bare = replace(pan, assumed=())
    for spec in (pan.name, _written(pan)):
        try:
            if spec and read(spec) == pan:
                return spec
        except PanError:
            continue
    notes = "".join(f", assumed {_quoted(note)}" for note in pan.assumed)
    return _full(bare) + notes


def describe(pan: Pan) -> str:
    """One line: how many, what shape, measures, volume, what was assumed."""
    head = f"{pan.count} x {pan.shape}" if pan.count > 1 else pan.shape
    if not pan.has_volume:
        return f"{head}: free-standing, no pan; scaled by dough weight"
    parts = [f"{head} {_rim(pan)}".strip()]
    if _base(pan):
        parts.append(f"base {_base(pan)}")
    if pan.tube_cm:
        parts.append(f"tube {_rounded(pan, (pan.tube_cm,))}")
    parts.append("lidded" if pan.lidded else "no lid")
    each = " each" if pan.count > 1 else ""
    kind = "measured" if pan.capacity_cm3 is not None else "to the rim"
    parts.append(f"{pan.volume.magnitude:.0f} cm³ {kind}{each}")
    line = ", ".join(parts)
    return f"{line} ({'; '.join(pan.assumed_notes)})" if pan.assumed else line


def _written(pan: Pan) -> str:
    """The spec with only the measures that were written."""
    if not pan.assumed:
        return ""
    return _full(pan, _Kept(set(pan.assumed_measures)))


class _Kept:
    """Which measures to leave out of a spec."""

    def __init__(self, left_out: set[str]) -> None:
        self.left_out = left_out

    def rim_names(self, pan: Pan) -> tuple[str, ...]:
        names = ("length_cm", "width_cm", "depth_cm")
        if pan.diameter_cm is not None:
            names = ("diameter_cm", "depth_cm", "")
        return tuple(n for n in names if n and n not in self.left_out)


def _full(pan: Pan, kept: _Kept | None = None) -> str:
    kept = kept or _Kept(set())
    counted = pan.count > 1 or pan.shape in ("muffin", "roll well")
    head = f"{pan.count} {pan.shape}" if counted else pan.shape
    mark = "Ø " if pan.diameter_cm is not None and pan.shape in _EITHER else ""
    rim = _values(pan, kept.rim_names(pan))
    parts = [f"{head} {mark}{_exact(pan, rim)}" if rim else head]
    parts += _extras(pan, kept)
    return ", ".join(parts)


_EITHER = ("dish", "basket", "roll well")


def _extras(pan: Pan, kept: _Kept) -> list[str]:
    parts = []
    bases = ("base_length_cm", "base_width_cm", "base_diameter_cm")
    base = _values(pan, tuple(n for n in bases if n not in kept.left_out))
    if base:
        parts.append(f"base {_exact(pan, base)}")
    if pan.tube_cm is not None and "tube_cm" not in kept.left_out:
        parts.append(f"tube {_exact(pan, (pan.tube_cm,))}")
    if pan.corner_cm:
        parts.append(f"corner {_exact(pan, (pan.corner_cm,))}")
    fluted = pan.fluting_pct or pan.shape == "fluted tube"
    if fluted and not any(note.startswith("fluting") for note in pan.assumed):
        parts.append(f"fluting {pan.fluting_pct!r} %")
    if pan.capacity_cm3 is not None:
        parts.append(f"holds {pan.capacity_cm3!r} ml")
    if pan.lidded:
        parts.append("lidded")
    rim = _exact(pan, _values(pan, kept.rim_names(pan)))
    if pan.has_volume and pan.dome_unit != rim[-2:]:
        parts.append(f"dome in {'inches' if pan.dome_unit == 'in' else 'cm'}")
    if pan.name:
        parts.append(f"named {_quoted(pan.name)}")
    return parts


def _values(pan: Pan, names: tuple[str, ...]) -> tuple[float, ...]:
    found = (getattr(pan, name) for name in names)
    return tuple(value for value in found if value is not None)


def _exact(pan: Pan, values: tuple[float, ...]) -> str:
    """Measures that read back to the last bit, in inches if that is possible."""
    if pan.dome_unit == "in":
        inches = [_inches(value) for value in values]
        if all(inches):
            return " x ".join(inches) + " in"
    return " x ".join(_decimal(value) for value in values) + " cm"


def _inches(value_cm: float) -> str:
    for decimals in range(_MOST_DECIMALS):
        inches = round(value_cm / CM_PER_INCH, decimals)
        if to_cm(inches, "in") == value_cm:
            return _decimal(inches)
    return ""


def _decimal(value: float) -> str:
    text = repr(float(value))
    return text.removesuffix(".0")


def _rim(pan: Pan) -> str:
    names = ("length_cm", "width_cm", "depth_cm")
    if pan.diameter_cm is not None:
        names = ("diameter_cm", "depth_cm", "")
    return _rounded(pan, _values(pan, tuple(n for n in names if n)))


def _base(pan: Pan) -> str:
    bases = ("base_length_cm", "base_width_cm", "base_diameter_cm")
    values = _values(pan, bases)
    return _rounded(pan, values) if values else ""


def _rounded(pan: Pan, values: tuple[float, ...]) -> str:
    unit = pan.dome_unit
    size = CM_PER_INCH if unit == "in" else 1.0
    return " x ".join(f"{value / size:.4g}" for value in values) + f" {unit}"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
