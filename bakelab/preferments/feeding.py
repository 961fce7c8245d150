"""From the starter in hand to the levain needed at an hour, feed by feed."""

import datetime
import math
from collections.abc import Sequence

import pandas as pd

from bakelab.errors import FormulaError
from bakelab.units import Q_, Quantity, in_unit, quantity

__all__ = ["FEED_COLUMNS", "feeding_schedule"]

FEED_COLUMNS = ("at", "starter_g", "flour_g", "water_g", "total_g", "hydration_pct")
_MOST_FEEDS = 12


def feeding_schedule(
    *,
    need: Quantity | str,
    at: datetime.datetime,
    hydration_pct: float = 100.0,
    have: Quantity | str = "30 g",
    have_hydration_pct: float = 100.0,
    parts: float = 2.0,
    hours: float = 8.0,
    keep: Quantity | str = "0 g",
    now: datetime.datetime | None = None,
) -> pd.DataFrame:
    """Feeds, first to last, so that `need` of ripe levain is there at `at`.

    Every feed gives `parts` of flour for one part of the flour already in
    the starter; the last one brings the wanted hydration.

    Parameters
    ----------
    need : Quantity or str, [mass]
        Ripe levain that the dough wants.
    at : datetime
        When it goes into the dough.
    hydration_pct, have_hydration_pct : float
        Of the levain wanted, and of the starter in hand.
    have : Quantity or str, [mass]
        Starter in hand; less of it is used where less is enough.
    parts : float
        Flour fed over flour in the starter, 0.5 to 10.
    hours : float
        From a feed to the next, 2 to 24; common practice, no source: 8 h
        at about 21 C for two parts. Watch the dough and not the clock.
    keep : Quantity or str, [mass]
        Levain to keep for the next time.
    now : datetime, optional
        A plan whose first feed is before it is refused.

    Returns
    -------
    DataFrame
        Columns `FEED_COLUMNS`; `starter_g` is what is taken from the stage
        before.

    Raises
    ------
    FormulaError
        If a share is impossible, more than 12 feeds were needed, or the
        first feed was due before `now`.
    """
    wanted_g = _mass(need, "need") + _mass(keep, "keep")
    have_g = _mass(have, "have")
    _check(wanted_g, have_g, parts, hours, hydration_pct, have_hydration_pct)
    wanted_flour_g = wanted_g / (1 + hydration_pct / 100)
    have_flour_g = have_g / (1 + have_hydration_pct / 100)
    feeds = _feeds(wanted_flour_g, have_flour_g, parts)
    flours = [wanted_flour_g / (1 + parts) ** n for n in range(feeds, -1, -1)]
    waters = _hydrations(feeds, have_hydration_pct, hydration_pct)
    records = []
    for n, hydration in enumerate(waters[1:]):
        before_g = flours[n] * (1 + waters[n] / 100)
        after_g = flours[n + 1] * (1 + hydration / 100)
        flour_g = flours[n + 1] - flours[n]
        water_g = after_g - before_g - flour_g
        _check_water(water_g, have_hydration_pct, hydration_pct, parts)
        start = at - datetime.timedelta(hours=hours * (feeds - n))
        records.append((start, before_g, flour_g, water_g, after_g, hydration))
    if now is not None and records[0][0] < now:
        raise FormulaError(
            f"the first of {feeds} feeds was due at {records[0][0]:%d %b %H:%M}: "
            "start with more starter, feed more flour at a time, or bake later"
        )
    return pd.DataFrame(records, columns=list(FEED_COLUMNS))


def _check_water(water_g: float, first: float, last: float, parts: float) -> None:
    if water_g < 0:
        raise FormulaError(
            f"a starter of {first:g} % cannot come to {last:g} % in one feed of "
            f"{parts:g} parts: feed more flour"
        )


def _feeds(wanted_flour_g: float, have_flour_g: float, parts: float) -> int:
    ratio = wanted_flour_g / have_flour_g
    feeds = max(1, math.ceil(math.log(ratio) / math.log(1 + parts) - 1e-9))
    if feeds > _MOST_FEEDS:
        raise FormulaError(
            f"that takes {feeds} feeds: start with more starter or feed more flour"
        )
    return feeds


def _hydrations(feeds: int, first: float, last: float) -> Sequence[float]:
    """Of the starter in hand, then of each feed; the last brings the wanted one."""
    return [first, *([first] * (feeds - 1)), last] if feeds > 1 else [first, last]


def _mass(amount: Quantity | str, name: str) -> float:
    value = quantity(amount, dimension="[mass]") if isinstance(amount, str) else amount
    return in_unit(value if value is not None else Q_(0, "g"), "g", name)


def _check(
    wanted_g: float,
    have_g: float,
    parts: float,
    hours: float,
    hydration_pct: float,
    have_hydration_pct: float,
) -> None:
    if not (wanted_g > 0 and have_g > 0):
        raise FormulaError(
            "say how much levain is needed and how much starter is there"
        )
    if not 0.5 <= parts <= 10:
        raise FormulaError(f"a feed is 0.5 to 10 parts of flour, got {parts:g}")
    if not 2 <= hours <= 24:
        raise FormulaError(f"a feed ripens in 2 to 24 hours, got {hours:g}")
    for value in (hydration_pct, have_hydration_pct):
        if not 30 <= value <= 300:
            raise FormulaError(f"a starter has 30 to 300 % water, got {value:g} %")
