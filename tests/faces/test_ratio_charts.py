"""Charts of ratios: bands and the map of styles."""

from xml.etree import ElementTree

import pandas as pd
import pytest

from bakelab.charts import band_strips, style_map, timeline
from bakelab.errors import FormulaError
from bakelab.formula import Formula
from bakelab.panels.svg import pointed_at, svg_text
from bakelab.ranges import against_ranges

BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 320), ("salt_table", 4), ("yeast_instant", 5)]
)
FRAME = against_ranges(BREAD, "white_pan", widest=True)
SVG = "{http://www.w3.org/2000/svg}"


def _texts(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg)
    return [t.text or "" for t in root.iter(f"{SVG}text")]


def test_every_measure_says_its_value_its_band_and_where_it_lies() -> None:
    texts = _texts(band_strips(FRAME))
    salt = FRAME.set_index("measure").loc["salt"]
    assert str(salt["label"]) in texts
    assert any(t.startswith("0.8 %") and "usual" in t for t in texts)
    assert "below the usual" in texts
    assert "in the usual band" in texts


def test_the_picture_can_be_read_aloud() -> None:
    root = ElementTree.fromstring(band_strips(FRAME, title="My ratios"))
    assert root.get("role") == "img"
    title, told = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert title.text == "My ratios"
    assert told is not None
    assert "Salt 0.8" in (told.text or "")


def test_the_parent_is_an_open_diamond_beside_the_disc() -> None:
    with_parent = band_strips(FRAME, parent={"salt": 2.0})
    assert with_parent.count("<path") == 2  # in the legend, and on the strip
    assert band_strips(FRAME).count("<path") == 0


def test_a_larger_value_stands_further_right() -> None:
    def place(salt_g: float) -> float:
        dough = BREAD.with_rows(
            r
            if r.role != "salt"
            else type(r)(r.stage, r.ingredient, r.label, r.role, salt_g)
            for r in BREAD.rows
        )
        root = ElementTree.fromstring(
            band_strips(against_ranges(dough, "white_pan", widest=True))
        )
        return float([c.get("cx") or "0" for c in root.iter(f"{SVG}circle")][2])

    assert place(5) < place(8) < place(10)


def test_words_cannot_run_as_markup() -> None:
    frame = FRAME.assign(label="<script>x</script>", state="<b>")
    svg = band_strips(frame, title="<i>")
    assert "<script>" not in svg
    assert "<b>" not in svg
    ElementTree.fromstring(svg)


def test_a_missing_column_is_said() -> None:
    with pytest.raises(FormulaError, match="lacks"):
        band_strips(FRAME.drop(columns="low"))
    with pytest.raises(FormulaError, match="lacks"):
        style_map(pd.DataFrame({"name": ["a"]}))


def test_the_map_names_its_axes_with_units_and_its_points() -> None:
    frame = pd.DataFrame(
        {
            "name": ["White pan bread", "a <b>"],
            "what": ["style", "now"],
            "hydration_pct": [64.0, 70.0],
            "rich_pct": [6.0, 4.0],
        }
    )
    chart = style_map(frame)
    drawn = chart.to_dict()["encoding"]
    assert drawn["x"]["title"] == "True hydration (% of flour)"
    assert drawn["y"]["title"] == "Fat + sugar (% of flour)"
    assert drawn["shape"]["field"] == "what"
    said = "a &lt;b&gt;: true hydration 70.0 %, fat + sugar 4.0 %"
    points = pointed_at(svg_text(chart))
    assert points.count("<title>") == 2
    assert f"<title>{said}</title></path>" in points
    ElementTree.fromstring(points)


def test_the_timeline_names_its_axis_and_keeps_the_order() -> None:
    frame = pd.DataFrame(
        {
            "what": ["mix", "bake"],
            "start": pd.to_datetime(["2026-03-07 06:00", "2026-03-07 07:00"]),
            "end": pd.to_datetime(["2026-03-07 06:20", "2026-03-07 07:40"]),
            "minutes": [20.0, 40.0],
        }
    )
    bars, words = timeline(frame).to_dict()["layer"]
    assert bars["encoding"]["x"]["title"] == "Clock (hours and minutes)"
    assert bars["encoding"]["y"]["sort"] is None
    assert words["encoding"]["text"]["field"] == "words"
    with pytest.raises(FormulaError, match="lacks"):
        timeline(frame.drop(columns="end"))
