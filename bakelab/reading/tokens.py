"""A line of text cut into tokens: numbers, units, joining words, the rest."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from bakelab.reading.vocabulary import Vocabulary, vocabulary

__all__ = ["Token", "tokenize"]

_V = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_PACKS = "tin|can|jar|pack|packet|sachet|bag|bottle|carton|tub|block|dose|boîte|glas"
_LEXER = re.compile(
    rf"""
    (?P<hot>(?<![\d.,/½¼¾⅓⅔])(?:\d{{2,3}}\s?F|\d{{2}}C|\d{{3}}\s?C)\b)
   |(?P<time>\d{{1,3}}\s*(?:°|º|℃|℉|deg(?:rees)?\b\.?)\s*[CFcf]?(?:elsius|ahrenheit)?\b)
   |(?P<mixed>\d+(?:\s*-\s*|\s+and\s+|\s+&\s+|\s+)\d+\s*[/⁄∕]\s*\d+(?![\d/]))
   |(?P<mixedv>\d+(?:\s*-\s*|\s+and\s+|\s+&\s+|\s*et\s+|\s*)[{_V}])
   |(?P<fraction>\d+(?:[.,]\d+)?\s*[/⁄∕]\s*\d+(?![\d/]))
   |(?P<vulgar>[{_V}])
   |(?P<spaced>[1-9]\ \d{{3}}(?=\s?(?:g|gr|ml|gram\w*)\b(?!\s*(?:{_PACKS}))))
   |(?P<thousand>\d{{1,3}}(?:[\u00a0\u202f\u2009'’]\d{{3}})+(?!\d))
   |(?P<decimal>\d+(?:[.,]\d+)*|[.,]\d+)
   |(?P<word>[^\W\d_]+(?:['’\-‐‑][^\W\d_]+)*\d*(?:[^\W\d_]+)*)
   |(?P<dash>[-‐‑–—−]+)
   |(?P<times>[×✕*])
   |(?P<open>[(\[{{（])
   |(?P<close>[)\]}}）])
   |(?P<comma>[,;])
   |(?P<slash>[/|=])
   |(?P<plus>\+)
   |(?P<percent>[%％])
   |(?P<quote>["″”]|'')
   |(?P<mark>[^\s])
    """,
    re.VERBOSE,
)
_ELISION = re.compile(r"^([dDlL])['’](?=\w)")
_DEMI = re.compile(r"\b(demi|demie)-", re.IGNORECASE)
_FLOUR_TYPES = (405, 550, 630, 812, 815, 997, 1050, 1150, 1370, 1600, 1700, 1740)
# The mineral classes of DIN 10355, from memory: `Weizenmehl 550`.
_NUMERIC = ("mixed", "mixedv", "fraction", "vulgar", "spaced", "thousand", "decimal")
_TYPES = {
    "open": "OPEN", "close": "CLOSE", "comma": "COMMA", "slash": "SLASH",
    "plus": "PLUS", "times": "TIMES", "dash": "RANGE", "mark": "MARK",
    "time": "MARK", "hot": "MARK", "quote": "MARK",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the line: its type in the grammar, value, and place."""

    type: str
    value: Any
    start: int
    end: int
    doubt: str = ""


def tokenize(text: str, language: str) -> list[Token]:
    """Tokens of one line, with joining words only where they join amounts."""
    words = vocabulary(language)
    text = _DEMI.sub(r"\1 ", text)
    raw = list(_raw_tokens(text, words, language))
    return _settle(_units(raw, text, words), text)


def _raw_tokens(text: str, words: Vocabulary, language: str) -> Iterator[Token]:
    position = 0
    for match in _LEXER.finditer(text):
        if match.start() < position:
            continue
        kind = match.lastgroup or "mark"
        start, end = match.span()
        if kind in _NUMERIC:
            token = _number(kind, match.group(), start, language)
            position = end
            yield token
        elif kind == "percent":
            yield Token("UNIT", "%", start, end)
        elif kind == "word":
            for token in _words(text, start, end, words):
                position = token.end
                yield token
        else:
            yield Token(_TYPES[kind], match.group(), start, end)


def _number(kind: str, text: str, start: int, language: str) -> Token:
    end = start + len(text)
    doubt = ""
    if kind == "mixed":
        whole, top, bottom = re.findall(r"\d+", text)
        value = _ratio(top, bottom)
        value = None if value is None else int(whole) + value
    elif kind == "mixedv":
        whole = re.match(r"\d+", text)
        assert whole is not None
        value = int(whole.group()) + _vulgar(text[-1])
    elif kind == "vulgar":
        value = _vulgar(text)
    elif kind == "fraction":
        value, doubt = _fraction(text)
    else:
        value = _decimal(text, language)
    if value is None or len(text) > 24:
        return Token("MARK", text, start, end)
    return Token("NUMBER", value, start, end, doubt)


def _fraction(text: str) -> tuple[Fraction | None, str]:
    top, bottom = re.split(r"\s*[/⁄∕]\s*", text.replace(",", "."))
    value = _ratio(top, bottom)
    squeezed = re.fullmatch(r"([1-9])([1-9])", top)
    if squeezed and bottom in ("2", "3", "4", "8") and int(squeezed[2]) < int(bottom):
        mixed = int(squeezed[1]) + Fraction(int(squeezed[2]), int(bottom))
        return mixed, f"{text} was read as {squeezed[1]} {squeezed[2]}/{bottom}"
    return value, ""


def _ratio(top: str, bottom: str) -> Fraction | None:
    return Fraction(top) / int(bottom) if int(bottom) else None


def _vulgar(sign: str) -> Fraction:
    return Fraction(unicodedata.numeric(sign)).limit_denominator(16)


def _decimal(text: str, language: str) -> Fraction | None:
    text = re.sub(r"[ \u00a0\u202f\u2009'’]", "", text)
    thousands = "," if language == "en" else "."
    pattern = rf"[1-9]\d{{0,2}}(?:{re.escape(thousands)}\d{{3}})+"
    if re.fullmatch(pattern, text):
        text = text.replace(thousands, "")
    text = text.replace(",", ".")
    if text.count(".") > 1 or text in ("00", "000"):
        return None
    return Fraction(f"0{text}" if text.startswith(".") else text)


def _words(text: str, start: int, end: int, words: Vocabulary) -> Iterator[Token]:
    """The token that begins at a word: a known phrase, or the word itself."""
    elision = _ELISION.match(text[start:end])
    if elision:
        yield Token("OF", elision.group(), start, start + elision.end())
        start += elision.end()
    low = text[start:end].casefold()
    longest = words.starts.get(low, 0)
    if longest > 1:
        ahead = re.match(rf"\S+(?:\s+\S+){{1,{longest - 1}}}", text[start : start + 60])
        pieces = ahead.group().casefold().split() if ahead else []
        for count in range(min(longest, len(pieces)), 1, -1):
            phrase = " ".join(pieces[:count]).rstrip(",;:()")
            if phrase in words.words:
                yield _known(words, phrase, start, _phrase_end(text, start, count))
                return
    dotted = low + "."
    if text[end : end + 1] == "." and dotted in words.words:
        yield _known(words, dotted, start, end + 1)
    elif low in words.words:
        yield _known(words, low, start, end)
    elif low == "x":
        yield Token("TIMES", "x", start, end)
    else:
        yield Token("WORD", text[start:end], start, end)


def _known(words: Vocabulary, phrase: str, start: int, end: int) -> Token:
    kind, value = words.words[phrase]
    return Token(kind, phrase if value is None else value, start, end)


def _phrase_end(text: str, start: int, count: int) -> int:
    match = re.match(rf"\S+(?:\s+\S+){{{count - 1}}}", text[start:])
    assert match is not None
    return start + len(match.group().rstrip(",;:()"))


def _units(raw: list[Token], text: str, words: Vocabulary) -> list[Token]:
    """Look for a unit after each number, size or modifier, and at the start."""
    out: list[Token] = []
    ready = True  # a unit may stand here
    skip_to = 0
    for token in raw:
        if token.start < skip_to:
            continue
        found = (
            _unit_at(text, token.start, words)
            if ready and _may_be_unit(token)
            else None
        )
        if found is not None:
            key, stop = found
            out.append(Token("UNIT", key, token.start, stop))
            skip_to, ready = stop, False
            continue
        out.append(token)
        joins = token.type in ("NUMBER", "ARTICLE", "MODIFIER", "SIZE", "OF", "VAGUE")
        ready = (joins and (token.type != "OF" or _numeric(out[:-1]))) or (
            token.type in ("CLOSE", "OPEN")
            or (token.value in ("-", "–", "‑") and _numeric(out[:-1]))
        )
    return out


def _numeric(tokens: list[Token]) -> bool:
    return bool(tokens) and tokens[-1].type == "NUMBER"


def _may_be_unit(token: Token) -> bool:
    return token.type not in ("NUMBER", "OPEN", "CLOSE", "COMMA", "SLASH")


def _unit_at(text: str, start: int, words: Vocabulary) -> tuple[str, int] | None:
    for word in words.unit_starts.get(text[start].casefold(), ()):
        stop = start + len(word)
        written = text[start:stop]
        if written != word and written.casefold() != word:
            continue
        after = text[stop : stop + 1]
        if (
            after.isalpha()
            or (word == "#" and after.isdigit())
            or (after in ("'", "’") and text[stop + 1 : stop + 2].isalpha())
        ):
            continue
        if written == word or word in words.units:
            key = words.units.get(written) or words.units[word]
            return key, stop + (after == "." and text[stop : stop + 2] != "..")
    return None


def _settle(tokens: list[Token], text: str) -> list[Token]:
    """Turn words that only look like amounts or joints into plain ones."""
    out: list[Token] = []
    for index, token in enumerate(tokens):
        before = out[-1] if out else None
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        out.append(_counted(token, before, after, text))
    kept = _drop_inner_of([t for t in out if t.type != "MODIFIER"])
    kept = _unhyphened(kept)
    around = zip([None, *kept], kept, [*kept[1:], None], strict=False)
    return [_jointed(token, before, after) for before, token, after in around]


def _unhyphened(tokens: list[Token]) -> list[Token]:
    """`1/4-ounce` without its hyphen."""
    return [
        t
        for i, t in enumerate(tokens)
        if not (
            t.type == "RANGE"
            and 0 < i < len(tokens) - 1
            and tokens[i - 1].type == "NUMBER"
            and tokens[i + 1].type == "UNIT"
            and tokens[i - 1].end == t.start
            and tokens[i + 1].start == t.end
        )
    ]


def _counted(
    token: Token, before: Token | None, after: Token | None, text: str
) -> Token:
    """Numbers, articles and times as what they are in their place."""
    if token.type == "NUMBER":
        plain = _is_name_part(token, before, after, text)
    elif token.type == "ARTICLE":
        counts = after is not None and after.type in ("UNIT", "SIZE", "MODIFIER")
        plain = not (counts or before is None)
        if not plain:
            return Token("NUMBER", Fraction(1), token.start, token.end)
    else:
        plain = token.type in ("TIME", "TYPEMARK", "VAGUE")
    if not plain:
        return token
    return Token("WORD", text[token.start : token.end], token.start, token.end)


def _jointed(token: Token, before: Token | None, after: Token | None) -> Token:
    """A sign between two amounts joins them; anywhere else it is a mark."""
    if token.type not in ("RANGE", "PLUS", "MINUS", "TIMES"):
        return token
    joins = before is not None and after is not None and after.type == "NUMBER"
    if joins and before is not None:
        ends = ("NUMBER",) if token.type == "TIMES" else ("NUMBER", "UNIT", "SIZE")
        joins = before.type in ends or (token.type == "PLUS" and before.type == "CLOSE")
    return token if joins else replace(token, type="MARK")


def _is_name_part(
    token: Token, before: Token | None, after: Token | None, text: str
) -> bool:
    """Type 550, 00 flour, T55, 405er, 30 minutes: numbers that count nothing."""
    if before is not None and before.type == "WORD" and before.end == token.start:
        return True
    if token.value == 0 and (after is None or after.type != "UNIT"):
        return True
    if after is None:
        return before is not None and _is_type_mark(before, text, token.value)
    if token.value in _FLOUR_TYPES and after.type != "UNIT" and _in_flour(token, text):
        return True
    if after.type == "TIME":
        return True
    if after.type in ("WORD", "MARK") and after.start == token.end:
        return after.value not in ("(", ".", ":", "~")
    return (
        before is not None
        and after.type != "UNIT"
        and _is_type_mark(before, text, token.value)
    )


def _in_flour(token: Token, text: str) -> bool:
    """`Weizenmehl 1050: 500 g` and `Weizenmehl (1050)`: the type of the flour."""
    before, after = text[: token.start], text[token.end : token.end + 8]
    told = re.search(r"(?i)mehl\s*[(,]?\s*$", before) is not None
    return told and re.match(r"\s*(?:[:,;)]|[-–—]\s|$)", after) is not None


def _is_type_mark(token: Token, text: str, number: Fraction) -> bool:
    word = text[token.start : token.end].casefold().rstrip(".")
    if word.endswith("mehl") and number in _FLOUR_TYPES:
        return True
    return word in ("type", "typ", "tipo", "t", "no", "nr", "n°", "w", "#", "grade")


def _drop_inner_of(tokens: list[Token]) -> list[Token]:
    """`3/4 of a cup` is `3/4 cup`; `half a cup` is `half cup`."""
    out: list[Token] = []
    for index, token in enumerate(tokens):
        rest = [t.type for t in tokens[index + 1 : index + 3]]
        after_number = bool(out) and out[-1].type == "NUMBER"
        if after_number and token.type == "OF" and rest[:1] in (["UNIT"], ["NUMBER"]):
            continue
        if (
            after_number
            and token.type == "NUMBER"
            and token.value == 1
            and rest[:1] == ["UNIT"]
            and out[-1].value < 1
        ):
            continue
        out.append(token)
    return out
