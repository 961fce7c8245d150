"""A recipe's text cut into title, ingredient lines with their stages, method."""

import re
from collections.abc import Sequence

from bakelab.ingredients import find_ingredient
from bakelab.reading.clean import clean_line, plain_text
from bakelab.reading.frontmatter import front_matter
from bakelab.reading.headings import Heading, heading, meta_fact
from bakelab.reading.itemlike import (
    SENTENCE_END,
    has_amount,
    is_item,
    is_named,
)
from bakelab.reading.listing import (
    Item,
    Sections,
    State,
    add_items,
    continues,
    leave_indent,
    open_heading,
)
from bakelab.reading.marks import (
    BULLET,
    MARKDOWN,
    NUMBERED,
    UNDERLINE,
    line_heading,
    marked_stages,
    next_is_bullet,
)
from bakelab.reading.tablelike import cells_of

__all__ = ["MOST_TEXT_LINES", "Item", "Sections", "cut"]

MOST_TEXT_LINES = 1500  # lines of a text that are looked at; a recipe has far fewer
_TEMPLATE = re.compile(r"(?m)^\s*\{%.*%\}\s*$")
_INLINE = re.compile(r"^([^\W\d_][\w' ]{2,20}?)\s*[.:]\s+(\S.*)$")
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)


def cut(text: str) -> Sections:
    """Sections of a recipe written as plain text or Markdown."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text, title, facts = front_matter(text)
    lines = _TEMPLATE.sub("", _COMMENT.sub("", text)).split("\n")
    reach = min(len(lines), MOST_TEXT_LINES)
    opened = [line_heading(lines, i) for i in range(reach)]
    known = {h.value for h in opened if h is not None and h.kind == "section"}
    out = Sections(title=title, facts=facts, left=len(lines) - reach)
    batches = sum(h is not None and h.kind == "batch" for h in opened)
    section = "" if "ingredients" in known else "open"
    state = State(section, batches=batches, stages=marked_stages(lines, opened))
    for index in range(reach):
        _take(out, state, lines, index, opened[index], method_known="method" in known)
    _drop_held(out, state)
    out.items = _joined(out.items)
    return out


def _take(
    out: Sections,
    state: State,
    lines: Sequence[str],
    index: int,
    opened: Heading | None,
    *,
    method_known: bool,
) -> None:
    line = lines[index]
    plain = plain_text(line)
    if not plain or UNDERLINE.match(line):
        state.near = state.near and next_is_bullet(lines, index)
        _drop_held(out, state)
        return
    cleaned = clean_line(line)
    fact = meta_fact(cleaned)
    if fact is not None and not (state.section == "ingredients" and is_item(cleaned)):
        out.facts.append(fact)
    elif index not in state.stages and _is_head_title(out, state, line, opened):
        out.title = clean_line(plain.strip("# "))
    elif opened is not None and not _uses_stage(out, opened, lines, index):
        open_heading(out, state, opened, line, plain)
    else:
        _take_text(out, state, index, line, method_known=method_known)


def _take_text(
    out: Sections, state: State, index: int, line: str, *, method_known: bool
) -> None:
    """A line that is no heading, though one may stand in front of its text."""
    plain = plain_text(line)
    inline = _INLINE.match(plain)
    found = heading(inline[1]) if inline is not None else None
    if inline is not None and found is not None and _opens_on_line(found, inline):
        open_heading(out, state, found, line, plain)
        _fill(out, state, index, inline[2], inline[2], method_known=method_known)
        return
    if inline is not None and found is not None and _is_section(found, inline):
        open_heading(out, state, found, line, plain)
        line = plain = inline[2]
    if _is_title(out, state, line, plain):
        out.title = clean_line(line)
        return
    _fill(out, state, index, line, plain, method_known=method_known)


def _is_section(found: Heading, inline: re.Match[str]) -> bool:
    return found.kind == "section" and found.word == inline[1].strip().casefold()


def _opens_on_line(found: Heading, inline: re.Match[str]) -> bool:
    """`Topping: 750 g apricots`: a part and its first ingredient on one line."""
    exact = found.kind == "outside" and found.word == inline[1].strip().casefold()
    return exact and is_item(inline[2]) and is_named(inline[2])


def _is_head_title(
    out: Sections, state: State, line: str, opened: Heading | None
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
    return bool(MARKDOWN.match(line)) or (alone and opened is not None and not batch)


def _uses_stage(
    out: Sections, opened: Heading, lines: Sequence[str], index: int
) -> bool:
    """A bare `Sauerteig` amid a list, below the list that makes it, is its use."""
    around = (*lines[max(0, index - 1) : index], *lines[index + 1 : index + 2])
    amid = len(around) == 2 and all(text.strip() for text in around)
    bare = lines[index].strip().casefold() == opened.word
    made = {item.stage for item in out.items[:-1]}
    return opened.kind == "stage" and bare and amid and opened.stage in made


def _is_title(out: Sections, state: State, line: str, plain: str) -> bool:
    if out.title or out.items or state.section not in ("", "open"):
        return False
    if MARKDOWN.match(line):
        return True
    return (
        len(plain) <= 80
        and cells_of(line) is None
        and not BULLET.match(line)
        and not has_amount(plain)
        and not is_item(clean_line(line))
        and not plain.endswith(",")
    )


def _fill(
    out: Sections,
    state: State,
    index: int,
    line: str,
    plain: str,
    *,
    method_known: bool,
) -> None:
    """Put an ordinary line where it belongs."""
    leave_indent(state, line)
    if state.section == "ingredients":
        if not method_known and _opens_method(line, plain, out):
            state.section = "method"
            out.method.append(plain)
        else:
            add_items(out, state, index, line)
    elif state.section == "open":
        _fill_open(out, state, index, line, plain)
    elif state.section == "method":
        out.method.append(plain)
    else:
        out.intro.append(plain)


def _fill_open(out: Sections, state: State, index: int, line: str, plain: str) -> None:
    """Where no heading parts list and method, the line itself must tell."""
    if _is_listed(out, state, line, plain):
        for held, text in state.held:
            add_items(out, state, held, text)
        state.held = []
        add_items(out, state, index, line)
    elif _may_open_list(line, plain):
        state.held.append((index, line))
    else:
        _drop_held(out, state)
        _head_row(state, line)
        state.near = False
        (out.method if out.items else out.intro).append(plain)


def _is_listed(out: Sections, state: State, line: str, plain: str) -> bool:
    if is_item(clean_line(line)) or (cells_of(line) and _has_digit(line)):
        return True
    goes_on = bool(out.items) and continues(out.items[-1], line)
    return goes_on or (state.near and _goes_with_list(line, plain))


def _may_open_list(line: str, plain: str) -> bool:
    """An ingredient without an amount, kept until the next line shows a list."""
    return (
        _goes_with_list(line, plain) and find_ingredient(clean_line(line)) is not None
    )


def _drop_held(out: Sections, state: State) -> None:
    """Held lines that no list follows are ordinary text."""
    for _, text in state.held:
        (out.method if out.items else out.intro).append(plain_text(text))
    state.held = []


def _goes_with_list(line: str, plain: str) -> bool:
    """A short line right below an ingredient, such as `Salt` or `oil for the pan`."""
    short = (
        len(plain) < 100 and len(plain.split()) <= 8 and not SENTENCE_END.search(plain)
    )
    return short and not NUMBERED.match(line) and not plain.endswith(":")


def _has_digit(line: str) -> bool:
    return any(ch.isdigit() for ch in line)


def _head_row(state: State, line: str) -> None:
    cells = cells_of(line)
    if cells is not None:
        state.table.read(cells)


def _opens_method(line: str, plain: str, out: Sections) -> bool:
    """A numbered step or a whole sentence after the list."""
    if not any(has_amount(i.reading) for i in out.items):
        return False
    words = len(plain.split())
    if NUMBERED.match(line):
        return words > 7 and not is_item(clean_line(line))
    if BULLET.match(line):
        return words > 14 and bool(SENTENCE_END.search(plain)) and not is_item(plain)
    return words > 7 and bool(SENTENCE_END.search(plain)) and not is_item(plain)


def _joined(items: list[Item]) -> list[Item]:
    return [i for i in items if i.reading.strip()]
