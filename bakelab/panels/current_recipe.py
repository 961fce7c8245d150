"""The recipe in the panel: read from text or a file, with corrections on top."""

import tempfile
from collections import Counter
from pathlib import Path

from bakelab.errors import ReadError
from bakelab.formula import Formula
from bakelab.kitchen import my_weights
from bakelab.panels.correcting import corrected, market_of
from bakelab.reading import Line, Recipe, read_recipe, recipe_from_lines
from bakelab.reading.sources import source_text

__all__ = ["CurrentRecipe", "file_text", "formula_in", "recipe_in"]

LineKey = tuple[str, str, str, int]


class CurrentRecipe:
    """Reads only what changed, and keeps corrections while the text is edited.

    A correction belongs to a line by the recipe's title, the line's stage and
    its words; all are dropped when another recipe is given.
    """

    def __init__(self) -> None:
        self._corrections: dict[LineKey, Line] = {}
        self._asked: tuple[object, ...] = ()
        self._as_read: Recipe | None = None

    def read(self, text: str, market: str | None) -> Recipe:
        """The recipe as written, its corrected lines in place.

        Raises
        ------
        ReadError
            If the text cannot be a recipe.
        """
        asked = (text, market, tuple(my_weights().items()))
        if self._as_read is None or asked != self._asked:
            self._read_again(text, market)
            self._asked = asked
        assert self._as_read is not None  # just read
        lines = self._lines(self._as_read)
        if lines == list(self._as_read.lines):
            return self._as_read
        return recipe_from_lines(self._as_read, lines)

    def correct(
        self, recipe: Recipe, row: int, field: str, value: str, market: str | None
    ) -> None:
        """Correct one field of one line; see `correcting.corrected`."""
        where = market or market_of(recipe)
        new = corrected(
            recipe.lines[row], field, value, language=recipe.language, market=where
        )
        if self._as_read is not None:
            self._corrections[_line_keys(self._as_read)[row]] = new

    def forget_corrections(self) -> None:
        """Take every line as it was read."""
        self._corrections.clear()

    def _read_again(self, text: str, market: str | None) -> None:
        before, self._as_read = self._as_read, None
        self._as_read = recipe_in(text, market)
        if before is not None and _is_another(before, self._as_read):
            self.forget_corrections()

    def _lines(self, recipe: Recipe) -> list[Line]:
        keys = _line_keys(recipe)
        return [
            self._corrections.get(key, line)
            for key, line in zip(keys, recipe.lines, strict=True)
        ]


def recipe_in(text: str, market: str | None = None) -> Recipe:
    """The recipe of a text; one line is never a file name here.

    Raises
    ------
    ReadError
        If it cannot be a recipe.
    """
    if "\n" not in text and text.strip():
        text = f"{text}\n"
    return read_recipe(text, market=market)


def formula_in(text: str) -> Formula:
    """The formula of a recipe's text.

    Raises
    ------
    ReadError, FormulaError
        If it cannot be a recipe, nothing could be weighed, or it has no flour.
    """
    formula = recipe_in(text).formula
    if formula is None:
        raise ReadError(
            "no line of this recipe could be weighed; write each ingredient with its "
            "amount on a line"
        )
    formula.require_flour()
    return formula


def file_text(name: str, content: bytes) -> str:
    """The text of a file that came from the browser, by the reader's own rules."""
    suffix = Path(name).suffix
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"recipe{suffix if suffix.isascii() else ''}"
        try:
            path.write_bytes(content)
        except (OSError, ValueError):
            raise ReadError(
                f"{name[:60]!r} cannot be opened; give it a plain name"
            ) from None
        return source_text(path)[0]


def _is_another(before: Recipe, after: Recipe) -> bool:
    """Whether fewer than half of the lines are still there: another recipe."""
    old, new = ({line.text for line in one.lines} for one in (before, after))
    return 2 * len(old & new) < len(old)


def _line_keys(recipe: Recipe) -> list[LineKey]:
    """What a line is known by while the recipe around it is edited."""
    seen: Counter[tuple[str, str]] = Counter()
    keys: list[LineKey] = []
    for line in recipe.lines:
        words = (line.stage, line.text)
        keys.append((recipe.title, *words, seen[words]))
        seen[words] += 1
    return keys
