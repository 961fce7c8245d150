"""Typed loaders of the CSV tables in `data/`."""

import csv
import math
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pandas as pd

from bakelab.errors import TableError

__all__ = ["data_path", "read_rows", "read_table"]

Cell = Callable[[str], Any]


@cache
def data_path() -> Path:
    """Folder of the data tables, in a checkout and in an installed wheel."""
    here = Path(__file__).resolve().parent
    for folder in (here / "data", here.parent / "data"):
        if (folder / "kitchen_units.csv").is_file():
            return folder
    raise TableError(
        f"the data folder is missing beside {here}; reinstall bakelab to bring it back"
    )


def read_rows(
    name: str, columns: Mapping[str, type], *, folder: Path | None = None
) -> list[dict[str, Any]]:
    """Rows of `data/<name>.csv`, each cell of its column's type.

    Parameters
    ----------
    name : str
        Name of the table without its ending.
    columns : mapping of str to type
        The heading, in order, with `str`, `float`, `int` or `bool`.
        A blank float becomes NaN and a blank string stays empty.
    folder : Path, optional
        Where the table is; the data folder of bakelab by default.

    Raises
    ------
    TableError
        If the heading differs or a cell is not of its type, with the
        number of the line in the file.
    """
    path = (folder or data_path()) / f"{name}.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    numbered = [(n, t) for n, t in enumerate(lines, 1) if t and not t.startswith("#")]
    reader = csv.reader(text for _, text in numbered)
    heading = next(reader, [])
    if heading != list(columns):
        raise TableError(f"{path.name}: heading is {heading}, expected {list(columns)}")
    readers = [_READERS[kind] for kind in columns.values()]
    return [
        _row(path.name, number, cells, columns, readers)
        for (number, _), cells in zip(numbered[1:], reader, strict=True)
    ]


def read_table(
    name: str, columns: Mapping[str, type], *, folder: Path | None = None
) -> pd.DataFrame:
    """The rows of `read_rows` as a data frame with the same columns."""
    rows = read_rows(name, columns, folder=folder)
    return pd.DataFrame(rows, columns=list(columns))


def _row(
    file: str,
    number: int,
    cells: list[str],
    columns: Mapping[str, type],
    readers: list[Cell],
) -> dict[str, Any]:
    if len(cells) != len(columns):
        raise TableError(
            f"{file}, line {number}: {len(cells)} cells, expected {len(columns)}"
        )
    row = {}
    for column, reader, cell in zip(columns, readers, cells, strict=True):
        try:
            row[column] = reader(cell.strip())
        except ValueError:
            kind = columns[column].__name__
            raise TableError(
                f"{file}, line {number}: {column} is {cell!r}, expected a {kind}"
            ) from None
    return row


def _float(cell: str) -> float:
    return float(cell) if cell else math.nan


def _bool(cell: str) -> bool:
    if cell not in ("yes", "no", ""):
        raise ValueError(cell)
    return cell == "yes"


_READERS: dict[type, Cell] = {str: str, float: _float, int: int, bool: _bool}
