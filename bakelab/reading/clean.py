"""A line of a recipe without its bullets, markup and decoration."""

import html
import re
import unicodedata
from functools import lru_cache

__all__ = ["clean_line", "plain_text"]

_IMAGE = re.compile(r"!\[[^\]\[]{0,300}\]\([^()]{0,500}\)")
_LINK = re.compile(r"\[([^\]\[]{0,300})\]\([^()]{0,500}\)")
_FOOTNOTE = re.compile(r"\[\^?\d+\]|\*+$")
_TAG = re.compile(r"</?[a-zA-Z][^<>]{0,200}>")
_EMPHASIS = re.compile(r"\*\*|__|`|~~|(?<!\w)[_*](?=\S)|(?<=\S)[_*](?!\w)")
_BULLET = re.compile(
    r"^\s*(?:(?:[-*•·▪▫◦‣⁃∙●○■□☐☑☒✓✔✅►▶▢»>–—]|\[[ xX✓]?\]|\\-|o(?=\s+\d))\s*(?=\S)"
    r"|\+\s+)+"
)
_NUMBERING = re.compile(r"^\s*\(?\d{1,2}[.)]\s+(?=\S)")
_SPACE = re.compile(r"[ \t\f\v\u00a0\u2000-\u200a\u202f\u205f\u3000]+")
_INVISIBLE = re.compile(
    r"[\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufe0e\ufe0f\u00ad]"
)
_THIN_THOUSAND = re.compile(r"(?<=\d)[\u00a0\u202f\u2009](?=\d{3}(?!\d))")
_GERMAN_PART = re.compile(r"(?i)\b((?:drei)?viertel|achtel|halb)(liter|pfund|kilo)\b")
_BETWEEN = re.compile(r"(?i)^between ([\d.,/½]+) and ([\d.,/½]+)")
_DOZENS = re.compile(r"(?i)\b(\d{1,2})\s+(?:dozen|dutzend|douzaines?(?: d[e'’])?)\b")
_WIDE = {ord("０") + i: str(i) for i in range(10)} | {ord("％"): "%", ord("／"): "/"}


@lru_cache(maxsize=4096)
def clean_line(text: str) -> str:
    """What a person reads of one ingredient line, on one line.

    Examples
    --------
    >>> clean_line("- [ ] **500&nbsp;g** [bread flour](/flour)")
    '500 g bread flour'
    """
    text = _BULLET.sub("", plain_text(text), count=1)
    text = _BETWEEN.sub(r"\1 to \2", text)
    text = _DOZENS.sub(lambda m: str(12 * int(m.group(1))), text)
    return _NUMBERING.sub("", text, count=1).strip()


@lru_cache(maxsize=4096)
def plain_text(text: str) -> str:
    """A line without markup, pictures, tags and invisible signs."""
    text = html.unescape(text) if "&" in text else text
    if not text.isascii():
        text = unicodedata.normalize("NFC", text)
        text = _INVISIBLE.sub("", text).translate(_WIDE)
    if "[" in text:
        text = _LINK.sub(r"\1", _IMAGE.sub("", text))
        text = _FOOTNOTE.sub("", text) if _FOOTNOTE.search(text) else text
    if "<" in text:
        text = _TAG.sub(" ", text)
    text = text if text[:1].isalnum() else _lead(text)
    text = _EMPHASIS.sub("", text)
    text = _THIN_THOUSAND.sub("'", text)
    text = _GERMAN_PART.sub(r"\1 \2", text)
    return _SPACE.sub(" ", text).strip()


def _lead(text: str) -> str:
    """Without the pictograms at the head of a line."""
    index = 0
    while index < len(text) and (
        unicodedata.category(text[index]) in ("So", "Sk", "Cs", "Cc", "Cf")
        and text[index] not in "°℃℉□☐☑☒✓✔■●○►▶▢▪"
    ):
        index += 1
    return text[index:]
