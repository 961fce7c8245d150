"""Finding the ingredient that a recipe line names."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from bakelab.ingredients.index import (
    Entry,
    Index,
    equipment_index,
    find_head,
    index_of,
    prepared,
)
from bakelab.ingredients.names import Part, kind_of, segments
from bakelab.ingredients.table import ingredient
from bakelab.ingredients.words import LANGUAGES, Word, lexicon, pieces, plain

__all__ = ["Match", "find_ingredient", "head_is_equipment"]

_STRICT = ("water", "liquid", "dairy", "fat", "salt", "egg", "yeast")
_QUALITIES = ("modifier", "state", "part", "front")
_LOOK_ALIKE = Entry(frozenset(), "")
_EXTRA_WORDS = 4  # a longer clause behind a comma is no part of the name


@dataclass(frozen=True)
class Match:
    """The ingredient that a text names.

    Attributes
    ----------
    key : str
        The ingredient's key.
    matched, rest : str
        The words that named it and all other words, as written.
    certain : bool
        False where the kind was assumed (`flour`), where an unknown word
        stands with the name, or where a second ingredient is named.
    """

    key: str
    matched: str
    rest: str
    certain: bool


@dataclass(frozen=True)
class _Found:
    entry: Entry
    head: Word
    certain: bool
    known: bool


def find_ingredient(text: str, *, language: str = "en") -> Match | None:
    """The ingredient that a text names, or None if it names none that is known.

    Parameters
    ----------
    text : str
        An ingredient's name as recipes write it, best without its amount.
    language : str
        ``"en"``, ``"de"`` or ``"fr"``, tried first; the other two follow.

    Returns
    -------
    Match or None
        The head noun decides: butter lettuce and peanut butter are no
        butter. The longest synonym whose words all stand with the head
        wins, in any order.

    Examples
    --------
    >>> find_ingredient("unsalted butter, softened").key
    'butter_unsalted'
    >>> find_ingredient("butter lettuce") is None
    True
    """
    return _find(text, language if language in LANGUAGES else "en")


def head_is_equipment(text: str) -> bool:
    """Whether a line names a tin, tool or paper and no ingredient.

    Examples
    --------
    >>> head_is_equipment("parchment paper, for lining")
    True
    """
    if find_ingredient(text) is not None:
        return False
    return any(_equipment(text, language) for language in LANGUAGES)


@lru_cache(maxsize=8192)
def _find(text: str, language: str) -> Match | None:
    spare: Match | None = None
    for tried in dict.fromkeys((language, *LANGUAGES)):
        index = index_of(tried)
        words = prepared(text, index)
        found = _in_language(words, index)
        if found is None or not found.entry.key:
            if found is not None and tried == language:
                return None
            continue
        match = _match(found, words)
        if found.certain or (tried == language and found.known):
            return match
        if spare is None and (tried == language or _surely_foreign(found, language)):
            spare = match
    return spare


def _surely_foreign(found: _Found, language: str) -> bool:
    """Whether a match in another language is none by chance."""
    if found.known:
        return True
    word = plain(found.head.text)
    own = pieces(word, language)[-1] in index_of(language).whole
    return not own and len(pieces(word, "de")) == 1


def _in_language(words: Sequence[Word], index: Index) -> _Found | None:
    """What the words name, by the rules of one language."""
    parts = segments(words, index.language)
    merged = _merged(parts, index.language)
    if merged is None:
        return _quality_alone(parts, index)
    return _named(*merged, index)


def _merged(parts: Sequence[Part], language: str) -> tuple[Part, Sequence[Part]] | None:
    """The first segment that has a noun, with the qualities before it."""
    before: list[Word] = []
    for place, part in enumerate(parts):
        if find_head(part.words, language) is not None:
            link = part.link if before else ""
            return Part(link, [*before, *part.words]), parts[place + 1 :]
        before += part.words
    return None


def _named(part: Part, after: Sequence[Part], index: Index) -> _Found | None:
    place = find_head(part.words, index.language)
    assert place is not None
    head = part.words[place]
    around = frozenset(w.key for i, w in enumerate(part.words) if i != place)
    shared = _shared_head(part, after, index)
    if shared is not None:
        return shared
    entry = index.best(head.key, around | _afterwards(after, index))
    if entry is None:
        return None
    return _judged(entry, part, place, after, index)


def _judged(
    entry: Entry, part: Part, place: int, after: Sequence[Part], index: Index
) -> _Found:
    """The match with its certainty; no key where another food is meant."""
    head = part.words[place]
    left = [
        w
        for i, w in enumerate(part.words)
        if i != place and w.key not in entry.words and w.key != head.key
    ]
    odd = [w for w in left if kind_of(w, index.language) not in _QUALITIES]
    if entry.key and any(_other_food(w, entry, index) for w in odd):
        return _Found(_LOOK_ALIKE, head, certain=True, known=True)
    second = any(_names_another(p, entry, index) for p in after if p.link == "and")
    near = {w.key for w in part.words}
    either = any(p.link == "or" for p in after) and not entry.words <= near
    known, chosen = not odd, part.link == "or" or either
    certain = known and not (entry.generic or second or chosen)
    return _Found(entry, head, certain, known)


def _other_food(word: Word, entry: Entry, index: Index) -> bool:
    """Whether a food's name before butter, milk or the like makes it another."""
    role = ingredient(entry.key).role
    if role not in _STRICT:
        return False
    if word.key in lexicon(index.language).nouns:
        return True
    own = index.best(word.key, frozenset())
    return own is not None and (not own.key or ingredient(own.key).role != role)


def _names_another(part: Part, entry: Entry, index: Index) -> bool:
    place = find_head(part.words, index.language)
    if place is None:
        return False
    other = index.best(part.words[place].key, frozenset(w.key for w in part.words))
    return other is None or other.key != entry.key


def _afterwards(after: Sequence[Part], index: Index) -> frozenset[str]:
    """Words behind a comma or in brackets that tell the kind: flour (rye)."""
    words: set[str] = set()
    for part in after:
        if part.link in ("and", "or"):
            break
        if len(part.words) <= _EXTRA_WORDS and not _stands_alone(part, index):
            words.update(w.key for w in part.words)
    return frozenset(words)


def _stands_alone(part: Part, index: Index) -> bool:
    place = find_head(part.words, index.language)
    if place is None:
        return False
    own = index.best(part.words[place].key, frozenset())
    return own is not None and own.key != "" and _role(own) in (*_STRICT, "sweetener")


def _role(entry: Entry) -> str:
    return ingredient(entry.key).role


def _shared_head(part: Part, after: Sequence[Part], index: Index) -> _Found | None:
    """`bread or cake flour`: one word that shares the head of the next segment."""
    if not after or after[0].link != "or" or len(part.words) != 1:
        return None
    following = after[0].words
    place = find_head(following, index.language)
    if place is None or index.language == "fr":
        return None
    entry = index.best(following[place].key, frozenset((part.words[0].key,)))
    if entry is None or not entry.words or not entry.key:
        return None
    return _Found(entry, following[place], certain=False, known=True)


def _quality_alone(parts: Sequence[Part], index: Index) -> _Found | None:
    """A name made of qualities only, such as `whites` or `T65`."""
    for part in parts:
        places = range(len(part.words))
        around = frozenset(w.key for w in part.words)
        for place in places if index.language == "fr" else reversed(places):
            head = part.words[place]
            entry = index.best(head.key, around - {head.key})
            if entry is not None:
                return _Found(entry, head, certain=not entry.generic, known=True)
    return None


def _match(found: _Found, words: Sequence[Word]) -> Match:
    wanted = {found.head.key, *found.entry.words}
    matched: list[str] = []
    rest: list[str] = []
    for word in words:
        (matched if word.key in wanted else rest).append(word.text if word.key else "")
        wanted.discard(word.key)
    named, others = (" ".join(filter(None, part)) for part in (matched, rest))
    return Match(found.entry.key, named, others, found.certain)


def _equipment(text: str, language: str) -> bool:
    index = equipment_index(language)
    for part in segments(prepared(text, index), language):
        place = find_head(part.words, language)
        if place is None:
            place = 0 if language == "fr" else len(part.words) - 1
        around = frozenset(w.key for w in part.words)
        if index.best(part.words[place].key, around) is not None:
            return True
    return False
