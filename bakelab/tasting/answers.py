"""Answers as they come off the slips: codes, checked against the slip at once."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from bakelab.errors import BakelabError
from bakelab.tasting.session import Tasting

__all__ = ["Answer", "answers_from_data", "read_answer", "read_answers"]

_PLACES = re.compile(r"[\s,;>]+")
_TIE = re.compile(r"\s*[=/]\s*")
_LINE = re.compile(r"\s*(?:slip\s*)?(\d{1,3})\s*[:;,.\s]\s*(\S.*)", re.IGNORECASE)
_DIGITS = str.maketrans("０１２３４５６７８９", "0123456789")
_LONGEST = 2000


@dataclass(frozen=True)
class Answer:
    """What one taster answered.

    `places` holds the codes, first place first; samples that share a place stand
    together. In all tests but ranking it is the one code that was chosen.
    """

    taster: int
    places: tuple[tuple[str, ...], ...]
    remark: str = ""

    @property
    def text(self) -> str:
        """As it is typed: `417`, or `417 302=655 918`."""
        return " ".join("=".join(place) for place in self.places)

    def to_data(self) -> dict[str, str]:
        """Plain data for the bake book."""
        return {"answer": self.text, "remark": self.remark}


def read_answer(tasting: Tasting, taster: int, text: str, remark: str = "") -> Answer:
    """The answer of one slip, checked against its codes.

    Parameters
    ----------
    tasting : Tasting
    taster : int
        Number of the slip.
    text : str
        The code that was ticked; in a ranking all codes, first place first, apart
        by spaces, commas or `>`, with `=` between those that share a place.
    remark : str
        What the taster wrote beside it.

    Raises
    ------
    BakelabError
        In one sentence: what was got, and which codes the slip has.

    Examples
    --------
    >>> from bakelab.tasting import plan_tasting
    >>> plan = plan_tasting("triangle", ["house", "less salt"], tasters=6, seed=4)
    >>> read_answer(plan, 1, "417")
    Traceback (most recent call last):
    ...
    bakelab.errors.BakelabError: code 417 is not on slip 1: its codes are ...
    """
    choices = tasting.choices(taster)
    places = _places(text)
    given = [code for place in places for code in place]
    if not given:
        raise BakelabError(f"slip {taster} has no answer yet; type {_wanted(tasting)}")
    for code in given:
        _require_code(tasting, taster, code)
    twice = next((code for code in given if given.count(code) > 1), None)
    if twice:
        raise BakelabError(f"code {twice} stands twice in the answer of slip {taster}")
    if not tasting.kind.ranks and len(given) > 1:
        raise BakelabError(
            f"got {len(given)} codes for slip {taster}; give the one that was ticked "
            "(a taster who is not sure guesses)"
        )
    if tasting.kind.ranks and len(given) < len(choices):
        left = ", ".join(code for code in choices if code not in given)
        raise BakelabError(
            f"the ranking of slip {taster} lacks {left}; put every code in order, with "
            "= between those that share a place"
        )
    return Answer(taster, places, remark.strip()[:_LONGEST])


def read_answers(tasting: Tasting, text: str) -> dict[int, Answer]:
    """Answers of many slips, one a line: the number of the slip, then the codes.

    Raises
    ------
    BakelabError
        With the number of the line; nothing is taken then.
    """
    found: dict[int, Answer] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        match = _LINE.fullmatch(line.translate(_DIGITS).rstrip())
        if not match:
            raise BakelabError(
                f"line {number} reads {line.strip()[:40]!r}; write the number of the "
                f"slip, a colon and {_wanted(tasting)}, such as 6: 417"
            )
        taster = int(match[1])
        try:
            answer = read_answer(tasting, taster, match[2])
        except BakelabError as error:
            raise BakelabError(f"line {number}: {error}") from None
        if found.get(taster, answer) != answer:
            raise BakelabError(
                f"line {number}: slip {taster} stands there twice with two answers; "
                "leave one"
            )
        found[taster] = answer
    return found


def answers_from_data(
    tasting: Tasting, data: Mapping[str, Mapping[str, Any]]
) -> Mapping[int, Answer]:
    """Answers as the bake book holds them, checked again; taken back ones left out."""
    found = {}
    for taster, kept in data.items():
        text = str(kept.get("answer", ""))
        if text:
            number = int(taster)
            remark = str(kept.get("remark", ""))
            found[number] = read_answer(tasting, number, text, remark)
    return MappingProxyType(found)


def _places(text: str) -> tuple[tuple[str, ...], ...]:
    plain = _TIE.sub("=", text.translate(_DIGITS).strip().strip(".,;>="))
    parts = [part for part in _PLACES.split(plain) if part]
    return tuple(tuple(code for code in part.split("=") if code) for part in parts)


def _require_code(tasting: Tasting, taster: int, code: str) -> None:
    choices = tasting.choices(taster)
    if code in choices:
        return
    shown = code if len(code) <= 20 else f"{code[:20]}…"
    codes = ", ".join(choices)
    if code in tasting.slip(taster).codes:
        raise BakelabError(
            f"code {code} is the reference of slip {taster}: choose from {codes}"
        )
    owner = next((s.taster for s in tasting.slips if code in s.codes), None)
    hint = f" (it is on slip {owner})" if owner else ""
    raise BakelabError(
        f"code {shown} is not on slip {taster}: its codes are {codes}{hint}"
    )


def _wanted(tasting: Tasting) -> str:
    return "the codes in order" if tasting.kind.ranks else "the code that was ticked"
