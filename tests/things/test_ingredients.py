"""The ingredient table against USDA, and ingredients found in their words."""

import re
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.errors import UnknownIngredientError
from bakelab.formula import ROLES
from bakelab.ingredients import (
    find_ingredient,
    head_is_equipment,
    ingredient,
    ingredients,
)

# USDA National Nutrient Database for Standard Reference, release 28 (public domain),
# by food number: grams per cup; water, protein, fat in 100 g.
USDA = [
    ("wheat_bread", "20083", 137, 13.36, 11.98, 1.66),
    ("wheat_all_purpose", "20081", 125, 11.92, 10.33, 0.98),
    ("sugar_white", "19335", 200, None, None, None),
    ("honey", "19296", 339, 17.1, None, None),
    ("butter_unsalted", "01145", 227, 17.94, None, 81.11),
    ("butter_salted", "01001", 227, 15.87, None, 81.11),
    ("milk_whole", "01077", 244, 88.13, None, 3.25),
    ("egg_whole", "01123", 243, 76.15, 12.56, 9.51),
    ("salt_table", "02047", 292, None, None, None),
]


@pytest.mark.parametrize(("key", "ndb", "cup", "water", "protein", "fat"), USDA)
def test_values_of_usda(
    key: str,
    ndb: str,
    cup: float,
    water: float | None,
    protein: float | None,
    fat: float | None,
) -> None:
    item = ingredient(key)
    assert ndb in item.source
    assert item.cup_low_g <= cup <= item.cup_high_g
    for mine, theirs in (
        (item.water_g, water),
        (item.protein_g, protein),
        (item.fat_g, fat),
    ):
        if theirs is not None:
            assert mine == pytest.approx(theirs, abs=0.01)


def test_the_band_of_a_cup_of_bread_flour_is_that_of_two_published_sets() -> None:
    """USDA SR28 20083: 137 g; HERR 41: 117 g sifted, 123 spooned, as quoted by
    J. Frysinger, usma mailing list, message 18868."""
    item = ingredient("wheat_bread")
    assert (item.cup_low_g, item.cup_high_g) == (117, 137)


def test_pieces_of_usda() -> None:
    """USDA SR28 01123: egg small 38, medium 44, large 50, extra large 56, jumbo 63 g
    without shell; 01124 white 33 and 01125 yolk 17 of a large egg."""
    egg = ingredient("egg_whole").portions
    sizes = ("small", "medium", "large", "extra large", "jumbo")
    assert [egg[s] for s in sizes] == [38, 44, 50, 56, 63]
    assert ingredient("egg_white").portions["piece"] == 33
    assert ingredient("egg_yolk").portions["piece"] == 17
    assert ingredient("salt_table").portions["tsp"] == 6


class TestTheTable:
    table = ingredients()

    def test_there_are_120_or_more(self) -> None:
        assert len(self.table) >= 120
        assert self.table.index.is_unique

    def test_roles_are_known(self) -> None:
        assert set(self.table["role"]) <= set(ROLES)
        assert {"flour", "water", "yeast", "starter", "salt", "egg"} <= set(
            self.table["role"]
        )

    def test_contents_do_not_exceed_100_grams(self) -> None:
        parts = self.table[["water_g", "protein_g", "fat_g", "carb_g"]].sum(axis=1)
        assert (parts <= 101).all(), list(self.table.index[parts > 101])
        assert (self.table[["water_g", "fat_g"]].fillna(0) >= 0).all(axis=None)

    def test_cups_are_in_order(self) -> None:
        low, mid, high = (self.table[f"cup_{c}_g"] for c in ("low", "mid", "high"))
        known = mid.notna()
        assert (low[known] <= mid[known]).all()
        assert (mid[known] <= high[known]).all()
        assert (low[known] > 0).all()

    def test_every_row_has_a_source_of_a_known_form(self) -> None:
        form = re.compile(
            r"USDA|common practice|from memory|HERR|by definition|computed"
        )
        wrong = [k for k, s in self.table["source"].items() if not form.search(s)]
        assert wrong == []

    def test_flour_shares(self) -> None:
        flours = self.table[self.table["role"] == "flour"]
        assert (flours["flour_share"] == 1).all()
        others = self.table[~self.table["role"].isin(["flour", "starter"])]
        assert set(others.index[others["flour_share"] > 0]) == {"flour_scald"}
        assert self.table["flour_share"].between(0, 1).all()

    @pytest.mark.parametrize("language", ["en", "de", "fr"])
    def test_a_word_belongs_to_one_ingredient(self, language: str) -> None:
        words = {
            k: set(w.split("|")) - {""} if isinstance(w, str) else set(w)
            for k, w in self.table[language].items()
        }
        clashes = [(a, b, words[a] & words[b]) for a, b in combinations(words, 2)
                   if words[a] & words[b]]  # fmt: skip
        assert clashes == []

    @pytest.mark.parametrize("language", ["en", "de", "fr"])
    def test_every_name_finds_its_own_ingredient(self, language: str) -> None:
        missed = [
            (key, name)
            for key in self.table.index
            for name in getattr(ingredient(key), language)
            if getattr(find_ingredient(name, language=language), "key", None) != key
        ]
        assert missed == []


FOUND = [
    ("unbleached all-purpose flour", "wheat_all_purpose"),
    ("strong white bread flour", "wheat_bread"),
    ("warm (not hot) water", "water"),
    ("active dry - yeast", "yeast_active_dry"),
    ("unsalted butter, softened", "butter_unsalted"),
    ("rice flour", "rice_white"),
    ("self-raising flour", "wheat_self_raising"),
    ("egg yolks", "egg_yolk"),
    ("whites of 2 eggs", "egg_white"),
    ("sour cream", "sour_cream"),
    ("cream of tartar", "cream_of_tartar"),
    ("baking powder", "baking_powder"),
    ("brown sugar, packed", "sugar_brown"),
    ("extra-virgin olive oil", "oil_olive"),
    ("dry milk powder", "milk_dry_nonfat"),
    ("whole milk", "milk_whole"),
    ("fine sea salt", "salt_sea_fine"),
    ("Weizenmehl Type 550", "wheat_type_550"),
    ("lauwarmes Wasser", "water"),
    ("zimmerwarme Butter", "butter_unsalted"),
    ("Trockenhefe", "yeast_active_dry"),
    ("frische Hefe", "yeast_fresh"),
    ("Backpulver", "baking_powder"),
    ("Eier (Größe M)", "egg_whole"),
    ("Eigelb", "egg_yolk"),
    ("Roggenvollkornmehl", "rye_whole"),
    ("farine T55", "wheat_t55"),
    ("eau tiède", "water"),
    ("levure chimique", "baking_powder"),
    ("œufs", "egg_whole"),
    ("huile d'olive", "oil_olive"),
    ("sel fin", "salt_table"),
]
ROLE_FOUND = [
    ("Dinkelvollkornmehl", "flour"),
    ("Sonnenblumenkernöl", "fat"),
    ("Roggenmehl Type 1150", "flour"),
    ("farine de seigle", "flour"),
    ("huile de tournesol", "fat"),
    ("levain liquide", "starter"),
    ("Anstellgut", "starter"),
    ("ripe sourdough starter", "starter"),
    ("poolish", "starter"),
    ("Puderzucker", "sweetener"),
    ("crème fraîche", "dairy"),
    ("sunflower seeds", "inclusion"),
    ("bicarbonate de soude", "leavening"),
    ("Natron", "leavening"),
    ("lait entier", "dairy"),
]
TRAPS = [
    ("butter lettuce", "butter_unsalted"),
    ("peanut butter", "butter_unsalted"),
    ("milk chocolate", "milk_whole"),
    ("flour tortillas", "wheat_all_purpose"),
    ("bread crumbs", "wheat_bread"),
    ("water chestnuts", "water"),
    ("almond milk", "almonds"),
    ("coconut oil", "coconut_flour"),
    ("corn syrup", "cornmeal"),
    ("potato starch", "potato"),
]


@pytest.mark.parametrize(("text", "key"), FOUND)
def test_found_in_its_words(text: str, key: str) -> None:
    found = [find_ingredient(text, language=lang) for lang in ("en", "de", "fr")]
    assert key in [m.key for m in found if m is not None]


@pytest.mark.parametrize(("text", "role"), ROLE_FOUND)
def test_role_of_its_words(text: str, role: str) -> None:
    found = [find_ingredient(text, language=lang) for lang in ("en", "de", "fr")]
    assert role in [ingredient(m.key).role for m in found if m is not None]


@pytest.mark.parametrize(("text", "not_key"), TRAPS)
def test_the_head_noun_decides(text: str, not_key: str) -> None:
    match = find_ingredient(text)
    assert match is None or match.key != not_key or not match.certain


@pytest.mark.parametrize(
    "text",
    ["flour", "milk", "yeast", "butter", "white flour (bread or all-purpose)"],
)
def test_a_plain_word_is_taken_in_its_usual_meaning_and_not_for_sure(text: str) -> None:
    match = find_ingredient(text)
    assert match is not None
    assert not match.certain


@pytest.mark.parametrize("text", ["", "unobtainium", "9x13", "the quick fox", "鹽"])
def test_unknown_words_give_nothing(text: str) -> None:
    assert find_ingredient(text) is None


@pytest.mark.parametrize("text", ["oven-safe pan", "parchment paper", "Backpapier"])
def test_equipment_is_no_ingredient(text: str) -> None:
    assert head_is_equipment(text)
    assert not head_is_equipment("bread flour")


def test_an_unknown_key_names_the_closest() -> None:
    with pytest.raises(UnknownIngredientError, match="wheat_bread"):
        ingredient("wheat_braed")


@given(st.text(max_size=80), st.sampled_from(["en", "de", "fr"]))
@settings(deadline=None)
def test_any_text_gives_a_match_or_nothing(text: str, language: str) -> None:
    match = find_ingredient(text, language=language)
    assert match is None or ingredient(match.key)


def test_white_and_yolk_are_not_mixed_up() -> None:
    """USDA SR28 01124 white: 87.57 g water, 0.17 g fat; 01125 yolk: 52.31 and 26.54."""
    white, yolk = ingredient("egg_white"), ingredient("egg_yolk")
    assert (white.water_g, white.fat_g) == (87.57, 0.17)
    assert (yolk.water_g, yolk.fat_g) == (52.31, 26.54)
