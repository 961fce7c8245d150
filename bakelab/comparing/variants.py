"""A result of several variants: means, scatter, intervals that admit few bakes."""

import math
from dataclasses import dataclass

import pandas as pd

from bakelab.comparing.against_words import chance
from bakelab.comparing.data import ComparisonError, counted, rounded, usable
from bakelab.comparing.names import named, with_unit
from bakelab.comparing.repeats import Repeats, repeats
from bakelab.comparing.tails import f_chance, t_reach

__all__ = ["Variants", "by_variant"]

_SHOWN = 0.05  # common practice, no source


@dataclass(frozen=True)
class Variants:
    """Means of variants.

    `table` has a row per variant, in the order of the first bake: `variant`,
    `bakes`, `mean`, `spread`, `low`, `high`, `basis`; `points` a row per
    bake: `variant`, `order` (1, 2, … within the variant), `y`, `at`.
    """

    result: str
    confidence: float
    table: pd.DataFrame
    points: pd.DataFrame
    scatter: Repeats
    p_value: float
    remarks: tuple[str, ...]

    @property
    def text(self) -> str:
        """What was found in plain sentences."""
        return " ".join(_sentences(self))


def by_variant(
    frame: pd.DataFrame,
    *,
    result: str,
    variant: str = "title",
    at: str = "started_at",
    confidence: float = 0.95,
) -> Variants:
    """Mean of a result for each variant, with its interval.

    Parameters
    ----------
    frame : DataFrame
        A row per bake.
    result, variant : str
        Columns; `variant` is taken as a name.
    at : str
        Column to order by, where there is one.
    confidence : float

    Notes
    -----
    Few bakes of a variant tell little of their own scatter, so the interval
    rests on the scatter within all variants together (one-way analysis of
    variance), and `basis` says so. Where nothing was baked twice there is no
    interval.

    Examples
    --------
    >>> frame = pd.DataFrame({"title": list("aabb"), "height_cm": [9.0, 9.4, 8, 8.2]})
    >>> by_variant(frame, result="height_cm").table["mean"].round(2).tolist()
    [9.2, 8.1]
    """
    if not 0.5 <= confidence <= 0.999:
        raise ComparisonError(f"got a confidence of {confidence}; give 0.5 to 0.999")
    kept, remarks = usable(frame, numbers=[result], words=[variant])
    if at in kept.columns:
        kept = kept.sort_values(at, kind="stable").reset_index(drop=True)
    points = pd.DataFrame({"variant": kept[variant], "y": kept[result]})
    points["order"] = points.groupby("variant").cumcount() + 1
    points["at"] = kept[at] if at in kept.columns else points["order"]
    scatter = repeats(points, result="y", cell=["variant"])
    table = _table(points, scatter, confidence)
    p_value = _p_value(points, table, scatter)
    return Variants(result, confidence, table, points, scatter, p_value, remarks)


def _table(points: pd.DataFrame, scatter: Repeats, confidence: float) -> pd.DataFrame:
    groups = points.groupby("variant", sort=False)["y"]
    table = groups.agg(bakes="size", mean="mean", spread="std").reset_index()
    half = pd.Series(math.nan, index=table.index)
    basis = "no interval: nothing was baked twice"
    if scatter.degrees:
        reach = t_reach(confidence, scatter.degrees) * scatter.spread
        half = reach / table["bakes"] ** 0.5
        basis = (
            "scatter within all variants"
            if len(table) > 1
            else "scatter of its own bakes"
        )
    return table.assign(low=table["mean"] - half, high=table["mean"] + half).assign(
        basis=basis
    )


def _p_value(points: pd.DataFrame, table: pd.DataFrame, scatter: Repeats) -> float:
    between = len(table) - 1
    if between < 1 or not scatter.degrees or scatter.sum_squares <= 0:
        return math.nan
    away = table["bakes"] * (table["mean"] - points["y"].mean()) ** 2
    ratio = (float(away.sum()) / between) / scatter.spread**2
    return f_chance(ratio, between, scatter.degrees)


def _sentences(found: Variants) -> list[str]:
    table, result = found.table, named(found.result)
    bakes = counted(len(found.points), "bake")
    if len(table) == 1:
        return [f"Only one variant, {bakes}: nothing to compare it with."]
    best = table.iloc[int(table["mean"].argmax())]
    mean = with_unit(rounded(float(best["mean"]), found.scatter.spread), found.result)
    many = f"{counted(int(best['bakes']), 'bake')}"
    said = [f"Largest {result}: {best['variant']}, {mean} on average of {many}."]
    if math.isnan(found.p_value):
        why = "nothing was baked twice" if not found.scatter.degrees else (
            "the repeats do not differ at all")  # fmt: skip
        return [*said, f"Whether the variants differ cannot be judged: {why}."]
    single = int((table["bakes"] == 1).sum())
    return [*said, _verdict(found.p_value, len(table)), *_baked_once(single)]


def _verdict(p_value: float, variants: int) -> str:
    odds = f"chance of so much by scatter alone: {chance(p_value)}"
    if p_value <= _SHOWN:
        return f"The variants differ by more than bakes of one do ({odds})."
    return (
        f"No difference between the {variants} variants is shown ({odds}); "
        "that does not show that they are the same."
    )


def _baked_once(single: int) -> list[str]:
    if not single:
        return []
    if single == 1:
        words = "1 variant was baked once: its interval rests"
    else:
        words = f"{single} variants were baked once: their intervals rest"
    return [f"{words} on how the others scatter."]
