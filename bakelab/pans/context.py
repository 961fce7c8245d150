"""Whether words that look like a pan are a pan to bake in."""

from __future__ import annotations

from bakelab.pans.findings import Findings
from bakelab.pans.measures import Token
from bakelab.pans.words import (
    BAKED,
    BETWEEN,
    HOLDING,
    NEGATION,
    READY,
    SHAPING,
    STOVE,
    WATER,
)

__all__ = ["is_about_a_pan", "is_negated"]

_SMALLEST_ROUND_CM = 12.0


def is_negated(found: list[Token], first: int) -> bool:
    """`not a 9x13 pan`, `instead of a loaf tin`, `kein Blech`."""
    i = first - 1
    while i >= 0 and i >= first - 5:
        token = found[i]
        if token.text in NEGATION:
            return True
        if token.text not in BETWEEN and token.text not in "\"'’“(":
            return False
        i -= 1
    return False


def is_about_a_pan(
    text: str, found: list[Token], first: int, head: int, last: int, findings: Findings
) -> bool:
    """Whether the noun at `head` with its findings is a pan to bake in."""
    if _is_of_water(found, first, head) or _is_another_thing(found, head):
        return False
    need, word = findings.head.need, found[head].text
    if word in ("oven", "ovens"):
        return "dutch" in findings.sides
    if word in ("form", "formen") and not text[found[head].start].isupper():
        return bool(findings.shape_words & {"loaf", "springform"})
    if need == "dough":
        return _is_round_pan(found, first, head, findings)
    if need == "oven":
        return _is_in_oven(found, head, last, findings)
    if word in ("cercle", "cercles") and _shaped(found, first):
        return False
    if need == "":
        return True
    return _has_enough(findings, need)


def _shaped(found: list[Token], first: int) -> bool:
    return bool(SHAPING & {t.text for t in found[max(0, first - 6) : first]})


def _has_enough(findings: Findings, need: str) -> bool:
    if need == "shape":
        return _has_shape(findings)
    told = findings.shape_words
    if findings.weight and not told:
        return False
    beside = set(findings.sides)
    sized = findings.clusters or findings.labelled or findings.capacity
    cookware = {"oven", "ovenproof", "ovensafe"} & beside
    named = told - {"rectangle", "skillet"}
    if sized or findings.wells or named or cookware:
        return True
    english = findings.head.language == "en"
    return bool(READY & beside) and english and not findings.definite


def _has_shape(findings: Findings) -> bool:
    """Whether a dish, a plate or a sheet is told to be one for baking."""
    told, beside = findings.shape_words, set(findings.sides)
    if findings.noun.startswith("plate"):
        return "pie" in told
    if findings.noun.startswith("sheet"):
        return bool(beside & {"baking", "cookie", "half", "quarter", "full"})
    if findings.clusters or "baking" in beside:
        return True
    if findings.noun.startswith(("dish", "casserole")):
        return bool(findings.capacity or told - {"rectangle", "loaf"})
    return bool(told - {"loaf"} or "oven" in beside)


def _is_of_water(found: list[Token], first: int, head: int) -> bool:
    """`pan of water`, `a pan filled with ice`, `the water pan`."""
    if first > 0 and found[first - 1].text in WATER:
        return True
    near = [t.text for t in found[head + 1 : head + 9]]
    for i, word in enumerate(near):
        if word in (".", ",", ";") or word in ("and", "und", "et", "then"):
            return False
        if word in WATER:
            return any(w in HOLDING for w in near[:i])
    return False


def _is_another_thing(found: list[Token], head: int) -> bool:
    """`tin foil`, `sheet of parchment`, `tin of tomatoes`, `pan juices`."""
    after = [t.text for t in found[head + 1 : head + 3]]
    if not after:
        return False
    if after[0] in (
        "foil",
        "juices",
        "drippings",
        "soap",
        "towel",
        "spray",
        "cake",
        "pizza",
        "sauce",
        "cleaner",
    ):
        return True
    if found[head].text in ("sheet", "sheets", "tin", "tins", "plate", "pot"):
        return after[0] == "of" and (len(after) < 2 or not after[1].isdigit())
    return False


def _is_round_pan(
    found: list[Token], first: int, head: int, findings: Findings
) -> bool:
    """`two 8" rounds`: sizes of cake pans, not of rolled dough."""
    if not findings.clusters or len(findings.clusters[-1][0].values) > 1:
        return False
    group = findings.clusters[-1][0]
    if not group.unit or group.in_cm()[0] < _SMALLEST_ROUND_CM:
        return False
    before = [t.text for t in found[max(0, first - 12) : first]]
    after = [t.text for t in found[head + 1 : head + 3]]
    if SHAPING & set(before) or "dough" in after or "of" in after[:1]:
        return False
    if before[-1:] == ["into"] and {"divide", "split"} & set(before):
        return False
    return found[head].text.endswith("s") and findings.count not in (None,)


def _is_in_oven(found: list[Token], head: int, last: int, findings: Findings) -> bool:
    """A skillet or pot that goes into the oven, not one on the stove."""
    around = {t.text for t in found[max(0, head - 12) : min(len(found), last + 6)]}
    on_stove = bool(around & STOVE)
    if findings.clusters or findings.capacity:
        if on_stove:
            findings.notes.append("it may only stand on the stove")
        return True
    if on_stove:
        return False
    told = {"cast", "dutch", "oven", "ovenproof", "ovensafe"} & set(findings.sides)
    return bool(told or around & BAKED)
