"""A corrected copy: ingredient lines in grams first, with measures that exist."""

import difflib
import os
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

from bakelab.checking.case import Case, Entry
from bakelab.errors import ReadError
from bakelab.kitchen import grams_per
from bakelab.reading import MARKETS, read_recipe
from bakelab.reading.sources import source_text
from bakelab.reading.weights import Market
from bakelab.units import unit_words

__all__ = ["Change", "Corrected", "corrected_copy", "measure_text"]

_CUP_PARTS = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3),
              Fraction(3, 4))  # fmt: skip
_TSP_PARTS = (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))
_SIGNS = {Fraction(1, 8): "⅛", Fraction(1, 4): "¼", Fraction(1, 3): "⅓",
          Fraction(1, 2): "½", Fraction(2, 3): "⅔", Fraction(3, 4): "¾"}  # fmt: skip
_CUP_TSP, _TBSP_TSP = 48, 3
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
class Corrected:
    """A text with its ingredient lines in house style; nothing is written."""

    text: str
    changes: tuple[Change, ...]
    diff: str

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
    changes = [c for e in case.entries if (c := _change(e, lines, written, cups=cups))]
    for change in changes:
        lines[change.line_no - 1] = change.after
    made = "\n".join(lines) + ("\n" if text.endswith("\n") else "")
    return Corrected(made, tuple(changes), _diff(text, made, text_or_path))


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
) -> Change | None:
    line, number = entry.line, entry.quote.line_no
    if line.mass_g is None or not entry.stated or not 0 < number <= len(lines):
        return None
    before = lines[number - 1]
    if "|" in before or _is_left(entry):
        return None
    name = _name(entry)
    if not name or line.text.strip() not in before:
        return None
    grams = _grams_text(line.mass_g)
    measure = _bracket(entry, market, cups=cups)
    bullet = _BULLET.match(before)
    lead = bullet.group(0) if bullet else ""
    after = f"{lead}{grams}{f' ({measure})' if measure else ''} {name}"
    if after == before:
        return None
    return Change(number, before, after, _why(entry))


def _is_left(entry: Entry) -> bool:
    """Lines that stay as they are: ranges, pinches, counts, several things at once."""
    line, phrase = entry.line, entry.phrase
    several = phrase.each is not None or phrase.second or phrase.extra
    loose = line.unit in _LOOSE_UNITS or line.basis in ("count", "percent")
    ranged = line.low != line.high
    apart = not entry.masses and "disagree" in line.remark
    return bool(several or loose or ranged or apart)


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


def measure_text(teaspoons: float, market: Market, *, cups: bool = True) -> str:
    """The nearest cups and spoons that exist, for a volume in US teaspoons.

    Cups go by quarters and thirds, tablespoons by whole ones, teaspoons by
    ⅛, ¼, ½ and ¾. What no measure shows within a tenth is left out.

    Examples
    --------
    >>> measure_text(72, MARKETS["us"])
    '1½ cups'
    >>> measure_text(5, MARKETS["us"])
    '1 tbsp + 2 tsp'
    """
    ml = teaspoons * 4.92892159375
    tsp = ml / market.tsp_ml
    best = ""
    if cups and ml / market.cup_ml >= 0.24:
        best = _in_cups(ml, market)
    elif tsp >= 2.9 and (cups or ml <= 6 * market.tbsp_ml):
        best = _in_spoons(ml, market)
    elif tsp < 2.9:
        best = _in_teaspoons(tsp)
    return best


def _in_cups(ml: float, market: Market) -> str:
    """Cups, and one more spoon measure where cups alone are 3 % off or more."""
    exact = ml / market.cup_ml
    whole, part = _nearest(exact, (Fraction(0), *_CUP_PARTS, Fraction(1)))
    value = whole + part
    off = exact - float(value)
    if abs(off) <= 0.03 * exact:
        return _counted(value, "cup")
    down = max((Fraction(int(exact)) + p for p in (Fraction(0), *_CUP_PARTS)
                if int(exact) + p <= exact), default=Fraction(0))  # fmt: skip
    spoons = round((exact - float(down)) * market.cup_ml / market.tbsp_ml)
    if down == 0 or not spoons:
        return _counted(value, "cup")
    return f"{_counted(down, 'cup')} + {spoons} tbsp"


def _in_spoons(ml: float, market: Market) -> str:
    tbsp = int(ml / market.tbsp_ml + 0.04)
    rest = (ml - tbsp * market.tbsp_ml) / market.tsp_ml
    if rest <= 0.06 * ml / market.tsp_ml:
        return f"{tbsp} tbsp"
    if abs(rest - market.tbsp_ml / market.tsp_ml) < 0.2:
        return f"{tbsp + 1} tbsp"
    whole, part = _nearest(rest, (Fraction(0), *_TSP_PARTS, Fraction(1)))
    small = _counted(whole + part, "tsp") if whole + part else ""
    return " + ".join(text for text in (f"{tbsp} tbsp" if tbsp else "", small) if text)


def _in_teaspoons(tsp: float) -> str:
    whole, part = _nearest(tsp, (Fraction(0), *_TSP_PARTS, Fraction(1)))
    value = whole + part
    if value == 0:
        return "a pinch"
    return _counted(value, "tsp") if abs(float(value) - tsp) <= 0.1 * tsp else ""


def _nearest(exact: float, parts: tuple[Fraction, ...]) -> tuple[Fraction, Fraction]:
    whole = Fraction(int(exact))
    part = min(parts, key=lambda p: abs(float(whole + p) - exact))
    return whole, part


def _counted(value: Fraction, unit: str) -> str:
    whole, part = Fraction(int(value)), value - int(value)
    sign = _SIGNS.get(part, "")
    number = f"{int(whole)}{sign}" if whole else sign
    plural = "s" if unit == "cup" and value > 1 else ""
    return f"{number} {unit}{plural}"
