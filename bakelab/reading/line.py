"""One ingredient line: read, in doubt, unread, or not in the dough."""

import re
from functools import lru_cache
from typing import Any

from bakelab.ingredients import (
    Match,
    find_ingredient,
    head_is_equipment,
    ingredient,
)
from bakelab.kitchen import my_weights
from bakelab.reading.amounts import Amount
from bakelab.reading.clean import clean_line
from bakelab.reading.headings import meta_fact
from bakelab.reading.language import guess_language
from bakelab.reading.line_mass import Notes, mass_of
from bakelab.reading.model import Line
from bakelab.reading.packets import national, packed
from bakelab.reading.phrase import Phrase, take_apart
from bakelab.reading.vocabulary import LANGUAGES
from bakelab.reading.weights import (
    MARKETS,
    Weighed,
)

__all__ = ["LONGEST_LINE", "read_line"]

LONGEST_LINE = 600  # characters; a longer one is prose and no ingredient line
_HEADING = re.compile(r"^\s{0,3}#{1,6}\s+\D")
_POURED = ("cup", "gill", "pint", "wineglass", "quart")
_HEAVY = ("flour", "water", "liquid", "dairy", "fat", "sweetener", "egg")


def read_line(
    text: str,
    *,
    language: str | None = None,
    market: str | None = None,
    line_no: int = 1,
    stage: str = "dough",
    in_dough: bool = True,
) -> Line:
    """Read one ingredient line.

    Parameters
    ----------
    text : str
        The line as written.
    language : str, optional
        ``"en"``, ``"de"`` or ``"fr"``; guessed from the line by default.
        Of any other language only international units are read.
    market : str, optional
        A key of `MARKETS`: what a cup, spoon or pint means; "us" for a line in
        English, else "metric", by default.
    line_no, stage : int, str
        Where the line stands, handed through.
    in_dough : bool
        False where a heading says that it belongs to a glaze or the like.

    Returns
    -------
    Line
        Never raises: a line that was not understood has the state "unread".

    Examples
    --------
    >>> line = read_line("3½ cups (420 g) flour")
    >>> line.state, line.low, line.unit, line.stated_g, line.role
    ('read', 3.5, 'cup', 420.0, 'flour')
    """
    if len(text) > LONGEST_LINE:
        remark = "too long for an ingredient line: put each ingredient on a line"
        return Line(line_no, text, "unread", stage=stage, remark=remark)
    if meta_fact(text) or _HEADING.match(text):
        remark = "a heading or a fact of the recipe, not an ingredient"
        return Line(line_no, text.strip(), "unread", stage=stage, remark=remark)
    language = language or guess_language(text)
    own = tuple(my_weights().items())
    market = market or ("us" if language == "en" else "metric")
    parts = _read(clean_line(text), language, market, in_dough, own)
    return Line(line_no, text.strip(), stage=stage, **parts)


@lru_cache(maxsize=8192)
def _read(
    text: str,
    language: str,
    market: str,
    in_dough: bool,
    _own: tuple[tuple[tuple[str, str], float], ...],
) -> dict[str, Any]:
    """The fields of a line; own weights are a part of the question."""
    phrase = take_apart(text, language)
    match = _find(phrase, language)
    if match is None and head_is_equipment(phrase.name or text):
        return {"state": "not in dough", "label": text, "remark": "equipment"}
    found = packed(phrase, match, language)
    phrase, match = found.phrase, found.match
    notes = Notes([*phrase.doubts, *found.doubts], list(found.assumed))
    key = match.key if match else None
    weighed, stated = mass_of(phrase, key, MARKETS[market], notes)
    weighed = national(weighed, phrase, key, language)
    _remarks(phrase, match, weighed, notes)
    parts = _common(phrase, match, weighed, stated, notes)
    parts["state"] = _state(phrase, match, weighed, notes, language, in_dough=in_dough)
    parts["remark"] = notes.text()
    return parts


def _find(phrase: Phrase, language: str) -> Match | None:
    first = language if language in LANGUAGES else "en"
    best: Match | None = _shared_noun(phrase, first)
    if best is not None:
        return best
    for place in (phrase.name, *phrase.names):
        match = find_ingredient(place, language=first) if place else None
        if match is not None and match.certain:
            return match
        best = best or match
    return best


def _shared_noun(phrase: Phrase, language: str) -> Match | None:
    """`strong white or wholemeal flour`: the noun behind "or" serves both."""
    if not phrase.alternative or not phrase.name:
        return None
    noun = re.split(r"[,(]", phrase.alternative)[0].split()
    size = len(phrase.name.split())
    for count in (2, 1):
        if len(noun) <= count:
            continue
        match = find_ingredient(
            f"{phrase.name} {' '.join(noun[-count:])}", language=language
        )
        if match is not None and len(match.matched.split()) == size + count:
            return match
    return None


def _remarks(
    phrase: Phrase, match: Match | None, weighed: Weighed | None, notes: Notes
) -> None:
    """What is doubtful, and what was assumed or left out."""
    amount = phrase.amount
    known = match is not None and phrase.bakers_pct is None
    if amount is None and (phrase.to_taste or known):
        notes.doubts.append("no amount is given")
    elif amount is not None and weighed is None and match is not None:
        notes.doubts.append(_no_weight(phrase, match))
    if phrase.second:
        notes.doubts.append(
            f"two ingredients on one line, only the first is weighed: {phrase.second}"
        )
    if match is not None:
        _ingredient_remarks(match, amount, notes)
    for said, part in (
        ("an alternative is named", phrase.alternative),
        ("more is used outside the dough", phrase.extra),
        ("not in the dough", phrase.not_dough),
    ):
        if part:
            notes.plain.append(f"{said}: {part}")


def _ingredient_remarks(match: Match, amount: Amount | None, notes: Notes) -> None:
    item = ingredient(match.key)
    unit = amount.unit if amount is not None else None
    if unit == "spoon":
        notes.doubts.append("a bare spoon was taken for a tablespoon")
    if item.role == "yeast" and unit in _POURED:
        notes.doubts.append("yeast by the cup was a liquid yeast in old books")
    if item.key == "lye":
        notes.plain.append("lye is for a bath, never for the dough: it burns")
    if not match.certain and item.role in _HEAVY:
        notes.plain.append(f"taken for {item.name}")


def _no_weight(phrase: Phrase, match: Match) -> str:
    assert phrase.amount is not None
    count = f"{float(phrase.amount.low):g}"
    name = ingredient(match.key).name
    if phrase.amount.unit is None:
        return f"{count} of what? Write the unit, such as {count} g {name}"
    return f"no weight is known for a {phrase.amount.unit} of {name}: give the grams"


def _common(
    phrase: Phrase,
    match: Match | None,
    weighed: Weighed | None,
    stated: float | None,
    notes: Notes,
) -> dict[str, Any]:
    item = ingredient(match.key) if match else None
    amount = phrase.amount
    percent = None if phrase.bakers_pct is None else "%"
    if item is None and weighed is not None:
        notes.doubts.append("not in the table of ingredients: what it holds is unknown")
    return {
        "low": phrase.bakers_pct if amount is None else float(amount.low),
        "high": phrase.bakers_pct if amount is None else float(amount.high),
        "unit": percent if amount is None else amount.unit,
        "stated_g": stated,
        "ingredient": item.key if item else phrase.name,
        "label": phrase.name or phrase.text,
        "role": item.role if item else ("other" if amount is not None else ""),
        "optional": phrase.optional,
        "mass_g": weighed.mid_g if weighed else None,
        "mass_low_g": weighed.low_g if weighed else None,
        "mass_high_g": weighed.high_g if weighed else None,
        "basis": weighed.basis
        if weighed
        else ("percent" if phrase.bakers_pct else None),
        "hydration_pct": phrase.hydration_pct,
        "bakers_pct": phrase.bakers_pct,
        "assumed": weighed.assumed if weighed else "",
    }


def _state(
    phrase: Phrase,
    match: Match | None,
    weighed: Weighed | None,
    notes: Notes,
    language: str,
    *,
    in_dough: bool,
) -> str:
    if match is None and (phrase.amount is None or language not in LANGUAGES):
        return "unread"
    if phrase.not_dough or not in_dough or (match is not None and match.key == "lye"):
        return "not in dough"
    if match is None and weighed is None:
        notes.doubts.append("ingredient not understood")
        return "unread" if phrase.amount is None else "doubt"
    return "doubt" if notes.doubts else "read"
