"""What a column of the bake book is called in a sentence and on an axis."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["axis_title", "named", "unit_of", "with_unit"]

_KNOWN: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "hydration_pct": ("true hydration", "% of flour"),
        "water_pct": ("water as written", "% of flour"),
        "salt_pct": ("salt", "% of flour"),
        "yeast_pct": ("yeast", "% of flour"),
        "starter_pct": ("starter", "% of flour"),
        "sweetener_pct": ("sweeteners", "% of flour"),
        "fat_pct": ("fat", "% of flour"),
        "egg_pct": ("egg", "% of flour"),
        "dairy_pct": ("dairy", "% of flour"),
        "bake_loss_pct": ("bake loss", "% of dough"),
        "oven_spring_pct": ("oven spring", "% of height"),
        "loaf_over_dough": ("loaf over dough at panning", "times"),
        "proof_ratio": ("proof ratio", "times"),
        "height_volume_cm3": ("loaf volume from its height", "cm³"),
        "loading_cm3_g": ("dough loading", "cm³/g"),
        "dough_c": ("dough after mixing", "°C"),
        "proof_c": ("proof temperature", "°C"),
        "oven_set_c": ("oven setting", "°C"),
        "oven_real_c": ("oven measured", "°C"),
        "off_dough_c": ("dough temperature off plan", "K"),
        "off_proof_min": ("proof off plan", "min"),
        "off_bake_min": ("bake off plan", "min"),
        "off_oven_c": ("oven setting off plan", "K"),
        "off_dough_g": ("dough in the pan off plan", "g"),
        "core_end_c": ("end temperature in the centre", "°C"),
        "dough_in_g": ("dough into the pan", "g"),
        "loaf_out_g": ("cooled loaf", "g"),
        "started_at": ("date", ""),
        "formula_key": ("formula", ""),
        "batch_factor": ("batch", "times the recipe"),
        "title": ("title", ""),
        "style": ("style", ""),
    }
)
# Longest first, so that `_cm3_g` is not taken for `_g`.
_UNITS: Mapping[str, str] = MappingProxyType(
    {
        "_cm3_g": "cm³/g",
        "_pct_h": "% per hour",
        "_1_9": "1 to 9",
        "_cm3": "cm³",
        "_pct": "%",
        "_min": "min",
        "_ml": "ml",
        "_mm": "mm",
        "_cm": "cm",
        "_g": "g",
        "_c": "°C",
    }
)


def named(column: str) -> str:
    """The name of a column in whole words, without its unit.

    Examples
    --------
    >>> named("specific_volume_cm3_g"), named("bake_loss_pct"), named("pan")
    ('specific volume', 'bake loss', 'pan')
    """
    if column in _KNOWN:
        return _KNOWN[column][0]
    return column.removesuffix(_suffix(column)).replace("_", " ")


def unit_of(column: str) -> str:
    """The unit of a column, empty where it has none.

    Examples
    --------
    >>> unit_of("specific_volume_cm3_g"), unit_of("salt_pct"), unit_of("folds")
    ('cm³/g', '% of flour', '')
    """
    return _KNOWN[column][1] if column in _KNOWN else _UNITS.get(_suffix(column), "")


def axis_title(column: str) -> str:
    """Name and unit as an axis of a chart shows them: `Height (cm)`."""
    name, unit = named(column), unit_of(column)
    name = name[:1].upper() + name[1:]
    return f"{name} ({unit})" if unit else name


def with_unit(text: str, column: str) -> str:
    """An amount with the unit of its column: `4.1 cm³/g`."""
    unit = unit_of(column)
    if unit == "1 to 9":
        return f"{text} points"
    return f"{text} {unit}" if unit else text


def _suffix(column: str) -> str:
    return next((s for s in _UNITS if column.endswith(s)), "")
