"""What a reader needs and does not find, and what can be read in two ways."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding

__all__ = ["find_doubts", "find_missing", "find_repeats"]

_UNSALTED = re.compile(
    r"(?i)\b(salt[- ]?free|no salt|without salt|saltless|unsalted bread|salzfrei|"
    r"ohne salz|sans sel|tuscan|toscan\w*)\b"
)
_SALTY = re.compile(
    r"(?i)\b(salted butter|cheese|olives?|bacon|feta|soy sauce|parmesan)\b"
)
_LETTER = re.compile(r"(?<![\w°])[\d½⅓⅔¼¾⅛/ ]*[\d½⅓⅔¼¾⅛]\s?([Tt])\b(?!\w)(?!\s*\d)")
_BAKES = re.compile(
    r"(?i)\b(oven|bake[sd]?|baking|backofen|backen|ofen|four|enfourn\w*|cuire)\b"
)
_HEAT = re.compile(
    r"(?i)\b(\d{2,3}\s*(?:°|º|degrees?|C\b|F\b)|gas(?: mark)? ?\d|thermostat|"
    r"(?:quick|hot|moderate|slow|brisk|very hot) oven|medium heat|grill|fry)"
)
_TINS = re.compile(
    r"(?i)\b(loaf pans?|bread pans?|loaf tins?|bread tins?|cake pans?|baking pans?|"
    r"baking dish|kastenform|moule à cake)\b"
)
_BATH = re.compile(r"(?i)\b(lye|bath|lauge|vessel|of water|steam)\b")
_MEASURED = re.compile(
    r"(?i)\d[\d\s.,/½¼¾⅛]*\s*-?(?:x|×|by|in\b|inch|cm|\"|″|”|lb|pound|quart|litre|l\b)"
)
_YIELD = re.compile(
    r"(?i)\b(makes|yields?|serves|servings?|portions?|loaf|loaves|rolls|buns|pieces|"
    r"pizzas?|breads|ergibt|stück|brote|"
    r"personen|pour \d|personnes|\d+ (?:large|small))\b"
)
_NO_CUPS = ("uk", "metric")
_TIMED = re.compile(r"(?i)\b(minutes?|mins?|hours?|min\.|minuten|stunden?|heures?)\b")


def find_missing(case: Case) -> Iterator[Finding]:
    """Findings `no-pan-size`, `no-oven-temperature`, `no-bake-time`, `no-yield`,
    `no-salt` and `amount-missing`; each only where the text is a whole recipe."""
    if not case.dough or not any(e.line.role == "flour" for e in case.dough):
        return
    story = case.story
    whole = len(case.method) > 60
    if whole:
        yield from _of_the_oven(case, story)
    if not case.recipe.stated_yield and not _YIELD.search(story) and whole:
        yield _missing(
            "no-yield",
            "the recipe does not say what it makes",
            "Say how many loaves or pieces it makes and what one weighs.",
        )
    yield from _no_salt(case, story)
    yield from _no_amount(case)


def _of_the_oven(case: Case, story: str) -> Iterator[Finding]:
    yield from _no_pan_size(case, story)
    if not _BAKES.search(story):
        return
    if case.recipe.oven_c is None and not _HEAT.search(story):
        yield _missing("no-oven-temperature", "no oven temperature is given",
                       "Give the oven's setting in °C and °F.")  # fmt: skip
    if case.recipe.bake_minutes is None and not _TIMED.search(story):
        yield _missing(
            "no-bake-time",
            "no baking time is given",
            "Give the baking time, and a sign that the bread is done.",
        )


def _no_pan_size(case: Case, story: str) -> Iterator[Finding]:
    pan = case.recipe.pan
    if pan is not None and not pan.assumed:
        return
    tins = _TINS.search(story)
    near = tins and _MEASURED.search(story[max(0, tins.start() - 40) : tins.end() + 60])
    named = next(
        (q for q in case.prose if _TINS.search(q.text) and not _BATH.search(q.text)),
        None,
    )
    if named is None or near or _MEASURED.search(named.text):
        return
    yield _missing(
        "no-pan-size",
        "a pan is named without its size",
        "Give the inside length, width and height of the pan.",
        named,
    )


def _missing(name: str, message: str, mend: str, *quotes: object) -> Finding:
    from bakelab.checking.model import Quote

    lines = tuple(q for q in quotes if isinstance(q, Quote))
    return Finding(name, "missing", message, lines, (), mend, "medium",
                   "words of the text")  # fmt: skip


def _no_salt(case: Case, story: str) -> Iterator[Finding]:
    raised = any(e.line.role in ("yeast", "starter") for e in case.dough)
    salted = any(e.line.role == "salt" for e in case.entries)
    listed = " ".join(e.line.text for e in case.entries)
    if not raised or salted or re.search(r"(?i)\b(salt|salz|sel)\b", listed + story):
        return
    if _UNSALTED.search(story) or _SALTY.search(listed):
        return
    yield Finding(
        "no-salt", "missing", "the dough has no salt, and the text does not say why",
        (), (), "Add the salt (1.5 to 2 % of the flour is usual), or say that it has "
        "none on purpose.", "high", "Figoni, How Baking Works, ch. 7: 1.5-2 % of flour",
    )  # fmt: skip


def _no_amount(case: Case) -> Iterator[Finding]:
    for entry in case.dough:
        line = entry.line
        heavy = line.role in ("flour", "water", "yeast", "liquid", "starter", "dairy")
        if heavy and line.low is None and not line.optional and not _left_open(entry):
            yield Finding(
                "amount-missing", "missing", f"{entry.name} has no amount",
                (entry.quote,), (), f"Give the weight of the {entry.name}.", "medium",
                "words of the line",
            )  # fmt: skip


def _left_open(entry: Entry) -> bool:
    """All of a stage, or as much as it takes."""
    said = r"(?i)\b(all|as needed|whole|above|nach bedarf|ganzer?|tout|toute)\b"
    return re.search(said, entry.clean) is not None


def find_repeats(case: Case) -> Iterator[Finding]:
    """Findings `salt-twice` and `line-twice`: two entries within one stage."""
    seen: dict[tuple[str, str], Entry] = {}
    printed: dict[tuple[str, str], Entry] = {}
    for entry in case.dough:
        text = (entry.line.stage, " ".join(entry.clean.casefold().split()))
        if text in printed and entry.stated:
            first = printed[text]
            yield _twice("line-twice", "the same line is printed twice", first, entry)
            continue
        printed[text] = entry
        if entry.line.role != "salt" or entry.line.mass_g is None:
            continue
        place = (entry.line.stage, entry.line.ingredient)
        if place in seen and not _split(entry) and not _split(seen[place]):
            yield _twice("salt-twice", "salt is listed twice", seen[place], entry)
        seen.setdefault(place, entry)


def _split(entry: Entry) -> bool:
    return (
        re.search(
            r"(?i)\b(divided|for |top\w*|sprinkl\w*|finish\w*|flak\w*|water|coarse)",
            entry.clean,
        )
        is not None
    )


def _twice(name: str, message: str, first: Entry, second: Entry) -> Finding:
    return Finding(
        name, "unlikely", message, (first.quote, second.quote), (),
        "Strike one of the two, or say what each is for.", "medium",
        "lines of one stage",
    )  # fmt: skip


def find_doubts(case: Case) -> Iterator[Finding]:
    """Findings `spoon-letter`, `egg-size`, `cups-in-this-market`."""
    letters = [e for e in case.entries if _LETTER.search(e.clean)]
    if letters and case.recipe.language == "en":
        yield Finding(
            "spoon-letter", "note", "T and t are easily taken for each other",
            tuple(e.quote for e in letters), ("a tablespoon is three teaspoons",),
            "Write tbsp and tsp.", "high", "UCUM: 14.79 and 4.93 mL",
        )  # fmt: skip
    eggs = [e for e in case.dough if _sizeless(e)]
    if eggs:
        yield Finding(
            "egg-size", "note", "the eggs have no size",
            tuple(e.quote for e in eggs),
            ("a small egg is 38 g without shell, a large 50 g, a jumbo 63 g",),
            "Give the size, or the grams without shell.", "high",
            "USDA SR26, 01123: egg, whole, raw",
        )  # fmt: skip
    yield from _foreign_cups(case)


def _sizeless(entry: Entry) -> bool:
    counted = entry.line.role == "egg" and entry.line.unit in (None, "piece")
    sized = entry.phrase.amount is not None and entry.phrase.amount.size
    word = re.search(r"(?i)\b(small|medium|large|jumbo|extra|size|größe|[SML]|XL)\b",
                     entry.clean)  # fmt: skip
    return counted and bool(entry.stated) and not entry.masses and not (sized or word)


def _foreign_cups(case: Case) -> Iterator[Finding]:
    if case.market_key not in _NO_CUPS or case.recipe.language == "fr":
        return
    cups = [
        e for e in case.dough
        if any(s.amount.unit == "cup" for s in e.stated) and not e.masses
    ]  # fmt: skip
    if cups:
        yield Finding(
            "cups-in-this-market", "note",
            "cups are given, and kitchens of this market weigh",
            tuple(e.quote for e in cups),
            ((f"the recipe reads as {case.market.name}; a cup was taken as "
             f"{case.market.cup_ml:.0f} mL, a US cup has 237 mL"),),
            "Give grams, with cups in brackets at most, and say which cup.", "medium",
            "words and language of the recipe",
        )  # fmt: skip
