"""Texts to check: files, folders, notebooks; one or several recipes in each."""

import json
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from bakelab.checking.csv_recipes import csv_pieces
from bakelab.errors import ReadError
from bakelab.reading.headings import heading
from bakelab.reading.sources import source_text
from bakelab.reading.webpage import recipe_in_json

__all__ = ["SUFFIXES", "Piece", "files_of", "pieces_of", "split"]

SUFFIXES = (".md", ".markdown", ".txt", ".csv", ".tsv", ".html", ".htm", ".json",
            ".jsonld", ".ipynb")  # fmt: skip
_HEAD = re.compile(r"^\s{0,3}(#{1,6})\s+(\S.*)$")
_BOLD = re.compile(r"^\s*(?:\*\*|__)(.+?)(?:\*\*|__)\s*:?\s*$")
_SKIPPED = ("node_modules", "__pycache__")


@dataclass(frozen=True)
class Piece:
    """One recipe's text: the file's name, and where in it the text begins.

    `title` is that of one recipe among several; empty where the text tells.
    """

    name: str
    text: str
    first_line: int = 1
    number: int = 1
    title: str = ""

    @property
    def key(self) -> str:
        """File and place in one word, to know it again."""
        return self.name if self.number == 1 else f"{self.name}#{self.number}"


def files_of(paths: Iterable[str | Path]) -> Iterator[Path]:
    """The files of paths in order; of a folder all files of a kind that is read.

    Raises
    ------
    ReadError
        If a path does not exist.
    """
    for given in paths:
        path = Path(given).expanduser()
        if path.is_dir():
            yield from _inside(path)
        elif path.exists():
            yield path
        else:
            raise ReadError(f"there is no file or folder {path}; give one that exists")


def _inside(folder: Path) -> Iterator[Path]:
    """The files of a folder and those in it, by name; one folder is held at a time."""
    try:
        with os.scandir(folder) as entries:
            found = sorted((e.name, e.is_dir(follow_symlinks=False)) for e in entries)
    except OSError as error:
        raise ReadError(f"cannot read {folder}: {error.strerror}") from None
    for name, is_folder in found:
        if name.startswith(".") or name in _SKIPPED:
            continue
        if is_folder:
            yield from _inside(folder / name)
        elif name.casefold().endswith(SUFFIXES) and (folder / name).is_file():
            yield folder / name


def pieces_of(path: Path) -> Iterator[Piece]:
    """The recipes of a file.

    Raises
    ------
    ReadError
        If the file cannot be read.
    """
    name = str(path)
    if path.suffix.casefold() == ".ipynb":
        yield from _notebook(path)
        return
    text, kind = source_text(path)
    tables = csv_pieces(text) if path.suffix.casefold() in (".csv", ".tsv") else []
    if tables:
        for number, (title, part, line) in enumerate(tables, 1):
            yield Piece(name, part, line, number, title)
    elif kind == "text":
        yield from split(text, name)
    elif kind == "json":
        yield from _json(text, name)
    else:
        yield Piece(name, text)


def split(text: str, name: str = "text") -> Iterator[Piece]:
    """A text with several lists of ingredients, cut at the titles above them."""
    lines = text.splitlines()
    starts = [i for i, line in enumerate(lines) if _opens_list(line)]
    cuts = _cuts(lines, starts) if len(starts) > 1 else []
    if not cuts:
        yield Piece(name, text)
        return
    ends = [*cuts[1:], len(lines)]
    for number, (start, end) in enumerate(zip(cuts, ends, strict=True), 1):
        first = 0 if number == 1 else start  # the introduction goes with the first
        title = _HEAD.sub(r"\2", lines[start]).strip(" #*_")
        yield Piece(name, "\n".join(lines[first:end]), first + 1, number, title)


def _opens_list(line: str) -> bool:
    marked = _HEAD.match(line)
    bold = _BOLD.match(line)
    words = marked[2] if marked else bold[1] if bold else line
    if len(words) > 40 or not words.strip():
        return False
    found = heading(words)
    alone = marked or bold or len(words.split()) <= 2
    return bool(
        alone
        and found is not None
        and found.kind == "section"
        and found.value == "ingredients"
        and not found.system
    )


def _cuts(lines: Sequence[str], starts: Sequence[int]) -> list[int]:
    """For each list the title above it; none where two lists share a title."""
    cuts: list[int] = []
    floor = -1
    for start in starts:
        title = _title_above(lines, start, floor)
        if title is None:
            return []
        cuts.append(title)
        floor = start
    return cuts


def _title_above(lines: Sequence[str], start: int, floor: int) -> int | None:
    level = len(match[1]) if (match := _HEAD.match(lines[start])) else 7
    for index in range(start - 1, floor, -1):
        head = _HEAD.match(lines[index])
        above = head is not None and len(head[1]) < level
        if head is not None and above and not _names_a_part(head[2]):
            return index
    return None


def _names_a_part(words: str) -> bool:
    """Whether a heading names a part of a recipe, and not a bread."""
    found = heading(words)
    if found is None:
        return False
    whole = found.word == words.strip(" :#*_").casefold()
    dough = re.search(r"(?i)dough|teig|pâte|mix|base", words) is not None
    bread = found.kind == "stage" and found.value == "dough" and not dough
    return (whole or words.casefold().startswith("for ")) and not bread


def _json(text: str, name: str) -> Iterator[Piece]:
    """One piece for each recipe of a list; else the text as it is."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise ReadError(
            f"{name} is not valid JSON; save the recipe again as JSON or text"
        ) from None
    listed = data.get("@graph") if isinstance(data, dict) else data
    recipes = [n for n in listed if _is_recipe(n)] if isinstance(listed, list) else []
    if len(recipes) < 2:
        if recipe_in_json(text) is None:
            raise ReadError(f"{name} holds no recipe; give a schema.org Recipe")
        yield Piece(name, text)
        return
    for number, node in enumerate(recipes, 1):
        shown = json.dumps(node, ensure_ascii=False, indent=1)
        yield Piece(name, shown, 1, number)


def _is_recipe(node: object) -> bool:
    if not isinstance(node, dict):
        return False
    return "recipeIngredient" in node or "ingredients" in node


def _notebook(path: Path) -> Iterator[Piece]:
    """Each text cell of a notebook that is a recipe of its own."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        cells = [c for c in data["cells"] if isinstance(c, dict)]
    except (OSError, ValueError, KeyError, TypeError):
        raise ReadError(
            f"{path.name} is not a notebook; open and save it in Jupyter"
        ) from None
    texts = [
        "".join(c.get("source", "")) for c in cells if c.get("cell_type") != "code"
    ]
    number = 0
    for text in texts:
        for piece in split(text, str(path)):
            if _has_amounts(piece.text):
                number += 1
                yield Piece(piece.name, piece.text, piece.first_line, number)


def _has_amounts(text: str) -> bool:
    measured = r"\d\s*(?:g|kg|ml|cups?|tsp|tbsp|oz|lb|grams?|teaspoons?|tablespoons?)\b"
    return len(re.findall(measured, text)) > 2
