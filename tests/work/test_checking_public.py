"""The check by its public name, and what a recipe keeps of the measures it used."""

import subprocess
import sys

import pytest

import bakelab
from bakelab.reading import read_recipe

TEXT = "Loaf\n\n4 cups flour\n340 g water\n10 g salt\n"


def test_the_check_is_a_public_name() -> None:
    assert "check" in bakelab.__all__
    report = bakelab.check("Loaf\n\n500 g (2 cups) flour\n340 g water\n10 g salt\n")
    assert [f.identifier for f in report.by_kind("conflict")] == [
        "weight-against-volume"
    ]


def test_the_check_is_imported_when_it_is_asked_for() -> None:
    said = "import sys, bakelab; print('bakelab.checking' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", said], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"


def test_a_name_that_is_not_there_is_refused() -> None:
    with pytest.raises(AttributeError, match="no_such_thing"):
        bakelab.__getattr__("no_such_thing")


@pytest.mark.parametrize(
    ("market", "kept"), [(None, "us"), ("australia", "australia"), ("uk", "uk")]
)
def test_a_recipe_keeps_its_market(market: str | None, kept: str) -> None:
    recipe = read_recipe(TEXT, market=market)
    assert recipe.market == kept
    assert recipe.to_dict()["market"] == kept
