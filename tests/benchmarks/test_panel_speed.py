"""How long a control takes from its change to the new answer, in Python."""

from collections.abc import Callable
from itertools import cycle
from typing import Any

import pytest

from bakelab.panels import FitPanel

MOST_S = 0.03  # our own aim: so much of the 100 ms to a repainted answer

NO_PAN = "Loaf\n\n500 g bread flour\n330 g water\n10 g salt\n5 g instant yeast"


@pytest.fixture
def panel(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> FitPanel:
    monkeypatch.setenv("BAKELAB_KITCHEN", str(tmp_path / "kitchen.json"))
    return FitPanel()


def test_a_changed_pan(panel: FitPanel, benchmark: Any) -> None:
    pans = cycle(["13 x 4 x 4 in, lidded", "8 x 4 x 2.5 in loaf", "2 round 9 x 2 in"])
    timed(benchmark, lambda: setattr(panel.controls.to_pan, "value", next(pans)))
    assert panel.answer is not None
    benchmark.extra_info["aim_s"] = MOST_S


def test_a_changed_recipe(panel: FitPanel, benchmark: Any) -> None:
    text = panel.controls.text.value
    texts = cycle(text.replace("3 cups", f"{n / 4 + 2:.2f} cups") for n in range(400))
    timed(benchmark, lambda: setattr(panel.controls.text, "value", next(texts)))
    assert panel.answer is not None
    benchmark.extra_info["aim_s"] = MOST_S


def test_the_guess_of_a_pan(panel: FitPanel, benchmark: Any) -> None:
    panel.controls.text.value = NO_PAN
    pans = cycle(["13 x 4 x 4 in, lidded", "8 x 4 x 2.5 in loaf"])
    timed(benchmark, lambda: setattr(panel.controls.to_pan, "value", next(pans)))
    assert panel.answer is not None
    assert panel.answer.likely
    benchmark.extra_info["aim_s"] = MOST_S


def timed(benchmark: Any, change: Callable[[], None]) -> None:
    """One change a round: a value that is set twice would cost nothing."""
    benchmark.pedantic(change, rounds=40, iterations=1, warmup_rounds=3)
