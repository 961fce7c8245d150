"""Score slips and the key: what stands where, and what must not."""

import io

import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from bakelab.errors import BakelabError
from bakelab.formula import Formula
from bakelab.sheets import PAPERS, key_html, key_pdf, slips_html, slips_pdf
from bakelab.tasting import TESTS, Tasting, plan_tasting

BREAD = Formula.from_pairs([("wheat_bread", 500), ("water", 330), ("honey", 20)])
A4_PT = (595, 842)


def _plan(test: str, tasters: int = 6) -> Tasting:
    names = ["quay loaf", "less salt"]
    if test == "ranking":
        names += ["more water", "overnight", "rye third"]
    return plan_tasting(
        test, names, tasters=tasters, seed=4, title="Tuesday loaf",
        expected=names[:1] if test == "paired" else (),
        formulas=dict.fromkeys(names, BREAD),
        question="Which is saltier?" if test == "paired" else "",
    )  # fmt: skip


def _pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize("test", list(TESTS))
@pytest.mark.parametrize("paper", PAPERS)
def test_slips_hold_the_codes_and_never_the_samples(test: str, paper: str) -> None:
    plan = _plan(test)
    pages = _pages(slips_pdf(plan, paper=paper))
    assert len(pages) == 2  # four slips, then two
    text = "".join(pages)
    for slip in plan.slips:
        assert all(code in text for code in slip.codes)
    assert not any(name in text for name in plan.samples)
    words = " ".join(text.split())
    assert words.count("Contains: gluten, wheat.") == len(plan.slips)
    assert words.count("raw or doughy inside") == len(plan.slips)
    assert words.count("Contains honey: not for children") == len(plan.slips)


@pytest.mark.parametrize("test", list(TESTS))
def test_key_names_every_code_and_the_pieces_to_cut(test: str) -> None:
    plan = _plan(test)
    text = " ".join(" ".join(_pages(key_pdf(plan))).split())
    assert "not for the tasters" in text
    for code, name in plan.key.items():
        assert f"{code} {name}" in text
    for name, count in plan.portions.items():
        assert f"{count} pieces of {name}" in text
    page = BeautifulSoup(key_html(plan), "html.parser").get_text(" ")
    assert all(code in page for code in plan.key)


@pytest.mark.parametrize("test", list(TESTS))
def test_web_page_of_slips(test: str) -> None:
    plan = _plan(test)
    page = BeautifulSoup(slips_html(plan), "html.parser")
    slips = page.select("article")
    assert len(slips) == len(plan.slips)
    for drawn, slip in zip(slips, plan.slips, strict=True):
        assert all(code in drawn.text for code in slip.codes)
        assert "gluten" in drawn.text
    assert not any(name in page.text for name in plan.samples)
    assert not page.find_all(["script", "img", "link"])


def test_slips_of_a_large_panel() -> None:
    pages = _pages(slips_pdf(_plan("triangle", 120)))
    assert len(pages) == 30
    assert len(_pages(key_pdf(_plan("triangle", 120)))) <= 4


def test_one_slip_stays_in_its_quarter_of_the_page() -> None:
    """The fullest words that a plan takes still leave four slips to a page."""
    plan = plan_tasting(
        "ranking", list("abcdefgh"), tasters=4, seed=1, title="T" * 60,
        question="q" * 200, more_allergens=", ".join(f"spice {n}" for n in range(30)),
    )  # fmt: skip
    pages = PdfReader(io.BytesIO(slips_pdf(plan))).pages
    assert len(pages) == 1
    assert tuple(map(round, pages[0].mediabox[2:])) == A4_PT
    places: list[float] = []
    pages[0].extract_text(
        visitor_text=lambda text, _c, matrix, *_: (
            places.append(matrix[4]) if "doughy" in text else None
        )
    )
    assert len(places) == 4


def test_words_of_the_user_cannot_run() -> None:
    plan = plan_tasting(
        "triangle",
        ["<script>a</script>", '#read("x")'],
        tasters=6,
        seed=1,
        title="<b>t</b> #panic()",
        question="*which* <i>?</i> \\ud800"[:20] + "\ud800",
    )
    for page in (slips_html(plan), key_html(plan)):
        found = BeautifulSoup(page, "html.parser")
        assert not found.find_all(["script", "b", "i"], string=["a", "t", "?"])
    assert "#panic()" in _pages(slips_pdf(plan))[0]
    assert "#read" in "".join(_pages(key_pdf(plan))).replace("\u200b", "")
    with pytest.raises(BakelabError, match="no paper"):
        slips_pdf(plan, paper="a0")
