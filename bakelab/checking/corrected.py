"""A corrected copy: ingredient lines in grams first, with measures that exist."""

import difflib
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from bakelab.checking.case import Case, Entry
from bakelab.checking.measures import measure_text
from bakelab.errors import ReadError
from bakelab.kitchen import grams_per
from bakelab.reading import MARKETS, read_recipe
from bakelab.reading.sources import source_text
from bakelab.units import unit_words

__all__ = ["Change", "Corrected", "Left", "corrected_copy"]

_NO_CUPS = ("metric", "uk")
_LOOSE_UNITS = ("pinch", "dash", "drop", "smidgen", "knife tip", "handful", "knob")
_CUT = ("inclusion", "other")
_BULLET = re.compile(r"^(\s*(?:[-*•+]|\d+[.)])\s+)?")
_EMPTY = re.compile(r"\(\s*[/,;=]*\s*\)|\[\s*\]")
_HEAD = re.compile(r"^[\s,;/=:)–—-]+|^(?:of|or|de|d['’]|plus)\s+", re.IGNORECASE)


@dataclass(frozen=True)
class Change:
    """One line as it was and as it is proposed, and why it changes."""

    line_no: int
    before: str
    after: str
    why: str


@dataclass(frozen=True)
class Left:
    """One line that stays as it was written, and why."""

    line_no: int
    text: str
    why: str


@dataclass(frozen=True)
class Corrected:
    """A text with its ingredient lines in house style; nothing is written.

    `left` are the lines with an amount that stay as they are; the text ends
    with a note that names them.
    """

    text: str
    changes: tuple[Change, ...]
    diff: str
    left: tuple[Left, ...] = ()

    def _repr_html_(self) -> str:
        from html import escape

        return f"<pre>{escape(self.diff)}</pre>"


def corrected_copy(
    text_or_path: str | os.PathLike[str], *, market: str | None = None,
    cups: bool = True,
) -> Corrected:  # fmt: skip
    """Propose each ingredient line in grams, with cups and spoons in brackets.

    Parameters
    ----------
    text_or_path : str or path
        A recipe as text; of a web page or table nothing is changed.
    market : str, optional
        The market that is written for, a key of `bakelab.reading.MARKETS`;
        "metric" and "uk" get grams and spoons and no cups. By default that
        of the recipe.
    cups : bool
        False leaves all measures out of the brackets; so do other languages
        than English.

    Returns
    -------
    Corrected
        The new text, its changes and their difference. Stated grams stay as
        they are; the measure is the nearest that cups and spoons can show.

    Raises
    ------
    ReadError
        If the text cannot be read, or the market is unknown.
    """
    if market is not None and market not in MARKETS:
        raise ReadError(f"no market {market!r}; use one of {', '.join(MARKETS)}")
    text, kind = source_text(text_or_path)
    if kind != "text":
        raise ReadError(f"a corrected copy is made of text, not of {kind}")
    recipe = read_recipe(text if "\n" in text else f"{text}\n")
    case = Case(recipe, text, market=recipe.market)
    written = market or case.market_key
    cups = cups and recipe.language == "en"
    lines = text.splitlines()
    tried = [(e, _change(e, lines, written, cups=cups)) for e in case.entries]
    changes = [change for _, change in tried if isinstance(change, Change)]
    left = [change for _, change in tried if isinstance(change, Left)]
    for change in changes:
        lines[change.line_no - 1] = change.after
    if changes and left:
        lines += ["", _note(left, marked=text.lstrip().startswith(("#", "---")))]
    made = "\n".join(lines) + ("\n" if text.endswith("\n") else "")
    difference = _diff(text, made, text_or_path)
    return Corrected(made, tuple(changes), difference, tuple(left))


def _note(left: Sequence[Left], *, marked: bool) -> str:
    """The lines that were left, as a comment or, in plain text, in brackets."""
    said = "; ".join(f"line {one.line_no}: {one.why}" for one in left)
    opened, closed = ("<!-- ", " -->") if marked else ("[", "]")
    return f"{opened}Left as written: {said}{closed}"


def _diff(before: str, after: str, source: str | os.PathLike[str]) -> str:
    path = isinstance(source, os.PathLike) or "\n" not in source
    name = Path(source).name if path else "text"
    return "\n".join(
        difflib.unified_diff(
            before.splitlines(),
            after.splitlines(),
            name,
            f"{name}, corrected",
            lineterm="",
            n=0,
        )
    )


def _change(
    entry: Entry, lines: list[str], market: str, *, cups: bool
) -> Change | Left | None:
    """The line in house style, why it is left, or None if nothing is to do."""
    line, number = entry.line, entry.quote.line_no
    if not entry.stated or not 0 < number <= len(lines):
        return None
    before = lines[number - 1]
    why = _why_left(entry, before)
    if why:
        return Left(number, before.strip(), why)
    assert line.mass_g is not None
    name = _name(entry)
    if not name or line.text.strip() not in before:
        return Left(number, before.strip(), "its words stand among its amounts")
    measure = _bracket(entry, market, cups=cups)
    bullet = _BULLET.match(before)
    lead = bullet.group(0) if bullet else ""
    after = f"{lead}{_grams(entry)}{f' ({measure})' if measure else ''} {name}"
    if after == before:
        return None
    return Change(number, before, after, _why(entry))


def _why_left(entry: Entry, before: str) -> str:
    """Why a line is not changed; empty if it is."""
    line, phrase = entry.line, entry.phrase
    if line.state == "not in dough" and line.mass_g is None:
        return "it is not in the dough and has no weight"
    if "|" in before or "\t" in before:
        return "a row of a table: change its columns by hand"
    if phrase.each is not None or phrase.second or phrase.extra:
        return "it has amounts of several things"
    if line.unit in _LOOSE_UNITS:
        return f"a {line.unit} is too little to weigh"
    if line.mass_g is not None and line.mass_g <= 0:
        return "it has an amount of nothing"
    if line.mass_g is None:
        return "its weight is not known"
    if line.basis in ("count", "percent"):
        return "a piece or packet: weigh yours" if line.basis == "count" else (
            "a percentage without a weight"
        )  # fmt: skip
    if not entry.masses and "disagree" in line.remark:
        return "its own amounts disagree: correct them first"
    if line.low != line.high and (entry.masses or line.basis != "density"):
        return "a range of weights stays as it is"
    return ""


def _grams(entry: Entry) -> str:
    """The grams of the line; of a range of cups or spoons both ends."""
    line = entry.line
    assert line.mass_g is not None
    if line.low == line.high or not line.low or not line.high:
        return _grams_text(line.mass_g)
    middle = (line.low + line.high) / 2
    ends = [_grams_text(line.mass_g * end / middle) for end in (line.low, line.high)]
    return f"{ends[0].removesuffix(' g')}–{ends[1]}"


def _name(entry: Entry) -> str:
    """What the line says beside its amounts."""
    text = entry.clean
    for stated in sorted(entry.stated, key=lambda s: -s.amount.start):
        text = text[: stated.amount.start] + text[stated.amount.end :]
    text = _EMPTY.sub("", text)
    for _ in range(3):
        text = _HEAD.sub("", text.strip())
    text = re.sub(r"\s+([,;.)])", r"\1", text)
    words = text.split()
    strange = not words or words[0].casefold() in _unit_names() or " or less " in text
    whole = text.count("(") == text.count(")") and text[-1:] not in "-–:"
    return " ".join(words) if whole and not strange else ""


@cache
def _unit_names() -> frozenset[str]:
    """Words for units: a name that begins with one was not taken apart rightly."""
    return frozenset(w.casefold() for w in unit_words("en") if len(w) > 2)


def _why(entry: Entry) -> str:
    if "disagree" in entry.line.remark:
        return "weight and measure disagree: the grams are kept, check them"
    if entry.line.basis == "stated":
        return "grams first, the measure worked out from them"
    return f"grams from the usual weight: {entry.line.assumed}"


def _grams_text(mass_g: float) -> str:
    """Grams as a scale shows them."""
    if mass_g < 10:
        shown = f"{mass_g:.1f}".removesuffix(".0")
    elif mass_g >= 1000:
        shown = f"{5 * round(mass_g / 5)}"
    else:
        shown = f"{mass_g:.0f}"
    return f"{shown} g"


def _bracket(entry: Entry, market: str, *, cups: bool) -> str:
    loose = entry.line.role in _CUT and not entry.volumes
    if entry.line.low != entry.line.high and entry.volumes and cups:
        return entry.volumes[0].printed.strip(" .")
    if not cups or entry.line.mass_g is None or loose:
        return ""
    grams = grams_per(entry.line.ingredient, "tsp")
    if grams is None or grams.mid_g <= 0:
        return ""
    spoonfuls = entry.line.mass_g / grams.mid_g
    liquid = entry.line.role in ("water", "liquid", "dairy")
    if market in _NO_CUPS and liquid and spoonfuls >= 12:
        return f"{5 * round(spoonfuls * 4.92892 / 5)} ml"
    return measure_text(spoonfuls, MARKETS[market], cups=market not in _NO_CUPS)
