"""Checking what is written: each value against what its fact takes."""

import math
import numbers
from collections.abc import Mapping
from datetime import date
from difflib import get_close_matches
from typing import Any

from bakelab.bakebook.facts import FACTS_BY_NAME, Fact
from bakelab.errors import BookError

__all__ = ["LONGEST_TEXT", "check_fact", "check_facts", "check_text"]

LONGEST_TEXT = 100_000  # letters of one note or fact


def check_facts(
    values: Mapping[str, Any], allowed: Mapping[str, Fact] = FACTS_BY_NAME
) -> dict[str, Any]:
    """Values as the book keeps them; None clears a fact.

    Raises
    ------
    BookError
        In one sentence: an unknown name with the closest known ones, or a
        value that cannot be true.
    """
    checked = {}
    for name, value in values.items():
        fact = _known(name, allowed)
        try:
            checked[name] = check_fact(fact, value)
        except BookError as error:
            raise BookError(f"{name}: {error}") from None
    return checked


def check_fact(fact: Fact | str, value: Any) -> float | str | bool | None:
    """One value as the book keeps it; None for a blank.

    Raises
    ------
    BookError
        If it is not what the fact takes, or no fact has that name.
    """
    if isinstance(fact, str):
        fact = _known(fact, FACTS_BY_NAME)
    if _is_blank(value):
        return None
    if fact.kind == "number":
        return _checked_number(fact, value)
    if fact.kind == "yes/no":
        return _checked_yes_no(fact, value)
    if isinstance(value, date):
        value = value.isoformat()
    if not isinstance(value, str):
        raise _refusal(fact, value)
    text = check_text(value, fact.label.lower())
    if fact.kind == "choice" and text not in fact.choices:
        raise _refusal(fact, value)
    return text


def check_text(value: str, name: str) -> str:
    """Text that every database can keep, as it was given.

    Raises
    ------
    BookError
        If it is no text, too long, or has characters that are no letters.
    """
    if not isinstance(value, str):
        raise BookError(f"{name} is {_shown(value)}; give text")
    if len(value) > LONGEST_TEXT:
        raise BookError(
            f"{name} has {len(value)} letters, more than {LONGEST_TEXT}; shorten it"
        )
    broken = next((c for c in value if c == "\0" or "\ud800" <= c <= "\udfff"), None)
    if broken is not None:
        raise BookError(
            f"{name} holds the unprintable character U+{ord(broken):04X}; take it out"
        )
    return value


def _known(name: str, allowed: Mapping[str, Fact]) -> Fact:
    if name in allowed:
        return allowed[name]
    close = get_close_matches(name, allowed, n=3, cutoff=0.5) or list(allowed)
    raise BookError(f"no fact is called {name!r}; closest: {', '.join(close)}")


def _checked_number(fact: Fact, value: Any) -> float:
    number = _as_number(value)
    low = -math.inf if fact.low is None else fact.low
    high = math.inf if fact.high is None else fact.high
    if number is None or not low <= number <= high:
        raise _refusal(fact, value)
    return number


def _is_blank(value: Any) -> bool:
    if isinstance(value, str):
        return not value.strip()
    return value is None or (isinstance(value, float) and math.isnan(value))


def _as_number(value: Any) -> float | None:
    """A number, or text of one; a comma that could part thousands is refused."""
    if isinstance(value, str) and value.count(",") == 1:
        whole, _, part = value.strip().partition(",")
        value = (
            value if len(part) == 3 and whole not in ("0", "-0") else f"{whole}.{part}"
        )
    if isinstance(value, bool) or not isinstance(value, numbers.Real | str):
        return None
    try:
        number = float(value)
    except (ValueError, OverflowError):
        return None
    return number if math.isfinite(number) else None


def _checked_yes_no(fact: Fact, value: Any) -> bool:
    words = {"yes": True, "no": False}
    if isinstance(value, str) and value in words:
        return words[value]
    if value in (True, False):
        return bool(value)
    raise _refusal(fact, value)


def _refusal(fact: Fact, value: Any) -> BookError:
    return BookError(f"{fact.label.lower()} is {_shown(value)}; give {fact.allowed}")


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
