"""One ingredient line: read, in doubt, unread, or not in the dough."""

import re
from dataclasses import dataclass, field, replace
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
from bakelab.reading.model import Line
from bakelab.reading.packets import national, packed
from bakelab.reading.phrase import Phrase, take_apart
from bakelab.reading.vocabulary import LANGUAGES
from bakelab.reading.weights import (
    DIPPED,
    MARKETS,
    Market,
    Weighed,
    disagreement,
    stated_grams,
    unit_ml,
    weigh,
)

__all__ = ["LONGEST_LINE", "read_line"]

LONGEST_LINE = 600  # characters; a longer one is prose and no ingredient line
_HEADING = re.compile(r"^\s{0,3}#{1,6}\s+\D")
_POURED = ("cup", "gill", "pint", "wineglass", "quart")
_HEAVY = ("flour", "water", "liquid", "dairy", "fat", "sweetener", "egg")


@dataclass
class _Notes:
    """Doubts and plain remarks gathered while a line is read."""

    doubts: list[str] = field(default_factory=list)
    plain: list[str] = field(default_factory=list)

    def text(self) -> str:
        return "; ".join((*self.doubts, *self.plain))


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
    notes = _Notes([*phrase.doubts, *found.doubts], list(found.assumed))
    key = match.key if match else None
    weighed, stated = _mass(phrase, key, MARKETS[market], notes)
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


def _mass(
    phrase: Phrase, key: str | None, market: Market, notes: _Notes
) -> tuple[Weighed | None, float | None]:
    """The mass used and the mass stated; disagreements go to the notes."""
    if phrase.amount is None:
        return None, None
    given = (phrase.amount, *phrase.same)
    stated = stated_grams(given)
    main = weigh(phrase.amount, key, market, each=phrase.each)
    if phrase.each is not None and main is not None and main.basis == "stated":
        return main, main.mid_g
    if stated is None:
        _compare_volumes(given, market, notes)
        return main or _first_weighed(phrase, key, market), None
    for other in given:
        if not other.is_mass or abs(_mid_g(other) - stated) > 1e-9:
            _compare(stated, other, key, market, notes)
    low, high = _stated_band(given, stated)
    return Weighed(low, stated, high, "stated"), stated


def _first_weighed(phrase: Phrase, key: str | None, market: Market) -> Weighed | None:
    return next(
        (w for a in phrase.same if (w := weigh(a, key, market)) is not None), None
    )


def _mid_g(amount: Amount) -> float:
    return stated_grams([amount]) or 0.0


def _stated_band(given: tuple[Amount, ...], stated: float) -> tuple[float, float]:
    first = next(a for a in given if a.is_mass)
    spread = float(first.high / first.low) if first.low else 1.0
    return stated * 2 / (1 + spread), stated * 2 * spread / (1 + spread)


def _compare(
    stated: float, other: Amount, key: str | None, market: Market, notes: _Notes
) -> None:
    weighed = weigh(other, key, market)
    pieces = other.kind in ("count", "part") and other.unit != "stick"
    if weighed is None or pieces:
        return
    if other.kind == "volume" and key is not None and ingredient(key).role == "flour":
        weighed = replace(weighed, high_g=weighed.high_g * DIPPED)
    digits = 0.03 if other.is_mass else 0.1
    small = 0.5 if stated < 20 else 0.0
    if abs(stated - weighed.mid_g) <= small + 0.5:
        return
    sentence = disagreement(stated, weighed, digits=digits + small / max(stated, 1))
    if sentence:
        notes.doubts.append(sentence)


def _compare_volumes(given: tuple[Amount, ...], market: Market, notes: _Notes) -> None:
    """Two volumes of one amount that differ by more than rounding explains."""
    sizes = [
        float(a.high) * unit_ml(a.unit, market)
        for a in given
        if a.unit is not None and a.kind == "volume"
    ]
    if len(sizes) > 1 and max(sizes) > 1.25 * min(sizes):
        notes.doubts.append(
            f"two amounts disagree: about {sizes[0]:.0f} ml and {sizes[1]:.0f} ml"
        )


def _remarks(
    phrase: Phrase, match: Match | None, weighed: Weighed | None, notes: _Notes
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


def _ingredient_remarks(match: Match, amount: Amount | None, notes: _Notes) -> None:
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
    notes: _Notes,
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
    notes: _Notes,
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
