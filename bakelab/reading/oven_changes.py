"""A setting of the oven that is changed during the bake: `then reduce to 200 °C`."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from bakelab.reading.durations import clauses, duration
from bakelab.reading.facts import bake_part, says_bake, settings

__all__ = ["OvenChanges", "oven_changes"]

_TURNED = re.compile(
    r"(?i)\b(reduc\w*|lower\w*|turn(?:ing)?\s+(?:\w+\s+){0,3}(?:down|up)|drop(?:ping)?|"
    r"decreas\w*|rais(?:e|ing)|increas\w*|zurück\w*|zurueck\w*|reduzier\w*|"
    r"(?:he)?runter\w*|senken|gesenkt|abgesenkt|fallend|abfallend|erhöh\w*|baiss\w*|"
    r"rédui\w*|diminu\w*|augment\w*|from\s+\d+\s+min)\b"
)
_THEN = re.compile(r"(?i)\b(then|dann|danach|anschließend|puis|ensuite)\b")
_AFTER = re.compile(
    r"(?i)\b(?:after|nach|après|from)\s+(?:the\s+first\s+|(?:den\s+)?ersten\s+)?"
    r"(\d{1,3})\s*(?:min|mn\b)"
)
_TO_THE_END = re.compile(r"(?i)before the end|vor (?:dem )?ende|avant la fin|the last")
_SAME_K = 3.0  # settings nearer than this are one, written in two units
_MOST = 3


@dataclass(frozen=True)
class OvenChanges:
    """Changes of the setting: minutes from the start, and °C.

    `unplaced_c` is a later setting whose time the text does not tell.
    """

    at: tuple[tuple[float, float], ...] = ()
    unplaced_c: float | None = None

    def words(self, first_c: float) -> str:
        """The setting as one text: `250 °C, from 10 min 200 °C`."""
        later = (f", from {minutes:g} min {c:.0f} °C" for minutes, c in self.at)
        return f"{first_c:.0f} °C{''.join(later)}"


def oven_changes(
    method: Sequence[str],
    first_c: float | None,
    bake_minutes: tuple[float, float] | None = None,
) -> OvenChanges:
    """How the method turns the oven after its first setting.

    A change counts only where its time is told: `after 10 minutes`, or the
    minutes of the bake before it, and lies within the bake. One without a
    time is `unplaced_c`.

    Examples
    --------
    >>> oven_changes(["Bake 10 minutes at 250 °C, then 30 more at 200 °C."], 250)
    OvenChanges(at=((10.0, 200.0),), unplaced_c=None)
    """
    if first_c is None:
        return OvenChanges()
    longest = math.inf if bake_minutes is None else bake_minutes[1]
    found: list[tuple[float, float]] = []
    last_c, passed = first_c, 0.0
    for clause in clauses(method):
        turned = _TURNED.search(clause) or _THEN.search(clause) or _AFTER.search(clause)
        new = _new_setting(clause, last_c) if turned else None
        if turned and new is not None and len(found) < _MOST:
            minutes = _minutes(clause, turned.start(), passed)
            earlier = found[-1][0] if found else 0.0
            if minutes is None or not earlier < minutes < longest:
                return OvenChanges(unplaced_c=new)
            found.append((minutes, new))
            last_c = new
        passed += _lasts(clause) if says_bake(clause) else 0.0
    return OvenChanges(tuple(found))


def _new_setting(clause: str, last_c: float) -> float | None:
    """The last setting of a clause, if it is another one; a fan oven's is left out."""
    told = [c for c, is_fan in settings(clause) if not is_fan]
    return round(told[-1], 1) if told and abs(told[-1] - last_c) > _SAME_K else None


def _minutes(clause: str, at: int, passed: float) -> float | None:
    """Minutes from the start of the bake to the change; None if not told."""
    if _TO_THE_END.search(clause):
        return None
    after = _AFTER.search(clause)
    if after is not None:
        return float(after[1])
    minutes = passed + _lasts(clause[:at])
    return minutes if minutes > 0 else None  # nan, of a range, is not above 0


def _lasts(text: str) -> float:
    """Minutes of a text, 0 if it tells none, nan for a range of them."""
    span = duration(bake_part(text))
    if span is None:
        return 0.0
    return span[0] if span[0] == span[1] else math.nan
