"""A recipe's text cut into title, ingredient lines with their stages, method."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bakelab.ingredients import find_ingredient
from bakelab.reading.clean import clean_line, plain_text
from bakelab.reading.frontmatter import front_matter
from bakelab.reading.headings import Heading, heading, meta_fact
from bakelab.reading.itemlike import (
    SENTENCE_END,
    has_amount,
    has_unit,
    inline_items,
    is_item,
    is_named,
)
from bakelab.reading.tablelike import TableReader, cells_of, part_of

__all__ = ["MOST_TEXT_LINES", "Item", "Sections", "cut"]

MOST_TEXT_LINES = 1500  # lines of a text that are looked at; a recipe has far fewer

_MARKDOWN = re.compile(r"^\s{0,3}#{1,6}\s+(.+?)\s*#*\s*$")
_BOLD = re.compile(r"^\s*(?:[-*•+]\s+)?(\*\*|__)(?=\S)(.+?)(?<=\S)\1\s*:?\s*$")
_UNDERLINE = re.compile(r"^\s*(={3,}|-{3,}|~{3,})\s*$")
_BULLET = re.compile(r"^(\s*)(?:[-*•·▪◦‣○●□☐☑✓✔►+–—]|\[[ xX]\])\s+\S")
_SIGN = re.compile(r"^\s*(?:(?:[-*•·▪◦‣○●□☐☑✓✔►+–—]|\[[ xX]\])\s+)+(?=\S)")
_NUMBERED = re.compile(r"^\s*(?:step\s+)?\d{1,2}[.):]\s+\S", re.IGNORECASE)
_TEMPLATE = re.compile(r"(?m)^\s*\{%.*%\}\s*$")
_INLINE = re.compile(r"^([^\W\d_][\w' ]{2,20}?)\s*[.:]\s+(\S.*)$")
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)


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
class _State:
    section: str = ""
    stage: str = "dough"
    in_dough: bool = True
    group: str = ""
    system: str = ""
    indent: int | None = None
    nested: bool = False
    near: bool = False
    batches: int = 0
    held: list[tuple[int, str]] = field(default_factory=list)
    above: tuple[str, bool] = ("dough", True)
    table: TableReader = field(default_factory=TableReader)


def cut(text: str) -> Sections:
    """Sections of a recipe written as plain text or Markdown."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text, title, facts = front_matter(text)
    lines = _TEMPLATE.sub("", _COMMENT.sub("", text)).split("\n")
    reach = min(len(lines), MOST_TEXT_LINES)
    opened = [_line_heading(lines, i) for i in range(reach)]
    known = {h.value for h in opened if h is not None and h.kind == "section"}
    out = Sections(title=title, facts=facts, left=len(lines) - reach)
    batches = sum(h is not None and h.kind == "batch" for h in opened)
    state = _State("" if "ingredients" in known else "open", batches=batches)
    for index in range(reach):
        _take(out, state, lines, index, opened[index], method_known="method" in known)
    _drop_held(out, state)
    out.items = _joined(out.items)
    return out


def _take(
    out: Sections,
    state: _State,
    lines: Sequence[str],
    index: int,
    opened: Heading | None,
    *,
    method_known: bool,
) -> None:
    line = lines[index]
    plain = plain_text(line)
    if not plain or _UNDERLINE.match(line):
        state.near = state.near and _next_is_bullet(lines, index)
        _drop_held(out, state)
        return
    cleaned = clean_line(line)
    fact = meta_fact(cleaned)
    if fact is not None and not (state.section == "ingredients" and is_item(cleaned)):
        out.facts.append(fact)
        return
    if _is_head_title(out, state, line, opened):
        out.title = clean_line(plain.strip("# "))
        return
    inline = _INLINE.match(plain) if opened is None else None
    if inline is not None and _is_section(inline[1]):
        found = heading(inline[1])
        assert found is not None
        _open(out, state, found, line, plain)
        line = plain = inline[2]
    if opened is None and inline is not None and _opens_on_line(inline):
        opened = heading(inline[1])
        assert opened is not None
        _open(out, state, opened, line, plain)
        _fill(out, state, index, inline[2], inline[2], method_known=method_known)
        return
    if opened is not None:
        _open(out, state, opened, line, plain)
        return
    if _is_title(out, state, line, plain):
        out.title = cleaned
        return
    _fill(out, state, index, line, plain, method_known=method_known)


def _next_is_bullet(lines: Sequence[str], index: int) -> bool:
    return index + 1 < len(lines) and bool(_BULLET.match(lines[index + 1]))


def _is_section(word: str) -> bool:
    found = heading(word)
    exact = found is not None and found.word == word.strip().casefold()
    return exact and found is not None and found.kind == "section"


def _opens_on_line(inline: re.Match[str]) -> bool:
    """`Topping: 750 g apricots`: a part and its first ingredient on one line."""
    found = heading(inline[1])
    exact = found is not None and found.word == inline[1].strip().casefold()
    parts = exact and found is not None and found.kind == "outside"
    return parts and is_item(inline[2]) and is_named(inline[2])


def _is_head_title(
    out: Sections, state: _State, line: str, opened: Heading | None
) -> bool:
    """The first heading of a text names the recipe."""
    if out.title or out.items or state.section not in ("", "open"):
        return False
    if opened is not None and opened.kind == "section":
        return False
    first = not (out.intro or out.method or out.facts)
    named = opened is not None and opened.word == line.strip().rstrip(".").casefold()
    alone = first and not line.rstrip().endswith(":") and not named
    batch = opened is not None and opened.kind == "batch" and state.batches > 1
    return bool(_MARKDOWN.match(line)) or (alone and opened is not None and not batch)


def _line_heading(lines: Sequence[str], index: int) -> Heading | None:
    """What a line opens, if it looks like a heading and is known as one."""
    line = lines[index]
    if not line.strip() or len(line) > 120:
        return None
    marked = _MARKDOWN.match(line) or _BOLD.match(line)
    inner = marked.groups()[-1] if marked else clean_line(line)
    under = index + 1 < len(lines) and bool(_UNDERLINE.match(lines[index + 1]))
    colon = inner.rstrip().endswith(":")
    found = heading(inner)
    if found is None:
        if (marked or under or colon) and not has_unit(inner) and len(inner) < 80:
            return Heading("group", inner.strip(" :#*_"))
        return None
    if marked or under or colon:
        return found
    if is_item(inner):
        return None
    if found.kind == "batch":
        return found if len(inner.split()) <= 6 and not is_item(inner) else None
    if found.kind in ("stage", "outside", "system"):
        words = re.sub(r"\s*\([^()]*\)\s*$", "", inner).strip().casefold()
        bare = found.word == words or found.kind == "system"
        if bare and not _BULLET.match(line) and _item_follows(lines, index):
            return found
    alone = len(inner.split()) <= 4 and not has_amount(inner)
    sure = found.kind == "section" or (
        inner.isupper()
        or re.match(r"(?i)(for|für|pour) (the |den |die |das |le |la )", inner)
    )
    exact = inner.strip(" .").casefold()
    same = found.kind == "section" and (heading(exact) == found)
    return found if alone and sure and (same or found.kind != "section") else None


def _item_follows(lines: Sequence[str], index: int) -> bool:
    """Whether an ingredient stands below a line, at most two lines on."""
    below = [ln for ln in lines[index + 1 : index + 5] if ln.strip()][:2]
    return any(_BULLET.match(ln) or is_item(clean_line(ln)) for ln in below)


def _open(out: Sections, state: _State, opened: Heading, line: str, plain: str) -> None:
    """Change the state by a heading; text on the same line is kept."""
    indent = len(line) - len(line.lstrip()) if _BULLET.match(line) else None
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


def _open_part(state: _State, opened: Heading, indent: int | None) -> None:
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


def _is_title(out: Sections, state: _State, line: str, plain: str) -> bool:
    if out.title or out.items or state.section not in ("", "open"):
        return False
    if _MARKDOWN.match(line):
        return True
    return (
        len(plain) <= 80
        and cells_of(line) is None
        and not _BULLET.match(line)
        and not has_amount(plain)
        and not is_item(clean_line(line))
        and not plain.endswith(",")
    )


def _fill(
    out: Sections,
    state: _State,
    index: int,
    line: str,
    plain: str,
    *,
    method_known: bool,
) -> None:
    """Put an ordinary line where it belongs."""
    _leave_indent(state, line)
    if state.section == "ingredients":
        if not method_known and _opens_method(line, plain, out):
            state.section = "method"
            out.method.append(plain)
        else:
            _add_items(out, state, index, line)
    elif state.section == "open":
        if (
            is_item(clean_line(line))
            or (cells_of(line) and _has_digit(line))
            or (out.items and _continues(out.items[-1], line))
            or (state.near and _goes_with_list(line, plain))
        ):
            for held, text in state.held:
                _add_items(out, state, held, text)
            state.held = []
            _add_items(out, state, index, line)
        elif _may_open_list(line, plain):
            state.held.append((index, line))
        else:
            _drop_held(out, state)
            _head_row(state, line)
            state.near = False
            (out.method if out.items else out.intro).append(plain)
    elif state.section == "method":
        out.method.append(plain)
    else:
        out.intro.append(plain)


def _may_open_list(line: str, plain: str) -> bool:
    """An ingredient without an amount, kept until the next line shows a list."""
    return (
        _goes_with_list(line, plain) and find_ingredient(clean_line(line)) is not None
    )


def _drop_held(out: Sections, state: _State) -> None:
    """Held lines that no list follows are ordinary text."""
    for _, text in state.held:
        (out.method if out.items else out.intro).append(plain_text(text))
    state.held = []


def _goes_with_list(line: str, plain: str) -> bool:
    """A short line right below an ingredient, such as `Salt` or `oil for the pan`."""
    short = (
        len(plain) < 100 and len(plain.split()) <= 8 and not SENTENCE_END.search(plain)
    )
    return short and not _NUMBERED.match(line) and not plain.endswith(":")


def _has_digit(line: str) -> bool:
    return any(ch.isdigit() for ch in line)


def _head_row(state: _State, line: str) -> None:
    cells = cells_of(line)
    if cells is not None:
        state.table.read(cells)


def _leave_indent(state: _State, line: str) -> None:
    """A stage named by a bullet ends where its nested bullets end."""
    if state.indent is None or not _BULLET.match(line):
        return
    deeper = len(line) - len(line.lstrip()) > state.indent
    if state.nested and not deeper:
        state.stage, state.in_dough = state.above
        state.indent = None
    state.nested = state.nested or deeper


def _opens_method(line: str, plain: str, out: Sections) -> bool:
    """A numbered step or a whole sentence after the list."""
    if not any(has_amount(i.reading) for i in out.items):
        return False
    words = len(plain.split())
    if _NUMBERED.match(line):
        return words > 7 and not is_item(clean_line(line))
    if _BULLET.match(line):
        return words > 14 and bool(SENTENCE_END.search(plain)) and not is_item(plain)
    return words > 7 and bool(SENTENCE_END.search(plain)) and not is_item(plain)


def _add_items(out: Sections, state: _State, index: int, line: str) -> None:
    state.near = True
    item = Item(
        index + 1, _unmarked(line), line, state.stage, state.in_dough, state.group,
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
    if out.items and _continues(out.items[-1], line):
        last = out.items[-1]
        joined = f"{last.reading.rstrip()} {line.strip()}"
        out.items[-1] = replace(
            last, text=f"{last.text} {line.strip()}", reading=joined
        )
        return
    out.items.extend(
        replace(item, text=_unmarked(t), reading=t) for t in inline_items(line)
    )


def _opens_part(out: Sections, state: _State, cells: Sequence[str], line: str) -> bool:
    """A row such as `| **Glaze** | |`, or a head row that names a part."""
    part = part_of(cells)
    opened = heading(part) if part else None
    if opened is None or opened.kind not in ("stage", "outside"):
        return False
    _open(out, state, opened, line, part)
    if len([c for c in cells if c.strip()]) > 1:
        state.table.read(cells)
    return True


def _unmarked(line: str) -> str:
    """The line as written, without its list sign."""
    return _SIGN.sub("", line, count=1).strip() or line.strip()


def _continues(last: Item, line: str) -> bool:
    """Whether a line only goes on with the one before."""
    if _BULLET.match(line) or _NUMBERED.match(line):
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
    bulleted = bool(_BULLET.match(last.reading)) and line[:1] in " \t"
    return (hanging and lower) or (bulleted and lower) or text[:1] == "("


def _joined(items: list[Item]) -> list[Item]:
    return [i for i in items if i.reading.strip()]
