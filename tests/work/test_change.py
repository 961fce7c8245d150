"""Whatever moves: what is to be held is held, or it is said that it is not."""

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from bakelab.errors import BakelabError
from bakelab.formula import Formula, Row
from bakelab.ingredients import ingredient
from bakelab.preferments import prefermented_pct
from bakelab.variants import HOLDS, Variant, change, side_by_side
from bakelab.variants.moving import percent

STRAIGHT = Formula.from_pairs(
    [("wheat_bread", 400), ("wheat_whole", 100), ("water", 250), ("milk_whole", 100),
     ("butter_unsalted", 25), ("sugar_white", 15), ("honey", 10), ("egg_whole", 50),
     ("salt_table", 10), ("yeast_instant", 5)]
)  # fmt: skip
STAGED = Formula(
    (
        Row("levain", "wheat_bread", "flour", "flour", 50),
        Row("levain", "water", "water", "water", 50),
        Row("levain", "starter_liquid", "seed", "starter", 10, 100),
        Row("dough", "wheat_bread", "flour", "flour", 450),
        Row("dough", "rye_medium", "rye", "flour", 50),
        Row("dough", "water", "water", "water", 300),
        Row("dough", "salt_table", "salt", "salt", 10),
        Row("dough", "milk_whole", "milk", "dairy", 40),
        Row("dough", "butter_unsalted", "butter", "fat", 30),
        Row("dough", "sugar_white", "sugar", "sweetener", 20),
    )
)
WHAT = ("salt", "sweetener", "fat", "egg", "dairy", "yeast", "hydration", "water",
        "wheat_whole", "rye_medium", "milk_whole", "honey", "starter", "raisins",
        "prefermented_flour")  # fmt: skip


def _sweetness_g(formula: Formula) -> float:
    """Milk sugar counts 16 %, every other sugar 100 %; flour brings none."""
    return sum(
        r.mass_g
        * ingredient(r.ingredient).sugars_g
        / 100
        * (0.16 if r.role == "dairy" else 1.0)
        for r in formula.rows
        if r.role not in ("flour", "starter")
    )


def _part_g(formula: Formula, what: str) -> float:
    return formula.composition()[what] * formula.dough_g / 100


#: What each hold is about, counted from the formula's own public numbers.
AMOUNT = {
    "flour": lambda f: f.flour_g,
    "dough": lambda f: f.dough_g,
    "pan": lambda f: f.dough_g,
    "solids": lambda f: f.dough_g - _part_g(f, "water"),
    "liquids": lambda f: f.water_g,
    "fat": lambda f: _part_g(f, "fat"),
    "sweetness": _sweetness_g,
}
SIZES = ("dough", "pan", "solids")


@settings(max_examples=400, deadline=None)
@given(
    st.sampled_from([STRAIGHT, STAGED]),
    st.sampled_from(WHAT),
    st.one_of(st.just(0.0), st.floats(0, 5), st.floats(5, 120)),
    st.lists(st.sampled_from(list(HOLDS)), min_size=1, max_size=3, unique=True),
)
def test_what_is_said_to_be_held_is_held(
    formula: Formula, what: str, pct: float, holds: list[str]
) -> None:
    """To 1e-9 of a gram; where everything is scaled, to the same flour."""
    try:
        done = change(formula, what, to=pct, hold=holds)
    except BakelabError:
        reject()
    made = done.formula
    now = prefermented_pct if what == "prefermented_flour" else None
    assert (now(made) if now else percent(made, what)) == pytest.approx(pct, abs=1e-9)
    assert min(r.mass_g for r in made.rows) >= 0
    assert len(done.held) + len(done.not_held) == len(holds)
    scaled = "flour" not in holds and any(h in SIZES for h in holds)
    for hold in (h for h in holds if h in done.held):
        factor = 1.0
        if scaled and hold not in SIZES:
            factor = formula.flour_g / made.flour_g
        before, after = AMOUNT[hold](formula), AMOUNT[hold](made) * factor
        assert after == pytest.approx(before, abs=1e-9)


@given(st.sampled_from(WHAT), st.floats(0, 120), st.floats(0.001, 1000))
@settings(max_examples=100, deadline=None)
def test_percentages_do_not_depend_on_the_size_of_the_batch(
    what: str, pct: float, factor: float
) -> None:
    try:
        small = change(STRAIGHT, what, to=pct).formula
    except BakelabError:
        with pytest.raises(BakelabError):
            change(STRAIGHT.scaled(factor), what, to=pct)
        return
    large = change(STRAIGHT.scaled(factor), what, to=pct).formula
    assert [r.mass_g for r in large.rows] == pytest.approx(
        [r.mass_g * factor for r in small.rows], rel=1e-9, abs=1e-9
    )


@given(st.sampled_from(("salt", "fat", "egg", "water")), st.floats(0.1, 40))
def test_there_and_back_is_the_same_dough(what: str, pct: float) -> None:
    before = percent(STRAIGHT, what)
    there = change(STRAIGHT, what, to=pct, hold="flour").formula
    back = change(there, what, to=before, hold="flour").formula
    assert Variant(back, "back").key == Variant(STRAIGHT, "first").key


def test_no_variant_takes_anothers_column() -> None:
    """Two of one name, and one that is called as the second would be."""
    names = ["a", "a (2)", "a", "a: difference"]
    table = side_by_side(
        [Variant(STRAIGHT.scaled(n + 1), name) for n, name in enumerate(names)],
        show="grams",
    ).set_index("what")
    flour_g = [v for k, v in table.loc["flour (g)"].items() if not isinstance(v, str)]
    assert flour_g == pytest.approx([500, 1000, 1500, 2000])
    assert table.columns.is_unique
