"""A line above deeper bullets: their sum, or the most that they may be together."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from bakelab.ingredients import is_ingredient
from bakelab.reading.model import Line

__all__ = ["sums_left_out"]

_SAME = 0.02  # how far a sum of rounded parts may be off; our own
_MOST = re.compile(
    r"(?i)\b(max(?:imum|\.)?|at most|up to|no more than|in all|in total|total|"
    r"altogether|höchstens|maximal|insgesamt|bis zu|au plus|maximum|au total|"
    r"jusqu['’]à)(?!\w)"
)


def sums_left_out(readings: Sequence[str], lines: Sequence[Line]) -> list[Line]:
    """No amount counts twice where a line stands above its own parts.

    `flour (225 g)` above `155 g wheat` and `70 g rye` is their sum and left
    out; so is `seeds (at most 90 g)` above parts that are all weighed. Where
    a part has no weight, the line above counts and the parts are inside it.

    Parameters
    ----------
    readings : sequence of str
        The lines with their bullets, which tell how deep each one is.
    lines : sequence of Line
        The same lines as they were read.
    """
    depths = [_depth(r) for r in readings[: len(lines)]]
    out = list(lines)
    for index, line in enumerate(lines[: len(depths)]):
        below = list(_below(depths, index))
        if not below or not line.mass_g or line.state == "not in dough":
            continue
        for place, changed in _settled(line, index, [(i, lines[i]) for i in below]):
            out[place] = changed
    return out


def _settled(
    line: Line, index: int, parts: Sequence[tuple[int, Line]]
) -> Iterator[tuple[int, Line]]:
    """The lines that no longer count, with why."""
    assert line.mass_g is not None
    total = sum(p.mass_g or 0.0 for _, p in parts)
    named = [p for p in parts if is_ingredient(p[1].ingredient)]
    open_parts = [p for p in named if p[1].low is None]
    most = _MOST.search(line.text) is not None
    if total and abs(total / line.mass_g - 1) < _SAME:
        remark = "the sum of the lines below it"
    elif most and total and not open_parts:
        remark = "the most that the lines below it may be together: they count"
    elif named and open_parts and total <= line.mass_g * (1 + _SAME):
        inside = f"inside the {line.mass_g:g} g of the line above it"
        for place, part in named:
            yield place, replace(part, state="not in dough", remark=inside)
        return
    else:
        return
    yield index, replace(line, state="not in dough", remark=remark)


def _below(depths: Sequence[int | None], index: int) -> Iterator[int]:
    """The places of the deeper bullets right below a line."""
    depth = depths[index]
    for place in range(index + 1, len(depths)):
        deeper = depths[place]
        if depth is None or deeper is None or deeper <= depth:
            return
        yield place


def _depth(reading: str) -> int | None:
    """How far a bullet is indented; None for a line without one."""
    bullet = re.match(r"\s*(?=[-*•+]\s)", reading.expandtabs(4))
    return len(bullet.group()) if bullet else None
