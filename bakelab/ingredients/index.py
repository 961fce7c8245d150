"""Every synonym of the table by its head noun and the words around it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from types import MappingProxyType

from bakelab.ingredients.names import Segment, kind_of, segments
from bakelab.ingredients.table import all_ingredients
from bakelab.ingredients.words import Word, lexicon, spelt
from bakelab.units import unit_words

__all__ = ["Entry", "Index", "equipment_index", "find_head", "index_of", "prepared"]

_AMOUNT = "1.0"  # the compared spelling of every number with a unit
_SIGNS = ("of", "cut", "and", "or")


@dataclass(frozen=True, slots=True)
class Entry:
    """A synonym: the words it needs beside its head, and what it names.

    `key` is empty for a name that only looks like an ingredient.
    `generic` is true where the words leave open which kind is meant.
    """

    words: frozenset[str]
    key: str
    generic: bool = False


@dataclass(frozen=True)
class Index:
    """The synonyms of a language by head, longest first.

    `fixed` are synonyms that hold a joining word (half *and* half), by
    their first word; `glued` are pairs of words also written as one.
    """

    language: str
    heads: Mapping[str, tuple[Entry, ...]]
    fixed: Mapping[str, tuple[tuple[str, ...], ...]]
    glued: Mapping[str, tuple[str, str]]
    whole: frozenset[str]

    def best(self, head: str, words: frozenset[str]) -> Entry | None:
        """The longest synonym of a head whose words are all there."""
        for entry in self.heads.get(head, ()):
            if entry.words <= words:
                return entry
        return None


@cache
def index_of(language: str) -> Index:
    """The index of all ingredients and look-alikes in a language."""
    phrases = lexicon(language).phrases
    names = [
        (name, item.key, False)
        for item in all_ingredients().values()
        for name in getattr(item, language)
    ]
    traps = [(name, "", False) for name in phrases["trap"]]
    return _index(language, names + traps, phrases["generic"])


@cache
def equipment_index(language: str) -> Index:
    """The index of tools, tins and papers in a language."""
    names = [(n, n, False) for n in lexicon(language).phrases["equipment"]]
    return _index(language, names, ())


def prepared(text: str, index: Index) -> list[Word]:
    """The words of a text, fixed phrases joined and glued pairs parted."""
    words = spelt(text, index.language)
    units = unit_words(index.language)
    for place in range(len(words) - 1, -1, -1):
        key = words[place].key
        if key[:1].isdigit() and _measures(words[place + 1 : place + 2], units):
            words[place] = Word(_AMOUNT, words[place].text)
        elif key in index.fixed:
            _join(words, place, index.fixed[key])
        elif key in index.glued and key not in index.whole:
            first, second = index.glued[key]
            words[place : place + 1] = [
                Word(first, words[place].text),
                Word(second, ""),
            ]
        elif key and place + 1 < len(words) and words[place + 1].key:
            both = key + words[place + 1].key
            if both in index.whole and both not in index.glued:
                text = f"{words[place].text} {words[place + 1].text}".strip()
                words[place : place + 2] = [Word(both, text)]
    return words


def find_head(segment: Segment, language: str) -> int | None:
    """Where in a segment the noun stands that says what it is.

    The last noun in English and German, the first one in French; None
    where all words are qualities and shapes.
    """
    places = range(len(segment))
    for place in places if language == "fr" else reversed(places):
        if kind_of(segment[place], language) in ("noun", "front"):
            return place
    return None


def _index(
    language: str, names: Iterable[tuple[str, str, bool]], generic: Sequence[str]
) -> Index:
    split = [(spelt(name, language), key) for name, key, _ in names]
    open_names = {_shape(spelt(name, language), language) for name in generic}
    fixed: dict[str, list[tuple[str, ...]]] = {}
    heads: dict[str, dict[frozenset[str], Entry]] = {}
    for words, key in split:
        if _is_fixed(words, language):
            keys = tuple(w.key or w.sign for w in words)
            fixed.setdefault(keys[0], []).append(keys)
            heads.setdefault(" ".join(keys), {}).setdefault(
                frozenset(), Entry(frozenset(), key)
            )
            continue
        shape = _shape(words, language)
        if shape is not None:
            head, around = shape
            entry = Entry(around, key, shape in open_names)
            heads.setdefault(head, {}).setdefault(around, entry)
    return Index(
        language,
        MappingProxyType({h: _sorted(e, language) for h, e in heads.items()}),
        MappingProxyType({first: _longest_first(p) for first, p in fixed.items()}),
        MappingProxyType(dict(_pairs(w for w, _ in split))),
        frozenset(word.key for words, _ in split for word in words if word.key),
    )


def _longest_first(phrases: Iterable[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    return tuple(sorted(phrases, key=len)[::-1])


def _is_fixed(words: Sequence[Word], language: str) -> bool:
    kinds = [w.sign or kind_of(w, language) for w in words]
    return any(k in _SIGNS[1:] for k in kinds[1:])


def _shape(words: list[Word], language: str) -> tuple[str, frozenset[str]] | None:
    """Head and other words of a synonym; None for an empty one."""
    parts = segments(words, language)
    if not parts or not parts[0].words:
        return None
    segment = parts[0].words
    place = find_head(segment, language)
    if place is None:
        place = 0 if language == "fr" else len(segment) - 1
    around = (w.key for i, w in enumerate(segment) if i != place)
    return segment[place].key, frozenset(around) - {segment[place].key}


def _sorted(
    entries: Mapping[frozenset[str], Entry], language: str
) -> tuple[Entry, ...]:
    """Look-alikes first, then the longest; needless ones left out."""
    kept = [e for e in entries.values() if not _needless(e, entries, language)]
    return tuple(sorted(kept, key=lambda e: (e.key != "", -len(e.words))))


def _needless(
    entry: Entry, entries: Mapping[frozenset[str], Entry], language: str
) -> bool:
    """Whether a synonym without its words of state means the same."""
    kinds = lexicon(language).kinds
    rest = frozenset(w for w in entry.words if kinds.get(w) != "state")
    return rest != entry.words and rest in entries and entries[rest].key == entry.key


def _pairs(names: Iterable[Sequence[Word]]) -> Iterator[tuple[str, tuple[str, str]]]:
    for words in names:
        for first, second in pairwise(words):
            if first.key and second.key:
                yield first.key + second.key, (first.key, second.key)


def _measures(following: Sequence[Word], units: Mapping[str, str]) -> bool:
    """Whether a unit follows, so that `550` in `550 g` is no type of flour."""
    return bool(following) and following[0].text.casefold() in units


def _join(words: list[Word], place: int, phrases: Sequence[tuple[str, ...]]) -> None:
    for phrase in phrases:
        there = words[place : place + len(phrase)]
        if tuple(w.key or w.sign for w in there) == phrase:
            text = " ".join(w.text for w in there if w.text)
            words[place : place + len(phrase)] = [Word(" ".join(phrase), text)]
            return
