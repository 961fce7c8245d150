"""Several recipes in one CSV file: by a column of names, or by repeated heads."""

import csv
import io
from collections.abc import Iterator, Sequence

from bakelab.reading.tablelike import looks_like_csv

__all__ = ["csv_pieces"]

_RECIPE = ("recipe", "title", "bread", "product", "rezept", "brot", "recette", "pain")


def csv_pieces(text: str) -> list[tuple[str, str, int]]:
    """The recipes of a CSV text: title, text, and the line before its first row.

    Empty where the text is no table, or holds one recipe.
    """
    lines = text.splitlines()
    start = next(
        (i for i, ln in enumerate(lines) if ln.strip() and not ln.startswith("#")), 0
    )
    if looks_like_csv("\n".join(lines[start:])) is None:
        return _by_heads(lines)
    sign = max(",;\t", key=lines[start].count)
    head = [c.strip() for c in lines[start].split(sign)]
    column = next((i for i, c in enumerate(head) if c.casefold() in _RECIPE), None)
    if column is None:
        return _by_heads(lines)
    groups: dict[str, list[tuple[int, list[str]]]] = {}
    for number, row in _rows(lines, start + 1, sign):
        if len(row) > column:
            groups.setdefault(row[column].strip(), []).append((number, row))
    if len(groups) < 2:
        return []
    rest = _without(head, column)
    return [
        (title, _written([rest, *(_without(r, column) for _, r in rows)], sign),
         rows[0][0] - 1)
        for title, rows in groups.items()
    ]  # fmt: skip


def _rows(
    lines: Sequence[str], start: int, sign: str
) -> Iterator[tuple[int, list[str]]]:
    """Rows with the number of their line; a quoted cell stays on one line."""
    for number, line in enumerate(lines[start:], start + 1):
        if line.strip() and not line.startswith("#"):
            yield number, next(csv.reader([line], delimiter=sign))


def _without(row: Sequence[str], column: int) -> list[str]:
    return [*row[:column], *row[column + 1 :]]


def _written(rows: Sequence[Sequence[str]], sign: str) -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=sign, lineterminator="\n").writerows(rows)
    return out.getvalue()


def _by_heads(lines: Sequence[str]) -> list[tuple[str, str, int]]:
    """Tables below each other, each with its own head and, above it, its title."""
    heads = [
        i for i, ln in enumerate(lines)
        if looks_like_csv(ln) is not None and not ln.startswith("#")
    ]  # fmt: skip
    if len(heads) < 2:
        return []
    found = []
    for start, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        above = lines[start - 1].strip(" ,;\t#") if start else ""
        body = [ln for ln in lines[start:end] if _is_row(ln)]
        found.append((above, "\n".join(body) + "\n", start + 1))
    return found


def _is_row(line: str) -> bool:
    return any(sign in line.strip(",;\t ") for sign in ",;\t")
