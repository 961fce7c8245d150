"""How long an exercise takes to make and to mark; nothing here asserts a time."""

from itertools import count

import pytest

from bakelab.lessons import Progress, make, mark


@pytest.mark.parametrize("key", ["parts", "volume_ratio", "estimate"])
def test_making_an_exercise(benchmark, key):
    make(key, 0)
    seeds = count(1)
    assert benchmark(lambda: make(key, next(seeds))).family == key


def test_marking_an_answer(benchmark):
    item = make("percent_to_weight", 3)
    assert benchmark(mark, item, "1 1/2 kg").state


def test_choosing_the_next_of_five_hundred_answers(benchmark, tmp_path):
    progress = Progress(tmp_path / "answers.jsonl")
    for _ in range(500):
        item = progress.next_item().item
        right = f"{float(item.answer)}" if not item.is_choice else item.answer
        progress.record(item, mark(item, str(right)))
    assert benchmark(progress.next_item).item
