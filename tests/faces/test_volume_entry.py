"""The volume of the loaf, measured at the bench."""

import pytest

from bakelab.bakebook import BakeBook
from bakelab.formula import Formula
from bakelab.panels import BenchPanel


@pytest.fixture
def panel(tmp_path):
    with BakeBook(tmp_path / "book.sqlite") as book:
        dough = Formula.from_pairs([("wheat_bread", 500), ("water", 340)])
        bake = book.start(dough, pan="loaf 20 x 10 x 8 cm", loaf_out_g=500)
        made = BenchPanel(book)
        made.open(bake)
        yield made


def facts(panel):
    return panel.book.bake(panel.bake_id).facts


def test_seeds_by_volume_and_by_weight(panel):
    """USDA A-A-20126F, 6.6.2: whole ml over whole g, to one decimal."""
    entry = panel.volume
    entry.alone.value, entry.around.value = "5 l", "2400"
    entry.by_seeds.click()
    assert facts(panel)["loaf_volume_cm3"] == 2600
    assert facts(panel)["volume_method"] == "seed displacement"
    assert "2600 cm³" in entry.told["volume"].value
    assert "5.2 cm³/g" in entry.told["volume"].value
    entry.alone.value, entry.around.value = "2,68 kg", "1139 g"
    entry.per_litre.value = "670"
    entry.by_seeds.click()
    assert facts(panel)["loaf_volume_cm3"] == 2300
    assert panel.book.bake(panel.bake_id).computed["specific_volume_cm3_g"] == 4.6


def test_from_the_height_with_its_band(panel):
    entry = panel.volume
    entry.by_height.click()
    assert "not both written yet" in entry.told["volume"].value
    panel.book.write(panel.bake_id, height_cm=11)
    entry.by_height.click()
    assert facts(panel)["loaf_volume_cm3"] == 2000
    assert facts(panel)["volume_method"] == "height and shape"
    assert "1900 to 2200 cm³" in entry.told["volume"].value
    entry.wall.value = "7"
    entry.by_height.click()
    assert facts(panel)["loaf_volume_cm3"] == 1933  # 1400 + 2/3 of 200 x 4, by hand


@pytest.mark.parametrize(
    ("alone", "around", "litre", "words"),
    [
        ("", "2 l", "", "nothing is written"),
        ("2 l", "3 l", "", "leave no loaf"),
        ("2 kg", "1 kg", "", "weigh by volume"),
        ("2 min", "1 l", "", "Not saved"),
        ("much", "1 l", "", "expected"),
    ],
)
def test_refusals_save_nothing(panel, alone, around, litre, words):
    entry = panel.volume
    entry.alone.value, entry.around.value, entry.per_litre.value = alone, around, litre
    entry.by_seeds.click()
    assert words in entry.told["volume"].value
    assert "loaf_volume_cm3" not in facts(panel)


def test_folded_until_it_is_wanted(panel):
    box = panel.volume.widgets()[1]
    assert box.layout.display == "none"
    panel.volume.open.value = True
    assert box.layout.display != "none"
