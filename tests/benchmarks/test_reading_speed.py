"""How long reading takes; run with `pytest tests/benchmarks -q`."""

import random
import subprocess
import sys
from pathlib import Path
from typing import Any

from bakelab.reading import read_recipe

CORPUS = Path(__file__).parent.parent / "reading" / "corpus" / "recipes"
NAMES = ("bread flour", "rye flour", "water", "milk", "salt", "honey", "olive oil")


def _recipes(count: int) -> list[str]:
    """Invented recipes, all different, so that no cache answers for the reader."""
    draw = random.Random(7)
    made = []
    for number in range(count):
        lines = [f"Loaf {number}", ""]
        for name in NAMES:
            grams = draw.randint(1, 900)
            lines.append(f"- {grams} g ({grams / 125:.2f} cups) {name} {number}")
        lines += [
            "",
            f"Bake in a 9 x 5 inch loaf pan at 220 °C for {20 + number % 30} min.",
        ]
        made.append("\n".join(lines))
    return made


def test_one_recipe_of_each_kind(benchmark: Any) -> None:
    """Aim: under 5 ms each, after the first."""
    texts = [p for p in sorted(CORPUS.iterdir()) if not p.name.endswith(".gold.json")]
    benchmark(lambda: [read_recipe(p) for p in texts])
    benchmark.extra_info["recipes"] = len(texts)


def test_a_thousand_recipes(benchmark: Any) -> None:
    """Aim: over 500 recipes a second on one core."""
    texts = _recipes(1000)
    benchmark.pedantic(lambda: [read_recipe(t) for t in texts], rounds=3, iterations=1)
    benchmark.extra_info["recipes_per_second"] = 1000 / benchmark.stats.stats.median


def _imports(what: str) -> None:
    subprocess.run([sys.executable, "-c", what], check=True)


def test_import_of_the_floor(benchmark: Any) -> None:
    """The floor: pandas and pint with one registry, without bakelab."""
    benchmark.pedantic(
        _imports,
        args=("import pandas, pint; pint.UnitRegistry(cache_folder=':auto:')",),
        rounds=5,
        warmup_rounds=1,
    )


def test_import_of_bakelab(benchmark: Any) -> None:
    """Aim: no slower than the floor plus 150 ms."""
    benchmark.pedantic(_imports, args=("import bakelab",), rounds=5, warmup_rounds=1)


def test_fit_from_the_shell(benchmark: Any) -> None:
    """Aim: under 1.5 s."""
    recipe = str(CORPUS / "bare-list.txt")
    words = [sys.executable, "-m", "bakelab", "fit", recipe, "--dough", "900 g"]
    benchmark.pedantic(
        lambda: subprocess.run(words, capture_output=True, check=False),
        rounds=5,
        warmup_rounds=1,
    )
