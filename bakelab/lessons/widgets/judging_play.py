"""Playground of the last lesson: a formula among the usual bands of its style."""

from bakelab.charts import band_strips
from bakelab.charts.written import xml_text
from bakelab.formula import Formula
from bakelab.lessons.widgets.playground import Playground, Shown, slider
from bakelab.panels.controls import choice
from bakelab.ranges import against_ranges, style_name
from bakelab.variants import consequences

__all__ = ["JudgingPlayground"]

_STYLES = ("white_pan", "sandwich_lidded", "brioche", "baguette", "whole_wheat_pan")
_KEYS = (
    ("water", "Water (% of flour)", 62.0, 100.0, 1.0),
    ("salt_table", "Salt (% of flour)", 2.0, 4.0, 0.1),
    ("yeast_instant", "Instant yeast (% of flour)", 1.0, 4.0, 0.1),
    ("sugar_white", "Sugar (% of flour)", 4.0, 40.0, 1.0),
    ("butter_unsalted", "Butter (% of flour)", 4.0, 60.0, 1.0),
)
_FLOUR_G = 500.0


class JudgingPlayground(Playground):
    """Which number is unusual, for which bread, and what would it do?"""

    job = "Make the dough odd on purpose, and read what a baker would say about it."

    def __init__(self) -> None:
        controls = {"style": choice("Style of bread", _named(_STYLES))}
        for key, label, start, most, step in _KEYS:
            controls[key] = slider(label, start, low=0, high=most, step=step)
        super().__init__(controls)

    @property
    def formula(self) -> Formula:
        """The dough as the sliders make it."""
        return _dough({key: self.value(key) for key, *_ in _KEYS})

    def work_out(self) -> Shown:
        """Each ratio on the usual band, and what its move does to the loaf."""
        style = self.value("style")
        frame = against_ranges(self.formula, style, widest=True)
        known = frame[
            frame["low"].notna() & ((frame["value"] > 0) | (frame["low"] > 0))
        ]
        name = style_name(style)
        drawn = band_strips(known, width_px=450, title=f"On the usual bands of {name}")
        odd = known[~known["state"].str.startswith("in ")]
        moves = consequences(_dough({k: v for k, _, v, _, _ in _KEYS}), self.formula)
        items = "".join(f"<li>{xml_text(s)}</li>" for s in moves)
        below = (
            f"<h2>Against where the sliders began</h2><ul>{items}</ul>" if items else ""
        )
        said = (
            "; ".join(f"{r.label} is {r.state}" for r in odd.itertuples())
            or f"Every ratio is in the usual band of {name}"
        )
        shown = f'<div class="bakelab-strips" tabindex="0">{drawn}</div>{below}'
        return shown, said[:1].upper() + said[1:] + "."


def _named(keys: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(style_name(key), key) for key in keys]


def _dough(pct: dict[str, float]) -> Formula:
    pairs = [("wheat_bread", _FLOUR_G)]
    pairs += [(key, _FLOUR_G * value / 100) for key, value in pct.items() if value]
    return Formula.from_pairs(pairs)
