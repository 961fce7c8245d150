"""Palette, pan drawings and weight charts, against open standards."""

import itertools
import math
import re
from xml.etree import ElementTree

import altair as alt
import numpy as np
import pandas as pd
import pytest
from scipy.integrate import quad

from bakelab import theme
from bakelab.charts import (
    PanFill,
    cup_bands,
    ingredient_shares,
    pan_drawing,
    pan_svg,
    weighing_risks,
)
from bakelab.charts.pan_profile import dough_level, profiles
from bakelab.charts.written import cm_and_in, in_text, volume_text, xml_text
from bakelab.errors import FormulaError, PanError
from bakelab.pans import Pan

SVG = "{http://www.w3.org/2000/svg}"
LOAF = Pan(
    "loaf",
    length_cm=23.0,
    width_cm=13.0,
    depth_cm=7.0,
    base_length_cm=21.0,
    base_width_cm=11.0,
)
LIDDED = Pan("loaf", length_cm=33.0, width_cm=10.0, depth_cm=10.0, lidded=True)
ROUND = Pan("round", diameter_cm=20.0, depth_cm=5.0)
RING = Pan("tube", diameter_cm=25.0, depth_cm=9.0, base_diameter_cm=22.0, tube_cm=7.0)

# Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of
# Color Vision Deficiency", IEEE TVCG 15(6), 2009, severity 1.0: the matrix for
# deuteranopia as quoted in public shader code; that for protanopia from memory.
DEUTERANOPIA = np.array(
    [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ]
)
PROTANOPIA = np.array(
    [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ]
)


def linear(colour: str) -> np.ndarray:
    """sRGB to linear light (IEC 61966-2-1)."""
    channels = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    low = channels / 12.92
    return np.where(channels <= 0.04045, low, ((channels + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    return float(linear(colour) @ [0.2126, 0.7152, 0.0722])


def contrast(one: str, other: str) -> float:
    """W3C, Web Content Accessibility Guidelines 2.1, contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lab(rgb: np.ndarray) -> np.ndarray:
    """Linear sRGB to CIELAB, D65 (CIE 15; IEC 61966-2-1 matrix)."""
    xyz = np.array(
        [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ]
    ) @ np.clip(rgb, 0, 1)
    scaled = xyz / [0.9505, 1.0, 1.089]
    f = np.where(
        scaled > 216 / 24389, np.cbrt(scaled), (24389 / 27 * scaled + 16) / 116
    )
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


# --- palette -------------------------------------------------------------------


@pytest.mark.parametrize("eye", [np.eye(3), DEUTERANOPIA, PROTANOPIA])
def test_series_colours_differ_for_every_eye(eye: np.ndarray) -> None:
    # A CIE76 difference of 2.3 is just noticeable (Mahy et al. 1994, from memory).
    colours = [lab(eye @ linear(theme.PALETTE[name])) for name in theme.SERIES]
    for one, other in itertools.combinations(colours, 2):
        assert np.linalg.norm(one - other) > 4 * 2.3


@pytest.mark.parametrize(
    ("colours", "paper"), [(theme._LIGHT, "#ffffff"), (theme._DARK, "#111111")]
)
def test_accents_can_be_read_as_text(colours: dict[str, str], paper: str) -> None:
    # WCAG 2.1, success criterion 1.4.3: 4.5 to 1 for text.
    for name, colour in colours.items():
        if name not in ("paper", "line", "field"):
            assert contrast(colour, paper) >= 4.5, name


def test_contrast_of_black_on_white_is_21() -> None:
    # WCAG 2.1, definition of contrast ratio: 1 to 21.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


def test_panel_style_follows_both_themes_of_the_lab() -> None:
    css = theme.panel_css()
    assert "var(--jp-ui-font-color1,#1b1b1b)" in css
    assert '[data-jp-theme-light="false"] .bakelab{' in css
    assert css.count("{") == css.count("}")
    assert ".mine" in theme.panel_css(".mine")
    assert "http" not in css


# --- written measures ----------------------------------------------------------


@pytest.mark.parametrize(
    ("cm", "text"),
    [
        (22.86, "9 in"),
        (6.985, "2¾ in"),
        (1.27, "½ in"),
        (23.0, "9.1 in"),
        (0.02, "0 in"),
    ],
)
def test_inches_are_fractions_where_they_are(cm: float, text: str) -> None:
    # 1 in = 2.54 cm exactly (NIST SP 811, appendix B).
    assert in_text(cm) == text


def test_volume_both_ways() -> None:
    # 1 in³ = 16.387064 cm³ exactly, 2.54 cubed: 1615 / 16.387064 = 98.55.
    assert volume_text(1615.0) == "1615 cm³ (99 in³)"
    assert cm_and_in(30.0) == "30 cm (11.8 in)"


def test_text_for_xml_is_escaped_and_clean() -> None:
    assert xml_text("<b>&\0\ud800\"'") == "&lt;b&gt;&amp;\ufffd\ufffd&quot;&#x27;"


# --- level of the dough ----------------------------------------------------------


@pytest.mark.parametrize("pan", [LOAF, ROUND, RING])
@pytest.mark.parametrize("share", [0.05, 0.33, 0.5, 0.95])
def test_level_agrees_with_numeric_integration(pan: Pan, share: float) -> None:
    # Area at a height, integrated by scipy.integrate.quad up to the level.
    dough_cm3 = share * pan.volume.magnitude
    level = dough_level(pan, dough_cm3)
    views = profiles(pan)

    def area(height: float) -> float:
        if len(views) == 2:
            return views[0].width_at(height) * views[1].width_at(height)
        outer = views[0].width_at(height)
        return math.pi / 4 * (outer**2 - views[0].tube_cm ** 2)

    assert quad(area, 0, level)[0] == pytest.approx(dough_cm3, rel=1e-6)


def test_half_full_straight_pan_stands_at_half_its_depth() -> None:
    assert dough_level(ROUND, ROUND.volume.magnitude / 2) == pytest.approx(2.5)


def test_more_dough_than_the_pan_stands_at_the_rim() -> None:
    assert dough_level(LOAF, 1e6) == 7.0


# --- drawing ---------------------------------------------------------------------


def tree(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def words(svg: str) -> list[str]:
    return [e.text or "" for e in tree(svg).iter(f"{SVG}text")]


def widths(svg: str) -> list[float]:
    """Width in pixels of every pan outline at its rim, without the lips."""
    found = []
    for path in tree(svg).iter(f"{SVG}path"):
        if path.get("class") == "pan":
            x = [float(v) for v in re.findall(r"H(-?[\d.]+)", path.get("d", ""))]
            across = re.findall(r"L(-?[\d.]+) ", path.get("d", ""))
            found.append(float(across[-1]) - x[0])
    return found


def test_pans_are_drawn_to_one_scale() -> None:
    svg = pan_drawing(LOAF, LIDDED).svg
    loaf_side, loaf_end, lidded_side, lidded_end = widths(svg)
    assert loaf_side / loaf_end == pytest.approx(23 / 13, rel=0.01)
    assert loaf_side / lidded_side == pytest.approx(23 / 33, rel=0.01)
    assert lidded_side / lidded_end == pytest.approx(33 / 10, rel=0.01)


def test_drawing_says_what_it_shows_to_a_screen_reader() -> None:
    root = tree(pan_drawing(LOAF, LIDDED, from_dough_cm3=600).svg)
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert root.get("role") == "img"
    assert title is not None
    assert desc is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert "From: loaf pan, no lid; To: loaf pan, lid on" in (title.text or "")
    assert "23 cm (9.1 in) by 13 cm (5⅛ in) at the rim, 7 cm (2¾ in) deep" in (
        desc.text or ""
    )


def test_lid_and_dome_exclude_each_other() -> None:
    open_pan, closed = pan_drawing(None, LOAF).svg, pan_drawing(None, LIDDED).svg
    assert 'class="dome"' in open_pan
    assert 'class="lid"' not in open_pan
    assert 'class="lid"' in closed
    assert 'class="dome"' not in closed
    assert 'class="dome"' not in pan_svg([PanFill(LOAF)], dome=None)


def test_dome_is_as_high_as_the_allowance() -> None:
    # Common practice, no source: 2.5 cm for a pan given in centimetres.
    svg = pan_drawing(None, LOAF).svg
    arc = next(p for p in tree(svg).iter(f"{SVG}path") if p.get("class") == "dome")
    half, rise = re.search(r"A([\d.]+) ([\d.]+)", arc.get("d", "")).groups()  # type: ignore[union-attr]
    assert float(rise) / (2 * float(half)) == pytest.approx(2.5 / 23, rel=0.01)


def test_round_pan_has_one_view_and_ring_shows_its_tube() -> None:
    assert len(widths(pan_drawing(None, ROUND).svg)) == 1
    path = next(
        p
        for p in tree(pan_drawing(None, RING, to_dough_cm3=1000).svg).iter(f"{SVG}path")
        if p.get("class") == "dough"
    )
    assert path.get("d", "").count("Z") == 2


def test_overfilled_pan_is_said_in_words() -> None:
    svg = pan_drawing(None, LOAF, to_dough_cm3=3000).svg
    assert "more dough than it holds" in words(svg)
    assert "raw dough is more than it holds" in svg


def test_loaf_on_the_hearth_is_marked_as_not_to_scale() -> None:
    svg = pan_drawing(Pan("hearth"), LOAF).svg
    assert "free on the hearth (not to scale)" in words(svg)


def test_many_pans_wrap_into_rows_inside_the_picture() -> None:
    root = tree(pan_drawing(LOAF, [LIDDED, ROUND, RING, LOAF, ROUND], width_px=500).svg)
    width, height = float(root.get("width", 0)), float(root.get("height", 0))
    for line in root.findall(f"{SVG}line"):
        assert -1 <= float(line.get("x1", 0)) <= width + 1
        assert 0 <= float(line.get("y1", 0)) <= height
    assert sum(w == "To" for w in words(ElementTree.tostring(root).decode())) == 5


def test_lines_take_the_colour_of_the_page_or_of_the_print() -> None:
    assert 'fill="currentColor"' in pan_drawing(None, LOAF).svg
    printed = pan_svg([PanFill(LOAF, 500, "To")], ink="#000000", dough="#b3b3b3")
    assert "currentColor" not in printed


def test_drawing_is_the_same_each_time_and_holds_no_reference() -> None:
    one = pan_drawing(LOAF, LIDDED, to_dough_cm3=900)
    assert one == pan_drawing(LOAF, LIDDED, to_dough_cm3=900)
    assert one._repr_html_() == one.svg
    assert "href" not in one.svg
    assert one.svg.count("http") == 1  # the name of the SVG vocabulary itself


def test_heading_cannot_become_markup() -> None:
    svg = pan_svg([PanFill(LOAF, heading="<script>x</script>\0")])
    assert "<script>x</script>\ufffd" in words(svg)
    assert not list(tree(svg).iter(f"{SVG}script"))


def test_nothing_to_draw_is_refused() -> None:
    with pytest.raises(PanError, match="no pan to draw"):
        pan_svg([])


# --- weight charts ---------------------------------------------------------------

FRAME = pd.DataFrame(
    {
        "label": ["Bread flour", "Water", "Salt"],
        "role": ["flour", "water", "salt"],
        "bakers_pct": [100.0, 68.0, 1.9],
    }
)


def titles(chart: alt.LayerChart) -> set[str]:
    found = set()
    for layer in chart.to_dict()["layer"]:
        title = layer.get("encoding", {}).get("x", {}).get("title")
        found |= {title} if title else set()
    return found


def test_shares_name_the_unit_and_write_each_number() -> None:
    spec = ingredient_shares(FRAME).to_dict()
    assert titles(ingredient_shares(FRAME)) == {"Baker's percentage (% of flour)"}
    rows = next(iter(spec["datasets"].values()))
    assert [row["words"] for row in rows] == ["100.0 %", "68.0 %", "1.9 %"]
    assert [row["kind"] for row in rows] == ["flour", "all else", "all else"]
    assert len(spec["layer"]) == 2


def test_shares_draw_the_band_of_cups_where_there_is_one() -> None:
    frame = FRAME.assign(low_pct=[90.0, 68.0, 1.5], high_pct=[112.0, 68.0, 2.4])
    spec = ingredient_shares(frame).to_dict()
    band = spec["layer"][1]["layer"]
    assert band[0]["encoding"]["x"]["field"] == "low_pct"
    assert band[0]["encoding"]["x2"]["field"] == "high_pct"


def test_cup_bands_leave_out_what_is_certain() -> None:
    lines = pd.DataFrame(
        {
            "label": ["3 cups flour", "300 g water", "pinch of salt"],
            "mass_g": [375.0, 300.0, None],
            "mass_low_g": [351.0, 300.0, None],
            "mass_high_g": [411.0, 300.0, None],
        }
    )
    spec = cup_bands(lines).to_dict()
    rows = next(iter(spec["datasets"].values()))
    assert [(r["label"], r["words"]) for r in rows] == [
        ("3 cups flour", "351 to 411 g")
    ]
    assert titles(cup_bands(lines)) == {
        "Mass (g): taken, and lightest to heaviest usual"
    }


def test_risk_above_five_percent_is_said_in_words() -> None:
    frame = pd.DataFrame({"label": ["Flour", "Yeast"], "risk_pct": [0.1, 12.5]})
    rows = next(
        r for r in weighing_risks(frame).to_dict()["datasets"].values() if len(r) == 2
    )
    assert [row["words"] for row in rows] == ["0.1 %", "12.5 %, above 5 %"]
    assert titles(weighing_risks(frame)) == {"Half a scale step over the amount (%)"}


def test_the_same_ingredient_twice_keeps_two_bars() -> None:
    frame = pd.DataFrame(
        {
            "stage": ["sponge", "dough", "dough"],
            "label": ["Water", "Water", "Water"],
            "role": ["water"] * 3,
            "bakers_pct": [30.0, 38.0, 1.0],
        }
    )
    rows = next(iter(ingredient_shares(frame).to_dict()["datasets"].values()))
    assert [r["label"] for r in rows] == [
        "Water (sponge)",
        "Water (dough) 1",
        "Water (dough) 2",
    ]


@pytest.mark.parametrize("chart", [ingredient_shares, cup_bands, weighing_risks])
def test_missing_column_is_refused_by_name(chart: object) -> None:
    assert callable(chart)
    with pytest.raises(FormulaError, match=r"lacks .*; give one with label, "):
        chart(pd.DataFrame({"label": ["Flour"]}))


def test_charts_follow_the_page_or_the_print_and_make_a_picture() -> None:
    import vl_convert

    assert "currentColor" in str(ingredient_shares(FRAME).to_dict()["config"])
    printed = ingredient_shares(FRAME, ink="#000000").to_dict()
    assert "currentColor" not in str(printed)
    svg = vl_convert.vegalite_to_svg(printed)
    assert "Bread flour" in svg
    assert "68.0 %" in svg
