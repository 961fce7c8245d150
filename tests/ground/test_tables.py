"""Loading of CSV tables: types, blanks, and refusals by line number."""

import math
from pathlib import Path

import pytest

from bakelab.errors import TableError
from bakelab.tables import data_path, read_rows, read_table

COLUMNS = {"key": str, "mass_g": float, "count": int, "lidded": bool}


def _table(folder: Path, text: str) -> Path:
    (folder / "things.csv").write_text(text, encoding="utf-8")
    return folder


def test_cells_get_their_types_and_blanks_are_kept(tmp_path: Path) -> None:
    text = "# a remark\nkey,mass_g,count,lidded\na,1.5,2,yes\n,,3,no\n"
    first, second = read_rows("things", COLUMNS, folder=_table(tmp_path, text))
    assert first == {"key": "a", "mass_g": 1.5, "count": 2, "lidded": True}
    assert second["key"] == ""
    assert math.isnan(second["mass_g"])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("key,mass_g\na,1\n", "heading"),
        ("# note\nkey,mass_g,count,lidded\na,heavy,1,yes\n", "line 3: mass_g"),
        ("key,mass_g,count,lidded\na,1,1\n", "line 2: 3 cells"),
        ("key,mass_g,count,lidded\na,1,1,perhaps\n", "line 2: lidded"),
    ],
)
def test_a_bad_row_stops_by_line_number(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(TableError, match=said):
        read_table("things", COLUMNS, folder=_table(tmp_path, text))


@pytest.mark.parametrize(
    "path", sorted(data_path().glob("*.csv")), ids=lambda p: p.name
)
def test_every_table_says_its_scope_and_licence(path: Path) -> None:
    head = path.read_text(encoding="utf-8").split("\n")[:12]
    remarks = " ".join(line for line in head if line.startswith("#"))
    assert "CC0" in remarks
    assert "20" in remarks, "the date of the last check"
