"""Facts and lists that stand in the front matter of a text."""

import re

from bakelab.reading.headings import heading, meta_fact

__all__ = ["front_matter"]

_FRONT = re.compile(r"\A\s*(---|\+\+\+)\n(.*?)\n\1\s*(?:\n|\Z)", re.DOTALL)
_FRONT_KEY = re.compile(r"^\s*([a-z]+)(?:[_-]\w+)?\s*:\s*[|>]?[-+]?\s*$", re.IGNORECASE)
_QUOTED = re.compile(r"^(\s*-\s+)([\"'])(.*)\2\s*$")


def front_matter(text: str) -> tuple[str, str, list[tuple[str, str]]]:
    match = _FRONT.match(text)
    if match is None:
        return text, "", []
    inner = match.group(2)
    title = re.search(r"(?m)^title\s*[:=]\s*(.+?)\s*$", inner)
    facts = [f for line in inner.split("\n") if (f := meta_fact(line))]
    listed = "\n".join(_front_lines(inner))
    gap = "\n" * (match.group(0).count("\n") - listed.count("\n") - 1)
    kept = "\n" + listed + gap + text[match.end() :]
    return kept, (title.group(1).strip("\"'") if title else ""), facts


def _front_lines(inner: str) -> list[str]:
    """A list of ingredients kept in front matter, its keys as headings."""
    kept: list[str] = []
    listing = False
    for line in inner.split("\n"):
        key = _FRONT_KEY.match(line)
        if key is not None:
            opened = heading(key.group(1))
            listing = opened is not None and opened.kind == "section"
        quoted = _QUOTED.match(line)
        plain = quoted.group(1) + quoted.group(3) if quoted else line
        if key is not None and listing:
            kept.append(f"## {key.group(1)}")
        else:
            kept.append(plain if listing else "")
    return kept
