"""Weight against volume or count on one line, and one weight of a cup a recipe."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import Literal

from bakelab.checking.case import Case, Entry, Stated
from bakelab.checking.measures import in_kitchen_words
from bakelab.checking.model import Finding
from bakelab.checking.printed import LOOSE, Interval
from bakelab.ingredients import ingredient, is_ingredient
from bakelab.reading.weights import DIPPED, weigh
from bakelab.units import CUPS_ML, kitchen_units

__all__ = ["find_volumes"]

# Twice the widest disagreement of two published tables of cup weights: bread flour
# 137 g (USDA SR26, 20083) against 123 g (USDA HERR 41 as quoted in the usma archive).
FAR = 1 + 2 * (137 - 123) / 123
_LIQUID_FAR = 1.03  # a liquid does not heap: 2 % of density and no more
_SIFTED = 0.93  # of the lightest filling without: bread flour 117 for 126 g, HERR 41
_CUT = 2.0  # how far pieces that are chopped or grated differ; our own
_CUP_ML = CUPS_ML["us"]
_LIQUIDS = ("water", "liquid")
_POURED = ("water", "liquid", "dairy", "sweetener", "fat", "egg")
_LOOSE_ROLES = ("inclusion", "other", "starter")
_HEAPED = re.compile(
    r"(?i)\b(heap\w*|rounded|scant|generous|gehäuft\w*|gestrichen\w*|bombée?s?|"
    r"knapp\w*|sifted|gesiebt|tamisée?)\b"
)
_BASIS = "weight of a cup or spoon in the table of ingredients: {source}"


def find_volumes(case: Case) -> Iterator[Finding]:
    """Findings `weight-against-volume`, `ounces-of-what`, `two-weights-of-a-cup`.

    The interval of the weight must meet that of the volume times the usual
    band of what a cup weighs. Where it does not, it is "unlikely"; "conflict"
    where the gap exceeds twice the widest disagreement of published tables
    (a factor of 1.23; for water and other thin liquids 1.03). Chopped or
    grated things are left alone within a factor of 2. The two USDA tables
    that disagree both lie inside the band, so they trigger nothing.
    """
    flagged: dict[int, Finding] = {}
    for index, entry in enumerate(case.entries):
        found = _line(case, entry)
        if found is not None:
            flagged[index] = found
    pairs = list(_pairs(case, set(flagged)))
    for index, found in flagged.items():
        yield _with_evidence(case, case.entries[index], found)
    yield from pairs


def _line(case: Case, entry: Entry) -> Finding | None:
    key = entry.line.ingredient
    if not entry.masses or not entry.volumes or not is_ingredient(key):
        return None
    if _HEAPED.search(entry.clean) and not _sifted(entry):
        return None
    for mass in entry.masses:
        for volume in entry.volumes:
            found = _pair(case, entry, mass, volume)
            if found is not None:
                return found
    return None


def _sifted(entry: Entry) -> bool:
    return re.search(r"(?i)\bsift|gesiebt|tamis", entry.clean) is not None


def _pair(case: Case, entry: Entry, mass: Stated, volume: Stated) -> Finding | None:
    band, source = _usual(case, entry, volume)
    if band is None:
        return None
    stated = mass.grams()
    gap = stated.gap(band)
    role = entry.line.role
    if role == "flour" and stated.gap(_dipped(case, entry, volume)) == 1.0:
        return None
    if gap == 1.0 or (role in _LOOSE_ROLES and gap < _CUT):
        return None
    if mass.amount.unit == "oz" and role in _POURED and _fluid(case, mass, volume):
        return _ounces(entry, mass, volume)
    far = _LIQUID_FAR if role in _LIQUIDS else FAR
    sure = gap > far and role not in _LOOSE_ROLES
    return Finding(
        "weight-against-volume",
        "conflict" if sure else "unlikely",
        f"{entry.name}: {mass.printed} and {volume.printed} are not the same amount",
        (entry.quote,),
        _working(entry, mass, volume, stated, band),
        _mend(case, entry, mass, volume),
        _confidence(case, entry, gap, far),
        _BASIS.format(source=source),
    )


def _dipped(case: Case, entry: Entry, volume: Stated) -> Interval:
    """The usual weight to that of a dipped cup, the measure taken as exact."""
    usual = weigh(volume.amount, entry.line.ingredient, case.market)
    if usual is None:
        return Interval(0.0, 0.0)
    return Interval(usual.low_g, usual.high_g * DIPPED)


def _usual(case: Case, entry: Entry, volume: Stated) -> tuple[Interval | None, str]:
    """Grams that a volume of the ingredient may weigh, and who says so."""
    key = entry.line.ingredient
    usual = weigh(volume.amount, key, case.market)
    if usual is None:
        return None, ""
    wide = volume.millilitres(case.market)
    own = float(volume.amount.low), float(volume.amount.high)
    size = usual_size(case, volume)
    low = usual.low_g * wide.low / (own[0] * size) if own[0] else 0.0
    high = usual.high_g * wide.high / (own[1] * size)
    if _sifted(entry):
        low *= _SIFTED
    if entry.line.role == "salt":
        low = min(low, _salt_low(wide))
    return Interval(low, high), usual.assumed


def usual_size(case: Case, volume: Stated) -> float:
    """Millilitres of one unit as the reader took it."""
    from bakelab.reading.weights import unit_ml

    return unit_ml(volume.amount.unit or "ml", case.market)


def _salt_low(volume_ml: Interval) -> float:
    """Salt without a kind may be a coarse one, which packs loosely."""
    coarse = ingredient("salt_kosher")
    return coarse.cup_low_g * volume_ml.low / _CUP_ML


def _fluid(case: Case, mass: Stated, volume: Stated) -> bool:
    """Whether the ounces fit the volume as fluid ounces."""
    as_fluid = mass.span.times(kitchen_units()["fl oz"].size)
    return as_fluid.gap(volume.millilitres(case.market)) == 1.0


def _ounces(entry: Entry, mass: Stated, volume: Stated) -> Finding:
    return Finding(
        "ounces-of-what",
        "unlikely",
        f"{entry.name}: {mass.printed} is right for {volume.printed} only as fluid "
        "ounces, and reads as a weight",
        (entry.quote,),
        ((f"1 fl oz is 29.57 ml of anything; {volume.printed} as fluid ounces fits, "
         "as ounces of weight it does not"),),
        "Write fl oz, or give the weight in grams.",
        "medium",
        "UCUM: fluid ounce 29.5735 mL, ounce 28.3495 g",
    )  # fmt: skip


def _working(
    entry: Entry, mass: Stated, volume: Stated, stated: Interval, band: Interval
) -> tuple[str, ...]:
    grams = f"{mass.printed} stands for {stated.text('g')}"
    usual = f"{volume.printed} of {entry.name} usually weighs {band.text('g')}"
    middle = mass.grams_exact()
    size = kitchen_units()[volume.amount.unit or "ml"].size
    per_cup = (middle.low + middle.high) / 2 / (volume.value * size) * _CUP_ML
    return (grams, usual, f"as printed, 1 US cup would weigh {per_cup:.0f} g")


def _mend(case: Case, entry: Entry, mass: Stated, volume: Stated) -> str:
    band, _ = _usual(case, entry, volume)
    assert band is not None
    exact = mass.grams_exact()
    grams = (exact.low + exact.high) / 2
    middle = weigh(volume.amount, entry.line.ingredient, case.market)
    assert middle is not None
    unit = volume.amount.unit or "ml"
    size = volume.value * kitchen_units()[unit].size * grams / middle.mid_g
    return (
        f"If {mass.printed} is right, write about "
        f"{in_kitchen_words(size, unit, case.market)}; if "
        f"{volume.printed} is right, write about {middle.mid_g:.3g} g. Weigh it once."
    )


def _confidence(
    case: Case, entry: Entry, gap: float, far: float
) -> "Literal['high', 'medium', 'low']":
    del case
    if LOOSE.search(entry.clean) or entry.line.role in _LOOSE_ROLES:
        return "low"
    return "high" if gap > far else "medium"


def _pairs(case: Case, flagged: set[int]) -> Iterator[Finding]:
    """The same ingredient with two weights of a cup that no rounding explains."""
    clean = [
        e for i, e in enumerate(case.entries) if i not in flagged and _has_density(e)
    ]
    for one, other in combinations(clean, 2):
        if one.line.ingredient != other.line.ingredient:
            continue
        if _how(one) != _how(other):
            continue
        gap = _cup_grams(one).gap(_cup_grams(other))
        if gap > 1.0:
            yield _two_cups(one, other, gap)


def _has_density(entry: Entry) -> bool:
    known = is_ingredient(entry.line.ingredient) and bool(entry.masses)
    loose = entry.line.role in _LOOSE_ROLES or _HEAPED.search(entry.clean)
    return known and bool(entry.volumes) and not loose and not LOOSE.search(entry.clean)


def _how(entry: Entry) -> frozenset[str]:
    """Words on how the ingredient is prepared: packed, melted, chopped."""
    words = re.findall(
        r"(?i)\b(packed|loose\w*|melted|softened|chopped|grated|ground|spooned|"
        r"scooped|coarse|fine|flak\w+|cold|soft)\b",
        entry.clean,
    )
    return frozenset(w.casefold() for w in words)


def _cup_grams(entry: Entry) -> Interval:
    mass, volume = entry.masses[0].grams(), entry.volumes[0]
    size = kitchen_units()[volume.amount.unit or "ml"].size / _CUP_ML
    return Interval(
        mass.low / (volume.span.high * size), mass.high / (volume.span.low * size)
    )


def _two_cups(one: Entry, other: Entry, gap: float) -> Finding:
    sure = gap > 1.1  # our own: a cook's own cups differ by less in one recipe
    return Finding(
        "two-weights-of-a-cup",
        "conflict" if sure else "unlikely",
        f"{one.name}: the recipe has two weights of one cup of it",
        (one.quote, other.quote),
        tuple(
            f"{e.masses[0].printed} for {e.volumes[0].printed} is "
            f"{_cup_grams(e).text('g')} a US cup"
            for e in (one, other)
        ),
        "Give both lines by one weight of a cup, or leave the cups out.",
        "high" if sure else "medium",
        "the recipe's own lines; nothing else is assumed",
    )


def _with_evidence(case: Case, entry: Entry, found: Finding) -> Finding:
    """A clash, beside what the recipe itself prints elsewhere."""
    for other in case.entries:
        same = other.line.ingredient == entry.line.ingredient
        if other is entry or not same or not _has_density(other):
            continue
        own = _cup_grams(other)
        if found.identifier != "weight-against-volume" or not _has_density(entry):
            continue
        gap = own.gap(_cup_grams(entry))
        if gap > 1.0:
            line = (
                f"elsewhere the recipe has {other.masses[0].printed} for "
                f"{other.volumes[0].printed}, {own.text('g')} a US cup"
            )
            return replace(
                found, kind="conflict", confidence="high",
                quotes=(*found.quotes, other.quote), working=(*found.working, line),
            )  # fmt: skip
    return found
