"""A stated temperature of the centre that is not that of a baked bread."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case
from bakelab.checking.model import Finding, Kind, Quote

__all__ = ["find_core"]

_CORE = re.compile(
    r"(?i)\b(?:internal(?:ly)?|core|centre|center|middle|inside|probe|"
    r"thermometer|kerntemperatur|im kern|à cœur|a coeur|au centre)\b"
)
_VALUE = re.compile(
    r"(?i)(?P<low>\d{2,3})(?:\s*(?:-|–|—|to|bis|à)\s*(?P<high>\d{2,3}))?\s*"
    r"(?:°|º|˚|degrees?|deg\.?|grad|degrés?)?\s*"
    r"(?P<unit>celsius|fahrenheit|C|F|℃|℉)(?![a-zà-ÿ])"
)
_OTHER = re.compile(
    r"(?i)\b(?:cool\w*|drop\w*|water|milk|liquid|dough temp\w*|doughs?|desired|yeast|"
    r"starter|levain|proof\w*|prov\w*|rise[sn]?|rising|ferment\w*|syrup|sugar|custard|"
    r"butter|oil|freez\w*|thaw\w*|oven|preheat\w*|grill|fridge|room|filling|meat|"
    r"sausages?|chicken|egg wash|wasser|milch|teigtemperatur|abkühl\w*|ofen|hefe|"
    r"eau|lait|refroidi\w*|four|pâte|scald\w*|soaker|roux|tangzhong|caramel\w*|"
    r"candy|jam|chocolate|curd|cream|glaze|lye|fat|fry\w*|fried|deep[- ]fr\w*)\b"
)
_BAKED = re.compile(
    r"(?i)\b(?:bak\w+|done|ready|loaf|loaves|bread|rolls|buns|crumb|brown\w*|reach\w*|"
    r"reads?|registers?|back\w*|gebacken|fertig|brot|gar|cuit\w*|cuire|cuisson|pain)\b"
)
_WORDS = 8  # before a temperature that tell what it is of; our own
_NEAR = 70  # characters from the word for the inside to its temperature; our own
_BEHIND = re.compile(
    r"(?i)\s*(?:\([^)]*\)\s*)?"
    r"(?:in the|at the|at its|im|in der|au|à|inside|internal|core)\s*"
    r"(?:centre|center|core|middle|kern|mitte|cœur|coeur|temperature|the)?\b"
)
# A thermometer is read in many things: with it alone, the bread must be named.
_TOOL = re.compile(r"(?i)probe|thermometer|inside|middle|centre|center")
_BREAD = re.compile(
    r"(?i)\b(?:internal|core|loaf|loaves|breads?|rolls?|buns?|crumb|bak\w+|done|brote?|"
    r"kern\w*|gebacken|pains?|cuit\w*|brioches?)\b"
)
_LOWEST = 45.0  # below it, it is the temperature of a dough or of a cooled loaf
_EGG_C = 71.0  # 160 F
_CRUMB_C = 75.0  # below it a centre is still dough; common practice, no source
_USUAL_C = 85.0  # the lowest that breads are taken out at; common practice, no source
_BOILS_C = 100.5
_RICH_PCT = 5.0  # egg or dairy of the flour; our own choice
_EGG_SOURCE = (
    "egg dishes 160 °F (71 °C): safe minimum internal temperatures, Partnership for "
    "Food Safety Education 2016, as printed by Mississippi State University Extension"
)
_LOCAL = "Follow your local food-safety rules; they may ask for more, and for a time."


def find_core(case: Case) -> Iterator[Finding]:
    """Findings `core-temperature`: below what a crumb needs, or above boiling.

    Only a sentence that names the inside of the bread and its end counts.
    The centre of a bread that is still moist does not pass the boiling
    point; below 75 °C it is dough, and with egg or dairy 71 °C is a limit
    of food safety besides.
    """
    for quote in case.prose:
        text = quote.text[:4000]
        if not _CORE.search(text):
            continue
        for sentence in re.split(r"(?<=[.;!?])\s+|,\s+(?=then\b|and then\b)", text):
            yield from _sentence(case, quote, sentence)


def _sentence(case: Case, quote: Quote, sentence: str) -> Iterator[Finding]:
    core = _CORE.search(sentence)
    if core is None or not _BAKED.search(sentence):
        return
    if _TOOL.fullmatch(core[0]) and not _BREAD.search(sentence):
        return
    for match in _VALUE.finditer(sentence):
        clause = _clause(sentence, match)
        if not _is_of_core(sentence, match) or _OTHER.search(clause):
            continue
        found = _finding(case, quote, match)
        if found is not None:
            yield found
            return


def _is_of_core(sentence: str, match: re.Match[str]) -> bool:
    """Whether a temperature is what the words around it say of the inside."""
    before = sentence[max(0, match.start() - _NEAR) : match.start()]
    core = list(_CORE.finditer(before))
    if core and not _VALUE.search(before[core[-1].end() :]):
        return True
    after = sentence[match.end() : match.end() + 24]
    return _BEHIND.match(after) is not None


def _clause(sentence: str, match: re.Match[str]) -> str:
    """The words around a temperature, up to the next comma or bracket."""
    before = re.split(r"[,(;:]|\band then\b", sentence[: match.start()])
    near = before[-1] if len(before[-1].split()) > 2 else "".join(before[-2:])
    words = _VALUE.split(near)[-1].split()[-_WORDS:]
    return " ".join(words) + match[0] + re.split(r"[,();:]", sentence[match.end() :])[0]


def _celsius(value: float, unit: str) -> float:
    return (value - 32) / 1.8 if unit[0].upper() in "F℉" else value


def _finding(case: Case, quote: Quote, match: re.Match[str]) -> Finding | None:
    low = _celsius(float(match["low"]), match["unit"])
    high = _celsius(float(match["high"] or match["low"]), match["unit"])
    printed = match[0].strip()
    if low > _BOILS_C:
        return _too_hot(quote, printed, low, match)
    if not _LOWEST <= high < _USUAL_C:
        return None
    return _too_cool(case, quote, printed, high)


def _too_cool(case: Case, quote: Quote, printed: str, high: float) -> Finding:
    rich = _rich(case)
    unsafe = high < (_EGG_C if rich else _CRUMB_C)
    kind: Kind = "conflict" if unsafe or high < _CRUMB_C else "unlikely"
    what = f", with {' and '.join(rich)} in it" if rich and high < _EGG_C else ""
    return Finding(
        "core-temperature",
        kind,
        f"{printed} in the centre is not a baked bread{what}"
        if kind == "conflict"
        else f"{printed} in the centre is less than breads are usually baked to",
        (quote,),
        (f"{high:.0f} °C; breads are taken out at 90 to 99 °C, rich ones from 85 °C",
         *((f"egg and dairy: 71 °C (160 °F) at the least, here {high:.0f} °C",)
           if rich and high < _EGG_C else ())),
        f"Give 90 to 96 °C (195 to 205 °F), or say what it is the temperature of. "
        f"{_LOCAL}",
        "high" if unsafe else "medium",
        _EGG_SOURCE if rich else "usual core temperatures of the trade: common "
        "practice, no source",
    )  # fmt: skip


def _too_hot(
    quote: Quote, printed: str, celsius: float, match: re.Match[str]
) -> Finding | None:
    as_f = match["unit"][0].upper() in "C℃" and float(match["low"]) <= 212
    hint = f"; as {match['low']} °F it would be usual" if as_f else ""
    return Finding(
        "core-temperature",
        "conflict",
        f"{printed} in the centre is above boiling{hint}",
        (quote,),
        (f"{celsius:.0f} °C; a moist crumb does not pass 100 °C",),
        "Check the scale: °F or °C.",
        "high",
        "the crumb heads for 100 °C and stays there: Zanoni, Peri & Pierucci, J. Food "
        "Eng. 19 (1993) 383-398, abstract",
    )


def _rich(case: Case) -> list[str]:
    formula = case.formula
    if formula is None or formula.flour_g <= 0:
        return []
    return [
        role
        for role in ("egg", "dairy")
        if 100 * formula.role_g(role) >= _RICH_PCT * formula.flour_g
    ]
