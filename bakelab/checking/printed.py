"""What a printed number stands for: every value that rounds to its digits.

All tolerances of the checks come from here. Nobody prints how a number was
rounded, so each number stands for the widest interval that usual rounding
allows:

* **decimals**: half of the last place, 1.5 is 1.45 to 1.55;
* **whole grams and millilitres**: half of the largest step out of 1, 5, 10,
  25, 50, 100, 250, 500 that divides the number and is at most a tenth of it:
  453 is 452.5 to 453.5, 455 is 452.5 to 457.5, 450 is 437.5 to 462.5; up to
  50, a multiple of 5 is 2.5 wide on each side, as older kitchen scales show;
* **kitchen measures** (cups, spoons, pints, pounds): halfway to the next
  measures of a usual set, which go by quarters and thirds: 1 cup is 7/8 to
  1 1/8, 1/2 cup is 5/12 to 7/12; eighths and finer: half of that fraction;
* **ounces**: whole ones half an ounce (a quarter for 1 oz), fractions half
  of an eighth or of their own fraction;
* **inches**: half an inch from 4 in, else a quarter; fractions an eighth;
* **counts** are exact; **percentages** half of the last place.

A word such as "about" doubles the interval. The steps are common practice,
no source: what matters is that they are never narrower than the rounding.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from bakelab.reading.amounts import Amount, amounts
from bakelab.units import kitchen_units, number

__all__ = [
    "LOOSE",
    "Interval",
    "interval",
    "number_interval",
    "rounded_by",
    "temperature_step",
]

#: Words that make a number looser than its digits.
LOOSE = re.compile(
    r"(?i)\b(about|approx\w*|appr|around|roughly|circa|ca|nearly|almost|or so|"
    r"etwa|ungefähr|rund|knapp|environ|à peu près)\b|~|≈"
)
_STEPS = (500, 250, 100, 50, 25, 10, 5, 1)
_LADDER = (Fraction(0), Fraction(1, 4), Fraction(1, 3), Fraction(1, 2),
           Fraction(2, 3), Fraction(3, 4), Fraction(1))  # fmt: skip
_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_NUMBER = re.compile(
    rf"\d+\s*-?\s*[{_VULGAR}]|[{_VULGAR}]|\d+(?:\s+|-|\s+and\s+)\d+\s*[/⁄]\s*\d+|"
    r"\d+\s*[/⁄]\s*\d+|\d{1,3}(?:[.,'’]\d{3})+(?!\d)|\d*[.,]\d+|\d+"
)
_SUM = re.compile(r"(?i)\bplus\b|\+|\band\b|\bund\b|\bet\b")
_DENOMINATOR = re.compile(r"[/⁄]\s*(\d+)")
_METRIC = ("g", "ml", "mg")
_BIG_METRIC = {"kg": 1000, "l": 1000}


@dataclass(frozen=True, slots=True)
class Interval:
    """From `low` to `high`, both included."""

    low: float
    high: float

    def times(self, factor: float) -> "Interval":
        return Interval(self.low * factor, self.high * factor)

    def looser(self, factor: float) -> "Interval":
        middle, half = (self.low + self.high) / 2, (self.high - self.low) / 2
        return Interval(max(0.0, middle - factor * half), middle + factor * half)

    def holds(self, value: float) -> bool:
        slack = 1e-9 * max(1.0, abs(value))
        return self.low - slack <= value <= self.high + slack

    def gap(self, other: "Interval") -> float:
        """1 where the two meet, else the ratio of the ends that are nearest."""
        if self.low > other.high:
            return self.low / other.high if other.high > 0 else float("inf")
        if other.low > self.high:
            return other.low / self.high if self.high > 0 else float("inf")
        return 1.0

    def text(self, unit: str = "") -> str:
        ends = f"{self.low:.4g}" if self.low == self.high else (
            f"{self.low:.4g} to {self.high:.4g}"
        )  # fmt: skip
        return f"{ends} {unit}".strip()


def interval(amount: Amount, text: str, *, step_share: float = 0.1) -> Interval:
    """What an amount in a line stands for, in its own unit.

    Parameters
    ----------
    amount : Amount
        As found in `text`.
    text : str
        The cleaned line.
    step_share : float
        The largest rounding step of whole grams and millilitres, as a
        share of the number.

    Returns
    -------
    Interval
        The rules are those at the head of this module.
    """
    printed = text[amount.start : amount.end]
    found = _interval(
        printed, float(amount.low), float(amount.high), amount.unit, step_share
    )
    before = text[max(0, amount.start - 14) : amount.start]
    return found.looser(2.0) if LOOSE.search(before) else found


@lru_cache(maxsize=8192)
def _interval(
    printed: str, low: float, high: float, unit: str | None, step_share: float
) -> Interval:
    if unit is None:
        return Interval(low, high)
    down, up = _around(printed, low, high, unit, step_share)
    return Interval(max(0.0, low - down), high + up)


def number_interval(printed: str, unit: str, *, step_share: float = 0.1) -> Interval:
    """What one printed number of a unit stands for.

    Examples
    --------
    >>> number_interval("455", "g").text("g")
    '452.5 to 457.5 g'
    >>> number_interval("½", "cup").text("cup")
    '0.4167 to 0.5833 cup'
    """
    value = number(printed)
    down, up = rounded_by(printed, value, unit, step_share=step_share)
    return Interval(max(0.0, float(value) - down), float(value) + up)


def _around(
    printed: str, low: float, high: float, unit: str, step_share: float
) -> tuple[float, float]:
    parts = _SUM.split(printed)
    if len(parts) > 1 and _NUMBER.search(parts[-1]):
        return _last_of_sum(parts[-1], unit, step_share)
    numbers = _NUMBER.findall(printed) or [f"{low:g}"]
    first, last = numbers[0], numbers[-1]
    down = rounded_by(first, Fraction(low).limit_denominator(64), unit,
                      step_share=step_share)[0]  # fmt: skip
    up = rounded_by(last, Fraction(high).limit_denominator(64), unit,
                    step_share=step_share)[1]  # fmt: skip
    return down, up


def _last_of_sum(part: str, unit: str, step_share: float) -> tuple[float, float]:
    """A sum such as `2 cups plus 1 tbsp` is rounded where its last part is."""
    found, _ = amounts(part.strip(), "en")
    units = kitchen_units()
    last = found[-1] if found else None
    own = last.unit if last is not None and last.unit in units else unit
    printed = _NUMBER.findall(part)[-1]
    value = last.low if last is not None else number(printed)
    down, up = rounded_by(printed, value, own or unit, step_share=step_share)
    size = units[own or unit].size / units[unit].size if units[unit].size else 1.0
    return down * size, up * size


def rounded_by(
    printed: str, value: Fraction, unit: str, *, step_share: float = 0.1
) -> tuple[float, float]:
    """How far below and above a printed number the true one may lie."""
    places = _decimals(printed)
    if places:
        half = 0.5 * 10.0**-places
        return half, half
    whole = value.denominator == 1 and _DENOMINATOR.search(printed) is None
    if unit in _METRIC and whole:
        return _both(_step(int(value), step_share) / 2)
    if unit in _BIG_METRIC and whole:
        big = _BIG_METRIC[unit]
        return _both(_step(int(value) * big, step_share) / 2 / big)
    if unit == "%":
        return _both(0.5 if whole else 0.05)
    if unit == "oz":
        return _both(_ounces(value))
    if unit == "inch":
        return _both(_inches(value))
    if unit in ("cm", "dl", "cl", "mm"):
        return _both(0.5 if whole else 0.25)
    return _on_ladder(value)


def temperature_step(value: float, unit: str) -> float:
    """The rounding step of a printed temperature: oven dials go by 25 °F or 10 °C."""
    if unit == "F" and value >= 250 and value % 25 == 0:
        return 25.0
    return next(s for s in (10.0, 5.0, 1.0, 0.1) if value % s < 1e-6 or s == 0.1)


def _both(half: float) -> tuple[float, float]:
    return half, half


def _decimals(printed: str) -> int:
    """Places behind the point; a comma or point before three digits groups them."""
    match = re.search(r"[.,](\d+)\s*$", printed.strip())
    if match is None or re.fullmatch(r"\d{1,3}(?:[.,'’]\d{3})+", printed.strip()):
        return 0
    return len(match.group(1))


def _step(value: int, share: float) -> float:
    if share >= 0.1 and 0 < value <= 50 and value % 5 == 0:
        return 5.0
    return next((s for s in _STEPS if value % s == 0 and s <= share * value), 1)


def _ounces(value: Fraction) -> float:
    if value.denominator == 1:
        return 0.5 if value > 1 else 0.25
    return 0.5 / max(4, value.denominator)


def _inches(value: Fraction) -> float:
    if value.denominator == 1:
        return 0.5 if value >= 4 else 0.25
    return 0.5 / max(4, value.denominator)


def _on_ladder(value: Fraction) -> tuple[float, float]:
    """Halfway to the neighbours on the ladder of quarters and thirds."""
    part = value - value.numerator // value.denominator
    if part not in _LADDER:
        return _both(0.5 / value.denominator)
    if part == 0:
        return _both(0.125)
    for below, here in pairwise(_LADDER):
        if here == part:
            above = _LADDER[_LADDER.index(here) + 1]
            return float(here - below) / 2, float(above - here) / 2
    return _both(0.125)
