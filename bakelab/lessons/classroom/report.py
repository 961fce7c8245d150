"""What a marked class gives: tables with names, and a chart without any."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from bakelab.charts.written import xml_text
from bakelab.errors import ReadError
from bakelab.lessons.classroom.folder import csv_text
from bakelab.lessons.classroom.marks import (
    NOT_WRITTEN,
    ClassMarks,
    MarkedAnswer,
    MarkedSheet,
)
from bakelab.lessons.making import families
from bakelab.lessons.misconceptions import look_at, misconception_name, misconceptions
from bakelab.theme import PALETTE, SANS

__all__ = ["answers_csv", "chart_html", "chart_svg", "marks_csv", "marks_data",
           "misconceptions_csv", "write_marks"]  # fmt: skip

_OUTPUT = "marks"
_MOST_FOLDERS = 1000
_WIDE, _LABEL, _ROW = 760, 380, 30


def write_marks(marks: ClassMarks, folder: str | Path) -> Path:
    """Write all tables and the chart into a new folder inside `folder`.

    Returns
    -------
    Path
        ``marks``, or ``marks-2`` and so on where that is there already.
    """
    place = Path(folder).expanduser()
    names = (_OUTPUT, *(f"{_OUTPUT}-{n}" for n in range(2, _MOST_FOLDERS)))
    new = next(place / name for name in names if not (place / name).exists())
    files = {
        "marks.csv": marks_csv(marks),
        "answers.csv": answers_csv(marks),
        "misconceptions.csv": misconceptions_csv(marks),
        "misconceptions.svg": chart_svg(marks),
        "misconceptions.html": chart_html(marks),
    }
    try:
        new.mkdir()
        for name, text in files.items():
            (new / name).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise ReadError(
            f"cannot write to {new}: {error.strerror}; choose another folder with --out"
        ) from None
    return new


def marks_csv(marks: ClassMarks) -> str:
    """One row for each file, and for each student of whom nothing came back."""
    most = max(len(s.items) for s in marks.made.sheets)
    known = [k for k in misconceptions()["key"] if marks.misconceptions[k]]
    heads = ["sheet", "student", "file", "state", "counted", "right", "of"]
    heads += [f"exercise {n}" for n in range(1, most + 1)]
    heads += ["misconceptions", *(misconception_name(k) for k in known), "remarks"]
    return csv_text(heads, [_row(one, most, known) for one in marks.sheets])


def marks_data(marks: ClassMarks) -> dict[str, Any]:
    """The same as plain data, with the documented keys of `bakelab mark --json`.

    ``{"sheets": [{"sheet", "student", "file", "state", "counted", "right", "of",
    "answers": [{"exercise", "family", "written", "answer", "state",
    "misconception"}], "remarks"}], "misconceptions": [{"key", "name", "times",
    "students"}]}``; what is not known is null.
    """
    students = _students_by_misconception(marks)
    return {
        "sheets": [_sheet_data(one) for one in marks.sheets],
        "misconceptions": [
            {"key": key, "name": misconception_name(key), "times": times,
             "students": students[key]}
            for key, times in marks.misconceptions.most_common()
        ],
    }  # fmt: skip


def answers_csv(marks: ClassMarks) -> str:
    """Every answer as it was written, with its mark and what to look at."""
    titles = {f.key: f.title for f in families()}
    rows = [
        [
            *_who(one),
            str(a.number),
            titles.get(a.item.family, a.item.family),
            a.written,
            a.item.answer_text,
            a.state,
            misconception_name(a.marked.misconception)
            if a.marked is not None and a.marked.misconception
            else "",
            a.marked.sentence if a.marked is not None else "",
        ]
        for one in marks.sheets
        for a in one.answers
    ]
    heads = ("sheet", "student", "file", "exercise", "family", "written", "answer",
             "state", "misconception", "what to look at")  # fmt: skip
    return csv_text(heads, rows)


def misconceptions_csv(marks: ClassMarks) -> str:
    """Every misconception that was seen, the most frequent first; no names."""
    students = _students_by_misconception(marks)
    rows = [
        [misconception_name(key), str(times), str(students[key]), look_at(key)]
        for key, times in marks.misconceptions.most_common()
    ]
    heads = ("misconception", "times", "students", "what to look at")
    return csv_text(heads, rows)


def chart_svg(marks: ClassMarks) -> str:
    """Misconceptions counted, as bars with their numbers; no names."""
    counted = marks.misconceptions.most_common()
    most = max((n for _, n in counted), default=1)
    bars = "".join(
        _bar(misconception_name(key), times, most, place)
        for place, (key, times) in enumerate(counted)
    )
    said = "; ".join(f"{misconception_name(k)}: {n}" for k, n in counted)
    height = 12 + _ROW * max(len(counted), 1)
    none = f'<text x="0" y="26">{_NONE}</text>'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="t d" '
        f'viewBox="0 0 {_WIDE} {height}" width="{_WIDE}" height="{height}" '
        f'font-family="{xml_text(SANS)}" font-size="14" fill="#1b1b1b">'
        '<title id="t">How often each misconception was seen</title>'
        f'<desc id="d">{xml_text(said or _NONE)}</desc>'
        f'<rect width="{_WIDE}" height="{height}" fill="#ffffff"/>'
        f"{bars or none}</svg>"
    )


def chart_html(marks: ClassMarks) -> str:
    """The chart on a page of its own with its numbers as tables; no names, offline."""
    counted = [s for s in marks.sheets if s.counted and s.answers]
    students = _students_by_misconception(marks)
    wrong = [
        [misconception_name(key), str(times), str(students[key]), look_at(key)]
        for key, times in marks.misconceptions.most_common()
    ]
    away = sum(s.state == "nothing returned" for s in marks.sheets)
    about = (
        f"{len(counted)} of {len(marks.made.sheets)} sheets marked"
        + (f", {away} not returned" if away else "")
        + ". No names are on this page."
    )
    heads = ("Misconception", "Times", "Students", "What to look at")
    parts = [
        f"<h1>{xml_text(marks.made.title)}: what the answers show</h1>",
        f"<p>{xml_text(about)}</p><h2>Misconceptions</h2>{chart_svg(marks)}",
        _table(heads, wrong) if wrong else "",
        "<h2>Exercise by exercise</h2>",
        _table(
            ("Exercise", "Right", "Not right", "Not written"), _by_exercise(counted)
        ),
    ]
    return _page(marks.made.title, "".join(parts))


def _sheet_data(one: MarkedSheet) -> dict[str, Any]:
    code, student, file = (text or None for text in _who(one))
    return {
        "sheet": code,
        "student": student,
        "file": file,
        "state": one.state,
        "counted": one.counted,
        "right": one.right if one.answers else None,
        "of": len(one.sheet.items) if one.sheet else None,
        "answers": [_answer_data(a) for a in one.answers],
        "remarks": list(one.remarks),
    }


def _answer_data(a: MarkedAnswer) -> dict[str, Any]:
    return {
        "exercise": a.number,
        "family": a.item.family,
        "written": a.written,
        "answer": a.item.answer_text,
        "state": a.state,
        "misconception": (a.marked.misconception or None) if a.marked else None,
    }


def _row(one: MarkedSheet, most: int, known: Sequence[str]) -> list[str]:
    states = {a.number: a.state for a in one.answers}
    seen = Counter(
        a.marked.misconception
        for a in one.answers
        if a.marked is not None and a.marked.misconception
    )
    told = "; ".join(misconception_name(k) for k in seen)
    return [
        *_who(one),
        one.state,
        "yes" if one.counted else "no",
        str(one.right) if one.answers else "",
        str(len(one.sheet.items)) if one.sheet else "",
        *(states.get(n, "") for n in range(1, most + 1)),
        told,
        *(str(seen[key]) if one.answers else "" for key in known),
        " ".join(one.remarks),
    ]


def _who(one: MarkedSheet) -> list[str]:
    student = one.sheet.student if one.sheet else None
    return [
        student.code if student else "",
        student.name if student else "",
        one.path.name if one.path else "",
    ]


def _students_by_misconception(marks: ClassMarks) -> Counter[str]:
    seen: Counter[str] = Counter()
    for sheet in marks.sheets:
        if sheet.counted:
            seen.update(
                {a.marked.misconception for a in sheet.answers if a.marked is not None}
            )
    return seen


def _by_exercise(counted: Sequence[MarkedSheet]) -> list[list[str]]:
    titles = {f.key: f.title for f in families()}
    states: dict[tuple[int, str], Counter[str]] = defaultdict(Counter)
    for sheet in counted:
        for a in sheet.answers:
            kind = a.state if a.state in ("right", NOT_WRITTEN) else "not right"
            states[a.number, titles.get(a.item.family, a.item.family)][kind] += 1
    return [
        [f"{number}. {title}", str(found["right"]), str(found["not right"]),
         str(found[NOT_WRITTEN])]
        for (number, title), found in sorted(states.items())
    ]  # fmt: skip


def _bar(name: str, times: int, most: int, place: int) -> str:
    top = 8 + place * _ROW
    long = max((_WIDE - _LABEL - 60) * times / most, 2.0)
    return (
        f'<text x="{_LABEL - 10}" y="{top + 15}" text-anchor="end">{xml_text(name)}'
        f'</text><rect x="{_LABEL}" y="{top}" width="{long:.1f}" height="20" rx="2" '
        f'fill="{PALETTE["water"]}"/>'
        f'<text x="{_LABEL + long + 8:.1f}" y="{top + 15}">{times}</text>'
    )


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    head = "".join(f'<th scope="col">{xml_text(h)}</th>' for h in heads)
    body = "".join(
        f'<tr><th scope="row">{xml_text(first)}</th>'
        + "".join(f"<td>{xml_text(cell)}</td>" for cell in rest)
        + "</tr>"
        for first, *rest in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _page(title: str, body: str) -> str:
    """A page that may not fetch anything, with a script or without."""
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
        "style-src 'unsafe-inline'\">"
        '<meta name="viewport" content="width=device-width">'
        f"<title>{xml_text(title)}: misconceptions</title>"
        f"<style>{_STYLE}</style></head><body>{body}</body></html>\n"
    )


_NONE = "No misconception was recognised in these answers."
_STYLE = (
    f"body{{font:15px/1.5 {SANS};color:#1b1b1b;background:#fff;max-width:820px;"
    "margin:28px auto;padding:0 16px}svg{max-width:100%;height:auto}"
    "table{border-collapse:collapse;width:100%;margin:12px 0}"
    "th,td{text-align:left;vertical-align:top;padding:5px 14px 5px 0;"
    "border-bottom:1px solid #bdbdbd;font-variant-numeric:tabular-nums}"
    "thead th{color:#5c5c5c;font-weight:400;font-size:13px}"
    "tbody th{font-weight:600}h1{font-size:24px}h2{font-size:18px;margin-top:28px}"
)
