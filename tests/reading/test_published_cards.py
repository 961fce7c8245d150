"""Two complete published formulas, weight beside measure, read line by line.

TM 10-412 (2003), US armed forces recipe cards, a US Government work in the public
domain: D 009 00 white bread (short-time), page 136, and D 055 00 whole-wheat bread,
page 279, at en.wikisource.org/wiki/Page:TM-10-412_(2003).pdf. The figures are facts
of the cards; the lines around them are ours.
"""

import pytest

from bakelab.reading import read_line, read_recipe

D009 = [
    ("3 oz (¼ cup 3⅓ tbsp) active dry yeast", "yeast", 3),
    ("1 lb (2 cups) warm water", "water", 16),
    ("4⅛ lb (2 quarts) water", "water", 66),
    ("3⅝ oz (1½ cups) instant nonfat dry milk", "dairy", 3.625),
    ("3½ oz (½ cup) sugar", "sweetener", 3.5),
    ("7¼ lb (24 cups) bread flour", "flour", 116),
    ("2⅜ lb (2 quarts) bread flour", "flour", 38),
    ("5⅞ oz (¾ cup 1 tbsp) shortening", "fat", 5.875),
    ("1⅞ oz (3 tbsp) salt", "salt", 1.875),
]
SUGAR_SLIP = "¾ oz (1 tbsp) sugar"
D055 = [
    ("1⅔ oz (¼ cup ⅓ tbsp) active dry yeast", "yeast", 5 / 3),
    ("12½ oz (1½ cups) warm water", "water", 12.5),
    ("4⅛ lb (2 quarts) water", "water", 66),
    ("4½ oz (1⅞ cups) instant nonfat dry milk", "dairy", 4.5),
    ("10⅝ oz (1½ cups) sugar", "sweetener", 10.625),
    ("2½ oz (¼ cup ⅓ tbsp) salt", "salt", 2.5),
    ("4¼ lb (3 quarts 2 cups) bread flour", "flour", 68),
    ("3½ lb (3 quarts 1 cup) whole wheat flour", "flour", 56),
    ("7¼ oz (1 cup) shortening", "fat", 7.25),
]
OZ_G = 28.349523125


@pytest.mark.parametrize(("text", "role", "ounces"), [*D009, *D055])
def test_weight_and_measure_of_a_clean_line_agree(
    text: str, role: str, ounces: float
) -> None:
    line = read_line(text, language="en")
    assert line.role == role
    assert line.stated_g == pytest.approx(ounces * OZ_G, rel=1e-6)
    assert "two amounts disagree" not in line.remark


def test_the_printed_slip_of_the_sugar_is_found() -> None:
    """The card prints ¾ oz = 1 tbsp, where its own 3½ oz = ½ cup gives 0.44 oz."""
    line = read_line(SUGAR_SLIP, language="en")
    assert line.state == "doubt"
    assert "two amounts disagree" in line.remark
    assert line.stated_g == pytest.approx(0.75 * OZ_G)


@pytest.mark.parametrize(
    ("card", "extra", "flour_oz", "total_oz", "total_pct"),
    [(D009, [SUGAR_SLIP], 154, 254.625, 165.34), (D055, [], 124, 229.0417, 184.71)],
    ids=["D 009 00", "D 055 00"],
)
def test_totals_of_the_cards(
    card: list[tuple[str, str, float]],
    extra: list[str],
    flour_oz: float,
    total_oz: float,
    total_pct: float,
) -> None:
    recipe = read_recipe("\n".join(["Card", "", *(t for t, _, _ in card), *extra]))
    formula = recipe.formula
    assert formula is not None
    assert formula.flour_g / OZ_G == pytest.approx(flour_oz)
    assert formula.dough_g / OZ_G == pytest.approx(total_oz, abs=0.001)
    assert 100 * formula.dough_g / formula.flour_g == pytest.approx(
        total_pct, abs=0.006
    )


# Weight over measure, computed from the cards: flour 137.02, 134.66 and 137.7 g a cup,
# whole wheat 122.1, sugar 198.4, shortening 205.0, dry milk 68.5.
@pytest.mark.parametrize(
    ("text", "per_cup"),
    [
        ("1 cup bread flour", 137.02),
        ("1 cup bread flour", 134.66),
        ("1 cup whole wheat flour", 122.1),
        ("1 cup sugar", 198.4),
        ("1 cup shortening", 205.0),
        ("1 cup instant nonfat dry milk", 68.5),
    ],
)
def test_densities_of_the_cards_lie_in_our_bands(text: str, per_cup: float) -> None:
    line = read_line(text, language="en")
    assert line.mass_low_g is not None
    assert line.mass_high_g is not None
    assert 0.995 * line.mass_low_g <= per_cup <= 1.005 * line.mass_high_g
