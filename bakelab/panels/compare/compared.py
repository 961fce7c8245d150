"""What the controls of the comparing panel ask, put to the bakes."""

from dataclasses import replace
from typing import Any

import pandas as pd

from bakelab.comparing import (
    ComparisonError,
    Control,
    against,
    by_variant,
    control_chart,
    mixed_comparison,
    paired,
    response_surface,
)
from bakelab.panels.compare.answers import Found
from bakelab.panels.compare.controls import KINDS, CompareControls
from bakelab.panels.compare.source import Source

__all__ = ["compared"]


def compared(c: CompareControls, source: Source, bakes: pd.DataFrame) -> Found:
    """What the controls ask of the bakes.

    Raises
    ------
    ComparisonError
        In one sentence, where it cannot be answered.
    """
    if not c.result.value:
        raise ComparisonError(
            "none of these bakes has a result yet; write heights, weights or "
            "volumes into the book"
        )
    base: dict[str, Any] = {"result": c.result.value}
    kind = list(KINDS).index(c.kind.value)
    if kind == 3:
        return _over_time(c, bakes, base)
    base["confidence"] = c.confidence.value
    if kind == 0:
        return _against(c, bakes, base)
    if kind == 4:
        return _surface(c, bakes, base, source.moved(c.plan.value))
    _need(c.by, "anything in which they differ")
    makers = {1: _variants, 2: _paired, 5: _batches}
    return makers[kind](c, bakes, base)


def _against(c: CompareControls, bakes: pd.DataFrame, base: dict[str, Any]) -> Found:
    _need(c.ratio, "a ratio that differs")
    return against(
        bakes, **base, ratio=c.ratio.value, shape=c.shape.value, name="variant"
    )


def _variants(c: CompareControls, bakes: pd.DataFrame, base: dict[str, Any]) -> Found:
    return by_variant(bakes, **base, variant=c.by.value)


def _paired(c: CompareControls, bakes: pd.DataFrame, base: dict[str, Any]) -> Found:
    _need(c.pair, "a second thing in which they differ")
    ends = {"first": c.first.value, "second": c.second.value}
    doughs = _one_dough(bakes, by=c.by.value, pair=c.pair.value)
    return paired(doughs, **base, by=c.by.value, pair="pair", **ends)


def _over_time(c: CompareControls, bakes: pd.DataFrame, base: dict[str, Any]) -> Found:
    first = _whole(c.baseline.value)
    found = control_chart(
        bakes, **base, name="variant", baseline=first, rules=c.rules.value
    )
    return _one_loaf(found, bakes)


def _surface(
    c: CompareControls,
    bakes: pd.DataFrame,
    base: dict[str, Any],
    moved: list[str],
) -> Found:
    shape = c.surface.value or None
    return response_surface(bakes, **base, ratios=moved, aim=c.aim.value, shape=shape)


def _batches(c: CompareControls, bakes: pd.DataFrame, base: dict[str, Any]) -> Found:
    _need(c.batch, "a batch")
    return mixed_comparison(bakes, **base, by=c.by.value, batch=c.batch.value)


def _need(control: Any, what: str) -> None:
    if not control.value:
        raise ComparisonError(
            f"these bakes do not have {what}; widen the filters, or compare "
            "something else"
        )


def _one_loaf(found: Control, bakes: pd.DataFrame) -> Control:
    """A word of warning where several variants are taken for one loaf."""
    variants = bakes["formula_key"].nunique()
    if variants < 2:
        return found
    said = (
        f"{variants} variants are mixed here; choose one, or what differs between them "
        "looks like the kitchen"
    )
    return replace(found, remarks=(*found.remarks, said))


def _one_dough(bakes: pd.DataFrame, *, by: str, pair: str) -> pd.DataFrame:
    """A column `pair` in which the dough is the same too, unless it is compared."""
    keys = bakes[pair].astype(object).where(bakes[pair].notna(), "").astype(str)
    blank = keys.str.strip() == ""
    if by not in ("variant", "style"):
        keys = keys + " · " + bakes["variant"].astype(str)
    return bakes.assign(pair=keys.where(~blank, None))


def _whole(text: str) -> int | None:
    if not text.strip():
        return None
    if not text.strip().isdigit():
        raise ComparisonError(
            f"the limits rest on a whole number of bakes, got {text.strip()!r}; write "
            "such as 20, or leave it blank for all"
        )
    return int(text)
