"""Weights in the method beside those of the list: no step takes more than there is."""

import re
from collections.abc import Iterator

from bakelab.checking.case import Case, Entry
from bakelab.checking.model import Finding, Quote
from bakelab.checking.printed import number_interval
from bakelab.reading import Line, read_line
from bakelab.units import number

__all__ = ["find_used"]

_USED = re.compile(
    r"(?i)(?<![\w.,/–-])([1-9]\d{0,3}(?:[.,]\d{1,2})?)\s*(g|grams?|gramm|grammes?|ml)\b\s+"
    r"((?:of\s+|de\s+|d['’]\s*)?(?:the\s+|der\s+|des\s+|vom\s+)?"
    r"[^\W\d_]+(?:\s+[^\W\d_]+){0,2})"
)
_STOP = re.compile(
    r"(?i)\s+(?:and|with|in|into|to|for|at|then|until|from|over|or|und|mit|in|zu|bis|"
    r"oder|et|avec|dans|à|ou|pour)\b.*"
)
_ELSEWHERE = re.compile(
    r"(?i)\b(boil\w*|bath|steam\w*|pot|tray|soak\w*|spray\w*|glaze|brush\w*|wash|dust\w*|"
    r"sprinkl\w*|topping|icing|next time|instead|extra|more|substitut\w*|double|"
    r"kettle|ice|optional\w*|if needed|per|each|every|feed\w*|discard\w*|"
    r"dampf|koch\w*|topf|bestreu\w*|bestreich\w*|statt|zusätzlich|mehr|je|pro|"
    r"vapeur|bouill\w*|bain|dorer|saupoudr\w*|au lieu|chaque|par)\b"
)
_ROLES = ("flour", "water", "salt", "yeast", "sweetener", "fat", "dairy", "egg")
_SLACK = 1.03  # a step and its list may be rounded on their own; our own


def find_used(case: Case) -> Iterator[Finding]:
    """Findings `more-than-listed`.

    Compared by kind: all flours, all water and so on, wherever they stand in the
    list. A sentence on a bath, steam, a glaze or on more of something tells of
    what no list has, and so does a list that leaves a line unweighed.
    """
    if case.unweighed:
        return
    for quote in case.prose:
        if quote.text[:60] not in case.method or len(quote.text) > 2000:
            continue
        for sentence in re.split(r"(?<=[.;!?])\s+", quote.text):
            if not _ELSEWHERE.search(sentence):
                yield from _in_sentence(case, quote, sentence)


def _in_sentence(case: Case, quote: Quote, sentence: str) -> Iterator[Finding]:
    for match in _USED.finditer(sentence):
        name = _STOP.sub("", match[3])
        used = read_line(f"{match[1]} {match[2]} {name}", language=case.recipe.language)
        if used.state != "read" or used.role not in _ROLES or used.mass_g is None:
            continue
        listed = [e for e in case.entries if e.line.role == used.role]
        most = sum(e.line.mass_high_g or e.line.mass_g or 0.0 for e in listed)
        share = number_interval(match[1], "g").low / float(number(match[1]))
        if listed and used.mass_g * share > most * _SLACK:
            yield _more(match[0].strip(), used, quote, listed, most)


def _more(
    words: str, used: Line, quote: Quote, listed: list[Entry], most: float
) -> Finding:
    return Finding(
        "more-than-listed",
        "conflict",
        f"the method takes {used.mass_g:.4g} g of {used.label}, "
        f"the list has {most:.4g} g",
        (Quote(quote.line_no, quote.text), *(e.quote for e in listed)),
        (f"in the method: {words}", f"on the list: {most:.4g} g at the most"),
        "Write the same amount in both places.",
        "high",
        "the list holds all that the method uses",
    )
