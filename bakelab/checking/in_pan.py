"""Pan against dough, and a pan's printed capacity against the box around it."""

import re
from collections.abc import Iterator
from functools import lru_cache

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Kind, Quote
from bakelab.checking.printed import Interval, interval
from bakelab.checking.usual import claimed_style
from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.pans import Pan, pan_in_text
from bakelab.ranges import shares, style_name
from bakelab.reading.amounts import Amount, amounts
from bakelab.scaling.loading import loading_for, too_little, too_much
from bakelab.scaling.room import Room, room_of
from bakelab.units import number

__all__ = ["find_capacity", "find_loading", "one_pan"]

_BEYOND = 1.15  # how far past the usual band; our own
_GAS_FREE_CM3_G = 0.82  # 1 g of dough without gas: 1222 kg/m3, Choi & Okos (1986)
_SHAPES = ("loaf",)
# Style, kind of flour and least percent of it; our own.
_PLAIN_LOAVES = (
    ("gluten_free_pan", "gluten_free", 60.0),
    ("rye_dark", "rye", 60.0),
    ("rye_mixed_light", "rye", 20.0),
    ("whole_wheat_pan", "whole", 60.0),
    ("part_whole_wheat_pan", "whole", 25.0),
)
_DIVIDED = re.compile(
    r"(?i)\b(two|three|four|[2-9])\s+(?:\w+\s+){0,2}(?:pans|tins|loaves|moulds)\b|"
    r"\b(divide|halve|split|cut)\w*\b|\bhalf\b|\beach pan\b|\bpans\b|\btins\b|"
    r"kastenformen|moules\b"
)
_N = r"\d+(?:[.,]\d+)?(?:\s+\d/\d+|\s*-?\s*[½⅓⅔¼¾⅛⅜⅝⅞])?|[½⅓⅔¼¾⅛⅜⅝⅞]"
_FEET = r"(?:in\.?|inch(?:es)?|[\"″”])"
_BOX = re.compile(
    rf"(?i)({_N})\s*{_FEET}?\s*(?:x|×|by)\s*({_N})\s*{_FEET}?\s*(?:x|×|by)\s*({_N})"
    rf"\s*-?\s*(?:{_FEET})?"
)
_BOX_SLACK = 1.04  # a sixteenth of an inch on each side of a usual pan; our own
_CUP_IN3 = 14.4375  # 231/16 cubic inches, UCUM


def find_loading(case: Case) -> Iterator[Finding]:
    """Findings `pan-against-dough`.

    Unlikely where the whole band of the dough gives a loading 15 % outside
    the usual band of the style. A conflict only where the dough without any
    gas fills more than the pan; it then cannot rise in it.
    """
    formula, one = case.formula, one_pan(case)
    if formula is None or one is None or formula.flour_g <= 0 or _heavy_missing(case):
        return
    dough = case.band("dough_g")
    claim = claimed_style(case)
    try:
        room = _room(one)
        usual = loading_for(claim[0] if claim else _plain_loaf(formula), room)
    except BakelabError:
        return
    if usual is None or dough.low <= 0:
        return
    volume = room.volume_cm3 * room.count
    loading = Interval(volume / dough.high, volume / dough.low)
    if loading.high < usual.low / _BEYOND:
        over = loading.high < _GAS_FREE_CM3_G
        yield _loading(one, _where(case), dough, volume, loading,
                       (usual.low, usual.high, usual.style), over=over)  # fmt: skip
    elif loading.low > usual.high * _BEYOND:
        yield _loading(one, _where(case), dough, volume, loading,
                       (usual.low, usual.high, usual.style), over=None)  # fmt: skip


@lru_cache(maxsize=1024)
def _room(one: Pan) -> Room:
    return room_of(one, "fixed")


def one_pan(case: Case, shapes: tuple[str, ...] = _SHAPES) -> Pan | None:
    """The pan, where there is one of a stated size and one dough in it."""
    one = case.recipe.pan
    if one is None or one.shape not in shapes or not one.has_volume:
        return None
    names = ("length", "width", "diameter")
    measured = [m for m in one.assumed if any(n in m for n in names)]
    several = one.count == 1 and _DIVIDED.search(case.story) is not None
    return None if measured or several else one


def _plain_loaf(formula: Formula) -> str:
    """Without a claim of the title: the plain pan loaf of its flours."""
    roles = {row.role for row in formula.rows}
    if "leavening" in roles and not roles & {"yeast", "starter"}:
        return "quick_bread"
    of_flour = shares(formula)
    plain = (s for s, kind, least in _PLAIN_LOAVES if of_flour[kind] >= least)
    return next(plain, "white_pan")


def _heavy_missing(case: Case) -> bool:
    light = ("salt", "yeast", "leavening", "other", "inclusion")
    return any(e.line.role not in light for e in case.unweighed)


def _where(case: Case) -> tuple[Quote, ...]:
    for quote in case.prose:
        if pan_in_text(quote.text[:2000]):
            return (quote,)
    return ()


def _loading(
    one: Pan, quote: tuple[Quote, ...], dough: Interval, volume: float,
    loading: Interval, usual: tuple[float, float, str], *, over: bool | None,
) -> Finding:  # fmt: skip
    low, high, style = usual
    told = (
        too_little(lidded=one.lidded) if over is None else too_much(lidded=one.lidded)
    )
    middle = (dough.low + dough.high) / 2
    assumed = f"; assumed: {'; '.join(one.assumed)}" if one.assumed else ""
    return Finding(
        "pan-against-dough",
        "conflict" if over else "unlikely",
        f"{middle:.0f} g of dough in {one.describe().split(',')[0]}: {told}",
        quote,
        (f"pan {volume:.0f} cm³ / dough {dough.text('g')} = {loading.text('cm³/g')}",
         f"usual for {style_name(style)}: {low:.3g} to {high:.3g} cm³/g{assumed}"),
        f"{volume / ((low + high) / 2):.0f} g of dough is usual in this pan.",
        "low" if one.assumed else "medium",
        "usual loading of the style in the table of bands, 15 % more on each side",
    )  # fmt: skip


def find_capacity(case: Case) -> Iterator[Finding]:
    """Findings `pan-holds`: a size in inches beside a capacity in cups.

    A pan holds no more than the box around it; a capacity below 60 % of the
    box is unlikely, as real pans taper and round off 10 to 15 %.
    """
    for quote in [*case.prose, *(e.quote for e in case.entries)]:
        text = quote.text[:2000]
        if "cup" not in text.casefold():
            continue
        for match in _BOX.finditer(text):
            yield from _capacity(quote, text, match)


def _capacity(quote: Quote, text: str, match: re.Match[str]) -> Iterator[Finding]:
    tail = text[match.end() : match.end() + 60]
    cups = _cups_in(tail)
    if cups is None:
        return
    exact = [float(number(s)) for s in match.groups()]
    box = exact[0] * exact[1] * exact[2] / _CUP_IN3
    kind: Kind
    if interval(cups, tail).low > _BOX_SLACK * box:
        kind, said = "conflict", "more than the box of these measures holds"
    elif float(cups.high) / box < 0.6:
        kind, said = "unlikely", "far less than these measures hold"
    else:
        return
    printed = tail[cups.start : cups.end].strip(" .")
    yield Finding(
        "pan-holds",
        kind,
        f"{match[0].strip()}: {printed} is {said}",
        (quote,),
        ((f"{exact[0]:g} x {exact[1]:g} x {exact[2]:g} in = {box * _CUP_IN3:.4g} in³ / "
         f"{_CUP_IN3} in³ a cup = {box:.3g} cups"),),
        f"Fill it with water and weigh it; about {0.88 * box:.2g} cups is usual.",
        "high" if kind == "conflict" else "medium",
        "a US cup is 14.4375 in³ (UCUM); taper from published pan sizes",
    )  # fmt: skip


def _cups_in(tail: str) -> Amount | None:
    """A capacity in cups; cups of an ingredient are none."""
    found, _ = amounts(tail, "en")
    if re.search(r"(?i)\b(flour|water|milk|sugar)\b", tail):
        return None
    return next((a for a in found if a.unit == "cup"), None)
