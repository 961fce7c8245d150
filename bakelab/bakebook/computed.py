"""What the book works out of a bake: a list of columns, and how they are filled.

What cannot be known is left out, never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Protocol

from bakelab.bakebook.costs import ingredients_cost
from bakelab.bakebook.facts import Fact
from bakelab.bakebook.results import (
    bake_loss_pct,
    loading_cm3_g,
    off_plan,
    oven_spring_pct,
    specific_volume_cm3_g,
)
from bakelab.bakebook.rising import proof_ratio, rise_rate
from bakelab.bakebook.volumes import volume_by_shape
from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.pans import Pan, pan
from bakelab.units import Q_, in_unit

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["COMPUTED", "COMPUTED_BY", "Baked", "compute"]

COMPUTED_BY = 1
"""Raised when a rule below changes, so that the book works everything out again."""


class _Marked(Protocol):
    @property
    def what(self) -> str: ...
    @property
    def at(self) -> datetime: ...


class Baked(Protocol):
    """What is looked at of a bake."""

    @property
    def facts(self) -> Mapping[str, Any]: ...
    @property
    def formula(self) -> Formula: ...
    @property
    def readings(self) -> pd.DataFrame: ...
    @property
    def marks(self) -> Sequence[_Marked]: ...
    @property
    def started_at(self) -> datetime: ...


def _number(name: str, label: str, unit: str, about: str = "") -> Fact:
    return Fact(name, label, unit, group="computed", help=about)


def _text(name: str, label: str, about: str = "") -> Fact:
    return Fact(name, label, kind="text", group="computed", help=about)


COMPUTED: tuple[Fact, ...] = (
    _number("bake_loss_pct", "Bake loss", "% of dough", "dough less cooled loaf"),
    _number("specific_volume_cm3_g", "Specific volume", "cm³/g", "of the cooled loaf"),
    _number("loading_cm3_g", "Dough loading", "cm³/g", "pan over the dough in it"),
    _number(
        "height_volume_cm3",
        "Loaf volume from its height",
        "cm³",
        "by the shape of the pan; the crown leaves a band, so measure where it matters",
    ),
    _number(
        "oven_spring_pct",
        "Oven spring",
        "% of height",
        "height gained after the last reading in mm before the oven",
    ),
    _number("loaf_over_dough", "Loaf over dough at panning", "times", "by volume"),
    _number(
        "proof_ratio", "Proof ratio", "times", "last reading of the rise over first"
    ),
    _number("rise_rate_pct_h", "Rise", "%/h", "of the first reading, while steady"),
    _number("rise_rate_low_pct_h", "Rise, low end of band", "%/h", "95 %"),
    _number("rise_rate_high_pct_h", "Rise, high end of band", "%/h", "95 %"),
    _number("cost", "Ingredients cost", "", "of the whole batch"),
    _text("cost_currency", "Currency"),
    _text("cost_words", "Remark on the cost", "what is missing or assumed"),
    _number("off_dough_c", "Dough temperature off plan", "K", "done less planned"),
    _number("off_proof_min", "Proof off plan", "min", "done less planned"),
    _number("off_bake_min", "Bake off plan", "min", "done less planned"),
    _number("off_oven_c", "Oven setting off plan", "K", "done less planned"),
    _number("off_dough_g", "Dough in the pan off plan", "g", "done less planned"),
)


def compute(bake: Baked, *, prices: pd.DataFrame) -> dict[str, float | str]:
    """Everything that can be worked out of one bake; what cannot is left out.

    Parameters
    ----------
    bake : Baked
        A bake of the book.
    prices : DataFrame
        The prices of the house.
    """
    facts = {name: value for name, value in bake.facts.items() if value is not None}
    where = _pan(str(facts.get("pan", "")))
    rise = _rise(bake)
    found: dict[str, float | str] = {}
    found |= _of_the_loaf(facts)
    found |= _of_the_pan(facts, where)
    found |= _of_the_rise(rise, facts)
    found |= _of_the_cost(bake, facts, prices)
    found |= off_plan(facts)
    names = [fact.name for fact in COMPUTED]
    return {name: found[name] for name in names if name in found}


@lru_cache(maxsize=256)
def _pan(spec: str) -> Pan | None:
    if not spec.strip():
        return None
    try:
        return pan(spec)
    except BakelabError:
        return None  # a name, or words: nothing to work with


def _of_the_loaf(facts: Mapping[str, Any]) -> dict[str, float]:
    dough_g, loaf_g = facts.get("dough_in_g"), facts.get("loaf_out_g")
    volume_cm3, panned_cm3 = facts.get("loaf_volume_cm3"), facts.get("dough_volume_cm3")
    found = {}
    if dough_g and loaf_g:
        found["bake_loss_pct"] = bake_loss_pct(dough_g=dough_g, loaf_g=loaf_g)
    if volume_cm3 and loaf_g:
        found["specific_volume_cm3_g"] = specific_volume_cm3_g(
            volume_cm3=volume_cm3, loaf_g=loaf_g
        )
    if volume_cm3 and panned_cm3:
        found["loaf_over_dough"] = volume_cm3 / panned_cm3
    return found


def _of_the_pan(facts: Mapping[str, Any], where: Pan | None) -> dict[str, float]:
    found: dict[str, float] = {}
    if where is None:
        return found
    if where.has_volume and facts.get("dough_in_g"):
        pan_cm3 = in_unit(where.volume, "cm^3", "pan")
        found["loading_cm3_g"] = loading_cm3_g(
            pan_cm3=pan_cm3, dough_g=facts["dough_in_g"]
        )
    free = not where.has_volume
    needed = ("height_cm", "length_cm", "width_cm") if free else ("height_cm",)
    if all(facts.get(name) for name in needed):
        sides = {n.removesuffix("_cm"): Q_(facts[n], "cm") for n in needed}
        found["height_volume_cm3"] = volume_by_shape(where, **sides).middle_cm3
    return found


def _rise(bake: Baked) -> dict[str, list[tuple[float, float]]]:
    """(minute, value) before the oven, in order, by kind of reading."""
    rows = bake.readings
    if rows.empty:
        return {}
    rows = rows[rows["kind"].isin(["rise_ml", "rise_mm"])]
    found: dict[str, list[tuple[float, float]]] = {}
    limits = _going_in(bake)
    for row in rows.to_dict("records"):
        if _before(row, *limits):
            point = (float(row["minute"]), float(row["value"]))
            found.setdefault(str(row["kind"]), []).append(point)
    return {
        kind: sorted(points, key=lambda point: point[0])
        for kind, points in found.items()
    }


def _going_in(bake: Baked) -> tuple[datetime | None, float]:
    """When the dough went in: by the clock, and in minutes since it was mixed."""
    at = {mark.what: mark.at for mark in bake.marks}
    oven_at, mixed_at = at.get("in the oven"), at.get("mixed")
    if oven_at is None or mixed_at is None:
        return oven_at, math.inf
    return oven_at, (oven_at - mixed_at).total_seconds() / 60.0


def _before(row: Mapping[Any, Any], oven_at: datetime | None, minutes: float) -> bool:
    if math.isnan(row["minute"]):
        return False
    at = row["at"]
    if oven_at is not None and isinstance(at, datetime) and at.year > 1:  # not NaT
        return bool(at <= oven_at)
    return bool(row["minute"] <= minutes)


def _of_the_rise(
    rise: Mapping[str, list[tuple[float, float]]], facts: Mapping[str, Any]
) -> dict[str, float]:
    found: dict[str, float] = {}
    if "rise_mm" in rise and facts.get("height_cm") and rise["rise_mm"][-1][1] > 0:
        found["oven_spring_pct"] = oven_spring_pct(
            going_in_mm=rise["rise_mm"][-1][1], loaf_mm=10.0 * facts["height_cm"]
        )
    if not rise:
        return found
    points = max(rise.values(), key=len)  # a jar or heights: the one read more often
    minutes, values = zip(*points, strict=True)
    ratio, rate = proof_ratio(values), rise_rate(minutes, values)
    if ratio is not None:
        found["proof_ratio"] = ratio
    if rate is not None:
        found["rise_rate_pct_h"] = rate.pct_h
        if not math.isnan(rate.low_pct_h):
            found["rise_rate_low_pct_h"] = rate.low_pct_h
            found["rise_rate_high_pct_h"] = rate.high_pct_h
    return found


def _of_the_cost(
    bake: Baked, facts: Mapping[str, Any], prices: pd.DataFrame
) -> dict[str, float | str]:
    factor = float(facts.get("batch_factor", 1.0))
    day = bake.started_at.astimezone().date()
    cost = ingredients_cost(bake.formula, prices, factor=factor, on=day)
    if cost is None:
        return {}
    found: dict[str, float | str] = {"cost_words": cost.words} if cost.words else {}
    if cost.total is not None:
        found |= {"cost": cost.total, "cost_currency": cost.currency}
    return found
