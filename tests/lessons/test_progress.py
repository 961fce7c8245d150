"""Progress: a local file that loses nothing, mastery, the edge, spaced reviews."""

import json
import math
import random
from datetime import UTC, datetime, timedelta

import pytest

from bakelab.errors import BakelabError
from bakelab.lessons import Marked, Progress, families, make, mark, progress_path

START = datetime(2026, 3, 2, 9, tzinfo=UTC)
RIGHT = Marked("right", "", "Right.", None)
WRONG = Marked("wrong", "", "Not this time.", None)
DIFFICULTY = {1: -1.0, 2: 0.0, 3: 1.0}


@pytest.fixture
def progress(tmp_path):
    return Progress(tmp_path / "deep" / "answers.jsonl")


def answer(progress, family, seed, marked=RIGHT, *, level=2, at=START, hints=0):
    progress.record(make(family, seed, level=level), marked, hints=hints, at=at)


def test_answers_survive_and_only_the_first_to_an_exercise_counts(progress):
    answer(progress, "pieces", 1, WRONG)
    answer(progress, "pieces", 1, RIGHT)
    answer(progress, "pieces", 2, RIGHT)
    again = Progress(progress.path)
    assert again.answers == progress.answers
    assert len(again.answers) == 3
    assert again.standing("pieces").tries == 2
    assert again.standing("pieces").right == 1
    assert again.remark == ""


def test_what_was_not_understood_is_not_kept(progress):
    item = make("pieces", 1)
    progress.record(item, mark(item, "hello"), at=START)
    assert progress.answers == ()
    assert not progress.path.exists()


def test_a_broken_line_is_left_alone_and_told(progress):
    answer(progress, "pieces", 1)
    with progress.path.open("ab") as file:
        file.write(b'{"at": "2026-03-02T09:00:0')
    progress.reload()
    assert "line 2 cannot be read and is left as it is" in progress.remark
    answer(progress, "pieces", 2)
    again = Progress(progress.path)
    assert len(again.answers) == 2
    assert progress.path.read_bytes().count(b'{"at": "2026-03-02T09:00:0\n') == 1


LINE = (
    '{"at": "2026-03-02T09:00:00+00:00", "family": "pieces", "seed": 1, "level": 1,'
    ' "state": "right", "misconception": "", "hints": 0}'
)


@pytest.mark.parametrize(
    "line",
    [
        b"\xff\xfe\x00", b"[]", b"3", b"null", b'{"at": 5}', b'{"family": "pieces"}',
        LINE.replace('"seed": 1', '"seed": "x"').encode(),
        LINE.replace('"level": 1', '"level": 9').encode(),
        LINE.replace('"right"', '"splendid"').encode(),
        LINE.replace("2026-03-02", "2026-13-02").encode(),
    ],
)  # fmt: skip
def test_no_line_breaks_the_reading(progress, line):
    answer(progress, "pieces", 1)
    with progress.path.open("ab") as file:
        file.write(line + b"\n")
    again = Progress(progress.path)
    assert len(again.answers) == 1
    assert again.remark


def test_two_notebooks_may_write_to_one_file(progress):
    other = Progress(progress.path)
    answer(progress, "pieces", 1)
    answer(other, "units", 1)
    answer(progress, "pieces", 2)
    other.reload()
    assert len(other.answers) == 3


def test_a_family_that_is_gone_is_kept_but_passed_over(progress):
    answer(progress, "pieces", 1)
    row = json.loads(progress.path.read_text(encoding="utf-8"))
    with progress.path.open("a", encoding="utf-8") as file:
        file.write(json.dumps(row | {"family": "of_old"}) + "\n")
    again = Progress(progress.path)
    assert len(again.answers) == 2
    assert set(again.standings()) == {family.key for family in families()}
    assert again.next_item(at=START).item


def test_everything_can_be_deleted(progress):
    answer(progress, "pieces", 1)
    progress.delete()
    assert not progress.path.exists()
    assert progress.answers == ()
    progress.delete()


def test_the_file_can_be_chosen(tmp_path, monkeypatch):
    monkeypatch.setenv("BAKELAB_PROGRESS", str(tmp_path / "mine.jsonl"))
    assert progress_path() == tmp_path / "mine.jsonl"
    assert Progress().path == tmp_path / "mine.jsonl"
    monkeypatch.delenv("BAKELAB_PROGRESS")
    assert progress_path().name == "progress.jsonl"


def test_a_place_that_cannot_be_used_is_named(tmp_path):
    with pytest.raises(BakelabError, match="cannot be read"):
        Progress(tmp_path)
    blocked = tmp_path / "file"
    blocked.write_text("", encoding="utf-8")
    with pytest.raises(BakelabError, match=r"cannot be (kept|read)"):
        answer(Progress(blocked / "answers.jsonl"), "pieces", 1)


def test_hints_make_a_right_answer_count_less(progress, tmp_path):
    helped = Progress(tmp_path / "helped.jsonl")
    for seed in range(3):
        answer(progress, "pieces", seed)
        answer(helped, "pieces", seed, hints=3)
    assert helped.standing("pieces").mastery < progress.standing("pieces").mastery


def test_misconceptions_are_counted(progress):
    seen = Marked("misconception", "forgot_dome", "Look.", None)
    answer(progress, "pan_volume", 1, seen)
    answer(progress, "pan_volume", 2, seen)
    assert progress.misconceptions() == {"forgot_dome": 2}


def test_one_who_can_do_it_all_gets_through_all_families(progress):
    at = START
    for _ in range(400):
        chosen = progress.next_item(at=at)
        progress.record(chosen.item, RIGHT, at=at)
        at += timedelta(minutes=2)
        if all(s.is_mastered for s in progress.standings().values()):
            break
    assert 60 <= len(progress.answers) <= 160
    assert "Everything here is mastered" in progress.next_item(at=at).why


def test_one_who_fails_gets_level_1_and_moves_on_after_ten_tries(progress):
    at = START
    for _ in range(30):
        chosen = progress.next_item(at=at, lesson=2)
        assert chosen.item.level == 1
        progress.record(chosen.item, WRONG, at=at)
        at += timedelta(minutes=2)
    practised = [a.family for a in progress.answers]
    assert set(practised[:20]) == {"weight_to_percent", "percent_to_weight"}
    assert set(practised[20:]) == {"several_flours", "dough_share"}
    tomorrow = progress.next_item(at=at + timedelta(days=2), lesson=2)
    assert "comes back today" in tomorrow.why


@pytest.mark.parametrize("ability", [-2.5, -0.4, 0.4, 1.2, 2.5])
def test_items_settle_near_the_edge_of_what_a_student_can_do(tmp_path, ability):
    """Invented students with a known chance at each level; 0.7 is aimed at."""
    chance = {n: 1 / (1 + math.exp(d - ability)) for n, d in DIFFICULTY.items()}
    levels = []
    for student in range(12):
        luck, mine = random.Random(student), Progress(tmp_path / f"{student}.jsonl")
        for seed in range(40):
            level = mine.standing("units").level
            right = luck.random() < chance[level]
            item = make("units", seed, level=level)
            mine.record(item, RIGHT if right else WRONG, at=START)
            levels.append(level) if seed >= 15 else None
    mean = sum(chance[level] for level in levels) / len(levels)
    best = min(chance.values(), key=lambda c: abs(c - 0.7))
    assert abs(mean - best) < 0.17


def test_a_family_comes_back_after_growing_spaces(progress):
    """Spaced practice with fsrs: each success makes the next space longer."""
    at, spaces = START, []
    for seed in range(6):
        answer(progress, "pieces", seed, at=at)
        due = progress.standing("pieces").due
        spaces.append((due - at).days)
        at = due
    assert spaces == sorted(spaces)
    assert spaces[0] >= 1
    assert spaces[-1] > 10 * spaces[0]
    answer(progress, "pieces", 99, WRONG, at=at)
    assert (progress.standing("pieces").due - at).days < spaces[-1]


def test_what_is_due_comes_before_what_is_new(progress):
    answer(progress, "units", 1)
    answer(progress, "parts", 1)
    soon = progress.next_item(at=START)
    assert soon.item.family != "units"
    later = progress.next_item(at=progress.standing("units").due)
    assert later.item.family == "units"
    assert "comes back today" in later.why
    assert later.item.seed not in {a.seed for a in progress.answers}


def test_the_same_file_gives_the_same_next_item(progress):
    answer(progress, "pieces", 1)
    assert progress.next_item(at=START) == Progress(progress.path).next_item(at=START)


def test_the_table_has_a_row_for_every_family(progress):
    answer(progress, "pieces", 1)
    table = progress.table()
    assert list(table["family"]) == [family.key for family in families()]
    assert table.set_index("family").loc["pieces", "right"] == 1
    assert table["mastery"].between(0, 1).all()
