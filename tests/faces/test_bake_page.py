"""A bake's page: one sheet of paper, safe notes, curves with their axes."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pandas as pd
import pytest
from bs4 import BeautifulSoup
from PIL import Image
from pypdf import PdfReader

from bakelab.bakebook import BakeBook
from bakelab.charts.bake_curves import reading_curve
from bakelab.errors import BakelabError, FormulaError, UnknownEntryError
from bakelab.formula import Formula
from bakelab.panels.bench.telling import Telling
from bakelab.sheets import bake_html, bake_part_html, bake_pdf, bake_sheet
from bakelab.sheets.bake_fit import bake_page_pt
from bakelab.sheets.notes import note_blocks, notes_html

EVIL = "<script>window.ran=1</script>'; DROP TABLE bakes; #eval(1) $x$ @ref"
START = datetime(2026, 3, 5, 7, 0, tzinfo=UTC)
BREAD = Formula.from_pairs(
    [("wheat_bread", 500), ("water", 330), ("salt_table", 10), ("yeast_instant", 5)],
    title="Quay loaf",
)
STAGES = ("mixed", "folded", "shaped", "proof", "in the oven", "out", "cooled")
READINGS = pd.DataFrame(
    {
        "kind": ["core_c"] * 5 + ["rise_ml"] * 3,
        "minute": [0, 10, 20, 30, 36, 0, 30, 60],
        "value": [26, 48, 77, 93, 97, 100, 128, 160],
        "unit": ["°C"] * 5 + ["ml"] * 3,
    }
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[BakeBook]:
    with BakeBook(tmp_path / "book.sqlite", who="Mina") as opened:
        yield opened


def _bake(book: BakeBook) -> str:
    """A bake with something of everything."""
    bake = book.start(
        BREAD, pan="loaf 9 x 5 x 2.75 in", at=START, planned_bake_min=38,
        planned_dough_c=26, dough_c=25, dough_in_g=842, loaf_out_g=745,
        loaf_volume_cm3=2980, bake_min=40, taste_1_9=7, crumb_words=EVIL,
    )  # fmt: skip
    for number, what in enumerate(STAGES):
        book.mark(bake, what, at=START + timedelta(minutes=35 * number))
    book.read(bake, READINGS)
    book.write(bake, loaf_out_g=748)
    book.note(bake, f"**Good** spring\n\n- {EVIL}")
    book.tag(bake, "house")
    picture = BytesIO()
    Image.new("RGB", (900, 600), "#a63").save(picture, "JPEG")
    book.photo(bake, picture.getvalue(), name="loaf.jpg", caption=EVIL)
    return bake


def _pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def test_a_loaf_heavier_than_its_dough_is_said_to_be_wrong(book: BakeBook) -> None:
    bake = book.start(BREAD, dough_in_g=550, loaf_out_g=600)
    (loss,) = (e for e in bake_sheet(book, bake).computed if e.label == "Bake loss")
    assert loss.value == "-9.09 % of dough"
    assert "heavier than its dough: correct one of the two weights" in loss.state
    telling = Telling()
    telling.show(book.bake(bake))
    assert loss.state in telling.numbers.value
    book.write(bake, loaf_out_g=500)  # 550 g less 500 g is 9.1 % of the dough
    telling.show(book.bake(bake))
    assert "heavier" not in telling.numbers.value


def test_the_sheet_has_what_was_done_and_what_follows(book: BakeBook) -> None:
    sheet = bake_sheet(book, _bake(book))
    numbers = {n.name: n.value for n in sheet.numbers}
    # (842 − 748) / 842 = 11.2 % of the dough; 2980 / 748 = 3.98 cm³/g
    assert numbers["Bake loss"] == "11.2"
    assert numbers["Specific volume"] == "3.98"
    off = {entry.label: entry.state for entry in sheet.off}
    assert off["Bake"] == "2 min above the plan of 38 min"
    assert off["Dough after mixing"] == "1 °C below the plan of 26 °C"
    assert [entry.value for entry in sheet.stages] == list(STAGES)
    assert len(sheet.drawings) == 3
    assert sheet.corrections[0].startswith("Loaf, cooled: was 745 g, now 748 g")
    assert any(c.startswith("Raw dough") for c in sheet.cautions)


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_the_pdf_is_one_page_with_every_word(book: BakeBook, paper: str) -> None:
    (page,) = _pages(bake_pdf(bake_sheet(book, _bake(book)), paper=paper))
    for words in ("Quay loaf", "748", "in the oven", "Good", "DROP TABLE", "11.2"):
        assert words in page


def test_a_bake_with_nothing_written_has_its_page(book: BakeBook) -> None:
    sheet = bake_sheet(book, book.start(BREAD))
    assert len(_pages(bake_pdf(sheet))) == 1
    assert sheet.drawings == ()
    assert "Quay loaf" in bake_html(sheet)


def test_long_notes_shrink_and_then_run_on_but_nothing_is_lost(book: BakeBook) -> None:
    bake = _bake(book)
    short = bake_page_pt(bake_sheet(book, bake))
    book.note(bake, "\n\n".join(f"Remark {n} on the crumb." for n in range(300)))
    sheet = bake_sheet(book, bake)
    assert bake_page_pt(sheet) < short
    assert "Remark 299" in "".join(_pages(bake_pdf(sheet)))
    assert "Remark 299" in bake_html(sheet)


def test_no_word_of_the_user_becomes_markup(book: BakeBook) -> None:
    sheet = bake_sheet(book, _bake(book))
    for html in (bake_html(sheet), bake_part_html(sheet)):
        page = BeautifulSoup(html, "html.parser")
        assert page.find("script") is None
        assert EVIL in page.text
        sources = [image["src"] for image in page.find_all("img")]
        assert all(str(s).startswith("data:image/jpeg;base64,") for s in sources)
        assert len(sources) == 1


def test_unknown_bakes_and_papers_are_refused(book: BakeBook) -> None:
    with pytest.raises(UnknownEntryError):
        bake_sheet(book, "no-such-bake")
    sheet = bake_sheet(book, book.start(BREAD))
    with pytest.raises(BakelabError, match="a4, us-letter"):
        bake_pdf(sheet, paper="a0")


def test_a_curve_names_its_axes_with_units() -> None:
    drawn = reading_curve(READINGS, "core_c").to_dict()
    assert drawn["encoding"]["x"]["title"] == "Minutes after “in the oven”"
    assert drawn["encoding"]["y"]["title"] == "°C"
    assert drawn["title"]["text"] == "Core temperature (°C)"
    with pytest.raises(FormulaError, match="lack"):
        reading_curve(READINGS.drop(columns="minute"), "core_c")
    with pytest.raises(FormulaError, match="no kind"):
        reading_curve(READINGS, "taste")


# CommonMark 0.31.2, spec.commonmark.org: examples by number, as words and kinds.
@pytest.mark.parametrize(
    ("markdown", "kinds", "words"),
    [
        pytest.param("# foo", ["heading"], "foo", id="62"),
        pytest.param("***\n---", ["rule", "rule"], "", id="43-thematic-breaks"),
        pytest.param("- foo\n- bar", ["item", "item"], "foo|bar", id="301"),
        pytest.param("> # Foo\n> bar", ["heading", "quote"], "Foo|bar", id="228"),
        pytest.param("```\n<\n >\n```", ["code"], "<\n >", id="119"),
        pytest.param("[a](javascript:x)", ["paragraph"], "[a](javascript:x)", id="js"),
    ],
)
def test_markdown_is_read_as_published(
    markdown: str, kinds: list[str], words: str
) -> None:
    blocks = note_blocks(markdown)
    assert [b.kind for b in blocks] == kinds
    texts = ["".join(run.text for run in b.runs) for b in blocks]
    assert "|".join(texts).strip("|") == words


@pytest.mark.parametrize(
    "markdown",
    [
        "<img src=x onerror=alert(1)>",
        "<div onclick=alert(1)>\nx\n</div>",
        "![x](http://example.org/x.png)",
        "[x](http://example.org 'onmouseover=alert(1)')",
        "<http://example.org>",
        "&lt;script&gt;alert(1)&lt;/script&gt;",
        "`<script>`",
        "| a | <b> |\n|---|---|\n| 1 | <script> |",
    ],
)
def test_notes_hold_no_address_and_no_foreign_tag(markdown: str) -> None:
    page = BeautifulSoup(notes_html(markdown), "html.parser")
    ours = {"p", "b", "i", "code", "pre", "br", "hr", "blockquote", "span", "h3"}
    assert {tag.name for tag in page.find_all()} <= ours
    assert not any(tag.get("href") or tag.get("src") for tag in page.find_all())
