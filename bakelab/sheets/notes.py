"""Notes in Markdown as blocks of plain text runs, which no page can run.

The blocks are all there is: words, and whether they are bold, slanted or code.
Markup of HTML stands as it was typed, links stand with their address as text,
and pictures with their words, so nothing is fetched.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any

from bakelab.charts.written import xml_text

if TYPE_CHECKING:
    from markdown_it.token import Token

__all__ = ["Block", "Run", "note_blocks", "notes_html"]

_LONGEST = 100_000
_TAGS = {"paragraph": "p", "quote": "blockquote", "code": "pre", "row": "p"}
_DEEPEST = 6
_BETWEEN_CELLS = "   "


@dataclass(frozen=True)
class Run:
    """Words of one kind."""

    text: str
    bold: bool = False
    slanted: bool = False
    code: bool = False


@dataclass(frozen=True)
class Block:
    """A paragraph, heading, item, quote, row of a table, code or rule.

    `level` is the rank of a heading or the depth of an item; `marker` is what
    stands before an item.
    """

    kind: str
    runs: tuple[Run, ...] = ()
    level: int = 0
    marker: str = ""

    def to_data(self) -> dict[str, Any]:
        """Plain data for a template."""
        return asdict(self)


def note_blocks(markdown: str) -> tuple[Block, ...]:
    """The blocks of a text in Markdown, in order.

    References
    ----------
    CommonMark 0.31.2, read by markdown-it-py; tables as in GitHub Flavored
    Markdown 0.29, section 4.10.

    Examples
    --------
    >>> [b.kind for b in note_blocks("Good *spring*\\n\\n- crumb <b>open</b>")]
    ['paragraph', 'item']
    """
    from markdown_it import MarkdownIt

    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    return tuple(_blocks(reader.parse(markdown[:_LONGEST])))


def notes_html(markdown: str) -> str:
    """The blocks as HTML of a panel; every word is escaped."""
    return "".join(_block_html(block) for block in note_blocks(markdown))


@dataclass
class _Place:
    """Where in the lists, quotes and rows the reader stands."""

    lists: list[int | None] = field(default_factory=list)
    marker: str = ""
    quotes: int = 0
    heading: int = 0
    cells: list[Run] | None = None


def _blocks(tokens: Sequence["Token"]) -> Iterator[Block]:
    at = _Place()
    for token in tokens:
        _move(at, token)
        if token.type == "hr":
            yield Block("rule")
        elif token.type in ("fence", "code_block", "html_block"):
            yield Block("code", (Run(token.content.rstrip("\n"), code=True),))
        elif token.type == "tr_close" and at.cells is not None:
            yield Block("row", tuple(at.cells[:-1]))
            at.cells = None
        elif token.type == "inline":
            runs = tuple(_runs(token.children or ()))
            if at.cells is None:
                yield _block(at, runs)
            else:
                at.cells += [*runs, Run(_BETWEEN_CELLS)]


def _move(at: _Place, token: "Token") -> None:
    kind = token.type
    if kind == "bullet_list_open":
        at.lists.append(None)
    elif kind == "ordered_list_open":
        at.lists.append(int(token.attrGet("start") or 1))
    elif kind in ("bullet_list_close", "ordered_list_close"):
        at.lists.pop()
    elif kind == "list_item_open":
        at.marker = _marker(at)
    elif kind.startswith("blockquote"):
        at.quotes += token.nesting
    elif kind == "heading_open":
        at.heading = int(token.tag[1:])
    elif kind == "tr_open":
        at.cells = []


def _marker(at: _Place) -> str:
    number = at.lists[-1]
    if number is None:
        return "•"
    at.lists[-1] = number + 1
    return f"{number}."


def _block(at: _Place, runs: tuple[Run, ...]) -> Block:
    if at.heading:
        level, at.heading = at.heading, 0
        return Block("heading", runs, level)
    if at.lists:
        marker, at.marker = at.marker, ""
        return Block("item", runs, min(len(at.lists), _DEEPEST), marker)
    return Block("quote" if at.quotes else "paragraph", runs)


def _runs(tokens: Iterable["Token"]) -> Iterator[Run]:
    bold = slanted = 0
    address = ""
    for token in tokens:
        bold += token.nesting * (token.tag == "strong")
        slanted += token.nesting * (token.tag == "em")
        if token.type == "link_open":
            address = str(token.attrGet("href") or "")
        words = _words(token, address)
        if words:
            yield Run(words, bold > 0, slanted > 0, token.type == "code_inline")


def _words(token: "Token", address: str) -> str:
    if token.type == "link_close":
        return f" ({address})" if address else ""
    if token.type == "softbreak":
        return " "
    if token.type == "hardbreak":
        return "\n"
    if token.type == "image":
        return f"[picture not shown: {token.content}]"
    return token.content


def _block_html(block: Block) -> str:
    words = "".join(_run_html(run) for run in block.runs)
    if block.kind == "rule":
        return "<hr>"
    if block.kind == "heading":
        level = min(6, block.level + 2)
        return f"<h{level}>{words}</h{level}>"
    if block.kind == "item":
        return (
            f'<p class="bakelab-item" style="margin-left:{block.level * 1.2:.1f}em">'
            f"<span>{xml_text(block.marker)}</span> {words}</p>"
        )
    tag = _TAGS[block.kind]
    return f"<{tag}>{words}</{tag}>"


def _run_html(run: Run) -> str:
    words = xml_text(run.text).replace("\n", "\n" if run.code else "<br>")
    for on, tag in ((run.code, "code"), (run.slanted, "i"), (run.bold, "b")):
        words = f"<{tag}>{words}</{tag}>" if on else words
    return words
