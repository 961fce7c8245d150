"""What an estimate says: times with a band, curves, cuts, balances, a plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from html import escape

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from bakelab.formula import Formula
from bakelab.oven.baking import Case, Unknowns
from bakelab.oven.browning import colour_difference
from bakelab.oven.calibration import Calibration
from bakelab.oven.cautions import cautions_of
from bakelab.oven.crust import SHIFTS_K, SameCrust, same_crust
from bakelab.oven.section import middle_cuts
from bakelab.oven.solver import Run
from bakelab.oven.uncertainty import Band
from bakelab.pans import Pan
from bakelab.units import Q_, Quantity

__all__ = ["CURVE_COLUMNS", "BakeEstimate"]

Floats = NDArray[np.float64]
CURVE_COLUMNS = (
    "pan",
    "minutes",
    "core_c",
    "crust_c",
    "wall_c",
    "loss_pct",
    "colour_difference",
)
NAMES = ("recipe's pan", "new pan")
CRUST_SETS_C = 105.0  # surface dry and past boiling: our own reading
LOOK_EARLIER = 0.1  # look this share before the low end
ALLOWED_OFF = 0.001
_ROUNDING_PCT = 0.0001  # below it computers differ in how they round
MODEL = (
    "heat by conduction and by vapour in the pores, water leaving at the boiling "
    "point, air and glowing walls outside, pan and lid as thin layers; the loaf keeps "
    "its risen shape"
)


@dataclass(frozen=True)
class BakeEstimate:
    """How long and how hot the new pan bakes, beside the recipe's own.

    Attributes
    ----------
    formula, pans, cases, runs
        What was asked, and both bakes (recipe's pan, new pan).
    middle_minutes : float
        The expected time at the same setting.
    band : Band or None
        Nine in ten samples of what is not known.
    calibration : Calibration
        How hard the oven heats so that the recipe's time comes out.
    end_c, end_band_c
        Core at the end: aimed at, and the usual band, degC.
    assumed : tuple of str
        What was taken for granted.
    """

    formula: Formula = field(repr=False)
    pans: tuple[Pan, Pan] = field(repr=False)
    cases: tuple[Case, Case] = field(repr=False)
    runs: tuple[Run, Run] = field(repr=False)
    expected: Unknowns = field(repr=False)
    calibration: Calibration = field(repr=False)
    stated_minutes: tuple[float, float]
    middle_minutes: float
    band: Band | None
    end_c: float
    end_band_c: tuple[float, float]
    from_recipe: bool = True
    assumed: tuple[str, ...] = ()

    @property
    def low_minutes(self) -> float:
        """Early end of the band; the middle without a band."""
        return self.middle_minutes if self.band is None else self.band.low

    @property
    def high_minutes(self) -> float:
        """Late end of the band; the middle without a band."""
        return self.middle_minutes if self.band is None else self.band.high

    @property
    def minutes(self) -> Quantity:
        """Low, middle and high at the same setting, as a quantity in minutes."""
        values = [self.low_minutes, self.middle_minutes, self.high_minutes]
        return Q_(values, "minute")

    @property
    def look_from_minutes(self) -> float:
        """When to look into the oven for the first time."""
        return self.low_minutes * (1.0 - LOOK_EARLIER)

    @cached_property
    def same_crust(self) -> SameCrust:
        """Setting and time at which core and crust end as in the recipe's pan."""
        return same_crust(
            self.cases[1],
            self.expected,
            wanted=self.browning[0],
            expected_min=self.middle_minutes,
            carried=self.carried,
        )

    @property
    def browning(self) -> tuple[float, float]:
        """Browning exponent of both crusts when their cores are done."""
        found = [
            float(run.at(run.brown, run.when_core_reaches(self.expected.end_c))[0])
            for run in self.runs
        ]
        return found[0], found[1]

    @property
    def loss_pct(self) -> tuple[float, float]:
        """Water lost in the oven over dough, percent, for both pans.

        Without what goes off on cooling, 1 to 2 % more by common
        practice, no source.
        """
        found = [
            100 * float(run.at(run.loss, run.when_core_reaches(self.expected.end_c))[0])
            for run in self.runs
        ]
        return found[0], found[1]

    @cached_property
    def curves(self) -> pd.DataFrame:
        """Both bakes over time, columns `CURVE_COLUMNS`."""
        frames = [
            self._curve(name, run) for name, run in zip(NAMES, self.runs, strict=True)
        ]
        return pd.concat(frames, ignore_index=True)

    @cached_property
    def cuts(self) -> pd.DataFrame:
        """Cut across the middle of both loaves over time.

        `pan, minutes, across_cm, up_cm, width_cm, height_cm, celsius,
        water_pct`: centre and size of each cell, its temperature, and the
        share of its water at the start that is left.
        """
        frames = [
            middle_cuts(run, self.cases[i].material(self.expected)).assign(pan=name)
            for i, (name, run) in enumerate(zip(NAMES, self.runs, strict=True))
        ]
        return pd.concat(frames, ignore_index=True)

    @cached_property
    def balance(self) -> pd.DataFrame:
        """Heat and water in, there and gone, for both pans; `off_pct` is the error."""
        rows = []
        for name, run in zip(NAMES, self.runs, strict=True):
            b = run.balance
            heat, kept = float(b.heat_in_j[0]) / 1e3, float(b.heat_kept_j[0]) / 1e3
            start, end = float(b.water_start_kg[0]), float(b.water_end_kg[0])
            gone = float(b.water_lost_kg[0])
            rows.append(
                (name, "heat", "kJ", heat, kept, 100 * float(b.heat_off_error[0]))
            )
            rows.append(
                (name, "water", "g", 1e3 * start, 1e3 * (end + gone),
                 100 * float(b.water_off_error[0]))
            )  # fmt: skip
        columns = ["pan", "what", "unit", "came_in", "accounted_for", "off_pct"]
        return pd.DataFrame(rows, columns=columns)

    @property
    def balance_text(self) -> str:
        """One sentence: how well heat and water add up."""
        worst = float(self.balance["off_pct"].max())
        return (
            f"Heat and water add up to {max(worst, _ROUNDING_PCT):.1g} % or better in "
            f"both bakes (allowed {100 * ALLOWED_OFF:g} %)."
        )

    @property
    def crust_sets_minutes(self) -> tuple[float, float]:
        """When the top is dry and past boiling, for both pans; NaN if never."""
        found = []
        for run in self.runs:
            above = run.surfaces["top"][:, 0] > CRUST_SETS_C
            first = int(above.argmax())
            found.append(run.seconds[first] / 60.0 if above.any() else float("nan"))
        return found[0], found[1]

    @property
    def plan(self) -> pd.DataFrame:
        """What to do when, for the new pan at the recipe's setting."""
        case = self.cases[1]
        rows = [(0.0, f"in the oven at {case.setting.describe()}")]
        if case.setting.steam_minutes:
            rows.append((case.setting.steam_minutes, "let the steam out"))
        sets = self.crust_sets_minutes[1]
        if np.isfinite(sets) and sets < self.look_from_minutes:
            rows.append((sets, "the crust begins to set"))
        rows += [
            (self.look_from_minutes, "look at it, probe the centre"),
            (self.middle_minutes, f"expected done: {self.end_c:.0f} °C in the centre"),
            (self.high_minutes, "done in nineteen of twenty cases"),
        ]
        return pd.DataFrame(rows, columns=["minutes", "what"])

    @property
    def text(self) -> str:
        """The answer in two sentences."""
        stated = sum(self.stated_minutes) / 2
        first = (
            f"At {self.cases[1].setting.describe()}: about "
            f"{self.middle_minutes:.0f} min{self._band_words()} instead of "
            f"{stated:.0f} min; look at it from {self.look_from_minutes:.0f} min."
        )
        other = self.same_crust
        if not other.reached:
            return f"{first} {self._crust_words()}"
        return (
            f"{first} For the same crust: {other.air_c:.0f} °C and about "
            f"{other.minutes:.0f} min, look at it from {0.85 * other.minutes:.0f} min."
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to mind; each begins with its subject and a colon."""
        return cautions_of(self)

    @property
    def carried(self) -> float:
        """The recipe's time over the model's, which the new pan's is times."""
        return float(self.calibration.carried[0])

    def _band_words(self) -> str:
        if self.band is None:
            return ""
        return f" ({self.low_minutes:.0f} to {self.high_minutes:.0f} min)"

    def _crust_words(self) -> str:
        other = self.same_crust
        more = "paler" if other.browning < other.wanted else "darker"
        return (
            f"No setting within {SHIFTS_K[-1]:.0f} °C of it gives the same crust: "
            f"with the centre done it stays {more} than in the recipe's pan."
        )

    def _curve(self, name: str, run: Run) -> pd.DataFrame:
        stretch = self.carried / 60.0
        colour = [colour_difference(float(b)) for b in run.brown[:, 0]]
        values = (
            name,
            run.seconds * stretch,
            run.core_c[:, 0],
            run.surfaces["top"][:, 0],
            run.surfaces.get("side", run.surfaces["bottom"])[:, 0],
            100 * run.loss[:, 0],
            colour,
        )
        return pd.DataFrame(dict(zip(CURVE_COLUMNS, values, strict=True)))

    def _repr_html_(self) -> str:
        def listed(lines: tuple[str, ...]) -> str:
            return "".join(f"<li>{escape(line)}</li>" for line in lines)

        return (
            f"<p><strong>{escape(self.text)}</strong></p>"
            f"<p>{escape(self.balance_text)}</p>"
            f"<ul>{listed(self.cautions)}</ul>"
            f"<details><summary>Assumed</summary><ul>{listed(self.assumed)}</ul>"
            f"<p>Model: {escape(MODEL)}.</p></details>"
        )
