"""Short pan texts: `loaf 9 x 5 x 2.75 in, base 8 x 4 in, lidded`, both ways."""

from __future__ import annotations

import re
from dataclasses import replace

from bakelab.errors import PanError
from bakelab.pans.capacity import Told, capacity_told
from bakelab.pans.draft import Draft, finish
from bakelab.pans.pan import Pan
from bakelab.pans.spec_reader import draft_of
from bakelab.pans.table import named_pan

__all__ = ["pan"]

LONGEST_SPEC = 4000
_NEGATIVE = re.compile(r"(?:[x×*]\s*|\bby\s+)[-−]\s*[\d.]")


def pan(text: str | Pan) -> Pan:
    """Read a pan from a short text, or the name of one in :func:`pans`.

    Parameters
    ----------
    text : str
        Such as ``"loaf 9 x 5 x 2.75 in"``, ``"23x13x7 cm loaf, lidded"``,
        ``"round 20 x 5 cm"``, ``"2 loaf 8.5x4.5x2.5 in"``, ``"loaf 30 x 11 x
        7 cm, base 28 x 9 cm"``, ``"muffin 12 x 7 cm / base 5 x 3 cm deep"``
        (12 wells), ``"loaf 23 x 13 x 7 cm, holds 1600 g water at 20 C"``, a
        key such as ``"loaf_9x5"``, or a phrase such as ``"Springform 26 cm"``.

    Returns
    -------
    Pan
        Measures that the text does not give are taken from the closest
        usual pan, and `Pan.assumed` says so.

    Raises
    ------
    PanError
        In one sentence, if there is no unit or a measure is impossible.

    Examples
    --------
    >>> print(f"{pan('loaf 9 x 5 x 3 in').volume:.0f~P}")
    2212 cm³
    """
    if isinstance(text, Pan):
        return text
    if not isinstance(text, str):
        raise TypeError(
            f"a pan is written as text, such as 'loaf 9 x 5 x 3 in'; got {text!r}"
        )
    known = named_pan(text) if len(text) < 200 else None
    if known is not None:
        return known
    draft = draft_of(_usable(text))
    if draft.trouble and not draft.unknown:
        raise PanError(draft.trouble)
    if draft.unknown or not (draft.shape or draft.rim or draft.capacity_cm3):
        return _from_prose(text, draft)
    return finish(draft, text)


def _usable(text: str) -> str:
    if _NEGATIVE.search(text):
        raise PanError(
            f"{_shown(text)} has a measure below zero; give inside measures above 0"
        )
    if not text.strip():
        raise PanError("the pan is empty; write it as 'loaf 9 x 5 x 3 in'")
    if len(text) > LONGEST_SPEC:
        raise PanError(
            f"a pan of {len(text)} letters is no pan; write it as 'loaf 9 x 5 x 3 in'"
        )
    return text


def _shown(text: str) -> str:
    bare = text.strip()
    return repr(bare if len(bare) <= 60 else bare[:57] + "...")


def _from_prose(text: str, draft: Draft) -> Pan:
    from bakelab.pans.phrases import pan_in_text

    told = capacity_told(text)
    if told is not None:
        return _measured(text, told)
    mentions = pan_in_text(text)
    if len(mentions) == 1 or (mentions and mentions[0].certain):
        return mentions[0].pan
    doubt = f"; {draft.unknown!r} is not understood" if draft.unknown else ""
    raise PanError(
        f"{_shown(text)} is not a pan{doubt}; write shape, measures and unit, "
        "such as 'loaf 9 x 5 x 3 in' or 'round 20 x 5 cm'"
    )


def _measured(text: str, told: Told) -> Pan:
    """The pan with its capacity as a bare size beside the noun."""
    try:
        return replace(pan(f"{told.rest} {told.capacity_cm3!r} ml"), text=text.strip())
    except PanError:
        raise PanError(
            f"{_shown(text)} says what the pan holds, but {_shown(told.rest)} is not "
            "understood; write both, such as 'loaf, holds 1600 g water at 20 C'"
        ) from None
