"""How long a clause says that something takes, in minutes."""

import re
from collections.abc import Iterable
from functools import lru_cache

__all__ = ["DIGIT", "THEN", "clauses", "duration", "may_last"]

THEN = re.compile(
    r"(?i)\b(then|another|more|further|uncovered|remove the lid|lid off|"
    r"without the lid|"
    r"reduce|lower|turn (?:it |the oven )?down|turn down|continue|weitere|weiter|"
    r"dann|noch|"
    r"danach|zurück\w*|reduzier\w*|(?:he)?runter\w*|senken|"
    r"fertig|puis|encore|ensuite|baisser|réduire|après)\b"
)
_HOURS = r"(?:hours?|hrs?|h|stunden?|std\.?|heures?|horas?|ore|uur|timmar?)"
_MINUTES = r"(?:minutes?|mins?|mn|min\.?|m|minuten|minutos?|minuti|minuter|′|’|')"
_N = r"(\d+(?:[.,]\d+)?(?:\s*[½¼¾]|\s+\d/\d)?|[½¼¾])"
_DURATION = re.compile(
    rf"(?i)(?:{_N}\s*(?:(?:-|–|—|to|or|bis|à|a|oder|ou)\s*{_N}\s*)?"
    rf"(?:({_HOURS})(?:\s*(?:and|und|et|,)?\s*(\d{{1,2}})\s*(?:{_MINUTES})?)?|"
    rf"({_MINUTES}))\b"
    rf"|\b(an|one|eine|une|half an|a half|dreiviertel|three quarters of an|"
    rf"one and a half|an hour and a half|1 and a half)\s+{_HOURS}\b)"
)
_WORD_HOURS = {
    "an": 60.0, "one": 60.0, "eine": 60.0, "une": 60.0, "half an": 30.0,
    "a half": 30.0, "dreiviertel": 45.0, "three quarters of an": 45.0,
    "one and a half": 90.0, "1 and a half": 90.0, "an hour and a half": 90.0,
}  # fmt: skip
_TENS = {
    "ten": 10, "fifteen": 15, "twenty": 20, "twenty-five": 25, "thirty": 30,
    "thirty-five": 35, "forty": 40, "forty-five": 45, "fifty": 50, "fifty-five": 55,
    "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90, "two": 2, "three": 3,
    "zehn": 10, "zwanzig": 20, "dreißig": 30, "vierzig": 40, "fünfzig": 50,
    "dix": 10, "vingt": 20, "trente": 30, "quarante": 40, "cinquante": 50,
}  # fmt: skip
_WORD_NUMBER = re.compile(
    rf"(?i)\b({'|'.join(sorted(_TENS, key=len, reverse=True))})"
    r"(?=(?:\s+(?:to|or|bis|à)\s+[\w-]+)?\s+(?:minutes?|hours?|minuten|stunden|"
    r"heures?))"
)
DIGIT = re.compile(r"[\d½¼¾]")
_HOUR_WORD = re.compile(r"(?i)hour|hr|stunde|std|heure|hora|ore|uur|timm|dreiviertel")
_CLAUSE = re.compile(r"(?<=[.;:!?])\s+|\n+|,\s+(?=(?:then|and then|dann|puis)\b)")
_SHORT = re.compile(r"(?i)\b(mins?|std|ca|env|approx|deg)\.(?=\s+[a-zäöüéà\d])")


def duration(text: str) -> tuple[float, float] | None:
    """All durations of a text added up, in minutes."""
    low = high = 0.0
    seen = False
    if not may_last(text):
        return None
    for match in _DURATION.finditer(text):
        first, second, hours, extra, minutes, word = match.groups()
        if word:
            part = (_WORD_HOURS[word.casefold()],) * 2
        else:
            factor = 60.0 if hours and not minutes else 1.0
            more = float(extra or 0)
            start = _number(first) * factor
            part = (
                start + more,
                (_number(second) * factor if second else start) + more,
            )
        if seen and not THEN.search(text):
            break
        low, high, seen = low + part[0], high + max(part), True
    return (low, high) if seen and 0 < high <= 24 * 60 else None


def may_last(text: str) -> bool:
    """Whether a text may hold a duration at all."""
    return bool(DIGIT.search(text) or _HOUR_WORD.search(text))


def clauses(texts: Iterable[str]) -> Iterable[str]:
    """The clauses of a text, its numbers in digits."""
    for text in texts:
        yield from _clauses_of(text[:20_000])


@lru_cache(maxsize=256)
def _clauses_of(text: str) -> tuple[str, ...]:
    split = _CLAUSE.split(_SHORT.sub(r"\1", text))
    return tuple(_WORD_NUMBER.sub(_digits, c[:600]) for c in split if c)


def _digits(match: re.Match[str]) -> str:
    return str(_TENS[match[1].casefold()])


def _number(text: str) -> float:
    text = text.replace(",", ".").strip()
    extra = {"½": 0.5, "¼": 0.25, "¾": 0.75}
    for sign, value in extra.items():
        if text.endswith(sign):
            return float(text[:-1] or 0) + value
    if "/" in text:
        whole, _, ratio = text.partition(" ")
        top, bottom = ratio.split("/")
        return float(whole) + float(top) / max(1.0, float(bottom))
    return float(text)
