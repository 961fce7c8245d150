"""The ingredient list while a text is cut: its lines, parts and stages."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bakelab.reading.clean import clean_line
from bakelab.reading.headings import Heading, heading
from bakelab.reading.itemlike import (
    inline_items,
    is_item,
)
from bakelab.reading.marks import BULLET, NUMBERED, unmarked
from bakelab.reading.tablelike import TableReader, cells_of, part_of

__all__ = [
    "Item",
    "Sections",
    "State",
    "add_items",
    "continues",
    "leave_indent",
    "open_heading",
]


@dataclass(frozen=True)
class Item:
    """A line of the ingredient list: as written, as read, and where it stands."""

    line_no: int
    text: str
    reading: str
    stage: str = "dough"
    in_dough: bool = True
    group: str = ""
    system: str = ""


@dataclass
class Sections:
    """What a text falls into.

    `facts` are lines such as `Cook time: 40 min`; `left` is the number of
    lines past the most that are looked at.
    """

    title: str = ""
    items: list[Item] = field(default_factory=list)
    method: list[str] = field(default_factory=list)
    facts: list[tuple[str, str]] = field(default_factory=list)
    intro: list[str] = field(default_factory=list)
    left: int = 0


@dataclass
class State:
    section: str = ""
    stage: str = "dough"
    in_dough: bool = True
    group: str = ""
    system: str = ""
    indent: int | None = None
    nested: bool = False
    near: bool = False
    batches: int = 0
    stages: frozenset[int] = frozenset()
    held: list[tuple[int, str]] = field(default_factory=list)
    above: tuple[str, bool] = ("dough", True)
    table: TableReader = field(default_factory=TableReader)


def open_heading(
    out: Sections, state: State, opened: Heading, line: str, plain: str
) -> None:
    """Change the state by a heading; text on the same line is kept."""
    indent = len(line) - len(line.lstrip()) if BULLET.match(line) else None
    if opened.kind == "section":
        state.section = opened.value
        state.stage, state.in_dough, state.indent = "dough", True, None
        state.system = opened.system or state.system
    elif state.section in ("ingredients", "open"):
        _open_part(state, opened, indent)
    elif opened.kind == "group" and not out.title and not state.section:
        out.title = clean_line(plain.strip("# "))
    else:
        out.method.append(plain)


def _open_part(state: State, opened: Heading, indent: int | None) -> None:
    state.near = True
    if opened.kind in ("stage", "outside"):
        state.above = (state.stage, state.in_dough)
        state.stage, state.in_dough = opened.stage, opened.kind == "stage"
        state.indent = indent
        state.system = opened.system or state.system
    elif opened.kind == "system":
        state.system, state.stage, state.in_dough = opened.value, "dough", True
    elif opened.kind == "batch":
        state.group, state.stage, state.in_dough = opened.value, "dough", True


def leave_indent(state: State, line: str) -> None:
    """A stage named by a bullet ends where its nested bullets end."""
    if state.indent is None or not BULLET.match(line):
        return
    deeper = len(line) - len(line.lstrip()) > state.indent
    if state.nested and not deeper:
        state.stage, state.in_dough = state.above
        state.indent = None
    state.nested = state.nested or deeper


def add_items(out: Sections, state: State, index: int, line: str) -> None:
    state.near = True
    item = Item(
        index + 1, unmarked(line), line, state.stage, state.in_dough, state.group,
        state.system,
    )  # fmt: skip
    cells = cells_of(line)
    if cells is not None:
        if _opens_part(out, state, cells, line):
            return
        reading = state.table.read(cells)
        if reading is not None:
            stage = state.table.stage.casefold() or item.stage
            out.items.append(replace(item, reading=reading, stage=stage))
        return
    if out.items and continues(out.items[-1], line):
        last = out.items[-1]
        joined = f"{last.reading.rstrip()} {line.strip()}"
        out.items[-1] = replace(
            last, text=f"{last.text} {line.strip()}", reading=joined
        )
        return
    out.items.extend(
        replace(item, text=unmarked(t), reading=t) for t in inline_items(line)
    )


def _opens_part(out: Sections, state: State, cells: Sequence[str], line: str) -> bool:
    """A row such as `| **Glaze** | |`, or a head row that names a part."""
    part = part_of(cells)
    opened = heading(part) if part else None
    if opened is None or opened.kind not in ("stage", "outside"):
        return False
    open_heading(out, state, opened, line, part)
    if len([c for c in cells if c.strip()]) > 1:
        state.table.read(cells)
    return True


def continues(last: Item, line: str) -> bool:
    """Whether a line only goes on with the one before."""
    if BULLET.match(line) or NUMBERED.match(line):
        return False
    text = line.strip()
    before = last.reading.rstrip()
    open_bracket = before.count("(") > before.count(")")
    if open_bracket and len(before) < 300:
        return True
    if is_item(text):
        return before.endswith(("+", " plus", " or", " and", " oder", " ou"))
    hanging = before.endswith(
        (",", "-", "/", " or", " and", " of", " oder", " und", " ou", " et", " de", "+")
    )
    lower = text[:1].islower() or text[:1] in "(,&+"
    bulleted = bool(BULLET.match(last.reading)) and line[:1] in " \t"
    return (hanging and lower) or (bulleted and lower) or text[:1] == "("
