"""One bake of the demo book before it is written, and how it is filled in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from bakelab.bakebook.demo.recipes import LARGE_TIN
from bakelab.bakebook.demo.truth import TRUTH, crown_height_cm, jar_ml
from bakelab.formula import Formula
from bakelab.pans import pan

__all__ = ["Baker", "MadeBake", "Wanted"]


@dataclass(frozen=True)
class Wanted:
    """What a bake is to become; everything else follows with some chance.

    `volume_cm3_g` is the specific volume, `loss_pct` of the dough. `curve` is the
    core by minutes; `probe` tells that it was read, `jar` that a jar of dough was read.
    """

    formula: str
    at: datetime
    tin: str = LARGE_TIN
    dough_g: float = 727.0
    volume_cm3_g: float = 4.3
    loss_pct: float = 11.2
    bake_min: float = 34.0
    proof_min: float = 60.0
    late_min: float = 0.0
    curve: Sequence[float] = ()
    probe: bool = False
    jar: bool = False
    heights: bool = False
    taste: float = 7.0
    crumb: str = "white"
    tags: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    picture: str | None = None
    state: str = ""
    plan: str = ""
    trial: str = ""
    lot: str = "LM-04"
    facts: Mapping[str, Any] = field(default_factory=dict)
    who: str = ""
    retired_why: str = ""


@dataclass(frozen=True)
class MadeBake:
    """A bake with all that is written of it; times in minutes since it began."""

    wanted: Wanted
    who: str
    facts: Mapping[str, Any]
    marks: tuple[tuple[str, float], ...]
    readings: tuple[tuple[str, float, float], ...]

    def moment(self, minutes: float) -> datetime:
        """The moment so many minutes after the bake began."""
        return self.wanted.at + timedelta(minutes=round(minutes, 2))


class Baker:
    """Fills in what was wanted, with the scatter of a kitchen."""

    def __init__(self, rng: np.random.Generator, jars: np.random.Generator) -> None:
        self._rng, self._jars = rng, jars

    def scatter(self, spread: float) -> float:
        """A chance deviation of that standard deviation."""
        return float(self._rng.normal(0.0, spread))

    def bake(self, wanted: Wanted, formula: Formula) -> MadeBake:
        """The bake with its facts, marks and readings."""
        times = self._times(wanted)
        facts = {**self._dough(wanted, times), **self._loaf(wanted, formula)}
        facts |= self._planned(wanted) | self._where(wanted, formula)
        readings = self._core(wanted) + self._rise(wanted, facts, times)
        who = wanted.who or ("Orla", "Benno", "Tamsin")[int(self._rng.integers(3))]
        facts = {**facts, "baker": who, **wanted.facts}
        return MadeBake(wanted, who, facts, _marks(times), tuple(readings))

    def _times(self, wanted: Wanted) -> dict[str, float]:
        bulk = 90.0 + round(self.scatter(4))
        proof = max(5.0, wanted.proof_min + wanted.late_min + round(self.scatter(2)))
        mixed = 12.0 + round(self.scatter(1))
        shaped = mixed + bulk + 12
        return {
            "mixed": mixed,
            "bulk": bulk,
            "proof": proof,
            "shaped": shaped,
            "in": shaped + proof,
            "out": shaped + proof + wanted.bake_min,
        }

    def _dough(self, wanted: Wanted, times: Mapping[str, float]) -> dict[str, Any]:
        season = (wanted.at.timetuple().tm_yday - 8) / 180
        room = 19.5 + 5.5 * season + self.scatter(0.8)
        return {
            "room_c": round(room, 1),
            "flour_c": round(room - 0.6 + self.scatter(0.3), 1),
            "water_c": round(46 - room + self.scatter(1.0), 1),
            "dough_c": round(25.5 + 0.15 * (room - 22) + self.scatter(0.6), 1),
            "mix_min": 8.0,
            "mix_speed": "slow 3, fast 5",
            "folds": 1.0,
            "bulk_min": times["bulk"],
            "bench_rest_min": 10.0,
            "proof_min": times["proof"],
            "proof_c": round(28 + self.scatter(0.5), 1),
        }

    def _loaf(self, wanted: Wanted, formula: Formula) -> dict[str, Any]:
        dough_g = round(wanted.dough_g + self.scatter(2))
        loaf_g = round(dough_g * (1 - wanted.loss_pct / 100))
        volume = 5 * round(loaf_g * wanted.volume_cm3_g / 5)
        scores = {
            name: float(np.clip(round(wanted.taste + self.scatter(0.7)), 1, 9))
            for name in ("crumb_1_9", "crust_1_9", "taste_1_9")
        }
        return {
            "dough_in_g": float(dough_g),
            "loaf_out_g": float(loaf_g),
            "loaf_volume_cm3": float(volume),
            "volume_method": "seed displacement",
            "dough_volume_cm3": float(5 * round(dough_g * 1.12 / 5)),
            "height_cm": round(crown_height_cm(wanted.tin, volume), 1),
            "batch_factor": round(wanted.dough_g / formula.dough_g, 4),
            **scores,
        }

    def _planned(self, wanted: Wanted) -> dict[str, Any]:
        return {
            "planned_dough_g": round(wanted.dough_g),
            "planned_dough_c": 25.5,
            "planned_proof_min": wanted.proof_min,
            "planned_bake_min": wanted.bake_min,
            "planned_oven_c": 220.0,
        }

    def _where(self, wanted: Wanted, formula: Formula) -> dict[str, Any]:
        end = wanted.curve[min(60, round(wanted.bake_min))] if len(wanted.curve) else 96
        told = {"plan": wanted.plan, "trial": wanted.trial}
        return {
            "pan": pan(wanted.tin).text_spec,
            "pan_count": 1.0,
            "flour_lot": wanted.lot,
            "oven": "deck oven",
            "oven_set_c": 220.0,
            "oven_real_c": round(220 + TRUTH["oven_offset_k"] + self.scatter(1.5)),
            "bake_min": wanted.bake_min,
            "steam": "white" in formula.style or "rye" in formula.style,
            "lid": False,
            "core_end_c": round(float(end) + self.scatter(0.4), 1),
            **{name: text for name, text in told.items() if text},
        }

    def _core(self, wanted: Wanted) -> list[tuple[str, float, float]]:
        """A probe every four minutes, to 0.1 °C."""
        if not wanted.probe:
            return []
        minutes = range(0, round(wanted.bake_min) + 1, 4)
        return [
            ("core_c", float(m), round(float(wanted.curve[m]) + self.scatter(0.35), 1))
            for m in minutes
        ]

    def _rise(
        self, wanted: Wanted, facts: Mapping[str, Any], times: Mapping[str, float]
    ) -> list[tuple[str, float, float]]:
        """A jar beside the dough, or the dough's height in the tin; since mixing."""
        found = []
        if wanted.jar:
            for minute in range(0, 181, 10):
                level = jar_ml(minute, start_ml=200.0, warm_c=facts["dough_c"])
                noise = self._off_by_ml(minute) if minute else 0.0
                found.append(
                    ("rise_ml", float(minute), 5.0 * round((level + noise) / 5))
                )
        if wanted.heights:
            going_in = 10 * facts["height_cm"] / (1.24 + self.scatter(0.03))
            start = going_in / 1.9
            since = times["shaped"] - times["mixed"]
            for share in (0.0, 0.35, 0.7, 1.0):
                level = start + (going_in - start) * share**1.2
                at = round(since + share * times["proof"], 1)
                found.append(("rise_mm", at, float(round(level))))
        return found

    def _off_by_ml(self, minute: int) -> float:
        """How far a reading of the jar is off; those between have their own stream."""
        if minute % 20:
            return float(self._jars.normal(0.0, 4.0))
        return self.scatter(4)


def _marks(times: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    return (
        ("mixed", times["mixed"]),
        ("folded", times["mixed"] + 45),
        ("shaped", times["shaped"] - 1),
        ("proof", times["shaped"]),
        ("in the oven", times["in"]),
        ("out", times["out"]),
        ("cooled", times["out"] + 130),
        ("finished", times["out"] + 150),
    )
