"""What fitting gives back: the scaled formula and how it came about."""

from dataclasses import dataclass
from html import escape

import pandas as pd

from bakelab.formula import Formula
from bakelab.pans import Pan

__all__ = ["Fitted", "LoafChange", "Portion"]

PORTION_COLUMNS = ("what", "count", "dough_g", "total_g", "loading_cm3_g")
LOAF_COLUMNS = (
    "pan",
    "depth_cm",
    "depth_change_pct",
    "surface_to_volume_per_cm",
    "surface_to_volume_change_pct",
    "text",
)


@dataclass(frozen=True)
class Portion:
    """Dough for one kind of pan or piece: how many, and g for each."""

    what: str
    count: int
    dough_g: float
    loading_cm3_g: float | None = None


@dataclass(frozen=True)
class LoafChange:
    """A new loaf beside the old one: depth, and surface for its volume."""

    pan: str
    depth_cm: float
    old_depth_cm: float
    surface_to_volume: float
    old_surface_to_volume: float
    text: str


@dataclass(frozen=True)
class Fitted:
    """A formula fitted to a pan, a mass, pieces or a cupboard.

    Attributes
    ----------
    formula, original : Formula
        After and before; the percentages are the same.
    factor : float
        Every weight of `formula` over the one of `original`.
    by : str
        "volume", "loading", or what was aimed at ("dough", "flour",
        "pieces", "baked", "cupboard").
    other_way : float or None
        The factor by the other of volume and loading, where it is possible.
    loading_cm3_g, original_loading_cm3_g : float or None
        Pan volume to the rim over dough, now and in the recipe's pan.
    working, remarks : tuple of str
        The arithmetic step by step, and what to know about the result.
    """

    formula: Formula
    original: Formula
    factor: float
    by: str
    working: tuple[str, ...]
    remarks: tuple[str, ...]
    doled: tuple[Portion, ...]
    from_pan: Pan | None = None
    to_pans: tuple[Pan, ...] = ()
    loading_cm3_g: float | None = None
    original_loading_cm3_g: float | None = None
    other_way: float | None = None
    style: str = ""
    dome: str | None = "fixed"
    changes: tuple[LoafChange, ...] = ()
    sticking_g: float = 0.0

    @property
    def portions(self) -> pd.DataFrame:
        """Dough for each pan or piece: `what, count, dough_g, total_g,
        loading_cm3_g`; the totals and what sticks make up the batch."""
        records = [
            (p.what, p.count, p.dough_g, p.count * p.dough_g, p.loading_cm3_g)
            for p in self.doled
        ]
        frame = pd.DataFrame(records, columns=list(PORTION_COLUMNS))
        return frame.astype({"loading_cm3_g": float})

    @property
    def loaf(self) -> pd.DataFrame:
        """The change of loaf per kind of pan; empty where no pans are known."""
        records = [
            (
                c.pan,
                c.depth_cm,
                100 * (c.depth_cm / c.old_depth_cm - 1),
                c.surface_to_volume,
                100 * (c.surface_to_volume / c.old_surface_to_volume - 1),
                c.text,
            )
            for c in self.changes
        ]
        return pd.DataFrame(records, columns=list(LOAF_COLUMNS))

    def _repr_html_(self) -> str:
        def listed(lines: tuple[str, ...], tag: str) -> str:
            items = "".join(f"<li>{escape(line)}</li>" for line in lines)
            return f"<{tag}>{items}</{tag}>"

        return (
            f"<p><strong>Flour {self.formula.flour_g:.0f} g, "
            f"dough {self.formula.dough_g:.0f} g</strong> "
            f"({self.factor:.4g} x the recipe)</p>"
            f"{self.formula._repr_html_()}{listed(self.remarks, 'ul')}"
            f"<details><summary>Working</summary>{listed(self.working, 'ol')}</details>"
        )
