"""Notations that once gave a false alarm, or hid a slip; sums worked by hand."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.checking import check, check_file, corrected_copy
from bakelab.errors import ReadError

LOAF = "- 500 g bread flour\n- 330 g water\n- 10 g salt\n- 6 g instant yeast\n"


def _conflicts(text: str) -> list[str]:
    return [f.identifier for f in check(text).by_kind("conflict")]


def test_a_pint_and_fluid_ounces_are_one_volume() -> None:
    """UCUM: imperial pint 568.26 mL and 4 fl oz of 28.41 mL are 681.9 mL."""
    text = "# Loaf\n\n- 2 lb strong white flour\n- 1 pint 4 fl oz (680 ml) water\n"
    assert _conflicts(f"{text}- 20 g salt\n") == []


def test_a_pan_by_its_weight_is_no_weight_of_dough() -> None:
    said = "Divide between two 2 lb loaf tins and bake at 220 °C for 35 minutes."
    assert _conflicts(f"# Loaf\n\n{LOAF}\n{said}\n") == []


TABLE = """# Mill sandwich

| Ingredient | Grams | % |
|---|---|---|
| Bread flour | 600 | 100 |
| Water | 390 | 65 |
| Butter | 30 | 5 |
| Sugar | 24 | {sugar} |
| Salt | 12 | 2 |
"""


@pytest.mark.parametrize(("sugar", "found"), [(4, []), (6, ["percent-against-weight"])])
def test_bare_numbers_of_a_table_have_the_unit_of_their_head(
    sugar: int, found: list[str]
) -> None:
    assert _conflicts(TABLE.format(sugar=sugar)) == found


@pytest.mark.parametrize(
    ("percent", "found"), [(6, []), (9, ["percent-against-weight"])]
)
def test_bare_numbers_of_a_csv_table(
    tmp_path: Path, percent: int, found: list[str]
) -> None:
    path = tmp_path / "oat.csv"
    path.write_text(
        "ingredient,grams,percent\nbread flour,500,100\nwater,400,80\n"
        f"honey,30,{percent}\nsalt,11,2.2\n",
        encoding="utf-8",
    )
    [report] = check_file(path)
    assert [f.identifier for f in report.by_kind("conflict")] == found


def test_all_of_a_preferment_leaves_nothing_open() -> None:
    """200 + 200 + 300 + 145 + 10 g are 855 g, and 4 x 280 g are 1120 g."""
    text = (
        "Towpath baguettes\n\nPoolish\n200 g bread flour\n200 g water\n\nFinal dough\n"
        "all of the poolish\n300 g bread flour\n145 g water\n10 g salt\n\n"
        "Mix the rest in, fold three times, and divide into 4 pieces of 280 g.\n"
    )
    assert _conflicts(text) == ["pieces-against-dough"]
    assert _conflicts(text.replace("280 g", "210 g")) == []


def test_a_packet_in_a_small_dough_is_no_slip() -> None:
    """7 g is the packet (USDA SR26 18375: 7.2 g): there is no smaller one."""
    text = (
        "# Brioche\n\n- 250 g flour\n- 3 large eggs\n- 5 g salt\n- 7 g instant yeast\n"
    )
    assert "yeast-against-amount" not in [f.identifier for f in check(text).findings]


def test_liquid_yeast_by_the_cup_is_no_slip() -> None:
    text = "# Loaf\n\n- 2 quarts flour\n- 1 pint water\n- half a cupful of yeast\n"
    assert "yeast-against-amount" not in [f.identifier for f in check(text).findings]


def test_a_heading_with_a_note_in_brackets_opens_a_preferment() -> None:
    """850 + 150 + 700 + 150 + 20 g are 1870 g; the levain counts once."""
    text = (
        "# Weekend levain\n\nLevain build (night before)\n- 30 g starter\n"
        "- 60 g bread flour\n- 60 g water\n\nFinal dough\n- 850 g bread flour\n"
        "- 150 g whole wheat flour\n- 700 g water\n- 150 g levain\n- 20 g salt\n\n"
        "Total dough weight: {} g. Mix and fold.\n"
    )
    assert _conflicts(text.format(1870)) == []
    assert _conflicts(text.format(1970)) == ["dough-weight"]


def test_pieces_without_a_word_for_them() -> None:
    """500 + 330 + 10 + 6 g of dough are no two pieces of 500 g."""
    said = "Mix. Shape two of {} g each and bake."
    assert _conflicts(f"# Loaf\n\n{LOAF}\n{said.format(500)}\n") == [
        "pieces-against-dough"
    ]
    assert _conflicts(f"# Loaf\n\n{LOAF}\n{said.format(420)}\n") == []


def test_a_bread_of_baking_powder_is_not_held_to_a_style_of_yeast() -> None:
    text = (
        "# Raisin bread\n\n- 300 g flour\n- 12 g baking powder\n- 100 g sugar\n"
        "- 200 g milk\n- 150 g raisins\n"
    )
    assert "outside-the-style" not in [f.identifier for f in check(text).findings]


PIECES = st.sampled_from(
    [
        "# Loaf\n", "\n", "## Levain\n", "## Overall formula\n", "## Final dough\n",
        "- 100 g flour\n", "- 100 g levain\n", "- 1 Päckchen Hefe\n",
        "| Ingredient | Poolish | Dough | Total |\n", "| Flour | 1 | 2 | 3 |\n",
        "- 2-3 tbsp honey\n", "  - 30 g rye\n", "- 50 % water (70 %)\n",
        "- 0 g salt\n", "- 1 sachet de levure\n", "Springform 26\n",
        "Bake at 999 °C for 1 min in a 9 x 5 x 3 in pan, centre 60 °C.\n",
        "recipe,ingredient,grams\n", "a,flour,10\n",
    ]
)  # fmt: skip


@given(st.lists(PIECES, max_size=25))
@settings(max_examples=60, deadline=None)
def test_no_order_of_parts_crashes_a_check_or_a_copy(parts: list[str]) -> None:
    text = "".join(parts) + "\n"
    try:
        check(text)
        corrected_copy(text)
    except ReadError:
        return
