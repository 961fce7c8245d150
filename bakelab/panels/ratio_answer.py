"""The ratio panel's answer as HTML: table, strips, sentences; all escaped."""

import math
from collections.abc import Iterable, Sequence

import pandas as pd

from bakelab.charts import band_strips
from bakelab.charts.written import xml_text
from bakelab.formula import Formula
from bakelab.ranges import against_ranges, example_formulas, measures, style_name

__all__ = ["big_numbers", "map_frame", "sentences", "strips", "weights_table"]

_SAME = 0.05  # percentage points: less is no difference in the table
_HEADS = ("Ingredient", "Weight (g)", "% of flour", "Parent (% of flour)", "Change")


def big_numbers(formula: Formula) -> str:
    """Hydration and salt, large, with flour and dough beside them."""
    facts = (
        ("True hydration", f"{formula.hydration_pct:.1f} %"),
        ("Salt", f"{formula.role_pct('salt'):.2f} %"),
        ("Flour", f"{formula.flour_g:,.0f} g"),
        ("Dough", f"{formula.dough_g:,.0f} g"),
    )
    cells = "".join(
        f'<div><span class="bakelab-caption">{name}</span>'
        f'<span class="bakelab-number bakelab-smaller">{value}</span></div>'
        for name, value in facts
    )
    return (
        f'<p class="bakelab-title">{xml_text(formula.title or "Formula")}</p>'
        f'<div class="bakelab-big">{cells}</div>'
    )


def weights_table(formula: Formula, parent: Formula) -> str:
    """Every ingredient with its share, and how it differs from the parent."""
    before = _shares(parent)
    rows = "".join(
        _row(label, mass_g, pct, before.get(label))
        for label, (mass_g, pct) in _shares(formula).items()
    )
    gone = "".join(
        _row(label, 0.0, 0.0, was)
        for label, was in before.items()
        if label not in _shares(formula)
    )
    heads = "".join(f'<th scope="col">{h}</th>' for h in _HEADS)
    return (
        '<table class="bakelab-weights bakelab-ratios"><thead><tr>'
        f"{heads}</tr></thead><tbody>{rows}{gone}</tbody></table>"
    )


def _shares(formula: Formula) -> dict[str, tuple[float, float]]:
    frame = formula.frame.groupby("label", sort=False)[["mass_g", "bakers_pct"]].sum()
    return {
        str(label): (float(mass), float(pct)) for label, mass, pct in frame.itertuples()
    }


def _row(
    label: str, mass_g: float, pct: float, before: tuple[float, float] | None
) -> str:
    was = "–" if before is None else f"{before[1]:.1f}"
    return (
        f'<tr><th scope="row">{xml_text(label)}</th>'
        f'<td class="bakelab-right"><b>{mass_g:,.1f}</b></td>'
        f'<td class="bakelab-right">{pct:.1f}</td>'
        f'<td class="bakelab-right">{was}</td>'
        f'<td class="bakelab-right">{_difference(pct, before)}</td></tr>'
    )


def _difference(pct: float, before: tuple[float, float] | None) -> str:
    if before is None:
        return "new"
    moved = pct - before[1]
    if abs(moved) < _SAME:
        return "same"
    return f"{'up' if moved > 0 else 'down'} {moved:+.1f}".replace("-", "−")


def strips(formula: Formula, parent: Formula, style: str) -> str:
    """Each ratio on the usual band of a style, the parent marked."""
    frame = against_ranges(formula, style, widest=True)
    before = measures(parent)
    there = (
        (frame["value"] > 0)
        | (frame["low"] > 0)
        | frame["measure"].isin([m for m, value in before.items() if value > 0])
    )
    drawn = band_strips(
        frame[there],
        parent=before,
        title=f"Each ratio on the usual band of {style_name(style)}",
    )
    return f'<div class="bakelab-strips" tabindex="0">{drawn}</div>'


def map_frame(formula: Formula, parent: Formula) -> pd.DataFrame:
    """Points of the example formulas of all styles, the parent, and now."""
    points = [
        (style_name(key), "style", *_point(example))
        for key, example in example_formulas().items()
    ]
    points.append(("parent", "parent", *_point(parent)))
    points.append((formula.title or "now", "now", *_point(formula)))
    frame = pd.DataFrame(points, columns=["name", "what", "hydration_pct", "rich_pct"])
    return frame[frame["hydration_pct"].map(math.isfinite)]


def _point(formula: Formula) -> tuple[float, float]:
    found = measures(formula)
    return found.get("hydration", math.nan), found.get("fat", 0) + found.get("sugar", 0)


def sentences(texts: Iterable[str], *, empty: str) -> str:
    """A list of sentences, or one that says there is none."""
    items: Sequence[str] = [f"<li>{xml_text(t)}</li>" for t in texts]
    return f"<ul>{''.join(items)}</ul>" if items else f"<p>{xml_text(empty)}</p>"
