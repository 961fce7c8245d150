"""A line of text cut into tokens: numbers, units, joining words, the rest."""

import re
from collections.abc import Iterator

from bakelab.reading.numerals import Token, number_token
from bakelab.reading.settling import settled
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
# The mineral classes of DIN 10355, from memory: `Weizenmehl 550`.
_NUMERIC = ("mixed", "mixedv", "fraction", "vulgar", "spaced", "thousand", "decimal")
_TYPES = {
    "open": "OPEN", "close": "CLOSE", "comma": "COMMA", "slash": "SLASH",
    "plus": "PLUS", "times": "TIMES", "dash": "RANGE", "mark": "MARK",
    "time": "MARK", "hot": "MARK", "quote": "MARK",
}  # fmt: skip


def tokenize(text: str, language: str) -> list[Token]:
    """Tokens of one line, with joining words only where they join amounts."""
    words = vocabulary(language)
    text = _DEMI.sub(r"\1 ", text)
    raw = list(_raw_tokens(text, words, language))
    return settled(_units(raw, text, words), text)


def _raw_tokens(text: str, words: Vocabulary, language: str) -> Iterator[Token]:
    position = 0
    for match in _LEXER.finditer(text):
        if match.start() < position:
            continue
        kind = match.lastgroup or "mark"
        start, end = match.span()
        if kind in _NUMERIC:
            token = number_token(kind, match.group(), start, language)
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
