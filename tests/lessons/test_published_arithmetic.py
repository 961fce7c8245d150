"""Printed examples and published formulas, met as exercises with fresh seeds."""

from fractions import Fraction

import pytest

from bakelab.lessons import make, mark
from bakelab.lessons.families.published import CARDS
from bakelab.lessons.tins import LIDDED, TAPERED, draw_tin
from bakelab.pans import pan
from tests.lessons.reading_given import bold

MANUAL = "US Army TM 10-412 (2003), cards A-1(2) and A-1(3)"


def met(family, level, wanted):
    """The first exercise with these numbers in its table."""
    for seed in range(4000):
        item = make(family, seed, level=level)
        if wanted.items() <= {row[0]: row[1] for row in item.given}.items():
            return item
    raise AssertionError(f"no exercise of {family} has {wanted}")


@pytest.mark.parametrize(
    ("level", "numbers", "printed"),
    [
        pytest.param(
            1, {"portions needed": "348", "flour on the card": "1.25 lb"}, "4.35 lb",
            id="working-factor-3.48",
        ),
        pytest.param(
            1, {"for 100 portions": "30 lb", "in store": "102 lb"}, "3.40",
            id="factor-from-stock",
        ),
        pytest.param(
            1, {"portion on the card": "4 oz", "your portion": "3 oz",
                "number of your portions": "348", "flour on the card": "2 lb"},
            "5.22 lb", id="portion-size-261",
        ),
        pytest.param(3, {"yeast": "0.35 lb"}, "5 1/2 oz", id="quarter-ounces"),
        pytest.param(
            3, {"water on the card": "6 gal", "working factor": "3.33"},
            "79.92 quarts", id="19.98-gallons-by-4",
        ),
    ],
)  # fmt: skip
def test_the_manual_s_own_examples_come_up_and_agree(level, numbers, printed):
    """TM 10-412 (2003), cards A-1(2) and A-1(3), as printed on them.

    348/100 = 3.48 and 1.25 lb x 3.48 = 4.35 lb; 102/30 = 3.40; 348 x 0.75 = 261
    and 2 lb x 2.61 = 5.22 lb; 0.35 lb = 5.60 oz, to the quarter 5 1/2 oz;
    6 gal x 3.33 = 19.98 gal.
    """
    item = met("published", level, numbers)
    assert item.source == MANUAL
    assert mark(item, printed).state == "right"


def test_a_factor_rounded_too_early_is_known():
    """3 for 3.48: the cook of the manual's example would be 0.6 lb short."""
    numbers = {"portions needed": "348", "flour on the card": "1.25 lb"}
    found = mark(met("published", 1, numbers), "3.75 lb")
    assert (found.state, found.misconception) == ("misconception", "rounded_too_early")


WHITE = {
    "active dry yeast": 1.95, "water": 53.25, "sugar": 2.76, "nonfat dry milk": 2.35,
    "shortening (solid fat)": 3.81, "salt": 1.22,
}  # fmt: skip
WHOLE_WHEAT = {
    "active dry yeast": 1.34, "water": 63.31, "nonfat dry milk": 3.63, "sugar": 8.57,
    "salt": 2.02, "whole-wheat flour": 45.16, "shortening (solid fat)": 5.85,
}  # fmt: skip


@pytest.mark.parametrize(
    ("card", "ounces", "flour", "percents"),
    [
        pytest.param("D 009 00", 254.625, 154, WHITE, id="white"),
        pytest.param("D 055 00", 229.04, 124, WHOLE_WHEAT, id="whole-wheat"),
    ],
)
def test_both_army_cards_are_exercises(card, ounces, flour, percents):
    """TM 10-412 (2003), D 009 00 and D 055 00, en.wikisource.org (pages 136, 279).

    Percentages worked by hand from the printed pounds and ounces: flour
    7 1/4 lb + 2 3/8 lb = 154 oz, and 4 1/4 lb + 3 1/2 lb = 124 oz.
    """
    own = next(one for one in CARDS if card in one.source)
    assert float(own.total) == pytest.approx(ounces, abs=0.005)
    assert own.flour == flour
    seen = {}
    for seed in range(400):
        item = make("published", seed, level=2)
        if card in item.source:
            seen[bold(item)[0]] = float(item.answer)
    assert seen == pytest.approx(percents, abs=0.005)


def test_the_loaves_of_the_white_card_leave_dough_over():
    """Card D 009 00 scales 8 x 28 oz = 224 oz of 254.625 oz: 88.0 % of the batch."""
    numbers = {"all ingredients": "254.625 oz", "loaves": "8",
               "dough for one loaf": "28 oz"}  # fmt: skip
    assert mark(met("published", 3, numbers), "12.0 %").state == "right"


def test_the_tablespoon_of_sugar_that_clashes_is_recognised():
    """Card D 009 00 prints 3 1/2 oz = 1/2 cup, and 3/4 oz = 1 tablespoon."""
    item = met("published", 3, {"half a cup of sugar": "3.5 oz",
                                "tablespoons wanted": "1"})  # fmt: skip
    assert item.answer == Fraction(7, 16)
    assert mark(item, "0.75 oz").misconception == "printed_believed"


@pytest.mark.parametrize(("room", "flour", "water"), [(85, 67, 82), (72, 62, 100)])
def test_the_printed_examples_of_the_water_rule_come_up(room, flour, water):
    """Wihlfahrt, A Treatise on Baking, "The Temperature of the Bread Dough"."""
    numbers = {"wanted for the dough": "78 °F", "room": f"{room} °F",
               "flour": f"{flour} °F"}  # fmt: skip
    item = met("water_temperature", 1, numbers)
    assert "Wihlfahrt" in item.source
    assert mark(item, f"{water} °F").state == "right"


class _First:
    """Draws the first of everything."""

    def pick(self, values):
        return values[0]


@pytest.mark.parametrize("key", [*LIDDED, *TAPERED])
def test_tins_of_exercises_hold_what_the_table_of_pans_says(key):
    """The exact geometry of `bakelab.pans` is another way to the same volume."""
    tin = draw_tin(_First(), [key], ruler=False)
    areas = tin.length * tin.width + tin.base_length * tin.base_width
    middle = (tin.length + tin.base_length) * (tin.width + tin.base_width) / 4
    volume = float(tin.depth * (areas + 4 * middle) / 6)
    unit = {"cm³": "cm^3", "in³": "inch^3"}[tin.cubic]
    assert volume == pytest.approx(pan(key).volume.to(unit).magnitude, rel=1e-9)
    assert tin.dome == (0 if tin.lidded else Fraction(5, 2))
