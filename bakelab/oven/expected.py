"""The time that was estimated for a formula's pan, written on the formula itself."""

import re
from dataclasses import dataclass, replace

from bakelab.errors import FormulaError
from bakelab.formula import Assumption, Formula
from bakelab.oven.result import LOOK_EARLIER, BakeEstimate

__all__ = ["ExpectedBake", "expected_bake", "with_expected_bake"]

_WHAT = "estimated bake"
_VALUE = re.compile(
    r"about (\d+) min \((\d+) to (\d+) min\) for ([\d,.]+) g of dough at (.+)"
)
_CHECK = "check the centre with a thermometer"


@dataclass(frozen=True)
class ExpectedBake:
    """An estimate of a bake: minutes with a band, for so much dough in one pan.

    `setting` is the oven in words, `basis` where the estimate comes from.
    """

    middle_min: float
    low_min: float
    high_min: float
    pan: str
    dough_g: float
    setting: str
    basis: str

    @property
    def text(self) -> str:
        """One sentence: an estimate, its band, and that a thermometer decides."""
        return (
            f"Estimated, not baked: about {self.middle_min:.0f} min "
            f"({self.low_min:.0f} to {self.high_min:.0f} min) at {self.setting}, for "
            f"{self.dough_g:.0f} g of dough in {self.pan}. Look at it from "
            f"{self.look_from_min:.0f} min, and {_CHECK}."
        )

    @property
    def look_from_min(self) -> float:
        """When to look into the oven for the first time."""
        return self.low_min * (1.0 - LOOK_EARLIER)


def with_expected_bake(formula: Formula, found: BakeEstimate) -> Formula:
    """The formula with an estimate for its own pan among its assumptions.

    Parameters
    ----------
    formula : Formula
        As it is baked, in the new pan of the estimate.
    found : BakeEstimate

    Returns
    -------
    Formula
        An estimate that it had before is replaced.

    Raises
    ------
    FormulaError
        If the formula states no pan: the time would be for none.
    """
    if not formula.stated_pan:
        raise FormulaError(
            "the formula states no pan of its own, so no time can be kept with it; "
            "name one pan"
        )
    dough_g = formula.dough_g / found.pans[1].count
    value = (
        f"about {found.middle_minutes:.0f} min ({found.low_minutes:.0f} to "
        f"{found.high_minutes:.0f} min) for {dough_g:.0f} g of dough at "
        f"{found.cases[1].setting.describe()}"
    )
    basis = f"an estimate {_from(found)}: {_CHECK}"
    noted = Assumption(_WHAT, f"Bake in {formula.stated_pan}", value, basis)
    others = [a for a in formula.assumptions if a.what != _WHAT]
    return replace(formula, assumptions=(*others, noted))


def expected_bake(formula: Formula) -> ExpectedBake | None:
    """The estimate that a formula carries for the pan it states now.

    None where it has none, or where it has been fitted to another pan since.
    """
    for one in formula.assumptions:
        parts = _VALUE.fullmatch(one.value) if one.what == _WHAT else None
        if parts and one.subject == f"Bake in {formula.stated_pan}":
            middle, low, high = (float(parts[n]) for n in (1, 2, 3))
            dough_g = float(parts[4].replace(",", ""))
            return ExpectedBake(
                middle, low, high, formula.stated_pan, dough_g, parts[5], one.basis
            )
    return None


def _from(found: BakeEstimate) -> str:
    if not found.from_recipe:
        return "from the heat of the house oven, at its real temperature"
    stated = sum(found.stated_minutes) / 2
    return f"from {stated:.3g} min in {found.pans[0].text_spec}"
