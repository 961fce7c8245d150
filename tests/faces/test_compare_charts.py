"""Charts of comparing: what they draw, their titles and units, in every ink."""

from typing import Any

import numpy as np
import pandas as pd
import pytest

from bakelab.charts import (
    against_chart,
    batch_chart,
    control_bands,
    effect_bars,
    pairs_chart,
    residual_charts,
    surface_chart,
    variant_grid,
)
from bakelab.charts.grid import MOST_SHOWN
from bakelab.comparing import (
    ComparisonError,
    against,
    by_variant,
    control_chart,
    mixed_comparison,
    paired,
    response_surface,
    surface_curve,
    surface_map,
)

VOLUME = "specific_volume_cm3_g"
RANDOM = np.random.default_rng(1)
LEVELS = np.repeat([1.4, 1.6, 1.8, 2.0, 2.2], 4)
SALT = pd.DataFrame(
    {
        "salt_pct": LEVELS,
        "salt_pct_doubt": 0.05,
        VOLUME: 4.6 - 0.35 * LEVELS + RANDOM.normal(0, 0.1, 20),
        "title": ["House loaf", "Less salt"] * 10,
    }
)
POINTS = [(a, b) for a in (1.4, 1.8, 2.2) for b in (64, 68, 72)] + [(1.8, 68)] * 3
TRIALS = pd.DataFrame(POINTS, columns=["salt_pct", "water_pct"])
TRIALS[VOLUME] = (
    4.2
    - 2 * (TRIALS["salt_pct"] - 1.7) ** 2
    - 0.02 * (TRIALS["water_pct"] - 69) ** 2
    + RANDOM.normal(0, 0.06, 12)
)
PAIRS = pd.DataFrame(
    {
        "day": list("abcdef") * 2,
        "pan": ["small"] * 6 + ["large"] * 6,
        "height_cm": [9, 9.2, 8.8, 9.1, 9.4, 8.9, 9.8, 10.1, 9.7, 9.8, 10.3, 9.6],
    }
)
LOSSES = pd.DataFrame({"bake_loss_pct": [10.0, 10.2, 9.9, 10.1, 9.8, 10.1, 13.0, 10]})

AGAINST = against(SALT, result=VOLUME, ratio="salt_pct")
VARIANTS = by_variant(SALT, result=VOLUME)
PAIRED = paired(
    PAIRS, result="height_cm", by="pan", pair="day", first="small", second="large"
)
CONTROL = control_chart(LOSSES, result="bake_loss_pct", baseline=6)
SURFACE = response_surface(TRIALS, result=VOLUME, ratios=["salt_pct", "water_pct"])
CURVE = response_surface(TRIALS, result=VOLUME, ratios=["water_pct"])
MIXED = mixed_comparison(PAIRS, result="height_cm", by="pan", batch="day")

EVERY: list[tuple[Any, Any]] = [
    (against_chart, AGAINST),
    (variant_grid, VARIANTS),
    (pairs_chart, PAIRED),
    (control_bands, CONTROL),
    (surface_chart, SURFACE),
    (surface_chart, CURVE),
    (effect_bars, SURFACE),
    (residual_charts, SURFACE),
    (batch_chart, MIXED),
]


def found(spec: Any, key: str) -> list[Any]:
    """Everything that stands under a key, anywhere in a specification."""
    if isinstance(spec, list):
        return [hit for part in spec for hit in found(part, key)]
    if not isinstance(spec, dict):
        return []
    own = [spec[key]] if key in spec else []
    return own + [hit for part in spec.values() for hit in found(part, key)]


def rows(spec: Any, *columns: str) -> list[dict[str, Any]]:
    """The rows of the first table of a chart that has all the columns."""
    tables = spec["datasets"].values()
    return next(t for t in tables if t and set(columns) <= set(t[0]))


@pytest.mark.parametrize(("chart", "result"), EVERY)
def test_every_chart_has_a_title_and_units_on_its_axes(chart: Any, result: Any) -> None:
    spec = chart(result).to_dict()
    titles = [t for t in found(spec, "title") if t]
    assert any(isinstance(t, dict) and t.get("subtitle") for t in titles)
    axes = {t for t in titles if isinstance(t, str)}
    assert any("(" in t or "residual" in t for t in axes)


@pytest.mark.parametrize(("chart", "result"), EVERY)
def test_every_chart_follows_the_page_and_makes_a_picture(
    chart: Any, result: Any
) -> None:
    import altair as alt
    import vl_convert

    version = ".".join(alt.SCHEMA_VERSION.lstrip("v").split(".")[:2])
    assert "currentColor" in str(chart(result).to_dict()["config"])
    printed = chart(result, ink="#000000").to_dict()
    assert "currentColor" not in str(printed)
    svg = vl_convert.vegalite_to_svg(printed, vl_version=version)
    assert svg.startswith("<svg")
    assert "NaN" not in svg


def test_ratio_shows_band_new_bakes_and_whiskers() -> None:
    spec = against_chart(AGAINST).to_dict()
    marks = [m["type"] for m in found(spec, "mark")]
    assert marks == ["area", "line", "line", "line", "rule", "point"]
    assert len(rows(spec, "x", "y")) == 20
    assert "left open by the scale" in str(spec["title"]["subtitle"])


def test_ratio_without_a_line_shows_bakes_alone() -> None:
    flat = against(SALT.assign(salt_pct=2.0), result=VOLUME, ratio="salt_pct")
    marks = [m["type"] for m in found(against_chart(flat).to_dict(), "mark")]
    assert marks == ["rule", "point"]


def test_only_so_many_variants_are_drawn_and_the_rest_is_said() -> None:
    many = pd.DataFrame(
        {"title": [f"variant {n}" for n in range(15)] * 2, VOLUME: range(30)}
    )
    spec = variant_grid(by_variant(many, result=VOLUME)).to_dict()
    assert len({r["variant"] for r in rows(spec, "variant")}) == MOST_SHOWN
    assert "3 with fewer bakes not drawn" in str(spec["title"]["subtitle"])


def test_what_stands_out_is_told_by_shape_and_number() -> None:
    spec = control_bands(CONTROL).to_dict()
    states = {r["order"]: r["state"] for r in rows(spec, "state", "signal")}
    assert states[7] == "to look into"
    assert states[1] == "as usual"
    shapes = [s for s in found(spec, "shape") if isinstance(s, dict)]
    assert shapes[0]["scale"]["range"] == ["circle", "diamond"]
    words = [r["words"] for r in rows(spec, "words", "dash")]
    assert [w.rpartition(" ")[0] for w in words] == [
        "upper limit", "mean", "lower limit",
    ]  # fmt: skip


def test_a_large_book_is_thinned_and_says_so() -> None:
    many = pd.DataFrame({"salt_pct": RANDOM.normal(2, 0.1, 6000)})
    many["bake_loss_pct"] = 10 + many["salt_pct"] + RANDOM.normal(0, 0.2, 6000)
    many["pan"], many["day"] = ["small", "large"] * 3000, np.arange(6000) // 2
    drawn = [
        against_chart(against(many, result="bake_loss_pct", ratio="salt_pct")),
        control_bands(control_chart(many, result="bake_loss_pct")),
        pairs_chart(
            paired(
                many, result="bake_loss_pct", by="pan", pair="day", first="small",
                second="large",
            )
        ),
        batch_chart(
            mixed_comparison(many, result="bake_loss_pct", by="pan", batch="day")
        ),
    ]  # fmt: skip
    for chart in drawn:
        spec = chart.to_dict()
        assert max(len(table) for table in spec["datasets"].values()) <= 1500
        assert "are drawn" in str(found(spec, "subtitle"))


def test_map_prints_values_dark_on_light() -> None:
    spec = surface_chart(SURFACE).to_dict()
    printed = rows(spec, "words", "ground")
    brightest = max(printed, key=lambda r: r["value"])
    assert brightest["ground"] == "light"
    assert len(rows(spec, "left", "right")) == 1600
    with pytest.raises(ComparisonError, match="no ratio sugar"):
        surface_chart(SURFACE, across="sugar")
    with pytest.raises(ComparisonError, match="against itself"):
        surface_map(SURFACE, "salt_pct", "salt_pct")


def test_map_and_curve_go_through_what_the_surface_foretells() -> None:
    table = surface_map(SURFACE, "salt_pct", "water_pct")
    again = SURFACE.predict(table[["x", "y"]].to_numpy())
    np.testing.assert_allclose(table["value"], again)
    curve = surface_curve(SURFACE, "salt_pct")
    near = (curve["x"] - SURFACE.best.at["salt_pct"]).abs().argmin()
    assert curve["fitted"][near] == pytest.approx(SURFACE.best.value, abs=0.01)
    assert (curve["low"] < curve["fitted"]).all()


def test_map_leaves_out_what_lies_beyond_the_trials() -> None:
    star = pd.DataFrame(
        [(0, 0), (0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (0.6, 0.6), (-0.6, -0.6),
         (0.6, -0.6), (-0.6, 0.6)], columns=["x", "z"],
    )  # fmt: skip
    star["y"] = RANDOM.normal(0, 1, len(star)) - star["x"] ** 2
    table = surface_map(response_surface(star, result="y", ratios=["x", "z"]), "x", "z")
    corner = table[(table["x"].abs() > 0.9) & (table["y"].abs() > 0.9)]
    assert not corner["inside"].any()
    assert table.loc[(table[["x", "y"]].abs() < 0.1).all(axis=1), "inside"].all()
