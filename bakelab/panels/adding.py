"""A new ingredient line put into a recipe's text, where its list ends."""

import csv
import html
import io
import json
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bakelab.errors import BakelabError, ReadError
from bakelab.panels.correcting import line_as_row
from bakelab.panels.current_recipe import recipe_in
from bakelab.reading import Line, Recipe, read_line
from bakelab.reading.headings import is_total
from bakelab.reading.itemlike import SENTENCE_END
from bakelab.reading.marks import NUMBERED, unmarked
from bakelab.reading.saved import recipe_text, saved_formula_in

__all__ = ["Added", "stage_for_new", "stages_of", "with_line"]

_LONGEST = 200  # characters of a line that is typed into a small field
_MOST_ANCHORS = 4  # lines at the end of the list below which the new one may stand
_MOST_BELOW = 4  # a line of the list may go on over so many lines of the text
_MOST_WORDS = 8  # a longer line without a list is running text
_MOST_CELLS = 24  # a row of more is no row of a table, but a whole page
_WORD = re.compile(r"\w+")
_NUMBER = re.compile(r"^(\s*(?:step\s+)?)(\d{1,2})([.):]\s+)", re.IGNORECASE)


@dataclass(frozen=True)
class Added:
    """The text with its new line, and that line as it was read.

    `words` say in a sentence what was understood of it, or that nothing was.
    """

    text: str
    lines: tuple[Line, ...]

    @property
    def words(self) -> str:
        return "; ".join(_sentence(line) for line in self.lines)


def with_line(
    text: str, line: str, *, stage: str = "", market: str | None = None
) -> Added:
    """The text of a recipe with one more line at the end of its ingredient list.

    Parameters
    ----------
    text : str
        In any form that the reader takes: plain text, a table, a web page.
    line : str
        An amount and an ingredient, such as ``"12 g malt"``.
    stage : str, optional
        One of `stages_of` the recipe; by default the last that is in the dough.
    market : str, optional
        See `bakelab.read_recipe`.

    Raises
    ------
    ReadError
        If there is no list that can take it; nothing is changed then.

    Notes
    -----
    Each place that comes into question is tried by reading the whole recipe
    again. A text is taken only if the line is in its stage, every other line
    stands as before, and method, pan, oven, time and yield are the same.

    Examples
    --------
    >>> text = "400 g bread flour\\n260 g water\\n\\nMix it and bake it for 40 minutes."
    >>> with_line(text, "8 g salt").text.splitlines()[:3]
    ['400 g bread flour', '260 g water', '8 g salt']
    """
    words = _checked(line)
    saved = saved_formula_in(text)
    text = recipe_text(saved) if saved is not None else text
    before = _read(text, market)
    where = stage or stage_for_new(before)
    for candidate in _candidates(text, words, before, where):
        after = _read(candidate, market)
        new = _new_lines(before, after, words, where)
        if after is not None and new and _is_same(before, after, words, text):
            return Added(candidate, new)
    raise ReadError(
        f"{words!r} found no place in the list of ingredients; write an amount and an "
        "ingredient, such as 12 g malt, or put it into the text above yourself"
    )


def stages_of(recipe: Recipe | None) -> tuple[str, ...]:
    """The stages of the lines that stand in the list, in their order."""
    return tuple(dict.fromkeys(line.stage for line in _listed(recipe)))


def stage_for_new(recipe: Recipe | None) -> str:
    """The stage of the last listed line that is in the dough."""
    listed = _listed(recipe)
    inside = [line for line in listed if line.state != "not in dough"]
    return (inside or listed)[-1].stage if listed else "dough"


def _checked(line: str) -> str:
    words = unmarked(" ".join(line.replace("\0", " ").split()))
    if not words:
        raise ReadError(
            "nothing is written; write an amount and an ingredient, such as 12 g malt"
        )
    if len(words) > _LONGEST:
        raise ReadError(
            f"that line has {len(words)} characters, more than the {_LONGEST} of an "
            "ingredient line; put each ingredient on a line of its own"
        )
    return words


def _read(text: str, market: str | None) -> Recipe | None:
    try:
        return recipe_in(text, market)
    except BakelabError:
        return None


def _listed(recipe: Recipe | None) -> list[Line]:
    """Lines of the list: what only the method names has no line number."""
    return [ln for ln in recipe.lines if ln.line_no > 0] if recipe else []


def _candidates(
    text: str, words: str, before: Recipe | None, stage: str
) -> Iterator[str]:
    """Texts with the line below the last lines of its stage, best first."""
    listed = [ln for ln in _listed(before) if ln.stage == stage]
    rows = text.split("\n")
    for anchor in _anchors(listed):
        yield from _in_page(text, words, anchor.text)
        for start in _places(rows, anchor):
            for place in range(start, min(start + _MOST_BELOW, len(rows))):
                if place > start and not rows[place].strip():
                    break
                for written in _forms(rows[start], words, stage):
                    yield "\n".join([*rows[: place + 1], written, *rows[place + 1 :]])
    if not listed:
        head = text.rstrip()
        for gap in ("\n", "\n\n"):
            yield f"{head}{gap}{words}\n" if head else f"{words}\n"


def _anchors(listed: Sequence[Line]) -> list[Line]:
    """The lines it may stand below, the last first; unread ones may be the method."""
    named = [ln for ln in listed if not is_total(ln.text.split(":")[0])]
    named = [ln for ln in reversed(named) if not is_total(ln.label)]
    understood = [ln for ln in named if ln.state != "unread"]
    unread = [ln for ln in named if ln.state == "unread"]
    return [*understood[:_MOST_ANCHORS], *unread[:_MOST_ANCHORS]]


def _places(rows: Sequence[str], anchor: Line) -> list[int]:
    """Where a line stands in the text: at its number, or wherever its words are."""
    own = anchor.line_no - 1
    start = _bare(anchor.text)[:40]
    found = [n for n, row in enumerate(rows) if start and start in _bare(row)]
    if own not in found and own < len(rows) and start.startswith(_bare(rows[own])[:40]):
        found.append(own)  # its first row, where it goes on in the next
    return sorted(found, key=lambda n: (n != own, -n))[:3]


def _bare(text: str) -> str:
    return " ".join(_WORD.findall(text))


def _forms(above: str, words: str, stage: str) -> Iterator[str]:
    """The line marked as the one above it: bullet, number, row of a table or CSV."""
    numbered = _NUMBER.match(above) if NUMBERED.match(above) else None
    if numbered is not None:
        yield f"{numbered[1]}{int(numbered[2]) + 1}{numbered[3]}{words}"
    if "|" in above:
        yield f"| {words} |"
    yield f"{above[: above.find(unmarked(above))]}{words}"
    for sign in ",;\t":
        if sign in above:
            yield from _csv_rows(above, words, stage, sign)


def _csv_rows(above: str, words: str, stage: str, sign: str) -> Iterator[str]:
    """A row with the line in one cell, where letters are most; its stage stays."""
    if above.count(sign) >= _MOST_CELLS:
        return
    try:
        cells = next(csv.reader([above], delimiter=sign), [])
    except csv.Error:  # a carriage return inside the row, or an endless cell
        return
    kept = [cell if cell.strip().casefold() == stage else "" for cell in cells]
    letters = [sum(ch.isalpha() for ch in cell) for cell in cells]
    for place in sorted(range(len(cells)), key=lambda n: -letters[n]):
        if not kept[place]:
            row = [*kept[:place], words, *kept[place + 1 :]]
            written = io.StringIO()
            csv.writer(written, delimiter=sign, lineterminator="").writerow(row)
            yield written.getvalue()


def _in_page(text: str, words: str, anchor: str) -> Iterator[str]:
    """The line as one more item of the list in a web page or its JSON."""
    for plain in (False, True):
        item = json.dumps(anchor, ensure_ascii=plain)
        if item in text:
            head, _, tail = text.rpartition(item)
            new = json.dumps(words).replace("<", "\\u003c")
            yield f"{head}{item}, {new}{tail}"
    shown = re.escape(html.escape(anchor, quote=False))
    found = list(re.finditer(rf"(<li\b[^>]*>)\s*{shown}\s*</li>", text))
    if found:
        end = found[-1].end()
        item = f"{found[-1][1]}{html.escape(words)}</li>"
        yield f"{text[:end]}\n{item}{text[end:]}"


def _new_lines(
    before: Recipe | None, after: Recipe | None, words: str, stage: str
) -> tuple[Line, ...]:
    """The lines that came, if nothing went and they are what was meant."""
    old = Counter((ln.stage, ln.text) for ln in _listed(before))
    new: list[Line] = []
    for line in _listed(after):
        key = (line.stage, line.text)
        if old[key] > 0:
            old[key] -= 1
        else:
            new.append(line)
    is_whole = all(ln.stage == stage and _own_words(ln) in words for ln in new)
    if old.total() or not is_whole or _is_left_out(before, new, words, stage):
        return ()
    return tuple(new)


def _own_words(line: Line) -> str:
    """A line without what it stands in: the row of a table, its number, its stage."""
    text = _NUMBER.sub("", line.text.strip(" |"), count=1)
    place = f"{line.stage}, "
    return text[len(place) :] if text.casefold().startswith(place) else text


def _is_left_out(
    before: Recipe | None, new: Sequence[Line], words: str, stage: str
) -> bool:
    """Whether the place alone keeps the line out of the dough."""
    mixed = [ln for ln in _listed(before) if ln.stage == stage]
    inside = not mixed or any(ln.state != "not in dough" for ln in mixed)
    meant = read_line(words).state != "not in dough"
    return inside and meant and any(ln.state == "not in dough" for ln in new)


def _is_same(before: Recipe | None, after: Recipe, words: str, text: str) -> bool:
    """Whether all that is not the list stays, above all the method."""
    if before is not None and _listed(before):
        if _facts(before) != _facts(after):
            return False
        if words not in after.method:
            return _keeps_method(before, after)
        if words in before.method:
            return before.method == after.method
    return words not in after.method or all(_is_short(row) for row in text.split("\n"))


def _keeps_method(before: Recipe, after: Recipe) -> bool:
    """The same method; of a list of one line, which was taken for text, none."""
    return after.method == before.method or not after.method


def _facts(recipe: Recipe) -> tuple[object, ...]:
    return (
        recipe.title, recipe.pan, recipe.oven, recipe.bake_minutes,
        recipe.stated_yield,
    )  # fmt: skip


def _is_short(row: str) -> bool:
    return len(row.split()) <= _MOST_WORDS and not SENTENCE_END.search(row)


def _sentence(line: Line) -> str:
    shown, text = line_as_row(line), _own_words(line)
    place = "" if line.stage == "dough" else f" to {line.stage}"
    if line.state == "unread":
        return f"Added{place}, but not understood; correct it in the table: {text}"
    grams = f"{shown['grams']} g" if shown["grams"] else "no weight yet"
    known = f"{shown['ingredient'] or text}, {grams}"
    remark = f"; {shown['remark']}" if shown["remark"] else ""
    return f"Added{place}: {text}; {line.state}: {known}{remark}"
