"""Words of ingredient names: one spelling for all, compounds in their parts."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

from bakelab.tables import read_rows

__all__ = ["LANGUAGES", "Lexicon", "Word", "lexicon", "pieces", "plain", "spelt"]

LANGUAGES = ("en", "de", "fr")

_COLUMNS: dict[str, type] = {"kind": str, "en": str, "de": str, "fr": str}
_KINDS = ("of", "cut", "and", "or", "stop", "state", "modifier", "front", "part")
_TOKEN = re.compile(
    r"\d+(?:[.,/]\d+)*(?:\s?%|[^\W_]*)|(?:\b[dlDL]['’])?([^\W\d_][^\W_]*)(?:['’]s\b)?"
    r"|(\s[-–—]\s|[–—,;:()\[\]/+&|])"
)
_NUMBERED = re.compile(r"t?(\d+(?:[.,/]\d+)*)(?:er)?(\s?%)?$")
_ENGLISH = re.compile(r"(?<=[^aeiou])ies$|(?<=o)es$|(?<=ch|sh|ss)es$|(?<=[^sui])s$")
_GERMAN = re.compile(r"(?<=..)(?:ern|er|e[nsm]?|n|s)$")
_FRENCH = re.compile(r"(?<=..)e*[sx]?$")
_SHORT = 3  # letters of a word too short to lose an ending


@dataclass(frozen=True, slots=True)
class Word:
    """One word: how it is compared, as written, or the sign it stands for."""

    key: str
    text: str
    sign: str = ""


@dataclass(frozen=True)
class Lexicon:
    """The helping words of a language, each in its compared spelling."""

    language: str
    kinds: Mapping[str, str]
    nouns: frozenset[str]
    measured: frozenset[str]
    suffixes: re.Pattern[str] | None
    phrases: Mapping[str, tuple[str, ...]]


@cache
def lexicon(language: str) -> Lexicon:
    """Helping words of `data/ingredient_words.csv` in a language."""
    rows = {
        row["kind"]: tuple(w for w in row[language].split("|") if w)
        for row in read_rows("ingredient_words", _COLUMNS)
    }
    kinds: dict[str, str] = {}
    for kind in _KINDS:
        for word in rows[kind]:
            kinds.setdefault(_fold(plain(word), language), kind)
    return Lexicon(
        language,
        MappingProxyType(kinds),
        _folded(rows["noun"], language),
        _folded(rows["measured"], language),
        _suffixes(rows["suffix"], rows["prefix"]),
        MappingProxyType({k: rows[k] for k in ("generic", "trap", "equipment")}),
    )


@lru_cache(maxsize=32768)
def plain(word: str) -> str:
    """A word in lower case without accents: `Hefewürfel` is `hefewurfel`."""
    word = word.casefold().replace("œ", "oe").replace("stärke", "staerke")
    if word.isascii():
        return word
    marks = unicodedata.normalize("NFKD", word)
    return "".join(c for c in marks if not unicodedata.combining(c))


@lru_cache(maxsize=32768)
def pieces(word: str, language: str) -> tuple[str, ...]:
    """The compared spelling of a plain word; German compounds in parts.

    Examples
    --------
    >>> pieces("dinkelvollkornmehl", "de")
    ('dinkel', 'vollkor', 'mehl')
    """
    numbered = _NUMBERED.match(word)
    if numbered is not None:
        mark = (_fold("type", language),) if word[0] == "t" else ()
        return (*mark, numbered.group(1) + ("%" if numbered.group(2) else ""))
    if word in ("typ", "tipo"):
        return (_fold("type", language),)
    pattern = lexicon(language).suffixes
    match = pattern.match(word) if pattern is not None else None
    if match is None:
        return (_fold(word, language),)
    first, second = (g for g in match.groups() if g is not None)
    return (*pieces(first, language), *pieces(second, language))


def spelt(text: str, language: str) -> list[Word]:
    """The words and signs of a text, in order."""
    words: list[Word] = []
    for match in _TOKEN.finditer(text):
        letters, sign = match.groups()
        whole = match.group()
        if sign is not None:
            words.append(Word("", whole, _sign(sign)))
            continue
        parts = pieces(plain(letters or whole), language)
        words += [Word(part, "") for part in parts[:-1]]
        words.append(Word(parts[-1], whole))
    return words


def _sign(sign: str) -> str:
    mark = sign.strip()
    return {"[": "(", "]": ")", "&": "and", "+": "and", "/": "or"}.get(mark, mark)


def _fold(word: str, language: str) -> str:
    """A word without the endings of plural, case and gender."""
    if len(word) <= _SHORT or word[0].isdigit():
        return word
    if language == "en":
        return _ENGLISH.sub(lambda m: "y" if m.group() == "ies" else "", word)
    if language == "de":
        return _GERMAN.sub("", word)
    return _FRENCH.sub("", word, count=1)


def _folded(words: tuple[str, ...], language: str) -> frozenset[str]:
    return frozenset(_fold(plain(word), language) for word in words)


def _suffixes(
    suffixes: tuple[str, ...], prefixes: tuple[str, ...]
) -> re.Pattern[str] | None:
    """A pattern that splits a compound before its last part."""
    if not suffixes:
        return None
    ends = "|".join(sorted(map(plain, suffixes), key=len, reverse=True))
    starts = "|".join(map(plain, prefixes))
    return re.compile(rf"(.{{2,}}?)({ends})$|({starts})(.{{3,}})$")
