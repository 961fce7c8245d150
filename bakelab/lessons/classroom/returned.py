"""What a student's notebook says: its sheet and its answers; nothing is executed."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bakelab.lessons.classroom.sheet_notebook import ANSWER_WORD

__all__ = ["Returned", "code_in_name", "read_returned"]

_LARGEST_BYTES = 30_000_000
_LABEL = re.compile(
    rf"^[\s#>*_`'\"-]*{ANSWER_WORD}\s*(\d{{1,3}})\b[^:=\n]{{0,80}}[:=](.*)$",
    re.IGNORECASE | re.MULTILINE,
)
_CODE = re.compile(r"\bsheet[ \t_:*-]{1,6}([2-9A-HJKMNP-Z]{4,5})\b", re.IGNORECASE)
_IN_NAME = re.compile(r"(?<![a-z0-9])([2-9a-hjkmnp-z]{4})(?![a-z0-9])", re.IGNORECASE)
_LONGEST = 400


@dataclass(frozen=True)
class Returned:
    """One file as it came back.

    `answers` are by number of the exercise, as written; `code` is the sheet
    it says it is, empty where it says none; `remarks` tell in a sentence each
    what was wrong with the file.
    """

    path: Path
    code: str
    answers: Mapping[int, str]
    remarks: tuple[str, ...]
    readable: bool


def read_returned(path: Path, codes: frozenset[str]) -> Returned:
    """Read a returned file; whatever is wrong with it is said, never raised.

    Parameters
    ----------
    path : Path
    codes : frozenset of str
        The codes of the class; others are not taken for one.
    """
    text, trouble = _text(path)
    if trouble:
        return Returned(path, code_in_name(path, codes), {}, (trouble,), False)
    cells, trouble = _cells(text)
    remarks = [trouble] if trouble else []
    code, said = _code(text, cells, path, codes)
    answers, more = _answers(cells)
    remarks += [*said, *more]
    return Returned(path, code, answers, tuple(remarks), bool(cells))


def _text(path: Path) -> tuple[str, str]:
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            return "", "The file is over 30 MB, too large for a sheet; open it by hand."
        raw = path.read_bytes()
    except OSError as error:
        return "", f"The file cannot be opened ({error.strerror}); ask for it again."
    if not raw.strip():
        return "", "The file is empty; ask for it again."
    return raw.decode("utf-8-sig", "replace"), ""


def _cells(text: str) -> tuple[list[dict[str, Any]], str]:
    """The cells of a notebook, or what can still be read of a broken one."""
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", None)
        where = f" at line {line}" if line else ""
        saved = _salvaged(text)
        rest = (
            "the answers that can still be read are marked, look at the rest by hand"
            if saved
            else "no answer can be read; ask for it again"
        )
        return saved, f"The notebook file is broken{where}; {rest}."
    found = whole.get("cells") if isinstance(whole, dict) else None
    if not isinstance(found, list) and isinstance(whole, dict):
        found = _old_cells(whole)
    if not isinstance(found, list):
        return [], "The file is not a notebook; ask for the .ipynb file."
    cells = [_plain(c) for c in found if isinstance(c, dict)]
    return cells, "" if cells else "The notebook has no cells; ask for it again."


def _old_cells(whole: Mapping[str, Any]) -> Any:
    """Cells of notebook format 3, which keeps them in worksheets."""
    sheets = whole.get("worksheets")
    first = sheets[0] if isinstance(sheets, list) and sheets else None
    return first.get("cells") if isinstance(first, dict) else None


def _plain(cell: Mapping[str, Any]) -> dict[str, Any]:
    source = cell.get("source", cell.get("input", ""))
    if isinstance(source, list):
        source = "".join(s for s in source if isinstance(s, str))
    metadata = cell.get("metadata")
    ours = metadata.get("bakelab") if isinstance(metadata, dict) else None
    item = ours.get("item") if isinstance(ours, dict) else None
    return {
        "text": source if isinstance(source, str) else "",
        "item": item if isinstance(item, int) and not isinstance(item, bool) else None,
        "id": str(cell.get("id", "")),
    }


def _salvaged(text: str) -> list[dict[str, Any]]:
    """Lines of a broken file that look like answers, as cells."""
    strings = re.findall(r'"((?:[^"\\\n]|\\.)*)"?', text)
    lines = [_unescaped(s) for s in strings]
    kept = [line for line in lines if _LABEL.match(line) or _CODE.search(line)]
    return [{"text": line, "item": None, "id": ""} for line in kept]


def _unescaped(written: str) -> str:
    try:
        return str(json.loads(f'"{written}"'))
    except ValueError:
        return written


def _code(
    text: str, cells: Sequence[Mapping[str, Any]], path: Path, codes: frozenset[str]
) -> tuple[str, list[str]]:
    """The sheet: by the notebook's own mark, its words, or its file name."""
    own = _own_code(text)
    spoken = [m.upper() for c in cells for m in _CODE.findall(str(c["text"]))]
    written = list(dict.fromkeys(w for w in spoken if w in codes))
    named = code_in_name(path, codes)
    candidates = [c for c in (own if own in codes else "", *written, named) if c]
    if not candidates:
        return "", []
    differing = [c for c in dict.fromkeys(candidates) if c != candidates[0]]
    if differing:
        words = f"It names the sheets {candidates[0]} and {', '.join(differing)}"
        return candidates[0], [
            f"{words}; it is marked as {candidates[0]}, look whether that is right."
        ]
    return candidates[0], []


def _own_code(text: str) -> str:
    try:
        found = json.loads(text)["metadata"]["bakelab"]["sheet"]
    except (ValueError, KeyError, TypeError, RecursionError):
        match = re.search(r'"sheet"\s*:\s*"([0-9A-Za-z]{4,5})"', text)
        return match.group(1).upper() if match else ""
    return found.upper() if isinstance(found, str) else ""


def code_in_name(path: Path, codes: frozenset[str]) -> str:
    """The sheet that the name of a file names; empty where it names none."""
    found = [m.upper() for m in _IN_NAME.findall(path.stem)]
    return next((c for c in reversed(found) if c in codes), "")


def _answers(cells: Sequence[Mapping[str, Any]]) -> tuple[dict[int, str], list[str]]:
    """The last word on each exercise; two that differ are both told."""
    found: dict[int, list[str]] = {}
    for place, cell in enumerate(cells):
        for number, text in _in_cell(cell, cells[place + 1 :]):
            found.setdefault(number, [])
            if text and text not in found[number]:
                found[number].append(text)
    remarks = [_differing(n, t) for n, t in sorted(found.items()) if len(t) > 1]
    answers = {n: t[0] if len(t) == 1 else "" for n, t in found.items()}
    return answers, remarks


def _differing(number: int, texts: Sequence[str]) -> str:
    shown = "; ".join(t[:40] for t in texts)
    return (
        f"Exercise {number} has {len(texts)} answers ({shown}); none is counted, ask "
        "which one is meant."
    )


def _in_cell(
    cell: Mapping[str, Any], after: Sequence[Mapping[str, Any]]
) -> Iterator[tuple[int, str]]:
    text = str(cell["text"])
    labels = list(_LABEL.finditer(text))
    for place, label in enumerate(labels):
        end = labels[place + 1].start() if place + 1 < len(labels) else len(text)
        written = _tidy(label.group(2)) or _tidy(text[label.end() : end])
        yield int(label.group(1)), written or _beside(after)
    if not labels and cell["item"] is not None:
        yield int(cell["item"]), _tidy(text) or _beside(after)


def _beside(after: Sequence[Mapping[str, Any]]) -> str:
    """An answer that was written in a cell of its own below its place."""
    for cell in after:
        text = str(cell["text"])
        ours = cell["item"] is not None or str(cell["id"]).startswith("bakelab-")
        if ours or _LABEL.search(text):
            return ""
        if _tidy(text):
            return _tidy(text)
    return ""


def _tidy(text: str) -> str:
    """One line without quotes and marks of Markdown around it."""
    line = " ".join(text.split())[:_LONGEST]
    return line.strip().strip("\"'`*_").strip()
