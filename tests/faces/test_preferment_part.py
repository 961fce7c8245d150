"""The preferment in the ratio panel: a field is set, the stages are read."""

import html
import re

import pytest

from bakelab.formula import Formula
from bakelab.panels import RatioPanel
from bakelab.preferments import kinds

BREAD = Formula.from_pairs(
    [
        ("wheat_bread", 400),
        ("wheat_whole", 100),
        ("water", 340),
        ("salt_table", 10),
        ("yeast_instant", 4),
    ],
    title="Ferry loaf",
)
MILKY = Formula.from_pairs(
    [("wheat_bread", 500), ("milk_whole", 320), ("salt_table", 9), ("yeast_fresh", 12)]
)
NONSENSE = (
    "abc", "-5", "0", "101", "1e308", "inf", "nan", "9" * 400, "½ of", "<b>1</b>",
    "\x00", "🍞", "1/0", "%", "30 g", "; --",
)  # fmt: skip

SENSE = {("wet", "0"), ("wet", "101"), ("yeast", "0")}


@pytest.fixture
def panel() -> RatioPanel:
    return RatioPanel(BREAD)


def told(panel: RatioPanel) -> str:
    return html.unescape(re.sub("<[^>]+>", " ", panel.preferment.told.value))


def stages(panel: RatioPanel) -> list[list[str]]:
    rows = re.findall("<tr>(.*?)</tr>", panel.preferment.stages.value)
    return [re.findall(r"<t[hd][^>]*>([^<]*)</t", row) for row in rows]


def test_the_part_is_folded_until_it_is_opened(panel: RatioPanel) -> None:
    part = panel.preferment
    assert part.kind in part._box.children[1].children
    assert part._box.layout.display == "none"
    part.open.value = True
    assert part._box.layout.display is None
    assert part.stages.value == ""


def test_a_poolish_by_hand(panel: RatioPanel) -> None:
    """30 % of 500 g flour at 100 % water and 0.2 % yeast: 150 g, 150 g, 0.3 g."""
    part = panel.preferment
    part.flour.value, part.wet.value, part.yeast.value = "30", "100 %", "0,2"
    part.make.click()
    assert stages(panel) == [
        ["Ingredient", "Poolish (g)", "Final dough (g)", "All (g)"],
        ["Bread flour (strong white)", "120.0", "280.0", "400.0"],
        ["Whole-wheat flour", "30.0", "70.0", "100.0"],
        ["Water", "150.0", "190.0", "340.0"],
        ["Instant yeast", "0.30", "3.70", "4.00"],
        ["Table salt", "–", "10.0", "10.0"],
        ["Weight", "300.3", "553.7", "854.0"],
        ["Share of all flour (%)", "30.0", "70.0", "100.0"],
        ["True hydration (%)", "100.0", "54.3", "68.0"],
        ["Yeast (% of its flour)", "0.20", "1.06", "0.80"],
        ["Salt (% of its flour)", "0.00", "2.86", "2.00"],
    ]
    assert "Poolish: 300.3 g with 30.0 % of all flour" in told(panel)
    assert "True hydration 68.0 % before and 68.0 % after" in told(panel)


def test_it_is_undone_and_done_again_as_any_move(panel: RatioPanel) -> None:
    panel.preferment.make.click()
    made = panel.formula
    panel.controls.undo.click()
    assert panel.formula == BREAD
    assert panel.preferment.stages.value == told(panel) == ""
    panel.controls.redo.click()
    assert panel.formula == made
    assert "Poolish (g)" in panel.preferment.stages.value
    panel.controls.back.click()
    assert panel.formula == BREAD


def test_it_is_kept_as_a_variant_and_ratios_still_move(panel: RatioPanel) -> None:
    panel.preferment.make.click()
    panel.controls.name.value = "poolish"
    panel.controls.keep.click()
    assert panel.parent.stages == ("poolish", "final dough")
    panel.sliders["salt"].value = 1.5
    assert panel.formula.role_pct("salt") == pytest.approx(1.5)
    assert panel.formula.stages == ("poolish", "final dough")
    panel.controls.family.value = next(iter(panel.family)).key
    assert panel.formula == BREAD


@pytest.mark.parametrize("key", [k for k in kinds()["kind"] if k != "soaker"])
def test_every_kind_leaves_the_whole_dough_as_it_was(
    panel: RatioPanel, key: str
) -> None:
    part = panel.preferment
    part.kind.value = key
    part.make.click()
    assert len(panel.formula.stages) == 2, told(panel)
    assert panel.formula.hydration_pct == pytest.approx(BREAD.hydration_pct)
    assert panel.formula.dough_g == pytest.approx(BREAD.dough_g)
    assert "no source" in part.usual.value
    hidden = part.yeast.layout.display == "none"
    assert hidden == key.startswith(("levain", "scald"))


def test_a_levain_brings_a_slider_for_its_starter(panel: RatioPanel) -> None:
    panel.preferment.kind.value = "levain_liquid"
    panel.preferment.make.click()
    assert "starter" in panel.sliders
    before = panel.formula.hydration_pct
    panel.sliders["starter"].value = panel.sliders["starter"].value + 2.0
    assert panel.formula.hydration_pct == pytest.approx(before)
    panel.controls.undo.click()
    panel.controls.undo.click()
    assert "starter" not in panel.sliders


def test_a_slider_at_nothing_stays() -> None:
    panel = RatioPanel(BREAD)
    panel.sliders["salt"].value = 0.0
    assert "salt" in panel.sliders


def test_milk_takes_the_place_of_water_where_there_is_none() -> None:
    panel = RatioPanel(MILKY)
    part = panel.preferment
    assert part.liquid.options == (("Whole milk", "milk_whole"),)
    part.kind.value, part.flour.value = "sponge", "40"
    part.make.click()
    assert ["Whole milk", "130.0", "190.0", "320.0"] in stages(panel)


def test_only_liquids_that_the_formula_has_are_offered(panel: RatioPanel) -> None:
    assert panel.preferment.liquid.layout.display == "none"


def test_what_is_unusual_is_said(panel: RatioPanel) -> None:
    panel.preferment.flour.value = "60"
    panel.preferment.make.click()
    words = panel.preferment.stages.value
    assert "flour share above the usual for a poolish (15 to 50 %" in words


def test_a_dough_without_yeast_gives_none_and_says_so() -> None:
    flat = Formula.from_pairs([("wheat_bread", 500), ("water", 340)])
    panel = RatioPanel(flat)
    panel.preferment.make.click()
    assert "the dough has none to give" in told(panel)


def test_a_second_one_stands_beside_the_first(panel: RatioPanel) -> None:
    part = panel.preferment
    part.flour.value = "20"
    part.make.click()
    part.make.click()
    assert panel.formula.stages == ("poolish 2", "poolish", "final dough")
    assert "Poolish 2" in told(panel)
    for _ in range(5):
        part.make.click()
    assert re.search(r"Preferment: the poolish \d wants .* g water", told(panel))


@pytest.mark.parametrize("field", ["flour", "wet", "yeast"])
def test_nonsense_gives_a_sentence_and_changes_nothing(
    panel: RatioPanel, field: str
) -> None:
    for value in NONSENSE:
        if (field, value) in SENSE:
            continue
        getattr(panel.preferment, field).value = value
        panel.preferment.make.click()
        said = panel.preferment.told.value
        assert panel.formula == BREAD, value
        assert said.count("<p>") == 1, value
        assert 'role="alert"' in said
        assert "<b>" not in said
    assert not panel.history.can_undo


def test_names_of_ingredients_are_escaped() -> None:
    text = "500 g flour\n300 g water\n5 g <img src=x onerror=alert(1)> yeast\n"
    panel = RatioPanel(text)
    panel.preferment.make.click()
    assert "Poolish (g)" in panel.preferment.stages.value
    assert "<img" not in panel.preferment.stages.value
