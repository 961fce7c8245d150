"""Packets and cakes: what a bare `1 Backpulver` or `1 Päckchen Hefe` stands for."""

import re
from dataclasses import dataclass, replace

from bakelab.ingredients import Match
from bakelab.reading.phrase import Phrase
from bakelab.reading.weights import Weighed

__all__ = ["Packed", "national", "packed"]

_SOLD_IN_PACKETS = ("baking_powder", "sugar_vanilla", "yeast_active_dry",
                    "yeast_instant", "pudding_powder")  # fmt: skip
_MOST = 4  # a larger bare number is more likely a weight without its unit; our own
_DRY = ("yeast_active_dry", "yeast_instant")
_FRESH = re.compile(r"(?i)\b(?:fresh|compressed|frisch\w*|fraîches?|fraiches?)\b")
_SAID_DRY = re.compile(r"(?i)\b(?:dry|dried|instant)|trocken|sèche|déshydrat")
_BREAD_YEAST = re.compile(r"(?i)boulang|bière|fraîche|fraiche|sèche|déshydrat|à pain")
# What French packets hold where German and American ones differ; common practice, no
# source. The others are in the table of ingredients.
_FRENCH_G = {"baking_powder": 11.0, "sugar_vanilla": 7.5}


@dataclass(frozen=True)
class Packed:
    """A line with its packet: what is in it, what was assumed, what is in doubt."""

    phrase: Phrase
    match: Match | None
    assumed: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


def packed(phrase: Phrase, match: Match | None, language: str) -> Packed:
    """The line with the packet, cake or kind of yeast that a baker would take.

    A bare count of what is sold in packets is packets, in German and French
    lines. A packet of yeast is dry yeast, a cake of yeast is fresh yeast,
    unless the line says otherwise.
    """
    amount = phrase.amount
    if match is None or amount is None or phrase.each is not None:
        return Packed(phrase, match)
    plain = amount.unit is None and amount.size is None and not phrase.same
    if plain and language in ("de", "fr") and match.key in _SOLD_IN_PACKETS:
        if amount.high > _MOST:
            return Packed(phrase, match)
        note = "a bare number of it was taken for packets"
        return Packed(replace(phrase, amount=replace(amount, unit="packet")), match,
                      (note,))  # fmt: skip
    if amount.unit == "packet" and match.key == "yeast_fresh":
        return _packet_of_yeast(phrase, match, language)
    dry = match.key in _DRY and _SAID_DRY.search(phrase.text) is None
    if amount.unit == "cake" and dry:
        note = "a cake of yeast was taken for fresh yeast"
        return Packed(phrase, replace(match, key="yeast_fresh"), (note,))
    return Packed(phrase, match)


def _packet_of_yeast(phrase: Phrase, match: Match, language: str) -> Packed:
    assert phrase.amount is not None
    if _FRESH.search(phrase.text):
        cake = replace(phrase.amount, unit="cake")
        return Packed(replace(phrase, amount=cake), match,
                      ("a packet of fresh yeast was taken for a cake",))  # fmt: skip
    dry = replace(match, key="yeast_active_dry", certain=True)
    note = "a packet of yeast was taken for dry yeast"
    if language == "fr" and not _BREAD_YEAST.search(phrase.text):
        doubt = f"{note}; `levure` alone may also be baking powder (levure chimique)"
        return Packed(phrase, dry, (), (doubt,))
    return Packed(phrase, dry, (note,))


def national(
    weighed: Weighed | None, phrase: Phrase, key: str | None, language: str
) -> Weighed | None:
    """The weight of a packet as it is sold where the language is spoken."""
    amount, grams = phrase.amount, _FRENCH_G.get(key or "")
    counted = weighed is not None and weighed.basis == "count"
    packet = amount is not None and amount.unit == "packet"
    if not (counted and packet and language == "fr" and grams):
        return weighed
    assert weighed is not None
    assert amount is not None
    if "own weight" in weighed.assumed:
        return weighed
    low, high = float(amount.low) * grams, float(amount.high) * grams
    told = f"{grams:g} g per French packet (common practice, no source)"
    return Weighed(low, (low + high) / 2, high, "count", told)
