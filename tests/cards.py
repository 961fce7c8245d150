"""Bread cards of the US armed forces: 100 portions, in ounces."""

__all__ = ["D009_OZ", "D055_OZ", "OZ_G"]

OZ_G = 28.349523125  # UCUM essence table: pound 453.59237 g / 16
# TM 10-412 (2003), card D 009 00, white bread (short-time), 100 portions, ounces:
# en.wikisource.org/wiki/Page:TM-10-412_(2003).pdf/136 (public domain). Percentages,
# total and water computed there from the printed weights.
D009_OZ = [
    ("yeast_active_dry", 3),
    ("water", 16),
    ("sugar_white", 0.75),
    ("water", 66),
    ("milk_dry_nonfat", 3.625),
    ("sugar_white", 3.5),
    ("wheat_bread", 116),
    ("wheat_bread", 38),
    ("shortening", 5.875),
    ("salt_table", 1.875),
]
# The same manual, card D 055 00, whole-wheat bread, page 279.
D055_OZ = [
    ("yeast_active_dry", 1 + 2 / 3),
    ("water", 12.5),
    ("water", 66),
    ("milk_dry_nonfat", 4.5),
    ("sugar_white", 10.625),
    ("salt_table", 2.5),
    ("wheat_bread", 68),
    ("wheat_whole", 56),
    ("shortening", 7.25),
]
