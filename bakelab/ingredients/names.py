"""A name in its segments: what stands before a comma, a bracket, a `for`."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bakelab.ingredients.words import Lexicon, Word, lexicon

__all__ = ["Part", "Segment", "kind_of", "segments"]

Segment = Sequence[Word]

_ENDS = {",": ",", "|": ",", ";": ",", ":": ",", "-": ",", "–": ",", "—": ","}
_PARTICIPLE = re.compile(r".{3,}(?:[^es]ed|[^eil]ly)$")
_GERMAN_PARTICIPLE = re.compile(
    r"(?:(?:ge|ver|zer|auf|ab|ein|vor|aus)\w{3,}t|\w{3,}ig)$"
)


@dataclass(frozen=True, slots=True)
class Part:
    """One segment and what joins it to the one before: `,`, `(`, and, or."""

    link: str
    words: Segment


def segments(words: Iterable[Word], language: str) -> list[Part]:
    """The parts of a name, bracketed ones last, without words of no meaning."""
    lex = lexicon(language)
    main, inside = _Builder(lex, inside=False), _Builder(lex, inside=True)
    depth = 0
    for word in words:
        if word.sign in ("(", ")"):
            depth = max(0, depth + (1 if word.sign == "(" else -1))
            inside.close("(")
            continue
        (inside if depth else main).add(word)
    inside.close("(")
    main.close("")
    return main.parts + inside.parts


def kind_of(word: Word, language: str) -> str:
    """What a word does in a name: one of the kinds of the lexicon, or `noun`."""
    return _kind(word.key, lexicon(language))


def _kind(key: str, lex: Lexicon) -> str:
    kind = lex.kinds.get(key)
    if kind is not None:
        return kind
    if key[:1].isdigit():
        return "modifier"
    if lex.language == "en" and _PARTICIPLE.match(key):
        return "modifier"
    if lex.language == "de" and _GERMAN_PARTICIPLE.match(key):
        return "modifier"
    return "noun"


class _Builder:
    """Gathers words into parts."""

    def __init__(self, lex: Lexicon, *, inside: bool) -> None:
        self.parts: list[Part] = []
        self._lex = lex
        self._inside = inside
        self._link = ""
        self._words: list[Word] = []
        self._of: int | None = None
        self._skip = False

    def add(self, word: Word) -> None:
        """Take a word or sign."""
        kind = _ENDS.get(word.sign, word.sign) or _kind(word.key, self._lex)
        if kind in (",", "and", "or"):
            self.close(kind)
        elif self._skip or kind == "stop" or self._measures(word):
            return
        elif kind == "cut":
            self._skip = self._named()
        elif kind == "of":
            self._of = len(self._words)
        else:
            self._words.append(word)

    def close(self, link: str) -> None:
        """End the segment; `link` joins the next one."""
        words = self._turned()
        if words:
            self.parts.append(Part(self._link, words))
        self._link, self._words, self._of, self._skip = link, [], None, False

    def _turned(self) -> list[Word]:
        """`yolk of egg` as `egg yolk`."""
        if self._of is None or self._of == len(self._words):
            return self._words
        return self._words[self._of :] + self._words[: self._of]

    def _named(self) -> bool:
        """Whether the name is complete, so that the rest says what it is for."""
        if not self._words:
            return self._inside or bool(self.parts)
        return any(_kind(w.key, self._lex) in ("noun", "front") for w in self._words)

    def _measures(self, word: Word) -> bool:
        """Whether a word says what the percentage before it is of."""
        last = self._words[-1].text if self._words else ""
        return last.endswith("%") and word.key in self._lex.measured
