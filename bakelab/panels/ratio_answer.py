"""The ratio panel's answer as HTML: table, strips, sentences; all escaped."""

import math
from collections.abc import Iterable, Sequence

import pandas as pd

from bakelab.charts import band_strips
from bakelab.charts.written import xml_text
from bakelab.formula import Formula
from bakelab.panels.answer_html import listed
from bakelab.preferments import stage_table, unusual_stages
from bakelab.ranges import (
    against_ranges,
    example_formulas,
    measures,
    style_name,
    suggest_style,
)
from bakelab.scaling.loading import choose_style

__all__ = [
    "big_numbers",
    "map_frame",
    "sentences",
    "stages_table",
    "strips",
    "style_and_reason",
    "weights_table",
]

_SAME = 0.05  # percentage points: less is no difference in the table
_SURE_SHARE = 0.3  # our own: a style less likely is not suggested for a pan loaf
_SMALL_G = 10.0  # a weight below it is shown to 0.01 g
_OF_STAGES = (
    ("Share of all flour (%)", "flour_pct", 1),
    ("True hydration (%)", "hydration_pct", 1),
    ("Yeast (% of its flour)", "yeast_pct", 2),
    ("Salt (% of its flour)", "salt_pct", 2),
)
_HEADS = ("Ingredient", "Weight (g)", "% of flour", "Parent (% of flour)", "Change")


def big_numbers(formula: Formula) -> str:
    """Hydration and salt, large, with flour and dough beside them."""
    facts = (
        ("True hydration", f"{formula.hydration_pct:.1f} %"),
        ("Salt", f"{formula.role_pct('salt'):.2f} %"),
        ("Flour", f"{formula.flour_g:.0f} g"),
        ("Dough", f"{formula.dough_g:.0f} g"),
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


def stages_table(formula: Formula) -> str:
    """Every ingredient in every stage in grams; empty where there is one stage."""
    if len(formula.stages) < 2:
        return ""
    grams = formula.frame.pivot_table(
        index="label", columns="stage", values="mass_g", aggfunc="sum", sort=False
    )[list(formula.stages)]
    grams["All"] = grams.sum(axis=1)
    heads = "".join(
        f'<th scope="col" class="bakelab-right">{xml_text(_capital(str(s)))} (g)</th>'
        for s in grams.columns
    )
    rows = "".join(_cells(str(label), row) for label, row in grams.iterrows())
    table = stage_table(formula).set_index("stage")
    foot = _cells("Weight", grams.sum())
    foot += "".join(
        _cells(name, [*table[column], _of_all(formula, column)], places)
        for name, column, places in _OF_STAGES
    )
    return (
        '<h2>Stages</h2><div class="bakelab-strips" tabindex="0">'
        '<table class="bakelab-weights bakelab-stages"><caption class="bakelab-unseen">'
        'Weights of each stage</caption><thead><tr><th scope="col">Ingredient</th>'
        f"{heads}</tr></thead><tbody>{rows}</tbody><tfoot>{foot}</tfoot></table></div>"
        f"{listed(unusual_stages(formula))}"
    )


def _of_all(formula: Formula, column: str) -> float:
    if column == "flour_pct":
        return 100.0
    if column == "hydration_pct":
        return formula.hydration_pct
    return formula.role_pct(column.removesuffix("_pct"))


def _cells(name: str, values: Iterable[float], places: int | None = None) -> str:
    """A row of numbers; grams have the places that a small scale shows."""
    cells = "".join(
        f'<td class="bakelab-right">{_written(value, places)}</td>' for value in values
    )
    return f'<tr><th scope="row">{xml_text(name)}</th>{cells}</tr>'


def _written(value: float, places: int | None) -> str:
    if not math.isfinite(value):
        return "–"
    if places is None:
        places = 1 if value >= _SMALL_G else 2
    return f"{value:.{places}f}"


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def style_and_reason(chosen: str, parent: Formula) -> tuple[str, str]:
    """The style that was chosen, else the one suggested and why, in a sentence."""
    if chosen:
        return chosen, ""
    best = suggest_style(parent, parent.title)[0]
    if parent.stated_pan and best.share < _SURE_SHARE:
        plain = choose_style(parent, None)
        if plain is not None:
            return plain.style, plain.note
    return best.style, f"Suggested: {best.name}; {'; '.join(best.reasons[:3])}."


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
        f'<td class="bakelab-right"><b>{mass_g:.1f}</b></td>'
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
