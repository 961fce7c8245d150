"""Two tastings of the invented kitchen, planned, answered and judged by the lab."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from bakelab.bakebook.demo.recipes import DemoFormula
from bakelab.bakebook.demo.truth import FIRST_DAY
from bakelab.tasting import Tasting, judge, plan_tasting, read_answer

__all__ = ["demo_tastings"]

TELL_SALT = 0.5  # so many tasters truly tell the two apart
LIKED = {
    "house loaf": 1.0,
    "whole wheat": 0.2,
    "whole wheat, wetter": 0.5,
    "milk bread": 1.4,
}


def demo_tastings(
    formulas: Mapping[str, DemoFormula], rng: np.random.Generator
) -> Iterator[tuple[datetime, str, dict[str, Any]]]:
    """When it was, its name, and the columns of the book."""
    salt = _less_salt(formulas)
    told = {s.taster: _odd_one(salt, s.taster, rng) for s in salt.slips}
    yield FIRST_DAY + timedelta(days=64, hours=8), "Less salt?", _columns(salt, told)
    four = _four_breads(formulas)
    told = {s.taster: _ranked(four, s.taster, rng) for s in four.slips}
    yield FIRST_DAY + timedelta(days=120, hours=8), "Four breads", _columns(four, told)


def _less_salt(formulas: Mapping[str, DemoFormula]) -> Tasting:
    return plan_tasting(
        "triangle",
        ["house loaf", "less salt"],
        tasters=18,
        seed=4,
        title="Two slices of tin bread",
        question="Two of the three are alike. Which one is the other?",
        formulas={
            "house loaf": formulas["mill"].formula,
            "less salt": formulas["less salt"].formula,
        },
    )


def _four_breads(formulas: Mapping[str, DemoFormula]) -> Tasting:
    keys = dict(zip(LIKED, ("mill", "whole", "wetter", "milk"), strict=True))
    return plan_tasting(
        "ranking",
        list(LIKED),
        tasters=10,
        seed=9,
        title="Four breads of the shelf",
        question="Rank them by how much you like them, the best one first.",
        formulas={name: formulas[key].formula for name, key in keys.items()},
    )


def _odd_one(tasting: Tasting, taster: int, rng: np.random.Generator) -> str:
    """A taster who tells them apart, or one who guesses."""
    codes = tasting.slip(taster).codes
    served = [tasting.key[code] for code in codes]
    odd = next(c for c, s in zip(codes, served, strict=True) if served.count(s) == 1)
    return odd if rng.random() < TELL_SALT else str(rng.choice(codes))


def _ranked(tasting: Tasting, taster: int, rng: np.random.Generator) -> str:
    liking = {
        code: LIKED[tasting.key[code]] + float(rng.normal(0, 0.8))
        for code in tasting.slip(taster).codes
    }
    return " ".join(sorted(liking, key=lambda code: -liking[code]))


def _columns(tasting: Tasting, told: Mapping[int, str]) -> dict[str, Any]:
    answers = {n: read_answer(tasting, n, text) for n, text in told.items()}
    return {
        **tasting.to_data(),
        "answers": {str(n): answer.to_data() for n, answer in answers.items()},
        "verdict": judge(tasting, answers).to_data(),
    }
