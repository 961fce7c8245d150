"""The ingredient lines of a whole recipe: one list, each line once."""

import re
from collections.abc import Sequence
from dataclasses import replace

from bakelab.reading.built import counted_once
from bakelab.reading.headings import heading, is_total
from bakelab.reading.line import read_line
from bakelab.reading.model import Line
from bakelab.reading.nested import sums_left_out
from bakelab.reading.parts import MOST_LINES, Parts
from bakelab.reading.prose import lines_from_prose, missing_from_list
from bakelab.reading.sections import Item

__all__ = ["lines_of"]

_DRAINED = re.compile(
    r"(?i)\b(?:drain|strain|pour off|discard|remove (?:the |any )?(?:leftover|excess|"
    r"remaining)|abgießen|abtropfen|égoutter|égouttez)\b[^.\n]{0,60}"
)

# Chops that are the bread are its flour: common practice of German bakers, no source.
_CHOPS = {"rye_chops": "rye_whole", "wheat_cracked": "wheat_whole"}


def lines_of(parts: Parts, language: str, market: str) -> tuple[list[Line], list[str]]:
    remarks: list[str] = []
    chosen, left = _one_list(parts.items, remarks)
    lines = [
        _line(i, language, market, chosen=i in chosen) for i in parts.items[:MOST_LINES]
    ]
    lines += [_beyond(i) for i in parts.items[MOST_LINES:]]
    if parts.prose:
        lines = lines_from_prose(parts.prose, language, market) or lines
    else:
        lines = sums_left_out([i.reading for i in parts.items], lines)
    if left:
        remarks.append(left)
    lines = counted_once(_drained(lines, parts.method))
    lines += missing_from_list(parts.method, lines, language, market)
    return _chops_as_flour(lines), remarks


def _drained(lines: list[Line], method: Sequence[str]) -> list[Line]:
    """Soaking water that the method pours away is not in the dough."""
    text = "\n".join(method)
    poured = _DRAINED.search(text)
    if poured is None:
        return lines
    remark = f"poured away: {poured.group()}"
    return [
        replace(ln, state="not in dough", remark=remark) if _soaks(ln) else ln
        for ln in lines
    ]


def _chops_as_flour(lines: list[Line]) -> list[Line]:
    """Chops that outweigh the flour count as flour: they are the bread."""
    counted = [ln for ln in lines if ln.state in ("read", "doubt") and ln.mass_g]
    flour_g = sum(ln.mass_g or 0 for ln in counted if ln.role == "flour")
    chops = [ln for ln in counted if ln.ingredient in _CHOPS]
    if sum(ln.mass_g or 0 for ln in chops) <= flour_g:
        return lines
    return [_as_flour(ln) if ln in chops else ln for ln in lines]


def _as_flour(line: Line) -> Line:
    said = "more chops than flour: counted as flour"
    remark = f"{line.remark}; {said}" if line.remark else said
    return replace(
        line, ingredient=_CHOPS[line.ingredient], role="flour", remark=remark
    )


def _soaks(line: Line) -> bool:
    opened = heading(line.stage)
    return line.role == "water" and opened is not None and opened.value == "soaker"


def _line(item: Item, language: str, market: str, *, chosen: bool) -> Line:
    line = read_line(
        item.reading, language=language, market=market, line_no=item.line_no,
        stage=item.stage, in_dough=item.in_dough,
    )  # fmt: skip
    line = replace(line, text=item.text)
    if is_total(line.label) or is_total(line.text.split(":")[0]):
        return replace(line, state="not in dough", remark="a sum of the other lines")
    if not chosen:
        remark = "the same list in other units or another batch size: not added"
        return replace(line, state="not in dough", remark=remark)
    return line


def _beyond(item: Item) -> Line:
    remark = f"a recipe here has up to {MOST_LINES} ingredient lines: give one recipe"
    return Line(item.line_no, item.text, "unread", stage=item.stage, remark=remark)


def _one_list(items: Sequence[Item], remarks: list[str]) -> tuple[list[Item], str]:
    """Of two lists in two unit systems or two batch sizes, take one."""
    systems = list(dict.fromkeys(i.system for i in items if i.system))
    chosen = list(items)
    said = ""
    if len(systems) > 1:
        taken = "metric" if "metric" in systems else systems[0]
        chosen = [i for i in chosen if i.system in ("", taken)]
        named = " and ".join(systems)
        said = f"the recipe gives its list in {named} units; {taken} was taken"
    groups = list(dict.fromkeys(i.group for i in chosen if i.group))
    if len(groups) > 1:
        chosen = [i for i in chosen if i.group in ("", groups[0])]
        remarks.append(f"the recipe gives several batches; {groups[0]!r} was taken")
    return chosen, said
