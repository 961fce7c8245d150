"""A formula to CSV and JSON text and back, without loss."""

import csv
import io
import json
from dataclasses import asdict, fields
from typing import Any

from bakelab.errors import FormulaError
from bakelab.formula.model import Assumption, Formula, Row
from bakelab.formula.needed import require_formula

__all__ = [
    "formula_from_csv",
    "formula_from_json",
    "formula_to_csv",
    "formula_to_json",
]

FORMAT = "bakelab formula 1"
_META = tuple(f.name for f in fields(Formula) if f.name != "rows")
_ROW = tuple(f.name for f in fields(Row))
_RUNNABLE = ("=", "+", "-", "@", "\t", "\r", "'")


def formula_to_json(formula: Formula) -> str:
    """All of a formula as JSON text."""
    require_formula(formula)
    return json.dumps(
        {"format": FORMAT, **asdict(formula)}, ensure_ascii=False, indent=1
    )


def formula_from_json(text: str) -> Formula:
    """The formula that `formula_to_json` wrote.

    Raises
    ------
    FormulaError
        If the text is not JSON of this format.
    """
    try:
        data = json.loads(text)
        if data.pop("format") != FORMAT:
            raise ValueError
        rows = tuple(Row(**row) for row in data.pop("rows"))
        return Formula(rows, **_meta(data))
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise FormulaError(
            f"this is not a formula saved by bakelab as JSON ({error}); "
            "choose a file that the lab has written"
        ) from None


def formula_to_csv(formula: Formula) -> str:
    """All of a formula as CSV text; what is around the table is in `#` lines.

    Text that a spreadsheet would run as a calculation gets a leading `'`,
    which `formula_from_csv` takes off again.
    """
    require_formula(formula)
    out = io.StringIO(newline="")
    out.write(f"# {FORMAT}\n")
    for name, value in asdict(formula).items():
        if name != "rows":
            out.write(f"# {name}: {json.dumps(value, ensure_ascii=False)}\n")
    writer = csv.writer(out, lineterminator="\r\n")  # as in RFC 4180
    writer.writerow([*_ROW, "bakers_pct"])
    for row, pct in zip(formula.rows, formula.frame["bakers_pct"], strict=True):
        writer.writerow([*(_cell(getattr(row, name)) for name in _ROW), f"{pct:.4f}"])
    return out.getvalue()


def formula_from_csv(text: str) -> Formula:
    """The formula that `formula_to_csv` wrote.

    Raises
    ------
    FormulaError
        If the text is not CSV of this format.
    """
    first, _, rest = text.partition("\n")
    if first.strip() != f"# {FORMAT}":
        raise FormulaError(
            "this is not a formula saved by bakelab as CSV; "
            "read a plain table with read_recipe instead"
        )
    data, table = _split(rest)
    try:
        meta = _meta({name: json.loads(value) for name, value in data.items()})
        records = list(csv.DictReader(io.StringIO(table, newline="")))
        return Formula(tuple(_row(r) for r in records), **meta)
    except (ValueError, KeyError, TypeError) as error:
        raise FormulaError(
            f"this saved formula is damaged ({error}); save it from the lab again"
        ) from None


def _split(text: str) -> tuple[dict[str, str], str]:
    data = {}
    while text.startswith("# "):
        line, _, text = text.partition("\n")
        name, _, value = line[2:].partition(": ")
        data[name] = value
    return data, text


def _meta(data: dict[str, Any]) -> dict[str, Any]:
    meta = {name: data[name] for name in _META if name in data}
    meta["assumptions"] = tuple(Assumption(**a) for a in meta.get("assumptions", ()))
    minutes = meta.get("bake_minutes")
    meta["bake_minutes"] = None if minutes is None else (minutes[0], minutes[1])
    return meta


def _cell(value: object) -> str:
    if value is None:
        return ""
    text = value if isinstance(value, str) else repr(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(_RUNNABLE) else text


def _row(record: dict[str, str]) -> Row:
    values: dict[str, Any] = {n: record[n].removeprefix("'") for n in _ROW}
    values["mass_g"] = float(values["mass_g"])
    hydration = values["hydration_pct"]
    values["hydration_pct"] = float(hydration) if hydration else None
    return Row(**values)
