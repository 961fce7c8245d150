"""How long an ingredient takes to find; run with `pytest tests/benchmarks -q`."""

from typing import Any

from bakelab.ingredients import find_ingredient, ingredients, is_ingredient
from bakelab.kitchen import grams_per

NAMES = {
    "en": (
        "unbleached all-purpose flour, plus extra for dusting",
        "warm (not hot) water",
        "active dry - yeast",
        "unsalted butter, softened",
        "butter lettuce",
        "yolk of an egg",
        "whole wheat bread flour",
    ),
    "de": ("Weizenmehl Type 550", "zimmerwarme Butter", "Saft einer Zitrone"),
    "fr": ("farine de blé complète", "levure de boulanger sèche", "eau tiède"),
}


def _new_names(count: int) -> list[tuple[str, str]]:
    """Names that are all different, so that no cache answers for the search."""
    plain = [(name, language) for language, names in NAMES.items() for name in names]
    return [(f"{n} ({i})", lang) for i in range(count) for n, lang in plain]


def test_names_never_seen_before(benchmark: Any) -> None:
    """Aim: under 50 µs a name."""
    rounds = iter(range(0, 10**6, 100))
    find_ingredient("flour")

    def fresh() -> tuple[tuple[list[tuple[str, str]]], dict[str, Any]]:
        start = next(rounds)
        names = [(f"{name} {start}", lang) for name, lang in _new_names(100)]
        return (names,), {}

    def search(names: list[tuple[str, str]]) -> int:
        return sum(find_ingredient(n, language=lang) is not None for n, lang in names)

    found = benchmark.pedantic(search, setup=fresh, rounds=10)
    count = len(_new_names(100))
    assert found == count - 100  # all but the lettuce
    benchmark.extra_info["µs_per_name"] = benchmark.stats.stats.median / count * 1e6


def test_a_name_seen_before(benchmark: Any) -> None:
    """Aim: under 1 µs."""
    match = benchmark(find_ingredient, "unsalted butter, softened")
    assert match.key == "butter_unsalted"


def test_weight_of_a_cup(benchmark: Any) -> None:
    """Aim: under 50 µs, the file of own weights looked at each time."""
    weight = benchmark(grams_per, "wheat_bread", "cup")
    assert weight.mid_g > 0


def test_key_in_the_table(benchmark: Any) -> None:
    """Aim: under 1 µs."""
    assert benchmark(is_ingredient, "wheat_bread")
    assert len(ingredients()) > 100
