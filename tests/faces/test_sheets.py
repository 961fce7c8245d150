"""The kitchen sheet: what stands on it, one page, and cautions where due."""

import datetime
import io
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from bakelab.errors import BakelabError, FormulaError
from bakelab.formula import Assumption, Formula, Row
from bakelab.pans import Pan, pan
from bakelab.scaling import Fitted, fit
from bakelab.sheets import PAPERS, cautions, kitchen_sheet, sheet_html, sheet_pdf
from bakelab.sheets.kitchen import RAW_DOUGH_G_CM3, raw_dough_cm3
from bakelab.sheets.model import SheetLine, SheetStage, halves, two_columns
from bakelab.sheets.page_fit import page_fit
from bakelab.units import Q_
from bakelab.weighing import SPOON_SCALE, round_to_scale

DAY = datetime.date(2031, 5, 2)
PAIRS = [
    ("wheat_bread", 500.0),
    ("water", 320.0),
    ("salt_table", 9.5),
    ("yeast_instant", 4.0),
]
LONG = "Wholemeal wheat flour from the mill by the river, stone-ground, sifted twice"
POINT_MM = 25.4 / 72


def dough(**meta: object) -> Formula:
    return Formula.from_pairs(PAIRS, title="Harbour loaf", **meta)


def fitted(**meta: object) -> Fitted:
    return fit(
        dough(**meta), to="loaf 33 x 10 x 10 cm, lidded", from_="loaf 9 x 5 x 3 in"
    )


def many(count: int, label: str = "Seed mix") -> Formula:
    rows = [Row("sponge", "wheat_bread", "Bread flour", "flour", 500.0)]
    rows += [
        Row(
            "dough" if n > count // 3 else "sponge",
            "x",
            f"{label} {n}",
            "other",
            9.0 + n,
        )
        for n in range(1, count)
    ]
    return Formula(tuple(rows[:count]), title="A loaf of many things")


def pages(pdf: bytes) -> int:
    return len(PdfReader(io.BytesIO(pdf)).pages)


def words(pdf: bytes) -> str:
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    return " ".join(text.split())


def seen(html: str) -> str:
    soup = BeautifulSoup(html, "html.parser")
    for style in soup(["style", "svg"]):
        style.decompose()
    return " ".join(soup.get_text(" ").split())


# --- what stands on it -----------------------------------------------------------


def test_sheet_has_weights_percentages_pan_working_and_cautions() -> None:
    fit_ = fitted(oven="375 °F", bake_minutes=(35.0, 40.0))
    sheet = kitchen_sheet(fit_, made=DAY)
    (stage,) = sheet.stages
    # Flour is the whole, so its percentage is 100 by definition; the weight is the
    # original times the factor, within a gram of a kitchen scale.
    flour = stage.lines[0]
    assert (flour.label, flour.pct) == ("Bread flour (strong white)", "100.0")
    flour_g = float(flour.weigh)
    assert flour_g == pytest.approx(500 * fit_.factor, abs=1.0)
    for line in stage.lines:
        assert float(line.pct) == pytest.approx(
            100 * float(line.weigh) / flour_g, abs=0.051
        )
    assert sheet.oven[0] == "As written: 375\u00a0°F, 35 to 40\u00a0minutes."
    assert "will differ" in sheet.oven[1]
    assert any("Ratio" in step for step in sheet.working)
    assert sheet.made.startswith("2031-05-02 · formula ")
    assert [c.partition(":")[0] for c in sheet.cautions][:2] == [
        "Raw dough",
        "Hot pan with a lid",
    ]


def test_dough_in_the_pan_is_the_dough_that_is_weighed() -> None:
    sheet = kitchen_sheet(fitted(), made=DAY)
    (into,) = [text for text in sheet.pans if text.startswith("To ")]
    assert f"Put in {sheet.dough.weigh}\u00a0g of dough." in into


def test_two_pans_share_a_batch() -> None:
    fit_ = fit(
        dough(), to=["2 loaf 8 x 4 x 2.5 in", "round 20 x 5 cm"], from_="loaf 9 x 5 in"
    )
    sheet = kitchen_sheet(fit_, made=DAY)
    into = [text for text in sheet.pans if text.startswith("To ")]
    assert "g of dough each." in into[0]
    assert into[1].endswith("g of dough.")
    assert sheet.fitted_to.count(" and ") == 1


def test_stages_stand_apart_with_their_totals() -> None:
    formula = many(6)
    sheet = kitchen_sheet(formula, made=DAY)
    assert [stage.name for stage in sheet.stages] == ["Sponge", "Dough"]
    for stage in sheet.stages:
        total = sum(float(line.weigh) for line in stage.lines)
        assert float(stage.total.removesuffix(" g")) == pytest.approx(total, abs=0.5)
    assert sheet.rows == 6 + 2


def test_weights_have_the_decimals_of_the_scale() -> None:
    formula = Formula.from_pairs([("wheat_bread", 500), ("yeast_instant", 0.34)])
    fine = kitchen_sheet(formula, round_to_scale(formula, SPOON_SCALE), made=DAY)
    coarse = kitchen_sheet(formula, made=DAY)
    assert [line.weigh for line in fine.stages[0].lines] == ["500", "0.3"]
    # A scale of 1 g cannot show 0.34 g: the exact grams stay, and a remedy stands by.
    assert coarse.stages[0].lines[1].weigh == "0.34"
    assert coarse.stages[0].lines[1].note


def test_assumptions_are_all_listed() -> None:
    taken = Assumption("cup weighs", "Bread flour", "125 g", "usual middle")
    bare = pan("loaf 9 x 5 in")
    assert bare.assumed
    sheet = kitchen_sheet(
        fit(dough(assumptions=(taken,)), to="loaf 8 x 4 x 2.5 in", from_=bare), made=DAY
    )
    assert "Bread flour: cup weighs 125\u00a0g (usual middle)." in sheet.assumptions
    assert any("epth" in text for text in sheet.assumptions)
    assert any("1.15\u00a0g/cm³" in text for text in sheet.assumptions)


def test_plain_formula_gives_a_sheet_without_pans() -> None:
    sheet = kitchen_sheet(dough(), made=DAY, recipe_lines=["4 cups flour", " "])
    assert sheet.drawing == ""
    assert sheet.pans == sheet.working == sheet.oven == ()
    assert sheet.as_written == ("4 cups flour",)
    assert "4 cups flour" in words(sheet_pdf(sheet))


def test_pieces_without_a_pan_have_their_weight() -> None:
    fit_ = fit(dough(), pieces=12, piece=Q_(60, "g"))
    sheet = kitchen_sheet(fit_, made=DAY)
    assert sheet.fitted_to == "Fitted to pieces of one weight"
    # By hand: 12 x 60 g = 720 g of dough, in four weights within a gram each.
    assert float(sheet.dough.weigh) == pytest.approx(720, abs=4)
    assert any("12 × " in text for text in sheet.pans)
    assert sheet.drawing == ""


def test_two_kinds_of_pan_of_one_caution() -> None:
    pans = [pan("loaf 33 x 10 x 10 cm, lidded"), pan("loaf 9 x 5 x 3 in")]
    texts = cautions(dough().scaled(5), pans)
    assert not any(text.startswith("Filled over") for text in texts)
    assert cautions(Formula(())) == cautions(Formula(()), pans[1:])


def test_every_ingredient_step_is_told_once() -> None:
    formula = Formula.from_pairs(
        [*PAIRS, ("butter_unsalted", 30), ("honey", 20), ("milk_whole", 50)]
    )
    fit_ = fit(formula, to="loaf 8 x 4 x 2.5 in", from_="loaf 9 x 5 x 3 in")
    steps = kitchen_sheet(fit_, made=DAY).working
    assert sum(step.startswith("Every ingredient the same way") for step in steps) == 1
    assert len(steps) < len(fit_.working)


def test_own_cautions_and_title_stand_in_place() -> None:
    sheet = kitchen_sheet(dough(), cautions=["Mind: the cat"], title="Mine", made=DAY)
    assert (sheet.title, sheet.cautions) == ("Mine", ("Mind: the cat",))
    assert kitchen_sheet(dough(), cautions=[], made=DAY).cautions == ()


def test_raw_dough_volume() -> None:
    # By hand: 1150 g at 1.15 g/cm³ is 1000 cm³; common practice, no source.
    assert raw_dough_cm3(1150.0) == pytest.approx(1000.0)
    assert RAW_DOUGH_G_CM3 == 1.15


def test_weights_of_another_formula_are_refused() -> None:
    other = round_to_scale(dough().scaled(2))
    with pytest.raises(FormulaError, match="another formula"):
        kitchen_sheet(dough(), other)


def test_no_flour_is_refused() -> None:
    with pytest.raises(FormulaError, match="no flour"):
        kitchen_sheet(Formula.from_pairs([("water", 100)]))


# --- columns ---------------------------------------------------------------------


def test_halves_keep_every_line_once_and_in_order() -> None:
    lines = tuple(SheetLine(str(n), f"row {n}", "1.0") for n in range(17))
    stages = (SheetStage("A", "", lines[:4]), SheetStage("B", "9 g", lines[4:]))
    first, second = halves(stages)
    assert [*(s.lines for s in first), *(s.lines for s in second)] == [
        lines[:4],
        lines[4:8],
        lines[8:],
    ]
    assert second[0].name == "B, continued"


@pytest.mark.parametrize("count", range(6))
def test_halves_of_few_lines(count: int) -> None:
    lines = tuple(SheetLine(str(n), "", "") for n in range(count))
    first, second = halves((SheetStage("", "", lines),))
    kept = [line for stage in (*first, *second) for line in stage.lines]
    assert tuple(kept) == lines


def test_cautions_in_two_columns_keep_their_order() -> None:
    texts = ("a" * 30, "b" * 30, "c" * 5, "d" * 50)
    assert sum(two_columns(texts), ()) == texts
    assert len(two_columns(texts)) == 2
    assert two_columns(()) == ()


# --- cautions --------------------------------------------------------------------


def subjects(
    *pairs: tuple[str, float], pans: tuple[Pan, ...] = (), **meta: str
) -> list[str]:
    formula = Formula.from_pairs(pairs, **meta)
    return [text.partition(":")[0] for text in cautions(formula, pans)]


def test_raw_flour_and_raw_egg() -> None:
    (raw, *_) = cautions(Formula.from_pairs([("wheat_bread", 500)]))
    assert "raw flour is not safe" in raw
    (both, *_) = cautions(Formula.from_pairs([("wheat_bread", 500), ("egg_whole", 50)]))
    assert "raw flour and egg are not safe" in both


def test_rich_dough_asks_for_a_probe() -> None:
    assert "Rich in egg" in subjects(("wheat_bread", 500), ("egg_whole", 100))
    assert "Rich in dairy" in subjects(("wheat_bread", 500), ("milk_whole", 300))
    assert not any(s.startswith("Rich") for s in subjects(*PAIRS))


def test_allergens_are_listed_with_the_rules_of_the_place() -> None:
    # 21 USC 321(qq): wheat, milk, egg and sesame are among the nine major allergens.
    formula = Formula.from_pairs(
        [("wheat_bread", 500), ("milk_whole", 20), ("egg_whole", 10)]
    )
    (text,) = [t for t in cautions(formula) if t.startswith("Allergens")]
    assert all(name in text for name in ("wheat", "milk", "egg"))
    assert "local labelling rules" in text
    assert "sesame" not in text


def test_unknown_ingredients_are_named_as_not_looked_up() -> None:
    (text,) = [t for t in cautions(many(2)) if t.startswith("Allergens")]
    assert "not looked up: Seed mix 1." in text


def test_lid_asks_for_gloves_and_warns_of_overfilling() -> None:
    lidded = pan("loaf 33 x 10 x 10 cm, lidded")
    little, much = Formula.from_pairs(PAIRS), Formula.from_pairs(PAIRS).scaled(2.0)
    # 3300 cm³ / 833.5 g = 3.96 cm³/g and 3300 / 1667 = 1.98 cm³/g, by hand.
    assert [t.partition(":")[0] for t in cautions(little, [lidded])][1] == (
        "Hot pan with a lid"
    )
    assert not any(
        "1.98" in t or "Filled over" in t for t in cautions(little, [lidded])
    )
    (over,) = [t for t in cautions(much, [lidded]) if t.startswith("Filled over")]
    assert "1.98 cm³" in over
    assert "no source" in over
    assert "Hot pan with a lid" not in subjects(
        *PAIRS, pans=(pan("loaf 9 x 5 x 3 in"),)
    )


def test_lidded_rye_is_judged_by_its_own_band() -> None:
    lidded = pan("loaf 33 x 10 x 10 cm, lidded")
    rye = Formula.from_pairs([("wheat_bread", 1000), ("water", 900)], style="rye_whole")
    assert not any(t.startswith("Filled over") for t in cautions(rye, [lidded]))


@pytest.mark.parametrize("title", ["Gluten-free loaf", "Glutenfreies Brot"])
def test_gluten_free_is_never_taken_on_trust(title: str) -> None:
    # 21 CFR 101.91: "gluten-free" means under 20 ppm (mg/kg).
    assert "Not gluten-free" in subjects(("wheat_bread", 500), title=title)
    rice = Formula.from_pairs([("rice_white", 500)], title=title)
    (text,) = [t for t in cautions(rice) if t.startswith("Gluten")]
    assert "no gluten-free claim" in text
    assert "20 mg/kg" in text


def test_honey_is_not_for_infants() -> None:
    assert "Honey" in subjects(("wheat_bread", 500), ("honey", 20))
    assert "Honey" not in subjects(*PAIRS)


# --- one page --------------------------------------------------------------------


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [1, 2, 5, 9, 14, 19, 24, 32, 40])
def test_pdf_is_one_page(count: int, paper: str) -> None:
    formula = many(count)
    sheet = kitchen_sheet(
        fit(formula, to="loaf 33 x 10 x 10 cm, lidded", from_="loaf 9 x 5 x 3 in"),
        made=DAY,
    )
    pdf = sheet_pdf(sheet, paper=paper)
    assert pages(pdf) == 1
    text = words(pdf)
    assert all(line.label in text for s in sheet.stages for line in s.lines)


@pytest.mark.parametrize("count", [3, 24, 40])
def test_pdf_with_long_labels_is_one_page(count: int) -> None:
    sheet = kitchen_sheet(many(count, LONG), made=DAY, title=LONG * 2)
    assert pages(sheet_pdf(sheet, paper="us-letter")) == 1


def test_more_than_a_page_runs_on_and_loses_nothing() -> None:
    sheet = kitchen_sheet(many(150), made=DAY)
    pdf = sheet_pdf(sheet)
    assert pages(pdf) > 1
    text = words(pdf)
    assert all(line.label in text for s in sheet.stages for line in s.lines)


@pytest.mark.parametrize(
    ("paper", "width_mm", "height_mm"),
    [
        pytest.param("a4", 210.0, 297.0, id="ISO 216"),
        pytest.param("us-letter", 215.9, 279.4, id="8.5 x 11 in at 25.4 mm"),
    ],
)
def test_paper_sizes(paper: str, width_mm: float, height_mm: float) -> None:
    pdf = sheet_pdf(kitchen_sheet(dough(), made=DAY), paper=paper)
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert float(box.width) * POINT_MM == pytest.approx(width_mm, abs=0.5)
    assert float(box.height) * POINT_MM == pytest.approx(height_mm, abs=0.5)


def test_unknown_paper_is_refused() -> None:
    with pytest.raises(
        BakelabError, match="no paper 'a5'; choose one of a4, us-letter"
    ):
        sheet_pdf(kitchen_sheet(dough(), made=DAY), paper="a5")


def test_pdf_is_the_same_each_time_and_has_its_title() -> None:
    sheet = kitchen_sheet(fitted(), made=DAY)
    pdf = sheet_pdf(sheet)
    assert pdf == sheet_pdf(sheet)
    info = PdfReader(io.BytesIO(pdf)).metadata
    assert info is not None
    assert info.title == "Harbour loaf"


@pytest.mark.parametrize(
    ("language", "title"),
    [
        ("ar", "خبز القمح الكامل"),
        ("he", "לחם שיפון"),
        ("zh", "全麦面包"),
        ("hi", "गेहूँ की रोटी"),
        ("x<y", "🍞 pain œuf ½ ☐ ≤ \u202e tfel"),
        ("", "\0\ud800\ufffe nothing"),
    ],
)
def test_other_scripts_are_set_or_replaced(language: str, title: str) -> None:
    rows = (Row(title, "wheat_bread", title, "flour", 500.0),)
    formula = Formula(rows, title=title, language=language)
    sheet = kitchen_sheet(formula, made=DAY)
    assert pages(sheet_pdf(sheet)) == 1
    html = sheet_html(sheet)
    html.encode("utf-8")
    assert "\0" not in html


# --- HTML ------------------------------------------------------------------------


def test_html_says_what_the_pdf_says() -> None:
    sheet = kitchen_sheet(fitted(oven="190 °C"), made=DAY)
    text, printed = seen(sheet_html(sheet)), words(sheet_pdf(sheet))
    for stage in sheet.stages:
        for line in stage.lines:
            assert line.label in text
            assert line.label in printed
    for part in (*sheet.oven, *sheet.working, *sheet.cautions, *sheet.assumptions):
        assert " ".join(part.split()) in text


def test_html_holds_itself_and_runs_nothing() -> None:
    soup = BeautifulSoup(sheet_html(kitchen_sheet(fitted(), made=DAY)), "html.parser")
    assert not soup(["script", "link", "iframe", "img", "object", "form"])
    assert not [t for t in soup(True) if {"src", "href", "srcset"} & set(t.attrs)]
    policy = soup.find("meta", attrs={"http-equiv": "Content-Security-Policy"})
    assert policy is not None
    # W3C Content Security Policy Level 3: default-src 'none' forbids every load.
    assert str(policy["content"]).startswith("default-src 'none'")
    assert soup.html is not None
    assert soup.html["lang"] == "en"


def test_html_table_can_be_read_aloud() -> None:
    soup = BeautifulSoup(sheet_html(kitchen_sheet(many(5), made=DAY)), "html.parser")
    assert [th["scope"] for th in soup.select("thead th")] == ["col"] * 4
    assert len(soup.select("th[scope=rowgroup]")) == 2
    assert len(soup.select("[aria-label='box to tick']")) == 5


def test_type_is_smaller_only_where_it_must_be() -> None:
    few = page_fit(kitchen_sheet(many(4), made=DAY))
    many_ = page_fit(kitchen_sheet(many(40), made=DAY))
    assert few.scale >= 0.9
    assert few.note_lines > 5
    assert many_.scale < few.scale


def browser() -> str:
    found = shutil.which("chromium") or shutil.which("google-chrome")
    if found is None and not os.environ.get("CI"):
        pytest.skip("no Chromium here; CI has one")
    assert found is not None, "CI needs Debian's chromium"
    return found


@pytest.mark.browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(
    ("count", "label"), [(0, ""), (9, "Seed mix"), (24, "Seed mix"), (40, LONG)]
)
def test_html_prints_on_one_page(
    count: int, label: str, paper: str, tmp_path: Path
) -> None:
    sheet = kitchen_sheet(many(count, label) if count else fitted(), made=DAY)
    page, pdf = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    html = sheet_html(sheet).replace("@page {", f"@page {{ size: {paper};")
    page.write_text(html, encoding="utf-8")
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    subprocess.run(
        [browser(), *flags, f"--print-to-pdf={pdf}", page.as_uri()],
        check=True,
        capture_output=True,
        timeout=120,
    )
    assert pages(pdf.read_bytes()) == 1
