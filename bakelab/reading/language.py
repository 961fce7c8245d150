"""Which language a text is in, from its commonest words."""

import re
from collections import Counter
from functools import cache

from bakelab.tables import read_rows

__all__ = ["guess_language"]

_WORD = re.compile(r"[^\W\d_]+")
_OTHER_SCRIPT = re.compile(
    r"[\u0370-\u03ff\u0400-\u04ff\u0590-\u06ff\u0900-\u0dff\u0e00-\u0e7f\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]"
)


def guess_language(text: str) -> str:
    """A two-letter code: the language whose marking words are most frequent.

    English where nothing speaks for another; ``"other"`` for a script that
    none of the known languages uses. Looks at the first 6000 letters.

    Examples
    --------
    >>> guess_language("500 g Mehl, 300 ml lauwarmes Wasser")
    'de'
    """
    head = text[:6000]
    if len(_OTHER_SCRIPT.findall(head)) > 0.2 * max(1, len(head.replace(" ", ""))):
        return "other"
    score: Counter[str] = Counter()
    owners = _owners()
    for word in _WORD.findall(head.casefold()):
        for language, weight in owners.get(word, ()):
            score[language] += weight
    if not score:
        return "en"
    best = max(score.values())
    if score["en"] >= best:
        return "en"
    return min(lang for lang, points in score.items() if points == best)


@cache
def _owners() -> dict[str, tuple[tuple[str, int], ...]]:
    """Every marking word with its languages; a word of one weighs most."""
    found: dict[str, list[str]] = {}
    for row in read_rows("languages", {"language": str, "words": str}):
        for word in set(row["words"].split()):
            found.setdefault(word, []).append(row["language"])
    return {
        word: tuple((lang, 6 // min(len(langs), 6)) for lang in langs)
        for word, langs in found.items()
    }
