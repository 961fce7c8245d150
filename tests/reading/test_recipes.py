"""Whole recipes in the forms in which people publish them."""

import json
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import ReadError
from bakelab.formula import formula_to_json
from bakelab.reading import Recipe, read_recipe, recipe_from_lines

PLAIN = """Harbour Loaf

500 g bread flour
340 g water
10 g salt
5 g instant yeast

Mix, rise, shape and set in a 9 x 5 x 2.75 inch loaf pan.
Bake at 220 °C for 35 minutes.
"""


def _masses(recipe: Recipe) -> dict[str, float]:
    assert recipe.formula is not None
    return {r.label: round(r.mass_g, 3) for r in recipe.formula.rows}


def test_plain_text() -> None:
    recipe = read_recipe(PLAIN)
    assert recipe.title == "Harbour Loaf"
    assert recipe.formula is not None
    assert recipe.formula.water_pct == 68
    assert recipe.oven_c == 220
    assert recipe.bake_minutes == (35, 35)
    assert recipe.pan is not None
    assert recipe.pan.length_cm == pytest.approx(22.86)


def test_a_file_is_read_like_its_text(tmp_path: Path) -> None:
    path = tmp_path / "loaf.txt"
    path.write_text(PLAIN, encoding="utf-8")
    assert read_recipe(path).formula == read_recipe(PLAIN).formula
    assert read_recipe(str(path)).formula == read_recipe(PLAIN).formula


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252", "utf-16"])
def test_files_of_other_encodings(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "brot.txt"
    path.write_text("500 g Mehl\n½ TL Salz\n300 ml Öl\n".replace("½", "1"), encoding)
    assert [ln.state for ln in read_recipe(path).lines] == ["read"] * 3


def test_a_table_of_grams(tmp_path: Path) -> None:
    path = tmp_path / "loaf.csv"
    path.write_text("ingredient,grams\nbread flour,500\nwater,350\nsalt,10\n")
    recipe = read_recipe(path)
    assert _masses(recipe) == {"bread flour": 500, "water": 350, "salt": 10}


def test_percentages_alone_give_a_formula_on_an_assumed_flour() -> None:
    recipe = read_recipe("Flour 100%\nWater 68%\nSalt 2%\nYeast 1%\n")
    assert recipe.formula is not None
    assert recipe.formula.water_pct == pytest.approx(68)
    assert any(a.what == "flour" for a in recipe.assumptions)
    assert {ln.basis for ln in recipe.lines} == {"percent"}


def test_percentages_that_do_not_agree_with_the_weights_are_said() -> None:
    recipe = read_recipe("500 g flour (100%)\n350 g water (65%)\n10 g salt (2%)\n")
    assert any("65 % is stated" in r and "70.0 %" in r for r in recipe.remarks)
    assert not any("2 % is stated" in r for r in recipe.remarks)


def test_two_lists_are_not_added() -> None:
    text = (
        "## Ingredients\n__Imperial__\n- 1 lb flour\n- 10 oz water\n- 2 tsp salt\n"
        "__Metric__\n- 450 g flour\n- 285 g water\n- 9 g salt\n## Method\nMix.\n"
    )
    recipe = read_recipe(text)
    assert recipe.formula is not None
    assert recipe.formula.flour_g == 450
    assert len(recipe.lines) == 6
    assert any("metric was taken" in r for r in recipe.remarks)


def test_water_that_only_the_method_names_is_found_and_marked() -> None:
    text = (
        "Ingredients\n- 500 g bread flour\n- 10 g salt\n\nMethod\nStir in 325 ml water."
    )
    recipe = read_recipe(text)
    line = next(ln for ln in recipe.lines if ln.role == "water")
    assert line.mass_g == pytest.approx(325, abs=1)
    assert line.state == "doubt"
    assert "assumed from the method" in line.remark


def test_stages_keep_the_words_of_the_recipe() -> None:
    text = (
        "Poolish:\n100 g flour\n100 g water\n\nFinal dough:\n400 g flour\n240 g water\n"
    )
    recipe = read_recipe(text)
    assert recipe.formula is not None
    assert recipe.formula.stages == ("poolish", "final dough")


def _page(data: object) -> str:
    script = f'<script type="application/ld+json">{json.dumps(data)}</script>'
    return f"<!doctype html><html><head>{script}</head><body>x</body></html>"


INGREDIENTS = ["500 g bread flour", "350 g water", "10 g salt"]


@pytest.mark.parametrize(
    "data",
    [
        {"@type": "Recipe", "name": "A", "recipeIngredient": INGREDIENTS},
        {"@type": ["Recipe"], "name": "A", "recipeIngredient": "\n".join(INGREDIENTS)},
        {
            "@graph": [
                {"@type": "WebSite"},
                {"@type": "Recipe", "name": "A", "recipeIngredient": INGREDIENTS},
            ]
        },
        {
            "@type": "WebPage",
            "mainEntity": {
                "@type": "https://schema.org/Recipe",
                "name": "A",
                "ingredients": INGREDIENTS,
            },
        },
        [
            {
                "@type": "Recipe",
                "name": "A",
                "recipeIngredient": {
                    "@type": "ItemList",
                    "itemListElement": [
                        {"@type": "ListItem", "item": t} for t in INGREDIENTS
                    ],
                },
            }
        ],
    ],
    ids=["list", "string", "graph", "main entity", "item list"],
)
def test_all_shapes_of_schema_org(data: object) -> None:
    """schema.org Recipe, release 30.0: recipeIngredient is ItemList,
    PropertyValue or Text; `ingredients` is superseded by it."""
    for text in (_page(data), json.dumps(data)):
        recipe = read_recipe(text)
        assert recipe.title == "A"
        assert list(_masses(recipe).values()) == [500, 350, 10]


def test_sections_of_instructions_give_oven_and_pan() -> None:
    steps = [
        {"@type": "HowToSection", "name": "Bake", "itemListElement": [
            {"@type": "HowToStep", "text": "Set in a 20 cm square tin."},
            {"@type": "HowToStep", "text": "Bake at 200 °C for 25 to 30 minutes."},
        ]}
    ]  # fmt: skip
    data = {"@type": "Recipe", "name": "A", "recipeIngredient": INGREDIENTS,
            "recipeInstructions": steps}  # fmt: skip
    recipe = read_recipe(_page(data))
    assert (recipe.oven_c, recipe.bake_minutes) == (200, (25, 30))
    assert recipe.pan is not None
    assert recipe.pan.shape == "square"


def test_a_page_without_a_recipe_is_read_as_text() -> None:
    items = "".join(f"<li>{t}</li>" for t in INGREDIENTS)
    page = f"<html><body><h1>A</h1><h2>Ingredients</h2><ul>{items}</ul></body></html>"
    assert list(_masses(read_recipe(page)).values()) == [500, 350, 10]


def test_corrected_lines_give_a_new_formula() -> None:
    from dataclasses import replace

    recipe = read_recipe(PLAIN)
    lines = [
        replace(ln, mass_g=350) if ln.role == "water" else ln for ln in recipe.lines
    ]
    again = recipe_from_lines(recipe, lines)
    assert again.formula is not None
    assert again.formula.water_pct == 70
    assert again.title == recipe.title


@pytest.mark.parametrize(
    ("text", "said"),
    [("", "empty"), (" \n\t", "empty"), ("x" * 5_000_000, "more than the")],
)
def test_what_cannot_be_a_recipe_is_refused_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(ReadError, match=said):
        read_recipe(text)


def test_files_that_are_no_text(tmp_path: Path) -> None:
    binary = tmp_path / "x.txt"
    binary.write_bytes(bytes(range(256)) * 10)
    picture = tmp_path / "x.png"
    picture.write_bytes(b"\x89PNG")
    for path, said in (
        (binary, "not a text file"),
        (picture, "of a kind that is not read"),
        (tmp_path / "none.txt", "no file"),
        (tmp_path, "is a folder"),
    ):
        with pytest.raises(ReadError, match=said):
            read_recipe(path)


def test_an_unknown_script_keeps_its_grams() -> None:
    recipe = read_recipe("パン\n\n強力粉 250g\n水 170g\n塩 5g\n")
    assert [ln.stated_g for ln in recipe.lines] == [250, 170, 5]
    assert {ln.state for ln in recipe.lines} == {"unread"}


@given(st.text(max_size=2000))
@settings(deadline=None)
def test_no_text_crashes_the_reader(text: str) -> None:
    try:
        recipe = read_recipe(text)
    except ReadError:
        return
    json.dumps(recipe.to_dict(), allow_nan=True)


WILD = st.sampled_from(
    [
        "# A",
        "Ingredients:",
        "- 1 cup flour",
        "* water",
        "|a|b|",
        "|---|---|",
        "Teig:",
        "Method",
        "1. Mix.",
        "Bake 30 min at 350 F",
        "  - 2 eggs (",
        "<b>",
        "---",
        "\t5\tg",
        "{",
        "\x00",
        "9x5 pan",
        "500 g flour, 300 g water, 10 g salt",
        "",
    ]
)


@given(st.lists(WILD, max_size=40))
@settings(deadline=None)
def test_no_order_of_parts_crashes_the_reader(parts: list[str]) -> None:
    try:
        read_recipe("\n".join(parts))
    except ReadError:
        return


@pytest.mark.parametrize(
    "part",
    ["1 cup flour\n", "(", "- 500 g flour or ", "bake 30 minutes at 200 C. ", "|1|"],
)
def test_time_grows_with_a_text_and_not_with_its_square(part: str) -> None:
    """Ten times the text: a square would take a hundred times as long."""

    def seconds(size: int) -> float:
        text = (part * (size // len(part)))[:size]
        start = time.process_time()
        read_recipe(text)
        return time.process_time() - start

    seconds(2_000)
    small = max(min(seconds(19_900) for _ in range(3)), 5e-3)
    assert seconds(199_000) < 50 * small


@pytest.mark.parametrize(
    ("method", "minutes"),
    [
        ("Bake 20 minutes covered, then 25 minutes uncovered.", (45, 45)),
        ("Bei 230 °C anbacken, nach 15 Minuten 200 °C, insgesamt 55 Min.", (55, 55)),
        ("Bake at 425 F for 10 minutes, then at 375 F, 35 to 40 minutes in all.",
         (35, 40)),
        ("Knead 10 minutes. Bake for an hour. Cool 2 hours.", (60, 60)),
        ("Bake at 350 F until golden. This takes about 40 minutes.", (40, 40)),
    ],
)  # fmt: skip
def test_minutes_in_the_oven(method: str, minutes: tuple[float, float]) -> None:
    text = f"Loaf of mine\n\n500 g flour\n300 g water\n\n{method}\n"
    assert read_recipe(text).bake_minutes == minutes


def test_two_lines_are_a_list() -> None:
    recipe = read_recipe(
        "Loaf\n\n- 3 cups bread flour\n- 300 g (1¼ cups) water\n",
    )
    assert [ln.role for ln in recipe.lines] == ["flour", "water"]
    assert [ln.line_no for ln in recipe.lines] == [3, 4]


def test_the_line_above_counts_where_its_parts_have_no_amount() -> None:
    recipe = read_recipe(
        "Loaf\n\n- 500 g flour, at most\n  - 100 g rye flour\n  - spelt flour\n"
        "- 330 g water\n- 10 g salt\n"
    )
    assert recipe.formula is not None
    assert recipe.formula.flour_g == 500
    assert "inside the 500 g" in recipe.lines[1].remark


def test_no_bake_time_of_a_heading_with_a_step_behind_it() -> None:
    recipe = read_recipe(
        "Pain\n\n500 g farine\n300 g eau\n9 g sel\n\nCuisson : préchauffer le four à "
        "230 °C et cuire 40 minutes.\n"
    )
    assert recipe.bake_minutes == (40, 40)
    assert recipe.oven_c == 230


def test_half_characters_are_told_as_such_and_break_no_table() -> None:
    page = (
        '{"@type": "Recipe", "name": "x\\ud800", "recipeIngredient":'
        ' ["500 g bread flour \\ud800", "300 g water"]}'
    )
    for text in (page, "Loaf\ud800\n\n- 500 g bread flour \ud800\n- 300 g water\n"):
        recipe = read_recipe(text)
        assert recipe.formula is not None
        assert list(recipe.formula.frame["mass_g"]) == [500, 300]
        assert (
            recipe.lines[0].text.encode().decode().endswith("\N{REPLACEMENT CHARACTER}")
        )


@pytest.mark.parametrize(
    ("asked", "said"),
    [({"language": "xx"}, "choose one of en, de, fr"), ({"market": "mars"}, "us, uk")],
)
def test_an_unknown_language_or_market_is_refused(asked, said):
    with pytest.raises(ReadError, match=said):
        read_recipe("Bread\n\n500 g flour\n", **asked)


@pytest.mark.parametrize("given", [None, 5, ["500 g flour"]])
def test_what_is_no_text_is_refused_in_plain_words(given):
    with pytest.raises(TypeError, match="where a recipe is needed"):
        read_recipe(given)


_POOLISH = (
    "## Poolish\n\n- 150 g bread flour\n- 150 g water\n- 0.2 g instant yeast\n\n"
    "## Final dough\n\n- 350 g bread flour\n- 175 g water\n- 10 g salt\n"
)


@pytest.mark.parametrize(
    ("head", "title"),
    [
        ("", ""),
        ("A loaf with a poolish, for Sunday.\n\n", ""),
        ("Harbour loaf\n\n", "Harbour loaf"),
        ("# Sourdough\n\n", "Sourdough"),
        ("## Sourdough\n\n", "Sourdough"),
    ],
)
def test_a_first_heading_that_names_a_stage_is_no_title(head, title):
    recipe = read_recipe(head + _POOLISH)
    assert recipe.title == title
    stages = list(dict.fromkeys(line.stage for line in recipe.lines))
    assert stages == ["poolish", "final dough"]


def test_a_recipe_for_one_stage_alone_keeps_its_name():
    assert (
        read_recipe("## Poolish\n\n- 150 g flour\n- 150 g water\n").title == "Poolish"
    )


def test_a_pan_on_a_line_of_its_own_is_the_pan_of_the_recipe():
    text = "Loaf\n\n500 g bread flour\n325 g water\n\nPan: loaf 8 x 4 x 2.5 in\n"
    recipe = read_recipe(text)
    assert recipe.pan.text_spec == recipe.formula.stated_pan == "loaf 8 x 4 x 2.5 in"
    assert len(recipe.lines) == 2


@pytest.mark.parametrize(
    ("used", "total"),
    [
        ("all of the poolish", 861),
        ("The poolish from above", 861),
        ("tout le poolish", 861),
        ("gesamter Poolish", 861),
        ("Poolish", 861),
        ("201 g poolish", 861),
    ],
)
def test_a_preferment_named_in_the_dough_is_counted_once(used: str, total: int) -> None:
    made = "Poolish:\n100 g flour\n100 g water\n1 g yeast\n\n"
    recipe = read_recipe(f"{made}Dough:\n400 g flour\n{used}\n250 g water\n10 g salt\n")
    assert recipe.formula is not None
    assert recipe.formula.dough_g == total  # 100 + 100 + 1 + 400 + 250 + 10
    assert recipe.formula.stages == ("poolish", "dough")
    assert [ln.stage for ln in recipe.lines if ln.text == used] == ["dough"]
    assert not recipe.by_state("doubt")
    assert not recipe.by_state("unread")


@pytest.mark.parametrize(
    ("used", "part_g"),
    [("half the poolish", 120), ("1/3 of the poolish", 80), ("½ of poolish", 120)],
)
def test_a_part_of_a_preferment_is_that_part_of_its_list(
    used: str, part_g: float
) -> None:
    """100 g flour and 140 g water: of any part 100/240 is flour."""
    made = "Poolish:\n100 g flour\n140 g water\n\n"
    recipe = read_recipe(f"{made}Dough:\n400 g flour\n{used}\n250 g water\n10 g salt\n")
    assert recipe.formula is not None
    assert recipe.formula.dough_g == pytest.approx(660 + part_g)
    assert recipe.formula.flour_g == pytest.approx(400 + part_g * 100 / 240)
    (line,) = (ln for ln in recipe.lines if ln.text == used)
    assert "of the 240 g that the list of the poolish makes" in line.remark
    assert [ln.state for ln in recipe.lines[:2]] == ["not in dough"] * 2


def test_a_part_of_a_preferment_that_no_list_makes_stays_in_doubt() -> None:
    text = "400 g flour\n250 g water\nhalf the poolish"
    assert [ln.text for ln in read_recipe(text).by_state("doubt")] == [
        "half the poolish"
    ]


@pytest.mark.parametrize(
    ("method", "setting", "minutes"),
    [
        (
            "Bei 250 °C anbacken, nach 10 Minuten auf 200 °C, insgesamt 60 Minuten.",
            "250 °C, from 10 min 200 °C",
            60,
        ),
        (
            "Ofen auf 250 °C. Nach 10 Minuten auf 210 °C senken, 45 Minuten backen.",
            "250 °C, from 10 min 210 °C",
            55,
        ),
        (
            "Bake at 450 F for 15 minutes, then reduce to 400 F for 25 minutes more.",
            "232 °C, from 15 min 204 °C",
            40,
        ),
        (
            "Bake 40 minutes at 220 °C. After 10 minutes, lower to 200 °C.",
            "220 °C, from 10 min 200 °C",
            40,
        ),
        (
            "Cuire 10 min à 240 °C puis baisser à 200 °C et poursuivre 30 min.",
            "240 °C, from 10 min 200 °C",
            40,
        ),
        ("Bake at 180 °C (350 °F) for 35 minutes.", "180 °C", 35),
        ("Preheat to 200 °C (180 °C fan). Bake 30 minutes.", "200 °C", 30),
    ],
)
def test_an_oven_that_is_turned_down(method: str, setting: str, minutes: int) -> None:
    recipe = read_recipe(f"Ingredients\n500 g flour\n340 g water\n\nMethod\n{method}")
    assert recipe.oven == setting
    assert recipe.formula is not None
    assert recipe.formula.oven == setting
    assert recipe.bake_minutes == (minutes, minutes)
    assert not recipe.remarks
    again = read_recipe(formula_to_json(recipe.formula))
    assert again.oven == setting
    assert again.bake_minutes == (minutes, minutes)


def test_an_oven_turned_down_at_a_time_that_is_not_told() -> None:
    method = "Bei 250 °C fallend auf 200 °C 50 Minuten backen."
    recipe = read_recipe(f"Zutaten\n500 g Mehl\n340 g Wasser\n\nZubereitung\n{method}")
    assert recipe.oven == "250 °C"
    assert "turned to 200 °C" in recipe.remarks[0]
