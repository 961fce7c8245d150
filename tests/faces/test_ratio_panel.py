"""The ratio panel: a control is set, the answer is read."""

import pytest

from bakelab.formula import Formula
from bakelab.panels import RatioPanel

BREAD = Formula.from_pairs(
    [
        ("wheat_bread", 400),
        ("wheat_whole", 100),
        ("water", 330),
        ("butter_unsalted", 25),
        ("salt_table", 10),
        ("yeast_instant", 5),
    ],
    title="Ferry loaf",
)


@pytest.fixture
def panel() -> RatioPanel:
    return RatioPanel(BREAD)


def test_a_slider_for_every_ratio_of_the_formula(panel: RatioPanel) -> None:
    assert list(panel.sliders) == [
        "water", "salt", "yeast", "fat", "wheat_bread", "wheat_whole",
    ]  # fmt: skip
    assert panel.sliders["water"].value == pytest.approx(66)
    assert panel.sliders["wheat_whole"].value == pytest.approx(20)
    assert all("% of flour" in s.description for s in panel.sliders.values())


def test_moving_the_salt_moves_only_the_salt(panel: RatioPanel) -> None:
    panel.sliders["salt"].value = 1.0
    assert panel.formula.role_pct("salt") == pytest.approx(1.0)
    assert panel.formula.flour_g == pytest.approx(500)
    assert panel.formula.water_pct == pytest.approx(66)
    assert "Salt" in panel.outputs["strips"].value
    assert "below the usual" in panel.outputs["strips"].value
    assert "down −1.0" in panel.outputs["table"].value
    assert "<li>" in panel.outputs["moves"].value


def test_the_shares_of_flours_sum_to_one_hundred(panel: RatioPanel) -> None:
    panel.sliders["wheat_whole"].value = 50.0
    assert panel.sliders["wheat_bread"].value == pytest.approx(50)
    assert panel.formula.flour_g == pytest.approx(500)


def test_holding_the_dough(panel: RatioPanel) -> None:
    panel.controls.hold.value = "dough"
    panel.sliders["water"].value = 75.0
    assert panel.formula.dough_g == pytest.approx(BREAD.dough_g)
    assert panel.formula.water_pct == pytest.approx(75)


def test_undo_redo_and_back(panel: RatioPanel) -> None:
    panel.sliders["salt"].value = 1.5
    panel.sliders["salt"].value = 1.2
    panel.controls.undo.click()
    assert panel.sliders["salt"].value == pytest.approx(1.5)
    panel.controls.redo.click()
    assert panel.formula.role_pct("salt") == pytest.approx(1.2)
    panel.controls.back.click()
    assert panel.formula == BREAD
    assert panel.controls.back.disabled


def test_a_variant_is_kept_with_its_parent_and_nothing_is_overwritten(
    panel: RatioPanel,
) -> None:
    panel.sliders["salt"].value = 1.5
    panel.controls.name.value, panel.controls.why.value = "less salt", "for Mina"
    panel.controls.keep.click()
    assert len(panel.family) == 2
    assert panel.parent.role_pct("salt") == pytest.approx(1.5)
    assert "less salt" in panel.outputs["family"].value
    panel.controls.keep.click()
    assert "kept already" in panel.outputs["alert"].value
    panel.controls.family.value = next(iter(panel.family)).key
    assert panel.formula == BREAD


def test_the_style_is_suggested_with_its_reasons_and_never_forced(
    panel: RatioPanel,
) -> None:
    assert "Suggested:" in panel.outputs["style_note"].value
    panel.controls.style.value = "whole_wheat_pan"
    assert panel.outputs["style_note"].value == ""


def test_another_recipe_starts_anew(panel: RatioPanel) -> None:
    panel.controls.text.value = "300 g rye flour\n240 g water\n6 g salt\n"
    assert panel.formula.flour_g == 300
    assert list(panel.sliders) == ["water", "salt"]


@pytest.mark.parametrize("text", ["", "nonsense", "300 g water", "<script>x</script>"])
def test_a_text_without_a_formula_is_said_and_the_last_one_stays(
    panel: RatioPanel, text: str
) -> None:
    panel.controls.text.value = text or " "
    assert 'role="alert"' in panel.outputs["alert"].value
    assert "<script>" not in panel.outputs["alert"].value
    assert panel.formula == BREAD


def test_what_is_wrong_with_a_text_stands_until_it_is_mended(panel: RatioPanel) -> None:
    written = panel.controls.text.value
    panel.controls.text.value = "nonsense"
    panel.move("salt", 1.5)
    assert "Recipe: " in panel.outputs["alert"].value
    panel.controls.text.value = written
    assert panel.outputs["alert"].value == ""


@pytest.mark.parametrize("text", ["nonsense", "300 g water"])
def test_a_panel_that_begins_with_no_formula_stands_on_the_first_sample(
    text: str,
) -> None:
    panel = RatioPanel(text)
    assert "Recipe: " in panel.outputs["alert"].value
    assert panel.controls.text.value == text
    first = RatioPanel().formula
    assert panel.formula == first
    panel.move("salt", 1.7)
    assert panel.formula.role_pct("salt") == pytest.approx(1.7)
    panel.controls.undo.click()
    assert panel.formula == first


def test_words_of_the_user_are_escaped(panel: RatioPanel) -> None:
    panel.sliders["salt"].value = 1.5
    panel.controls.name.value = "<img src=x onerror=alert(1)>"
    panel.controls.keep.click()
    assert "<img" not in panel.outputs["family"].value
