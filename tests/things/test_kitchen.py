"""What a measure weighs, and the user's own weights that are kept for good."""

from pathlib import Path

import pytest

from bakelab.errors import BakelabError
from bakelab.kitchen import (
    forget_my_weight,
    grams_per,
    my_weights,
    my_weights_path,
    set_my_weight,
)
from bakelab.units import Q_


@pytest.fixture(autouse=True)
def own_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "kitchen.json"
    monkeypatch.setenv("BAKELAB_KITCHEN", str(path))
    return path


def test_weights_of_usda() -> None:
    """USDA SR28: all-purpose flour 125 g a cup (20081), salt 6 g a teaspoon (02047),
    active dry yeast 4 g a teaspoon (18375)."""
    cup, salt = grams_per("wheat_all_purpose", "cup"), grams_per("salt_table", "tsp")
    assert cup is not None
    assert salt is not None
    assert cup.mid_g == pytest.approx(125, abs=1)
    assert salt.mid_g == 6
    assert not cup.own


def test_a_spoon_is_its_share_of_a_cup() -> None:
    cup, spoon = grams_per("honey", "cup"), grams_per("sugar_white", "ml")
    assert cup is not None
    assert spoon is not None
    assert spoon.mid_g == pytest.approx(200 / 236.588, rel=0.01)


@pytest.mark.parametrize(
    ("key", "measure"),
    [("unheard of", "cup"), ("water", "packet"), ("wheat_bread", "large")],
)
def test_what_nobody_has_weighed_is_none(key: str, measure: str) -> None:
    assert grams_per(key, measure) is None


def test_an_own_weight_comes_first_and_stays(own_file: Path) -> None:
    set_my_weight("wheat_bread", "cup", Q_(128, "g"))
    weight = grams_per("wheat_bread", "cup")
    assert weight is not None
    assert (weight.low_g, weight.mid_g, weight.high_g) == (128, 128, 128)
    assert weight.own
    assert own_file.is_file()
    spoon = grams_per("wheat_bread", "tbsp")
    assert spoon is not None
    assert spoon.mid_g == pytest.approx(8)
    assert forget_my_weight("wheat_bread", "cup")
    assert not forget_my_weight("wheat_bread", "cup")
    assert dict(my_weights()) == {}


@pytest.mark.parametrize("grams", [0, -1, float("nan"), float("inf")])
def test_an_impossible_weight_is_refused(grams: float) -> None:
    with pytest.raises(BakelabError):
        set_my_weight("wheat_bread", "cup", Q_(grams, "g"))
    assert dict(my_weights()) == {}


def test_unknown_ingredients_and_measures_are_refused() -> None:
    with pytest.raises(BakelabError):
        set_my_weight("unheard of", "cup", "100 g")
    with pytest.raises(BakelabError):
        set_my_weight("wheat_bread", "hogshead", "100 g")


@pytest.mark.parametrize("text", ["", "{", "[1]", '{"a": "b"}'])
def test_a_broken_file_is_said_and_kept(own_file: Path, text: str) -> None:
    own_file.write_text(text)
    with pytest.raises(BakelabError):
        set_my_weight("wheat_bread", "cup", "128 g")
    assert own_file.read_text() == text
    assert my_weights_path() == own_file
