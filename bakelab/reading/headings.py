"""What a heading in a recipe opens: a section, a stage, a list of its own."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from bakelab.tables import read_rows

__all__ = ["Heading", "heading", "is_total", "meta_fact"]

_COLUMNS = {
    "kind": str, "value": str, "en": str, "de": str, "fr": str, "other": str
}  # fmt: skip
_LEAD = re.compile(
    r"(?i)^(?:(?:for|to make|make|the|für|zum|zur|pour|para|per|voor|till|do|na|"
    r"den|die|das|dem|le|la|les|l['’]|il|el|step|part|teil|étape)\b\s*|\d+[.)]?\s*)+"
)
_TAIL = re.compile(r"(?i)\s*(?:\(.*\)|\[.*\]|[-–—].*|:.*|\bin step.*|\d+)\s*$")
_MARKS = " \t#*_=~-–—:.>|•"
_EDGE = " \t#*_=~-–—:.>|•()[]"
_BATCH = re.compile(
    r"(?i)\b(?:for|makes?|für|ergibt|pour|per|para|yields?)?\s*"
    r"(\d+|one|two|three|four|half|single|double|triple|ein|eine|zwei|drei|un|une|deux|"
    r"small|large|big|klein\w*|groß\w*|petit\w?|grand\w?)\s+"
    r"(?:small |large |big |medium )?"
    r"(loaf|loaves|breads?|batch|recipe|rolls|buns|pizzas?|balls?|brote?|laibe?|"
    r"brötchen|pains?|boules?|pans?|panes|pagnott\w+)\b"
)


@dataclass(frozen=True)
class Heading:
    """`kind` is section, stage, outside, system, batch or group.

    `word` is the recipe's own word for what `value` names.
    """

    kind: str
    value: str
    system: str = ""
    word: str = ""

    @property
    def stage(self) -> str:
        """The stage's name: the recipe's own word, "dough" for any plain one."""
        if self.value == "dough" or self.word.startswith("for "):
            return self.value
        return self.word.removeprefix("the ") or self.value


@lru_cache(maxsize=4096)
def heading(text: str) -> Heading | None:
    """What a heading's text opens; None if it is no heading that is known.

    Examples
    --------
    >>> found = heading("For the dough:")
    >>> found.kind, found.stage
    ('stage', 'dough')
    """
    whole = text.strip(_MARKS).casefold()
    system = _system(whole)
    for form, led in _forms(whole):
        found = _words().get(form)
        if (
            found is not None
            and not (led and found[0] == "section")
            and found[0]
            not in (
                "meta",
                "total",
                "system",
            )
        ):
            return Heading(*found, system, form)
    if system and len(whole) < 40:
        return Heading("system", system, system)
    if len(whole) < 60 and _BATCH.search(whole):
        return Heading("batch", whole)
    return _inner(whole, system)


def meta_fact(text: str) -> tuple[str, str] | None:
    """The fact on a line such as ``Cook time: 40 min``: what, and its text."""
    head, colon, tail = text.partition(":")
    word = head.strip(_EDGE).casefold()
    found = _words().get(word)
    if colon and found is not None and found[0] == "meta" and tail.strip():
        return found[1], tail.strip()
    if colon and word in _bake_words() and _LASTS.match(tail):
        return "bake", tail.strip()
    if not colon and _YIELD.match(text.strip()):
        return "yield", text.strip()
    if not colon and _MAKES.match(text.strip()):
        return "yield", text.strip()
    if not colon and _TIME.match(text.strip()):
        return "time", text.strip()
    return None


def is_total(label: str) -> bool:
    """Whether a row's name says that it is the sum of the others."""
    found = _words().get(label.strip(_EDGE).casefold())
    return found is not None and found[0] == "total"


_YIELD = re.compile(
    r"(?i)^(makes|serves|yields?|ergibt|für \d+ (portionen|personen|brote|stück|"
    r"laibe?)|pour \d+ (personnes|pains|parts|portions|baguettes)|rinde|dosi per)"
    r"\b.{0,60}$"
)


_LASTS = re.compile(
    r"(?i)^\s*(?:env(?:iron|\.)|ca\.|about|etwa|~|\s)*\d{1,3}\s*(?:(?:-|–|à|bis|to)\s*"
    r"\d{1,3}\s*)?(?:min\w*\.?|mn|h|heures?|std\.?|stunden?|hours?)(?!\w)"
)
_MAKES = re.compile(
    r"(?i)^(?:\d+|one|two|three|ein|zwei|un|deux)(?:\s*[-–]\s*\d+)?\s+"
    r"(?:(?:large|medium|small|standard|big|round|große[sr]?|kleine[sr]?|grands?|"
    r"petits?)\s+)?(?:loaf|loaves|rolls|buns|servings?|portions?|pizzas|brote?|laibe?|"
    r"brötchen|portionen|stück|pains|parts|personnes)\.?$"
)
_TIME = re.compile(
    r"(?i)^(?:\d+(?:[.,]\d+)?\s*(?:hours?|h|std\.?|stunden?|heures?|minutes?|min\.?|"
    r"mins|minuten)\s*){1,2}$"
)


def _forms(whole: str) -> list[tuple[str, bool]]:
    """The heading as it is and shortened; True where `for the` was taken off."""
    tailless = _TAIL.sub("", whole).strip(_EDGE)
    forms = [(whole.strip(_EDGE), False), (tailless, False)]
    for form in (whole, tailless):
        led = _LEAD.sub("", form).strip(_EDGE)
        forms.append((led, not re.match(r"(the|die|das|la|les) ", form)))
    return [f for f in dict.fromkeys(forms) if f[0]]


def _system(whole: str) -> str:
    inside = re.findall(r"\(([^)]*)\)", whole)
    parts = [whole, *inside, *re.split(r"\s*[-–—:,/]\s*", whole)]
    for part in parts:
        if any(ch.isdigit() for ch in part):
            continue
        trimmed = _LEAD.sub("", part).strip(_EDGE)
        for word in (trimmed, trimmed.removesuffix(" version").removesuffix(" units")):
            found = _words().get(word)
            if found is not None and found[0] == "system":
                return found[1]
    return ""


def _inner(whole: str, system: str) -> Heading | None:
    """A heading that holds a known one: `levain (12 h before)`, `rye sponge`."""
    if len(whole) > 50:
        return None
    words = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", whole)
    for size in (3, 2, 1):
        for start in range(len(words) - size, -1, -1):
            form = " ".join(words[start : start + size])
            found = _words().get(form)
            if found is not None and found[0] in ("stage", "outside"):
                return Heading(*found, system, form)
    return None


@cache
def _bake_words() -> frozenset[str]:
    """Words that name a baking time, also those that name a part of the method."""
    rows = read_rows("headings", _COLUMNS)
    bake = [r for r in rows if (r["kind"], r["value"]) == ("meta", "bake")]
    words = (w for r in bake for c in ("en", "de", "fr", "other")
             for w in r[c].split("|"))  # fmt: skip
    return frozenset(filter(None, words))


@cache
def _words() -> Mapping[str, tuple[str, str]]:
    words: dict[str, tuple[str, str]] = {}
    for row in read_rows("headings", _COLUMNS):
        for column in ("en", "de", "fr", "other"):
            for word in row[column].split("|"):
                if word:
                    words.setdefault(word, (row["kind"], row["value"]))
    return words
