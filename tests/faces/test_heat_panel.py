"""The panel of time and heat: controls set, answers read, nonsense refused."""

from pathlib import Path

import pytest

from bakelab.charts import cut_map, heat_curves
from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.panels import HeatPanel
from bakelab.scaling import fit

RECIPE = """Quay loaf

500 g bread flour
330 g water
10 g salt
5 g instant yeast

Bake in a 9 x 5 x 2.75 in loaf pan at 220 °C for 35 to 40 minutes.
"""


@pytest.fixture(scope="module")
def panel() -> HeatPanel:
    return HeatPanel(RECIPE)


def _number(panel: HeatPanel) -> float:
    assert panel.estimate is not None
    return panel.estimate.middle_minutes


def test_a_smaller_pan_is_done_sooner_and_the_band_holds_it(panel: HeatPanel) -> None:
    found = panel.estimate
    assert found is not None
    assert found.low_minutes < found.middle_minutes < found.high_minutes
    assert found.middle_minutes < 37.5
    assert "min" in panel.outputs["numbers"].value
    assert "probe" in panel.outputs["cautions"].value


def test_curves_cut_and_plan_are_drawn(panel: HeatPanel) -> None:
    assert "<svg" in panel.outputs["curves"].value
    first = panel.outputs["cut"].value
    panel.controls["moment"].value = 3
    assert panel.outputs["cut"].value != first
    assert "<svg" in panel.outputs["cut"].value
    assert "probe the centre" in panel.outputs["plan"].value
    assert "0.1 %" in panel.assumed.html


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("oven", "warm", "No oven temperature"),
        ("oven", "80 C", "never gets done"),
        ("minutes", "soon", "time such as 40 min"),
        ("minutes", "-3", "more than 0 min"),
        ("minutes", "0", "more than 0"),
        ("altitude", "high", "metres"),
        ("altitude", "99999", "-500 to 6000"),
        ("core", "99999", "not reached"),
        ("start", "-40", "frozen"),
        ("to_pan", "", "empty"),
        ("to_pan", "9 x 0 in", "above 0"),
        ("to_pan", "40 x 40 x 40 cm loaf", "too thick"),
        ("from_pan", "<script>", "not a pan"),
        ("text", "", "empty"),
        ("text", "500 g flour\n300 g water\n", "names no pan"),
    ],
)
def test_nonsense_is_one_sentence_and_the_last_answer_stays(
    panel: HeatPanel, name: str, text: str, said: str
) -> None:
    before, old = _number(panel), panel.controls[name].value
    panel.controls[name].value = text
    panel.work_out()
    told = panel.outputs["alert"].value
    panel.controls[name].value = old
    assert said in told
    assert 'role="alert"' in told
    assert "<script>" not in told
    assert _number(panel) == before
    assert panel.controls["go"].description == "Work it out"


def test_a_line_is_text_and_never_the_name_of_a_file(
    panel: HeatPanel, tmp_path: Path
) -> None:
    there = tmp_path / "loaf.txt"
    there.write_text(RECIPE, encoding="utf-8")
    before = panel.estimate
    panel.controls["text"].value = str(there)
    panel.work_out()
    told = panel.outputs["alert"].value
    panel.controls["text"].value = RECIPE
    assert 'role="alert"' in told
    assert panel.estimate is before


def test_charts_name_axes_and_units(panel: HeatPanel) -> None:
    assert panel.estimate is not None
    drawn = heat_curves(panel.estimate.curves).to_dict()["encoding"]
    assert drawn["x"]["title"] == "Time in the oven (min)"
    assert drawn["y"]["title"] == "Temperature (°C)"
    assert drawn["strokeDash"]["field"] == "pan"
    cuts = panel.estimate.cuts
    cut = cut_map(cuts[cuts["minutes"] == 0.0], hottest_c=200).to_dict()
    assert cut["hconcat"][0]["encoding"]["x"]["title"] == "Across (cm)"
    with pytest.raises(FormulaError, match="lacks"):
        heat_curves(cuts.drop(columns="minutes"))


def test_a_formula_of_the_book_follows_another_pan_that_it_is_said_to_be_from(
    panel: HeatPanel,
) -> None:
    large, small = "loaf 9 x 5 x 3 in", "loaf 8 x 4 x 2.5 in"
    taken = Formula.from_pairs(
        [("wheat_bread", 500), ("water", 330)],
        stated_pan=large, oven="220 °C", bake_minutes=(35.0, 40.0),
    )  # fmt: skip
    c = panel.controls
    c["to_pan"].value = large
    panel._take(taken)
    assert panel._kept()[-1].formula.dough_g == pytest.approx(830)
    c["from_pan"].value = small
    panel.work_out()
    larger = fit(taken, to=large, from_=small).formula.dough_g
    assert panel._kept()[-1].formula.dough_g == pytest.approx(larger)
    assert larger > 1200
