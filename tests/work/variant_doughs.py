"""Doughs that ratios and exchanges are tried on."""

from dataclasses import replace

from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient

BREAD = Formula.from_pairs(
    [
        ("wheat_bread", 400),
        ("wheat_whole", 100),
        ("water", 250),
        ("milk_whole", 100),
        ("butter_unsalted", 25),
        ("sugar_white", 15),
        ("egg_whole", 50),
        ("salt_table", 10),
        ("yeast_instant", 5),
    ]
)
SOFT = BREAD.with_rows(
    replace(r, mass_g=300) if r.ingredient == "water" else r for r in BREAD.rows
)
SOUR = Formula(
    (
        Row("dough", "wheat_bread", "flour", "flour", 450),
        Row("dough", "water", "water", "water", 300),
        Row("dough", "starter_liquid", "levain", "starter", 100, 100),
        Row("dough", "salt_table", "salt", "salt", 10),
    )
)


def fat_g(formula: Formula) -> float:
    return formula.composition()["fat"] * formula.dough_g / 100


HELD = {
    "water": lambda f: f.water_g,
    "fat": fat_g,
    "protein": lambda f: f.composition()["protein"] * f.dough_g / 100,
    # Milk sugar counts 16 %, every other sugar 100 %; flour brings no sweetness.
    "sweetness": lambda f: sum(
        r.mass_g
        * ingredient(r.ingredient).sugars_g
        / 100
        * (0.16 if r.role == "dairy" else 1.0)
        for r in f.rows
        if r.role != "flour"
    ),
    "sodium": lambda f: f.composition()["sodium_mg"] * f.dough_g / 100,
    "mass": lambda f: f.dough_g,
    "solids": lambda f: f.dough_g - HELD["water"](f),
    "lean_solids": lambda f: f.dough_g - HELD["water"](f) - fat_g(f),
}
