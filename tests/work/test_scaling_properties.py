"""What holds for every fit, whatever the pans and masses."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bakelab.formula import Formula
from bakelab.pans import Pan
from bakelab.scaling import fit
from bakelab.units import Q_

lengths = st.floats(8, 40)
loaf_pans = st.builds(
    Pan,
    st.just("loaf"),
    length_cm=lengths,
    width_cm=lengths,
    depth_cm=lengths,
    lidded=st.booleans(),
    count=st.integers(1, 3),
    dome_unit=st.sampled_from(["in", "cm"]),
)
round_pans = st.builds(
    Pan,
    st.just("round"),
    diameter_cm=lengths,
    depth_cm=lengths,
    count=st.integers(1, 3),
)
any_pan = st.one_of(loaf_pans, round_pans)
domes = st.sampled_from(["fixed", "width", None])
FORMULA = Formula.from_pairs(
    [
        ("wheat_bread", 2183),
        ("water", 1162.5),
        ("milk_dry_nonfat", 51.5),
        ("butter_unsalted", 83.5),
        ("salt_table", 26.5),
        ("yeast_active_dry", 42.5),
    ],
    style="white_pan",
)


@settings(max_examples=60, deadline=None)
@given(old=any_pan, new=any_pan, dome=domes, by=st.sampled_from(["volume", "loading"]))
def test_fitting_keeps_every_percentage(old, new, dome, by):
    fitted = fit(FORMULA, from_=old, to=new, dome=dome, by=by)
    before, after = FORMULA.frame["bakers_pct"], fitted.formula.frame["bakers_pct"]
    assert after.tolist() == pytest.approx(before.tolist(), rel=1e-12)
    assert fitted.formula.hydration_pct == pytest.approx(FORMULA.hydration_pct)


@settings(max_examples=60, deadline=None)
@given(old=any_pan, new=any_pan, dome=domes)
def test_there_and_back_is_the_same_formula(old, new, dome):
    there = fit(FORMULA, from_=old, to=new, dome=dome)
    back = fit(there.formula, from_=new, to=old, dome=dome)
    assert there.factor * back.factor == pytest.approx(1, rel=1e-12)
    got = [row.mass_g for row in back.formula.rows]
    assert got == pytest.approx([row.mass_g for row in FORMULA.rows], rel=1e-12)


@settings(max_examples=40, deadline=None)
@given(
    pans=st.lists(any_pan, min_size=1, max_size=4),
    by=st.sampled_from(["volume", "loading"]),
    sticking=st.floats(0, 20),
)
def test_weights_of_several_pans_sum_to_the_batch(pans, by, sticking):
    fitted = fit(FORMULA, from_="loaf 9x5x3 in", to=pans, by=by, sticking_pct=sticking)
    shares = fitted.portions["count"] * fitted.portions["dough_g"]
    assert shares.tolist() == pytest.approx(fitted.portions["total_g"].tolist())
    assert shares.sum() + fitted.sticking_g == pytest.approx(fitted.formula.dough_g)


@given(
    grams=st.floats(10, 1e5),
    unit=st.sampled_from(["g", "kg", "oz", "lb", "mg"]),
    aim=st.sampled_from(["dough", "flour", "baked"]),
)
def test_unit_of_a_mass_does_not_matter(grams, unit, aim):
    loss = {"loss_pct": 10.0} if aim == "baked" else {}
    one = fit(FORMULA, **{aim: Q_(grams, "g")}, **loss).factor
    other = fit(FORMULA, **{aim: Q_(grams, "g").to(unit)}, **loss).factor
    assert one == pytest.approx(other, rel=1e-12)


@settings(max_examples=40, deadline=None)
@given(
    sides=st.tuples(st.integers(8, 60), st.integers(8, 60), st.integers(4, 40)),
    dome=domes,
)
def test_unit_of_a_pan_does_not_matter(sides, dome):
    inches = "loaf " + " x ".join(f"{side / 4:g}" for side in sides) + " in"
    metric = "loaf " + " x ".join(f"{side / 4 * 2.54:.6g}" for side in sides) + " cm"
    old = "loaf 9 x 5 x 3 in"
    one = fit(FORMULA, from_=old, to=inches, dome=dome).factor
    other = fit(FORMULA, from_=old, to=metric, dome=dome).factor
    assert one == pytest.approx(other, rel=1e-9)
