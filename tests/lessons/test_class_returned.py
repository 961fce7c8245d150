"""Notebooks that come back: every answer counted once, everything odd told."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bakelab.lessons.classroom.marks import NOT_WRITTEN
from bakelab.lessons.classroom.report import marks_csv
from bakelab.lessons.classroom.returned import read_returned
from bakelab.lessons.classroom.sheets import load_class
from tests.lessons.class_folders import TRICKS, filled, marks_of, right_answers, save


def test_right_answers_are_right(made: Path, returned: Path) -> None:
    for number in range(1, len(TRICKS) + 1):
        notebook = filled(made, number, right_answers(made, number))
        save(returned, f"{number}.ipynb", notebook)
    marks = marks_of(made, returned)
    assert [s.right for s in marks.sheets] == [6] * len(TRICKS)
    assert {s.state for s in marks.sheets} == {"marked"}
    assert not marks.misconceptions
    assert all(not s.remarks for s in marks.sheets)


def test_misconceptions_are_counted(made: Path, returned: Path) -> None:
    sheet = load_class(made / "for-the-teacher" / "class.json").sheets[0]
    wrong = {}
    expected: dict[str, int] = {}
    for number, item in enumerate(sheet.items, 1):
        one = item.distractors[0]
        exact = isinstance(one.value, Fraction)
        wrong[number] = (
            f"{one.value.numerator}/{one.value.denominator}"
            if isinstance(one.value, Fraction)
            else item.letter(one.value)
        )
        assert exact != item.is_choice
        expected[one.misconception] = expected.get(one.misconception, 0) + 1
    save(returned, "a.ipynb", filled(made, 1, wrong))
    marks = marks_of(made, returned)
    assert dict(marks.misconceptions) == expected
    assert marks.sheets[0].right == 0


def test_nothing_returned_is_said_for_each(made: Path, returned: Path) -> None:
    marks = marks_of(made, returned)
    assert {s.state for s in marks.sheets} == {"nothing returned"}
    assert len(marks.sheets) == len(TRICKS)


def test_renamed_files_are_found_by_what_they_say(made: Path, returned: Path) -> None:
    notebook = filled(made, 2, right_answers(made, 2))
    notebook["metadata"] = {}
    save(returned, "Homework FINAL (2).ipynb", notebook)
    assert marks_of(made, returned).sheets[1].right == 6


def test_a_file_without_any_mark_is_found_by_its_name(
    made: Path, returned: Path
) -> None:
    notebook = filled(made, 2, right_answers(made, 2))
    notebook["metadata"] = {}
    notebook["cells"][0]["source"] = "my homework"
    code = load_class(made / "for-the-teacher" / "class.json").sheets[1].student.code
    save(returned, f"work {code} copy.ipynb", notebook)
    assert marks_of(made, returned).sheets[1].right == 6


def test_an_unknown_notebook_is_kept_and_told(made: Path, returned: Path) -> None:
    save(returned, "other.ipynb", {"cells": [], "metadata": {}, "nbformat": 4})
    save(returned, "other2.ipynb", {"cells": [{"source": "Answer 1: 5"}]})
    last = marks_of(made, returned).sheets[-2:]
    assert [s.path.name for s in last if s.path] == ["other.ipynb", "other2.ipynb"]
    assert "by hand" in " ".join(last[1].remarks)


@pytest.mark.parametrize(
    ("broken", "state", "said"),
    [
        ("", "not readable", "empty"),
        ("{", "not readable", "broken at line 1"),
        ("[1, 2]", "not readable", "not a notebook"),
        ("null", "not readable", "not a notebook"),
        ('{"cells": 3}', "not readable", "not a notebook"),
        ("[" * 100_000, "not readable", "broken"),
        ("\x00\x01\x02", "not readable", "broken"),
    ],
)
def test_what_cannot_be_read_is_one_clear_sentence(
    made: Path, returned: Path, broken: str, state: str, said: str
) -> None:
    code = load_class(made / "for-the-teacher" / "class.json").sheets[2].student.code
    save(returned, f"{code}.ipynb", broken)
    one = marks_of(made, returned).sheets[2]
    assert one.state == state
    assert said in one.remarks[0]
    assert len(one.remarks) == 1


def test_a_cut_off_notebook_keeps_what_can_be_read(made: Path, returned: Path) -> None:
    text = json.dumps(filled(made, 4, right_answers(made, 4)), indent=1)
    cut = text[: text.index("bakelab-answer-4")]
    save(returned, "cut.ipynb", cut)
    one = marks_of(made, returned).sheets[3]
    assert [a.state for a in one.answers][:3] == ["right"] * 3
    assert one.answers[5].state == NOT_WRITTEN
    assert "broken at line" in one.remarks[0]


def test_half_filled_sheets_count_what_is_there(made: Path, returned: Path) -> None:
    right = right_answers(made, 1)
    save(returned, "half.ipynb", filled(made, 1, {1: right[1], 2: "no idea"}))
    one = marks_of(made, returned).sheets[0]
    assert one.state == "partly filled"
    states = [a.state for a in one.answers]
    assert states == ["right", "not understood", *([NOT_WRITTEN] * 4)]


def test_answers_in_other_cells_and_forms_are_read(made: Path, returned: Path) -> None:
    right = right_answers(made, 1)
    notebook = filled(made, 1, {1: f"\n\n**{right[1]}**"})
    cells = notebook["cells"]
    place = next(n for n, c in enumerate(cells) if c["id"] == "bakelab-answer-2")
    cells.insert(
        place + 1,
        {"cell_type": "code", "id": "x", "metadata": {}, "source": right[2],
         "outputs": [], "execution_count": None},
    )  # fmt: skip
    third = next(c for c in cells if c["id"] == "bakelab-answer-3")
    third["source"], third["metadata"] = f'answer 3 = "{right[3]}"', {}
    fourth = next(c for c in cells if c["id"] == "bakelab-answer-4")
    fourth["source"] = right[4]
    fifth = next(c for c in cells if c["id"] == "bakelab-answer-5")
    cells.remove(fifth)
    save(returned, "a.ipynb", notebook)
    one = marks_of(made, returned).sheets[0]
    assert [a.state for a in one.answers][:4] == ["right"] * 4
    assert one.answers[4].state == NOT_WRITTEN
    assert "answer 5 is gone" in " ".join(one.remarks)


def test_two_answers_that_differ_are_never_guessed(made: Path, returned: Path) -> None:
    notebook = filled(made, 1, {1: "12"})
    notebook["cells"].append(
        {"cell_type": "raw", "id": "y", "metadata": {}, "source": "Answer 1: 13"}
    )
    notebook["cells"].append(
        {"cell_type": "raw", "id": "z", "metadata": {}, "source": "Answer 77: 13"}
    )
    save(returned, "a.ipynb", notebook)
    one = marks_of(made, returned).sheets[0]
    assert one.answers[0].state == NOT_WRITTEN
    told = " ".join(one.remarks)
    assert "12; 13" in told
    assert "exercise 77" in told


def test_two_files_for_one_sheet_are_both_told(made: Path, returned: Path) -> None:
    right = right_answers(made, 1)
    save(returned, "a.ipynb", filled(made, 1, {1: right[1]}))
    save(returned, "b.ipynb", filled(made, 1, right))
    one, two = marks_of(made, returned).sheets[:2]
    assert (one.counted, two.counted) == (False, True)
    assert "2 files came back" in one.remarks[0]


def test_nothing_in_a_notebook_is_executed(made: Path, returned: Path) -> None:
    flag = returned / "executed"
    notebook = filled(
        made, 1, {1: f"__import__('pathlib').Path({str(flag)!r}).touch()"}
    )
    notebook["cells"].append(
        {"cell_type": "code", "id": "c", "metadata": {}, "outputs": [],
         "execution_count": None, "source": f"open({str(flag)!r}, 'w').close()"}
    )  # fmt: skip
    save(returned, "a.ipynb", notebook)
    assert marks_of(made, returned).sheets[0].answers[0].state == "not understood"
    assert not flag.exists()


@settings(
    max_examples=50,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(data=st.data())
def test_no_damage_to_a_notebook_stops_the_marking(
    made: Path, tmp_path: Path, data: st.DataObject
) -> None:
    """Bytes cut, doubled, swapped or overwritten anywhere: a state and no crash."""
    right = right_answers(made, 1)
    raw = json.dumps(filled(made, 1, right), indent=1).encode()
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(raw)))
        end = min(start + data.draw(st.integers(0, 2000)), len(raw))
        raw = raw[:start] + data.draw(st.binary(max_size=20)) + raw[end:]
    folder = tmp_path / "damaged"
    folder.mkdir(exist_ok=True)
    (folder / "a.ipynb").write_bytes(raw)
    marks = marks_of(made, folder)
    assert [s.path.name for s in marks.sheets if s.path] == ["a.ipynb"]
    assert marks_csv(marks)


@settings(max_examples=40, deadline=None)
@given(
    whole=st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=20),
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(
                st.sampled_from(
                    [
                        "cells",
                        "source",
                        "metadata",
                        "bakelab",
                        "item",
                        "sheet",
                        "id",
                        "worksheets",
                        "input",
                    ]
                ),
                inner,
                max_size=5,
            )
        ),
        max_leaves=20,
    )
)
def test_any_json_is_told_and_never_a_crash(
    tmp_path_factory: pytest.TempPathFactory, whole: Any
) -> None:
    path = tmp_path_factory.mktemp("json") / "a.ipynb"
    path.write_text(json.dumps(whole), encoding="utf-8")
    found = read_returned(path, frozenset({"ABCD"}))
    assert found.readable or len(found.remarks) == 1


def test_other_files_are_named_for_the_teacher(made: Path, returned: Path) -> None:
    (returned / "essay.pdf").write_bytes(b"%PDF")
    (returned / ".DS_Store").write_bytes(b"x")
    (returned / ".ipynb_checkpoints").mkdir()
    save(returned / ".ipynb_checkpoints", "a.ipynb", filled(made, 1, {1: "5"}))
    marks = marks_of(made, returned)
    assert [s.path.name for s in marks.sheets if s.path] == ["essay.pdf"]
    assert "mark it by hand" in marks.sheets[-1].remarks[0]
