"""What the controls ask for, read and checked: a plan before its codes are drawn."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.panels.taste.controls import TasteControls
from bakelab.tasting import (
    Tasting,
    found_gap,
    gap_tasters,
    kind_of,
    least_gap,
    likeness_power,
    likeness_tasters,
    most_correct,
    needed_correct,
    plan_tasting,
    power,
    tasters_needed,
)

__all__ = ["PlanWish", "aim_of", "names_of", "read_wish"]


@dataclass(frozen=True)
class PlanWish:
    """A plan that can be drawn; `needed` is the fewest tasters for the risks."""

    test: str
    samples: tuple[str, ...]
    tasters: int
    needed: int
    alpha: float
    beta: float
    share: float
    gap: float
    aim: str
    other: Mapping[str, Any]

    def draw(self, seed: int | None = None) -> Tasting:
        """The tasting, with new codes unless a seed is given."""
        return plan_tasting(
            self.test,
            self.samples,
            tasters=self.tasters,
            seed=seed,
            alpha=self.alpha,
            beta=self.beta,
            share=self.share,
            aim=self.aim,
            **self.other,
        )

    @property
    def found(self) -> float:
        """Chance to show what is asked for; 0 in a ranking."""
        if kind_of(self.test).ranks:
            return 0.0
        if self.aim == "likeness":
            risks = {"share": self.share, "beta": self.beta}
            return likeness_power(self.test, self.tasters, **risks)
        return power(self.test, self.tasters, share=self.share, alpha=self.alpha)

    @property
    def found_gap(self) -> float:
        """Mean ranks apart that so many tasters tell apart."""
        risks = {"alpha": self.alpha, "beta": self.beta}
        return found_gap(self.tasters, len(self.samples), **risks)

    @property
    def right(self) -> int | None:
        """Fewest right answers that show a difference, or most that show likeness."""
        if self.aim == "likeness":
            risks = {"share": self.share, "beta": self.beta}
            return most_correct(self.test, self.tasters, **risks)
        return needed_correct(self.test, self.tasters, alpha=self.alpha)

    @property
    def apart(self) -> float:
        """Rank sums that tell two samples of a ranking apart."""
        return least_gap(self.tasters, len(self.samples), alpha=self.alpha)


def read_wish(controls: TasteControls, formulas: Mapping[str, Formula]) -> PlanWish:
    """The wish of the controls.

    Parameters
    ----------
    controls : TasteControls
    formulas : mapping of str to Formula
        Of the samples whose formula is known, by name.

    Raises
    ------
    BakelabError
        In one sentence, whatever is missing or impossible.
    """
    c = controls
    test = str(c.test.value)
    names = names_of(c.samples.value)
    alpha = _percent(c.alpha.value, "risk of a false find", 0.01, 50)
    beta = _percent(c.beta.value, "risk of missing it", 0.1, 90)
    ranks = kind_of(test).ranks
    share = 0.5 if ranks else _percent(c.share.value, "share of people", 5, 100)
    gap = _number(c.gap.value, "number of mean ranks apart") if ranks else 0.0
    other = _other(c, test, names, formulas)
    aim = aim_of(c)
    if ranks:
        needed = gap_tasters(max(3, len(names)), gap=gap, alpha=alpha, beta=beta)
    else:
        fewest = likeness_tasters if aim == "likeness" else tasters_needed
        needed = fewest(test, share=share, alpha=alpha, beta=beta)
    tasters = _tasters(c.tasters.value) or needed
    wish = PlanWish(test, names, tasters, needed, alpha, beta, share, gap, aim, other)
    wish.draw(seed=0)  # refuses now what it would refuse when it is served
    return wish


def aim_of(controls: TasteControls) -> str:
    """What is to be shown; likeness only by a triangle or a duo-trio."""
    alike = controls.test.value in ("triangle", "duo-trio")
    return str(controls.aim.value) if alike else "difference"


def names_of(text: str) -> tuple[str, ...]:
    """Names, one on a line; empty lines are left out."""
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _other(
    c: TasteControls, test: str, names: Sequence[str], formulas: Mapping[str, Formula]
) -> Mapping[str, Any]:
    asks = test in ("paired", "ranking")
    return {
        "title": c.title.value,
        "question": c.question.value,
        "expected": _in_order(c.expected.value, names) if asks else (),
        "reference": c.reference.value if test == "duo-trio" else "",
        "more_allergens": c.allergens.value,
        "formulas": formulas,
    }


def _in_order(text: str, names: Sequence[str]) -> list[str]:
    """Names apart by commas; a name that holds a comma itself is still known."""
    found: list[str] = []
    rest = text.strip(" ,;>")
    while rest:
        known = [n for n in names if rest.startswith(n)]
        name = max(known, key=len) if known else re.split(r"[,;>]", rest)[0].strip()
        found.append(name)
        rest = rest[len(name) :].strip(" ,;>")
    return found


def _percent(text: str, what: str, low: float, high: float) -> float:
    value = _number(text.strip().removesuffix("%"), what)
    if not low <= value <= high:
        raise BakelabError(
            f"the {what} is {low:g} to {high:g} %, got {text.strip()[:20]!r}"
        )
    return value / 100


def _number(text: str, what: str) -> float:
    plain = text.strip().replace(",", ".")
    if not plain.replace(".", "", 1).isdecimal() or not plain.isascii():
        raise BakelabError(
            f"the {what} is a number above 0, got {text.strip()[:20]!r}; write one "
            "such as 5"
        )
    return float(plain)


def _tasters(text: str) -> int | None:
    plain = text.strip()
    if not plain:
        return None
    if not (plain.isascii() and plain.isdecimal() and len(plain) <= 4):
        raise BakelabError(
            f"the number of tasters is a whole number such as 12, got {plain[:20]!r}; "
            "leave it empty for as many as are needed"
        )
    return int(plain)
