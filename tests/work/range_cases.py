"""What the tests of the bands share: names of sources, and formulas of each style."""

__all__ = ["FIGONI", "INCH_CM", "INVENTED", "WIHLFAHRT", "row_of"]


INCH_CM = 2.54
# The only printed sources of the table; each number of theirs is checked.
FIGONI = "Figoni, How Baking Works (Wiley 2003), ch. 7"
WIHLFAHRT = "Wihlfahrt, A Treatise on Baking"


def row_of(placed, measure, source):
    found = placed[(placed.measure == measure) & (placed.source == source)]
    assert len(found) == 1
    return found.iloc[0]


INVENTED = [
    (
        "white_pan",
        "",
        {
            "wheat_bread": 100,
            "water": 60,
            "yeast_fresh": 3,
            "sugar_white": 4,
            "butter_unsalted": 4,
            "milk_dry_nonfat": 2,
            "salt_table": 2,
        },
    ),
    (
        "baguette",
        "",
        {"wheat_bread": 100, "water": 68, "yeast_instant": 0.5, "salt_table": 1.9},
    ),
    (
        "brioche",
        "",
        {
            "wheat_bread": 100,
            "egg_whole": 50,
            "butter_unsalted": 50,
            "milk_whole": 12,
            "sugar_white": 12,
            "yeast_fresh": 4,
            "salt_table": 2,
        },
    ),
    (
        "country_sourdough",
        "",
        {
            "wheat_bread": 80,
            "wheat_whole": 10,
            "starter_liquid": 20,
            "water": 65,
            "salt_table": 2,
        },
    ),
    (
        "rye_dark",
        "",
        {
            "rye_medium": 66,
            "wheat_bread": 4,
            "starter_liquid": 60,
            "water": 48,
            "salt_table": 1.9,
        },
    ),
    (
        "whole_wheat_pan",
        "",
        {
            "wheat_whole": 100,
            "water": 72,
            "honey": 6,
            "oil_vegetable": 4,
            "yeast_active_dry": 1.4,
            "salt_table": 1.9,
        },
    ),
    (
        "quick_bread",
        "",
        {
            "wheat_all_purpose": 100,
            "sugar_white": 60,
            "egg_whole": 35,
            "oil_vegetable": 35,
            "milk_whole": 45,
            "baking_powder": 3,
            "salt_table": 0.8,
        },
    ),
    (
        "scone",
        "",
        {
            "wheat_all_purpose": 100,
            "butter_unsalted": 28,
            "milk_whole": 55,
            "baking_powder": 5,
            "sugar_white": 8,
            "salt_table": 0.8,
        },
    ),
    (
        "soda_bread",
        "",
        {
            "wheat_all_purpose": 60,
            "wheat_whole": 40,
            "buttermilk": 78,
            "baking_soda": 1.2,
            "salt_table": 1.5,
        },
    ),
    (
        "gluten_free_pan",
        "",
        {
            "rice_white": 55,
            "tapioca_starch": 45,
            "water": 90,
            "egg_whole": 15,
            "oil_vegetable": 6,
            "sugar_white": 5,
            "yeast_instant": 1.8,
            "salt_table": 1.9,
        },
    ),
    (
        "flat_unleavened",
        "",
        {"wheat_all_purpose": 100, "water": 50, "lard": 11, "salt_table": 1.5},
    ),
    (
        "festive_tall",
        "",
        {
            "wheat_bread": 80,
            "starter_stiff": 30,
            "water": 38,
            "egg_yolk": 35,
            "butter_unsalted": 45,
            "sugar_white": 32,
            "raisins": 45,
            "salt_table": 0.8,
        },
    ),
    (
        "raisin_pan",
        "",
        {
            "wheat_bread": 100,
            "water": 61,
            "raisins": 50,
            "sugar_white": 7,
            "butter_unsalted": 6,
            "yeast_active_dry": 1.6,
            "salt_table": 1.8,
        },
    ),
    (
        "bagel",
        "Chewy bagels",
        {
            "wheat_bread": 100,
            "water": 55,
            "yeast_instant": 0.6,
            "honey": 3,
            "salt_table": 2,
        },
    ),
    (
        "braided_egg",
        "Hefezopf",
        {
            "wheat_bread": 100,
            "milk_whole": 38,
            "egg_whole": 15,
            "butter_unsalted": 12,
            "sugar_white": 12,
            "yeast_fresh": 4,
            "salt_table": 1.5,
        },
    ),
    (
        "focaccia",
        "Focaccia au romarin",
        {
            "wheat_bread": 100,
            "water": 74,
            "oil_olive": 6,
            "yeast_fresh": 1.5,
            "salt_table": 2.2,
        },
    ),
    (
        "rye_mixed_light",
        "Roggenmischbrot",
        {
            "wheat_bread": 60,
            "rye_medium": 30,
            "starter_liquid": 20,
            "water": 58,
            "yeast_fresh": 1,
            "salt_table": 2,
        },
    ),
]
