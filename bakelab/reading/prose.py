"""Ingredients named in running text: old recipes, and water only in the method."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from bakelab.ingredients import find_ingredient
from bakelab.reading.amounts import Amount, amounts
from bakelab.reading.line import read_line
from bakelab.reading.model import Line
from bakelab.reading.vocabulary import LANGUAGES

__all__ = ["lines_from_prose", "missing_from_list"]

_SENTENCE = re.compile(r"(?<=[.;!?])\s+|\n{2,}")
_STOPS = re.compile(
    r"(?i)[,.;:()]|\b(and|with|into|then|to make|stir|when|until|in|on|dissolved|from|"
    r"und|mit|in|bis|et|avec|dans|puis|over|as|for|that|which|or)\b"
)
_MISSING = {
    "water": ("water", "wasser", "eau"),
    "flour": ("flour", "mehl", "farine"),
    "salt": ("salt", "salz", "sel"),
    "yeast": ("yeast", "hefe", "levure"),
}
_NOT_DOUGH = re.compile(
    r"(?i)\b(steam|spray|mist|pan of|bowl of|pot of|boil(?:ing)? the|bath|"
    r"soak(?:ed)? in|"
    r"drain|rinse|dust|sprinkl|floured|flour the|flour your|grease|form|dampf|bestäub|"
    r"besprüh|bemehl|vapeur|farin(?:er|ez|é)|récipient|schale|drops|wet |ice cubes|"
    r"tray|"
    r"brush)\b"
)
_NEARLY = re.compile(
    r"(?i)\b(nearly|about|almost|scant|generous|heaping|level)\s+(a |an )?$"
)
_LONGEST = 60_000  # characters of prose that are searched for ingredients


def lines_from_prose(text: str, language: str, market: str) -> list[Line]:
    """Lines for every amount of an ingredient in running text.

    A second mention of an ingredient may be a part of the first, so it is
    kept in doubt and not weighed again.
    """
    lines: list[Line] = []
    seen: set[str] = set()
    for number, sentence in _sentences(text):
        for piece in _mentions(sentence, language):
            line = read_line(piece, language=language, market=market, line_no=number)
            if line.role in ("", "other") and line.ingredient == line.label:
                continue
            lines.append(_again(line) if line.ingredient in seen else line)
            seen.add(line.ingredient)
    return lines


def missing_from_list(
    method: Sequence[str], lines: Sequence[Line], language: str, market: str
) -> list[Line]:
    """Water, flour, salt or yeast that the list lacks but the method names."""
    if language not in LANGUAGES:
        return []
    have = {line.role for line in lines if line.state in ("read", "doubt")}
    have |= {"water"} if have & {"liquid"} or _has_milk(lines) else set()
    have |= {"yeast"} if have & {"starter", "leavening"} else set()
    if not have:
        return []
    found = []
    for role, words in _MISSING.items():
        if role not in have:
            line = _from_method(role, words, method, language, market)
            found += [line] if line is not None else []
    return found


def _has_milk(lines: Sequence[Line]) -> bool:
    return any(
        line.role == "dairy" and (line.mass_g or 0) > 60 and line.unit != "%"
        for line in lines
    )


def _sentences(text: str) -> Iterator[tuple[int, str]]:
    offset = 0
    for sentence in _SENTENCE.split(text[:_LONGEST]):
        number = text.count("\n", 0, text.find(sentence, offset)) + 1
        offset = max(offset, text.find(sentence, offset))
        yield number, " ".join(sentence.split())[:1200]


def _mentions(sentence: str, language: str) -> Iterator[str]:
    """Pieces of a sentence: an amount with the name that follows it."""
    found, _ = amounts(sentence, language)
    for i, amount in enumerate(found):
        if amount.kind in ("length", "percent") or _is_time(amount, sentence):
            continue
        end = found[i + 1].start if i + 1 < len(found) else len(sentence)
        name = _name_after(sentence[amount.end : end])
        match = find_ingredient(name, language=language) if name else None
        if match is not None and (
            amount.unit is not None or match.key.startswith("egg")
        ):
            stop = sentence.find(name, amount.end) + len(name)
            yield sentence[_word_start(sentence, amount.start) : stop].strip(" ,.;")


def _is_time(amount: Amount, sentence: str) -> bool:
    after = sentence[amount.end : amount.end + 12].strip().casefold()
    return after.startswith(("minute", "hour", "time", "inch", "degree", "loa", "part"))


def _word_start(sentence: str, start: int) -> int:
    before = _NEARLY.search(sentence[:start])
    return before.start() if before else start


def _name_after(text: str) -> str:
    text = re.sub(r"(?i)^\s*(of|d'|de|du|des)\s+", " ", text)
    stop = _STOPS.search(text.lstrip())
    name = text.lstrip()[: stop.start()] if stop else text.lstrip()
    return " ".join(name.split()[:5])


def _again(line: Line) -> Line:
    remark = "named before: may be a part of that amount, so it is not added"
    return replace(line, state="doubt", mass_g=None, mass_low_g=None, mass_high_g=None,
                   basis=None, remark=remark)  # fmt: skip


def _from_method(
    role: str,
    words: Iterable[str],
    method: Sequence[str],
    language: str,
    market: str,
) -> Line | None:
    named = re.compile(rf"(?i)\b(?:{'|'.join(words)})\b")
    mention = ""
    for sentence in _method_sentences(method):
        if not named.search(sentence) or _NOT_DOUGH.search(sentence):
            continue
        line = _with_amount(role, sentence, named, language, market)
        if line is not None:
            return line
        mention = mention or sentence
    if mention and role in ("water", "flour"):
        label = named.search(mention)
        line = read_line(label.group() if label else role, language=language)
        remark = f"only the method names it, without an amount: {mention[:120]}"
        return replace(line, line_no=0, text=mention, state="doubt", remark=remark)
    return None


def _with_amount(
    role: str, sentence: str, named: re.Pattern[str], language: str, market: str
) -> Line | None:
    found, _ = amounts(sentence, language)
    usable = [a for a in found if a.kind in ("mass", "volume") and a.unit != "bowl"]
    word = named.search(sentence)
    if word is None or not usable:
        return None
    near = _nearest(usable, word, sentence, loose=role == "water")
    if near is None:
        return None
    same = [a for a in usable if a.start >= near.start and a.start - near.end < 6]
    text = " ".join(sentence[a.start : a.end] for a in same[:1])
    if len(same) > 1:
        text = f"{text} ({sentence[same[1].start : same[1].end]})"
    line = read_line(f"{text} {word.group()}", language=language, market=market)
    remark = f"assumed from the method: {sentence[:120]}"
    optional = bool(re.search(r"(?i)\boption", sentence))
    return replace(line, line_no=0, text=sentence, state="doubt", optional=optional,
                   remark="; ".join(r for r in (remark, line.remark) if r))  # fmt: skip


def _nearest(
    usable: Sequence[Amount], word: re.Match[str], sentence: str, *, loose: bool
) -> Amount | None:
    for amount in usable:
        gap = sentence[amount.end : word.start()]
        short = word.start() >= amount.end and len(gap) < 40
        if short and not re.search(r"[.;]|\b(flour|milk|yeast|mehl|farine)\b", gap):
            return next(a for a in usable if amount.start - a.end < 6)
    after = [a for a in usable if a.start > word.end()]
    return after[0] if loose and after else None


def _method_sentences(method: Sequence[str]) -> Iterator[str]:
    for text in method:
        for sentence in _SENTENCE.split(text[:_LONGEST]):
            yield " ".join(sentence.split())[:600]
