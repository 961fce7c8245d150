"""Exports: valid shapes, nothing lost, and text that can never run."""

import io
import json
import re
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from pypdf import PdfReader

from bakelab.charts import PanFill, pan_svg
from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Formula, Row, formula_from_csv, formula_from_json
from bakelab.pans import pan
from bakelab.scaling import Fitted, fit
from bakelab.sheets import (
    FORMATS,
    export,
    kitchen_sheet,
    schema_org_json,
    sheet_html,
    sheet_pdf,
    to_markdown,
    to_schema_org,
)
from bakelab.sheets.markdown import markdown_text
from bakelab.units import Q_

HOSTILE = [
    "<script>alert(1)</script>",
    "</script><img src=x onerror=alert(1)>",
    '#eval("1+1")',
    '#image("x.png") $1/0$ *b* _i_ @ref <label>',
    "=1+1",
    "@SUM(A1)",
    "a|b||c",
    "`code` ``` ~~~",
    "{{ 7*7 }} {% raw %}",
    "[x](javascript:alert(1)) ![y](z)",
    "<!-- & &amp; &lt; -->",
    "# heading",
    "- item",
    "1. item",
    "\\",
    "\\| <b>\\`",
    '" onload="x',
    "line\nbreak\r\n| --- |",
    "$$ \\frac{1}{0} $$",
    "]]>",
]
PAIRS = [("wheat_bread", 500.0), ("water", 320.0), ("salt_table", 9.5)]


def hostile(text: str) -> Formula:
    rows = (
        Row(text, "wheat_bread", text, "flour", 500.0),
        Row("dough", text, text, "other", 20.0),
    )
    return Formula(
        rows,
        title=text,
        notes=text,
        oven=text,
        stated_yield=text,
        stated_pan=text,
        language=text,
        bake_minutes=(30.0, 40.0),
    )


def plain(**meta: Any) -> Formula:
    return Formula.from_pairs(PAIRS, title="Harbour loaf", **meta)


def fitted() -> Fitted:
    return fit(
        plain(bake_minutes=(40.0, 40.0)),
        to="2 loaf 8 x 4 x 2.5 in",
        from_="loaf 9 x 5 x 3 in",
    )


def squeezed(text: str) -> str:
    return "".join(text.split())


# --- lossless --------------------------------------------------------------------


@pytest.mark.parametrize("text", HOSTILE)
def test_csv_and_json_read_back_as_the_same_formula(text: str, tmp_path: Path) -> None:
    formula = hostile(text)
    assert formula_from_json(str(export(formula, "json"))) == formula
    path = tmp_path / "formula.json"
    export(formula, path)
    assert formula_from_json(path.read_text(encoding="utf-8")) == formula
    assert formula_from_csv(str(export(plain(), "csv"))) == plain()


def test_a_fitted_formula_exports_its_new_weights() -> None:
    fit_ = fitted()
    assert formula_from_json(str(export(fit_, "json"))) == fit_.formula


def test_lone_surrogates_survive_in_json(tmp_path: Path) -> None:
    formula, path = plain(notes="\udcff"), tmp_path / "f.json"
    export(formula, path)
    assert formula_from_json(path.read_text(encoding="utf-8")) == formula


# --- files -----------------------------------------------------------------------


@pytest.mark.parametrize("ending", list(FORMATS))
def test_every_ending_writes_what_it_returns(ending: str, tmp_path: Path) -> None:
    path = tmp_path / f"loaf{ending}"
    content = export(fitted(), path)
    data = content if isinstance(content, bytes) else content.encode()
    assert path.read_bytes() == data
    assert data


def test_files_are_never_overwritten_by_chance(tmp_path: Path) -> None:
    path = tmp_path / "loaf.md"
    path.write_text("mine")
    with pytest.raises(BakelabError, match=r"loaf\.md is already there"):
        export(plain(), path)
    assert path.read_text() == "mine"
    export(plain(), path, overwrite=True)
    assert path.read_text(encoding="utf-8").startswith("# Harbour loaf")


def test_unknown_format_and_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BakelabError, match="no format 'docx'; choose one of csv, json"):
        export(plain(), "docx")
    with pytest.raises(BakelabError, match="cannot be written"):
        export(plain(), tmp_path / "missing" / "loaf.csv")
    with pytest.raises(FormulaError, match="no flour"):
        export(Formula.from_pairs([("water", 1)]), "schema.org")


# --- text that can never run -----------------------------------------------------


@pytest.mark.parametrize("text", HOSTILE)
def test_html_shows_the_words_and_gains_no_element(text: str) -> None:
    def tags(formula: Formula) -> list[str]:
        soup = BeautifulSoup(sheet_html(kitchen_sheet(formula)), "html.parser")
        for part in soup("style"):
            part.decompose()
        return sorted({tag.name for tag in soup(True)})

    html = sheet_html(kitchen_sheet(hostile(text)))
    soup = BeautifulSoup(html, "html.parser")
    assert tags(hostile(text)) == tags(hostile("plain words"))
    assert not [t for t in soup(True) if any(a.startswith("on") for a in t.attrs)]
    assert soup.h1 is not None
    assert squeezed(soup.h1.get_text()) == squeezed(text)


@pytest.mark.parametrize("text", HOSTILE)
def test_pdf_sets_markup_letter_by_letter(text: str) -> None:
    pages = PdfReader(io.BytesIO(sheet_pdf(kitchen_sheet(hostile(text))))).pages
    assert len(pages) == 1
    seen = squeezed(pages[0].extract_text())
    for word in re.findall(r"[a-z0-9]{3,}", text):
        assert word in seen
    assert seen.count(squeezed(text)) >= 2


@pytest.mark.parametrize("text", HOSTILE)
def test_notebook_table_of_a_formula_is_escaped(text: str) -> None:
    soup = BeautifulSoup(hostile(text)._repr_html_(), "html.parser")
    assert not soup(["script", "img", "b"])
    assert soup.caption is not None
    assert squeezed(soup.caption.get_text()) == squeezed(text)


@pytest.mark.parametrize("text", HOSTILE)
def test_pan_names_cannot_break_the_drawing(text: str) -> None:
    svg = pan_svg([PanFill(pan("round 20 x 5 cm"), heading=text)], font=text, ink=text)
    soup = BeautifulSoup(svg, "html.parser")
    assert not soup(["script", "img", "b", "label"])


# CommonMark 0.31.2 with GFM tables, by markdown-it-py, as the outside reader.
READER = MarkdownIt("commonmark").enable(["table", "strikethrough"])


def structure(markdown: str) -> list[str]:
    tokens = READER.parse(markdown)
    inner = [child.type for t in tokens for child in t.children or []]
    return [t.type for t in tokens if t.type != "inline"] + [
        kind for kind in inner if kind not in ("text", "text_special", "softbreak")
    ]


@pytest.mark.parametrize("text", HOSTILE)
def test_markdown_keeps_its_structure_and_the_words(text: str) -> None:
    markdown = to_markdown(kitchen_sheet(hostile(text)))
    assert structure(markdown) == structure(
        to_markdown(kitchen_sheet(hostile("words")))
    )
    soup = BeautifulSoup(READER.render(markdown), "html.parser")
    assert soup.h1 is not None
    assert soup.h1.get_text() == " ".join(text.split())
    assert " ".join(text.split()) in [td.get_text() for td in soup("td")]


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text_stays_one_plain_cell_of_markdown(text: str) -> None:
    cell = markdown_text(text)
    html = READER.render(f"| head |\n|---|\n| x{cell}x |\n")
    soup = BeautifulSoup(html, "html.parser")
    cells = soup("td")
    assert len(cells) == 1
    assert not cells[0](True)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=40))
def test_any_text_stays_one_plain_line_of_markdown(text: str) -> None:
    cell = markdown_text(text)
    kinds = structure(f"- {cell}\n")
    assert kinds[:1] == ["bullet_list_open"]
    assert set(kinds) <= {
        "bullet_list_open",
        "list_item_open",
        "paragraph_open",
        "paragraph_close",
        "list_item_close",
        "bullet_list_close",
    }


@pytest.mark.parametrize("text", HOSTILE)
def test_spreadsheet_cells_never_begin_like_a_calculation(text: str) -> None:
    # OWASP, "CSV Injection": =, +, -, @, tab and return start a calculation.
    for line in str(export(hostile(text), "csv")).splitlines():
        for cell in line.split(","):
            assert not re.match(r'"?[=+@\t\r-]', cell) or re.match(r'"?-+ ?\|', cell)


@pytest.mark.parametrize("text", HOSTILE)
def test_json_ld_cannot_close_the_script_around_it(text: str) -> None:
    data = schema_org_json(hostile(text))
    page = f'<script type="application/ld+json">{data}</script><p>end</p>'
    soup = BeautifulSoup(page, "html.parser")
    assert [tag.name for tag in soup(True)] == ["script", "p"]
    assert json.loads(data)["name"] == text


# --- schema.org ------------------------------------------------------------------

# Properties and the types they may hold: schema.org release 30.0 (19 March 2026),
# Recipe < HowTo < CreativeWork < Thing; QuantitativeValue; PropertyValue; HowToItem.
TEXT, NUMBER = str, (int, float)
SHAPES: dict[str, dict[str, Any]] = {
    "Recipe": {
        "name": TEXT,
        "description": TEXT,
        "inLanguage": TEXT,
        "recipeIngredient": TEXT,
        "supply": "HowToSupply",
        "recipeYield": "QuantitativeValue",
        "tool": "HowToTool",
        "recipeInstructions": ("HowToStep", "HowToTip"),
        "cookTime": TEXT,
    },
    "HowToSupply": {"name": TEXT, "requiredQuantity": "QuantitativeValue"},
    "HowToTool": {"name": TEXT, "requiredQuantity": "QuantitativeValue"},
    "HowToStep": {"text": TEXT},
    "HowToTip": {"text": TEXT},
    "QuantitativeValue": {
        "value": NUMBER,
        "unitCode": TEXT,
        "unitText": TEXT,
        "description": TEXT,
        "additionalProperty": "PropertyValue",
    },
    "PropertyValue": {
        "name": TEXT,
        "value": NUMBER,
        "unitCode": TEXT,
        "unitText": TEXT,
    },
}
# UN/CEFACT Recommendation 20: gram, percent, degree Celsius, cubic centimetre, one.
UNIT_CODES = {"GRM", "P1", "CEL", "CMQ", "C62"}


def check_shape(node: dict[str, Any]) -> None:
    allowed = SHAPES[node["@type"]]
    for name, value in node.items():
        if name in ("@type", "@context"):
            continue
        assert name in allowed, (node["@type"], name)
        for one in value if isinstance(value, list) else [value]:
            if isinstance(one, dict):
                kinds = allowed[name]
                assert one["@type"] in ([kinds] if isinstance(kinds, str) else kinds)
                check_shape(one)
            else:
                assert isinstance(one, allowed[name]), (name, one)
    if "unitCode" in node:
        assert node["unitCode"] in UNIT_CODES


@pytest.mark.parametrize(
    "what", [plain(), fitted(), plain(notes="Rest it.", oven="375 °F")]
)
def test_recipe_has_the_shapes_of_schema_org(what: Formula | Fitted) -> None:
    recipe = to_schema_org(what, dough_temperature=Q_(26, "degC"))
    assert recipe["@context"] == "https://schema.org"
    assert recipe["@type"] == "Recipe"
    check_shape(recipe)
    json.dumps(recipe, allow_nan=False)


def test_ingredients_are_grams_and_percentages() -> None:
    recipe = to_schema_org(plain())
    assert recipe["recipeIngredient"] == [
        "500 g Bread flour (strong white)",
        "320 g Water",
        "9.5 g Table salt",
    ]
    # By hand: 9.5 / 500 x 100 = 1.9 % of flour.
    (property_,) = recipe["supply"][2]["requiredQuantity"]["additionalProperty"]
    assert (property_["name"], property_["value"]) == ("baker's percentage", 1.9)


def test_dough_temperature_is_a_property_and_a_step() -> None:
    recipe = to_schema_org(plain(), dough_temperature=Q_(78.8, "degF"))
    # 78.8 °F is 26 °C exactly (NIST SP 811, appendix B.9: t/°C = (t/°F - 32)/1.8).
    values = {
        p["name"]: p["value"] for p in recipe["recipeYield"]["additionalProperty"]
    }
    assert values["dough temperature"] == pytest.approx(26.0)
    assert any("26.0 °C" in step["text"] for step in recipe["recipeInstructions"])


def test_the_new_pan_is_a_tool_with_its_volume() -> None:
    (tool,) = to_schema_org(fitted())["tool"]
    assert tool["requiredQuantity"]["value"] == 2
    (volume,) = tool["requiredQuantity"]["additionalProperty"]
    # By hand: 8 x 4 x 2.5 in³ x 16.387064 cm³/in³ = 1311 cm³.
    assert volume["value"] == 1311


def test_baking_time_is_only_given_where_it_is_known() -> None:
    # ISO 8601-1 duration: PT40M is forty minutes.
    assert to_schema_org(plain(bake_minutes=(40.0, 40.0)))["cookTime"] == "PT40M"
    assert "cookTime" not in to_schema_org(plain(bake_minutes=(35.0, 40.0)))
    assert "cookTime" not in to_schema_org(fitted())
    steps = [step["text"] for step in to_schema_org(fitted())["recipeInstructions"]]
    assert any("40 minutes" in text and "will differ" in text for text in steps)


def test_no_diet_is_ever_claimed() -> None:
    rice = Formula.from_pairs(
        [("rice_white", 500), ("water", 400)], title="Gluten-free vegan loaf"
    )
    text = schema_org_json(rice)
    assert "suitableForDiet" not in text
    assert "no gluten-free claim" in text


# --- Markdown --------------------------------------------------------------------


def test_markdown_reads_as_a_table_with_all_parts() -> None:
    soup = BeautifulSoup(
        READER.render(str(export(fitted(), "markdown"))), "html.parser"
    )
    assert [th.get_text() for th in soup("th")][:4] == [
        "Stage",
        "Ingredient",
        "Weigh (g)",
        "% of flour",
    ]
    heads = [h.get_text() for h in soup("h2")]
    assert heads[0] == "Pan"
    assert heads[-1] == "Take care"
    assert "How the weights came about" in heads
