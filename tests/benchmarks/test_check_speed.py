"""How long checking takes and how much memory; run with `pytest tests/benchmarks`."""

import gc
import random
from collections.abc import Iterator
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

import pytest

from bakelab.checking import FileResult, check, check_many

TEXT = """{name} loaf of lock {n}

## Ingredients

- {flour} g ({cups:.1f} cups) bread flour
- {water} g water
- {salt} g salt
- {yeast} g instant yeast
- {oil} tbsp olive oil

## Method

1. Mix the flour and the water and wait {n} minutes.
2. Add salt, yeast and oil; knead {n} minutes.
3. Bake at 425 °F (220 °C) in a 9 x 5 inch (23 x 13 cm) loaf pan. Makes 1 loaf.
"""
NAMES = ("Sandwich", "Rye", "Oat", "Milk", "Harbour white", "Sourdough", "Seeded",
         "Spelt", "Potato", "Honey wheat")  # fmt: skip


def generated(count: int) -> Iterator[str]:
    """Invented recipes, all different, so that no cache answers for the check."""
    draw = random.Random(11)
    for number in range(count):
        flour = draw.randint(300, 1200)
        yield TEXT.format(
            n=number,
            name=draw.choice(NAMES),
            flour=flour,
            cups=flour / 126,
            water=round(flour * draw.uniform(0.55, 0.8)),
            salt=round(flour * 0.02, 1),
            yeast=round(flour * 0.01, 1),
            oil=draw.randint(1, 4),
        )


def test_a_thousand_recipes(benchmark: Any) -> None:
    """Aim: 500 recipes a second on one core."""
    texts = list(generated(1000))
    check(texts[0])
    reports = benchmark.pedantic(lambda: [check(t) for t in texts], rounds=1)
    assert len(reports) == 1000
    benchmark.extra_info["recipes a second"] = round(1000 / benchmark.stats["mean"])


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    for number, text in enumerate(generated(1200)):
        (tmp_path / f"{number:04}.txt").write_text(text, encoding="utf-8")
    return tmp_path


class _AtOnce(Executor):
    """Runs a task when it is handed in, so that all waiting results exist."""

    def submit(self, task: Any, /, *given: Any, **named: Any) -> Future[Any]:
        done: Future[Any] = Future()
        done.set_result(task(*given, **named))
        return done


@pytest.mark.parametrize("executor", [None, _AtOnce()])
def test_results_are_handed_on_and_not_kept(
    shelf: Path, executor: Executor | None
) -> None:
    """However many files there are, at most the waiting tasks are held."""
    most = 0
    for number, _ in enumerate(check_many([shelf], executor, workers=1)):
        if number % 100 == 0:
            held = sum(isinstance(o, FileResult) for o in gc.get_objects())
            most = max(most, held)
    assert 0 < most <= (32 + 1) * 16 + 1
