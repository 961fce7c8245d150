"""Oven time and temperature that cannot bake a loaf of this size."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING

from bakelab.checking.case import Case
from bakelab.checking.in_pan import one_pan
from bakelab.checking.model import Finding, Kind, Quote
from bakelab.errors import BakelabError

if TYPE_CHECKING:
    from bakelab.oven.baking import Case as Loaf
    from bakelab.pans import Pan

__all__ = ["find_baking", "least_minutes"]

SHAPES = ("loaf", "round", "springform", "square", "tube", "fluted tube")
# Heat in a loaf whose surface is at 100 C at once, by the first term of the series for
# a slab: 1.31 is the Fourier number at which 5 % of the difference is left in the
# centre (Carslaw & Jaeger). Vapour carries heat as well: 1e-6 m2/s is our own choice,
# about the fastest that our oven model gives. It only decides which are looked at.
_FOURIER, _DIFFUSIVITY = 1.31, 1e-6
_LOOK = 0.85  # at fewer minutes than this share of them the model is asked
_STRONGEST = 4.0  # heating over the expected one, past any oven; our own choice
_DOUGH_C = 75.0  # a centre below it is still dough; common practice, no source
_DONE_C = 90.0  # the least that plain breads are baked to; common practice, no source
_COOL_C, _HOT_C = 100.0, 550.0
_SLACK = 1.1  # of the stated minutes, for their rounding
_PHASE = re.compile(
    r"(?i)\d\s*(?:[-–]|to|or)?\s*\d*\s*(?:more |further |another )?"
    r"(?:min(?:ute)?s?|mins|hours?|hrs?|minuten|stunden?|std|heures?|h)\b"
)
_BAKE_AT = re.compile(
    r"(?i)\b(?:bake|baking|baked|backen|cuire)\b(?:\s+[^\W\d]+){0,4}\s+"
    r"(?:at|bei|à)\s+(?P<value>\d{2,4})\s*(?:°|º|degrees?)?\s*(?P<unit>[CF])\b"
)
_OPEN_END = re.compile(
    r"(?i)\b(?:then|reduc\w*|lower\w*|turn(?:ed|ing)? (?:it |the (?:oven|heat) )?down|"
    r"continue\w*|finish\w*|dann|weiter\w*|puis|ensuite)\b[^.]{0,80}?"
    r"\b(?:until|till|bis|jusqu)"
)
_NO_BAKE = re.compile(
    r"(?i)\b(?:cool|rest|rise|proof|prove|knead|preheat|stand|ferment|chill|mix|soak|"
    r"abkühl|ruhen|gehen|kneten|vorheiz|reposer|lever|pétrir|préchauff)\w*"
)
_BAKE = re.compile(r"(?i)\b(?:bak(?:e|es|ed|ing)\b|backen|cuire|cuisson|enfourn)")


def find_baking(case: Case) -> Iterator[Finding]:
    """Findings `oven-cannot-bake`.

    A closed formula tells which times are short for the depth of the loaf;
    only those are computed, with a heating four times as strong as that of
    an oven. A conflict is where even so the centre stays below 75 °C for a
    tenth longer than is stated; below 90 °C it is unlikely.
    """
    recipe, formula = case.recipe, case.formula
    yield from _too_cool(case)
    if recipe.bake_minutes is None or recipe.oven_c is None or formula is None:
        return
    one = one_pan(case, SHAPES)
    if one is None or formula.flour_g <= 0 or not 120 <= recipe.oven_c <= 320:
        return
    if _OPEN_END.search(case.method):
        return
    longest = recipe.bake_minutes[1]
    dough = case.band("dough_g").low / one.count
    try:
        least = least_minutes(one, round(dough, -1))
        if longest >= _LOOK * least:
            return
        hottest = _hottest(case, one, dough, longest * _SLACK)
    except BakelabError:
        return
    if hottest < _DONE_C:
        yield _too_short(case, one, dough, longest, least, hottest)


@lru_cache(maxsize=2048)
def least_minutes(one: "Pan", dough_g: float) -> float:
    """About the least minutes in which the centre of a loaf can be done.

    ``Fo L² / a`` with the half thickness `L` of the slab that warms through
    as fast as the loaf.
    """
    from bakelab.oven.body import body_of

    body = body_of(one, dough_g, gas_free_kg_m3=1200.0)
    half_m = body.half_thickness_cm / 100
    return _FOURIER * half_m**2 / _DIFFUSIVITY / 60


def _hottest(case: Case, one: "Pan", dough_g: float, minutes: float) -> float:
    """°C in the centre after the minutes, heated as strongly as can be."""
    from bakelab.oven.baking import bake, nominal

    loaf = _loaf(case, one, dough_g)
    unknowns = nominal(end_c=99.0, start_c=35.0, heating=[_STRONGEST])
    seconds = minutes * 60
    run = bake(loaf, unknowns, expected_s=seconds, until_s=seconds, to_the_end=True)
    return float(run.core_c[-1, 0])


def _loaf(case: Case, one: "Pan", dough_g: float) -> "Loaf":
    from bakelab.oven.baking import Case as Loaf
    from bakelab.oven.baking import gas_free_of
    from bakelab.oven.body import body_of
    from bakelab.oven.food_properties import dough_composition
    from bakelab.oven.settings import oven

    assert case.formula is not None
    mix = dough_composition(case.formula)
    body = body_of(one, dough_g, gas_free_kg_m3=gas_free_of(mix))
    return Loaf(body, mix, oven(f"{case.recipe.oven_c:.0f} °C"), "grey")


def _too_short(
    case: Case, one: "Pan", dough_g: float, minutes: float, least: float, hottest: float
) -> Finding:  # fmt: skip
    several = _phases(case) > 1
    kind: Kind = "conflict" if hottest < _DOUGH_C and not several else "unlikely"
    name = one.describe().split(",")[0]
    said = f"{minutes:g} min at {case.recipe.oven_c:.0f} °C"
    working = [
        f"heated as hard as can be, the centre has {hottest:.0f} °C by then",
        f"the centre of such a loaf takes about {least:.0f} min at the very least",
    ]
    if several:
        working.append("more than one time is given; where it was clear, they were "
                       "added")  # fmt: skip
    return Finding(
        "oven-cannot-bake",
        kind,
        f"{said} cannot bake {dough_g:.0f} g of dough in {name}"
        if kind == "conflict"
        else f"{said} is short for {dough_g:.0f} g of dough in {name}",
        _where(case),
        tuple(working),
        "Check time, temperature and size of the pan; a probe in the centre decides. "
        "Follow your local food-safety rules for the centre of rich breads.",
        "high" if kind == "conflict" and not one.assumed else "medium",
        "heat and water in the loaf, `bakelab.oven`; the shortest time by the series "
        "for a slab, Carslaw & Jaeger",
    )


def _too_cool(case: Case) -> Iterator[Finding]:
    """A bread with yeast that is told to bake below 100 °C, or beyond all ovens."""
    if not any(e.line.role == "yeast" for e in case.dough):
        return
    for quote in case.prose:
        match = _BAKE_AT.search(quote.text[:2000])
        if match is None:
            continue
        value = float(match["value"])
        celsius = (value - 32) / 1.8 if match["unit"] in "Ff" else value
        cool = 45 < celsius < _COOL_C
        if cool or celsius > _HOT_C:
            yield Finding(
                "oven-cannot-bake",
                "unlikely",
                f"an oven at {celsius:.0f} °C does not bake bread",
                (quote,),
                (
                    "below 100 °C the centre takes hours to set, if it does at all"
                    if cool
                    else "no oven for bread is as hot; the hottest, for pizza, "
                    "have 500 °C",
                ),
                "Check the temperature and its scale.",
                "medium",
                "breads are baked at 160 to 260 °C: common practice, no source",
            )


def _phases(case: Case) -> int:
    """How many times the text gives from the first that is baked on."""
    count, started = 0, False
    for sentence in re.split(r"(?<=[.;!?])\s+|\n", case.method):
        started = started or bool(_BAKE.search(sentence) and _PHASE.search(sentence))
        if started and not _NO_BAKE.search(sentence):
            count += len(_PHASE.findall(sentence))
    return count


def _where(case: Case) -> tuple[Quote, ...]:
    timed = (q for q in case.prose if _BAKE.search(q.text) and _PHASE.search(q.text))
    first = next(timed, None)
    return (first,) if first is not None else ()
