"""Marks at the head of a line: headings, bullets, steps, rules."""

import re
from collections.abc import Sequence

from bakelab.reading.clean import clean_line
from bakelab.reading.headings import Heading, heading
from bakelab.reading.itemlike import (
    has_amount,
    has_unit,
    is_item,
)

__all__ = [
    "BULLET",
    "MARKDOWN",
    "NUMBERED",
    "UNDERLINE",
    "line_heading",
    "marked_stages",
    "next_is_bullet",
    "unmarked",
]

MARKDOWN = re.compile(r"^\s{0,3}#{1,6}\s+(.+?)\s*#*\s*$")
_BOLD = re.compile(r"^\s*(?:[-*•+]\s+)?(\*\*|__)(?=\S)(.+?)(?<=\S)\1\s*:?\s*$")
UNDERLINE = re.compile(r"^\s*(={3,}|-{3,}|~{3,})\s*$")
BULLET = re.compile(r"^(\s*)(?:[-*•·▪◦‣○●□☐☑✓✔►+–—]|\[[ xX]\])\s+\S")
_FOR_A_PART = re.compile(r"(?i)(for|für|pour) (the |den |die |das |le |la )")
_SIGN = re.compile(r"^\s*(?:(?:[-*•·▪◦‣○●□☐☑✓✔►+–—]|\[[ xX]\])\s+)+(?=\S)")
NUMBERED = re.compile(r"^\s*(?:step\s+)?\d{1,2}[.):]\s+\S", re.IGNORECASE)


def next_is_bullet(lines: Sequence[str], index: int) -> bool:
    return index + 1 < len(lines) and bool(BULLET.match(lines[index + 1]))


def line_heading(lines: Sequence[str], index: int) -> Heading | None:
    """What a line opens, if it looks like a heading and is known as one."""
    line = lines[index]
    if not line.strip() or len(line) > 120:
        return None
    marked = MARKDOWN.match(line) or _BOLD.match(line)
    inner = marked.groups()[-1] if marked else clean_line(line)
    under = index + 1 < len(lines) and bool(UNDERLINE.match(lines[index + 1]))
    colon = inner.rstrip().endswith(":")
    found = heading(inner)
    if found is None:
        if (marked or under or colon) and not has_unit(inner) and len(inner) < 80:
            return Heading("group", inner.strip(" :#*_"))
        return None
    if marked or under or colon:
        return found
    return found if _stands_alone(lines, index, inner, found) else None


def marked_stages(
    lines: Sequence[str], opened: Sequence[Heading | None]
) -> frozenset[int]:
    """Lines of `## Poolish` that a stage of the same rank follows, `## Final dough`.

    Such a line is no title, also where it is the first heading of a text.
    """
    ranks = {
        i: len(line) - len(line.lstrip("#"))
        for i, (line, found) in enumerate(zip(lines, opened, strict=False))
        if found is not None and found.kind == "stage" and MARKDOWN.match(line)
    }
    return frozenset(
        i for i, rank in ranks.items()
        if _is_bare_stage(lines[i], opened[i])
        and not _heads_a_heading(lines, opened, i)
        and any(j > i and ranks[j] == rank for j in ranks)
    )  # fmt: skip


def _heads_a_heading(
    lines: Sequence[str], opened: Sequence[Heading | None], index: int
) -> bool:
    """Whether the next line with words is a heading too, as below a title."""
    below = (j for j in range(index + 1, len(opened)) if lines[j].strip())
    return opened[next(below, index)] is not None


def _is_bare_stage(line: str, found: Heading | None) -> bool:
    """Whether a heading is the word of a stage ahead of the dough, and no more."""
    words = re.sub(r"\s*\([^()]*\)\s*$", "", line.strip("# \t")).casefold()
    return found is not None and found.value != "dough" and found.word == words


def _stands_alone(lines: Sequence[str], index: int, inner: str, found: Heading) -> bool:
    """Whether a line without any mark of a heading is one all the same."""
    if is_item(inner):
        return False
    if found.kind == "batch":
        return len(inner.split()) <= 6
    if found.kind in ("stage", "outside", "system"):
        words = re.sub(r"\s*\([^()]*\)\s*$", "", inner).strip().casefold()
        bare = found.word == words or found.kind == "system"
        if bare and not BULLET.match(lines[index]) and _item_follows(lines, index):
            return True
    if len(inner.split()) > 4 or has_amount(inner):
        return False
    if found.kind == "section":
        return heading(inner.strip(" .").casefold()) == found
    return inner.isupper() or _FOR_A_PART.match(inner) is not None


def _item_follows(lines: Sequence[str], index: int) -> bool:
    """Whether an ingredient stands below a line, at most two lines on."""
    below = [ln for ln in lines[index + 1 : index + 5] if ln.strip()][:2]
    return any(BULLET.match(ln) or is_item(clean_line(ln)) for ln in below)


def unmarked(line: str) -> str:
    """The line as written, without its list sign."""
    return _SIGN.sub("", line, count=1).strip() or line.strip()
