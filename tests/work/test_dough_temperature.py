"""Water for a dough temperature: the rule, the balance, ice, friction."""

import iapws
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.dough_temperature import (
    HEAT_DRY,
    HEAT_WATER,
    MELTING_J_KG,
    Mix,
    friction_of,
    learn_friction,
    plan_water,
    water_by_rule,
)
from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven.food_properties import dough_composition, heat_capacity
from bakelab.units import Q_


def bread(flour_g: float = 1000.0) -> Formula:
    return Formula.from_pairs(
        [
            ("wheat_bread", flour_g),
            ("water", 0.65 * flour_g),
            ("salt_table", 0.02 * flour_g),
        ]
    )


def c(value: float):
    return Q_(value, "degC")


@pytest.mark.parametrize(("room", "flour", "water"), [(85, 67, 82), (72, 62, 100)])
def test_both_printed_examples_of_the_rule(room, flour, water):
    """Wihlfahrt, A Treatise on Baking, "The Temperature of the Bread Dough".

    85 + 67 + 82 = 234 and 72 + 62 + 100 = 234; a third of it is 78 degF.
    """
    found = water_by_rule(
        Q_(78, "degF"), {"room": Q_(room, "degF"), "flour": Q_(flour, "degF")}
    )
    assert found.to("degF").magnitude == pytest.approx(water, abs=1e-9)


def test_four_and_five_factors_and_friction():
    """By hand: 5 x 25 - 20 - 22 - 24 - 30 - 10 = 19."""
    found = water_by_rule(
        c(25),
        {
            "flour": c(20),
            "room": c(22),
            "preferment": c(24),
            "soaker": c(30),
            "friction": Q_(10, "delta_degC"),
        },
    )
    assert found.magnitude == pytest.approx(19)


def test_unknown_factors_are_refused():
    with pytest.raises(FitError, match="two to five of flour"):
        water_by_rule(c(25), {"flour": c(20), "moon": c(4)})
    with pytest.raises(FitError, match="got flour"):
        water_by_rule(c(25), {"flour": c(20)})


def test_all_at_one_temperature_needs_water_at_it():
    plan = plan_water(bread(), c(24), flour=c(24), room=c(24))
    assert plan.water_c == pytest.approx(24, abs=1e-9)
    assert plan.rule_c == pytest.approx(24, abs=1e-9)


@given(
    dough=st.floats(22, 27),
    flour=st.floats(16, 27),
    room=st.floats(18, 27),
    grams=st.floats(300, 50_000),
)
def test_mixing_the_plan_gives_the_dough(dough, flour, room, grams):
    """The balance from scratch: heat of all parts, and of bowl and room."""
    formula = bread(grams)
    plan = plan_water(formula, c(dough), flour=c(flour), room=c(room), tap=c(44))
    water, kg = plan.water_c, grams / 1e3
    heats = {
        "water": (0.65 * kg * HEAT_WATER, water),
        "flour": (kg * (0.13 * HEAT_WATER + 0.87 * HEAT_DRY), flour),
        "salt": (0.02 * kg * HEAT_DRY, room),
    }
    total = sum(heat for heat, _ in heats.values())
    bowl = 0.05 * (1.67 * kg) ** (-1 / 3) * total
    mixed = sum(h * t for h, t in heats.values()) + bowl * room
    assert mixed / (total + bowl) == pytest.approx(dough, abs=0.02)


def test_heat_capacities_against_choi_and_okos():
    """Dough at 25 degC by Choi and Okos (1986); ours has two rounded constants."""
    mix = dough_composition(bread())
    ours = mix.water * HEAT_WATER + (1 - mix.water) * HEAT_DRY
    assert ours == pytest.approx(heat_capacity(mix, 25), rel=0.02)


def test_ice_by_latent_heat():
    """Ice and tap water make the water that the balance asks for.

    333.55 kJ/kg of melting; water 4.19 kJ/(kg K) against IAPWS-95.
    """
    assert (
        pytest.approx(iapws.IAPWS97(T=288.15, P=0.101325).cp * 1e3, rel=0.002)
        == HEAT_WATER
    )
    plan = plan_water(
        bread(10_000),
        c(24),
        flour=c(28),
        room=c(30),
        tap=c(22),
        friction=Q_(25, "delta_degC"),
    )
    assert plan.ice_g > 0
    assert plan.ice_g + plan.tap_g == pytest.approx(6500)
    heat = plan.tap_g * HEAT_WATER * 22 - plan.ice_g * MELTING_J_KG
    assert heat / (6500 * HEAT_WATER) == pytest.approx(plan.water_c, abs=1e-6)
    assert "of ice" in plan.text


def test_cool_tap_needs_no_ice():
    plan = plan_water(bread(), c(25), flour=c(22), room=c(23), tap=c(14))
    assert plan.ice_g == 0
    assert plan.tap_g == pytest.approx(650)


def test_balance_and_rule_differ_and_the_plan_says_why():
    """Water holds 58 % of the heat at 39 % of the mass, so it moves less."""
    plan = plan_water(bread(), c(25), flour=c(15), room=c(25))
    assert plan.rule_c == pytest.approx(35)
    assert 27 < plan.water_c < plan.rule_c
    assert "39 % of its mass" in plan.explanation
    assert f"{plan.water_c:.1f} °C" in plan.explanation
    assert plan.working == "3 x 25 - 15 (flour) - 25 (room) = 35 °C"


def test_a_warm_preferment_asks_for_cooler_water():
    own = plan_water(bread(), c(25), flour=c(20), room=c(22))
    warm = plan_water(
        bread(), c(25), flour=c(20), room=c(22), preferment=(Q_(300, "g"), c(30))
    )
    cold = plan_water(
        bread(), c(25), flour=c(20), room=c(22), preferment=(Q_(300, "g"), c(8))
    )
    assert warm.water_c < own.water_c < cold.water_c
    assert warm.rule_c == pytest.approx(4 * 25 - 20 - 22 - 30)


def test_a_starter_with_its_own_row_keeps_the_plain_water():
    formula = Formula.from_pairs(
        [("wheat_bread", 900), ("water", 550), ("starter_liquid", 200)]
    )
    plan = plan_water(
        formula,
        c(25),
        flour=c(20),
        room=c(22),
        preferment=(Q_(200, "g"), c(26)),
        tap=c(40),
    )
    assert plan.ice_g + plan.tap_g == pytest.approx(550)


def test_friction_is_learned_from_own_mixes():
    """By hand: 3 x 26 - 22 - 24 - 18 = 14 and 3 x 26 - 21 - 23 - 20 = 14."""
    own = [Mix(22, 24, 18, 26), Mix(21, 23, 20, 26), Mix(20, 22, 20, 27)]
    assert friction_of(own[0]) == 14
    learned = learn_friction(own)
    assert (learned.factor_k, learned.low_k, learned.high_k) == (14, 14, 19)
    assert learned.mixes == 3
    plan = plan_water(
        bread(),
        c(26),
        flour=c(22),
        room=c(24),
        friction=Q_(learned.factor_k, "delta_degC"),
        tap=c(25),
    )
    assert plan.rule_c == pytest.approx(18)


def test_friction_grows_with_the_length_of_the_mix():
    own = [Mix(22, 24, 18, 26, minutes=7.0)]
    assert learn_friction(own, minutes=14.0).factor_k == pytest.approx(28)


def test_friction_with_a_preferment_has_four_factors():
    """By hand: 4 x 26 - 22 - 24 - 20 - 25 = 13."""
    assert friction_of(Mix(22, 24, 20, 26, preferment_c=25)) == 13


def test_a_large_batch_loses_less_to_the_room_and_says_so():
    small = plan_water(bread(500), c(26), flour=c(20), room=c(18))
    large = plan_water(bread(50_000), c(26), flour=c(20), room=c(18))
    assert large.water_c < small.water_c
    assert any(r.startswith("Large batch") for r in large.remarks)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"dough": 30, "flour": -20, "room": 5}, "yeast bears about 43"),
        ({"dough": 17, "flour": 40, "room": 40}, "plan ice"),
        ({"dough": 6, "flour": 45, "room": 45, "tap": 30}, "more than half"),
        ({"dough": 80}, "dough at 80 °C"),
        ({"tap": -2, "dough": 18}, "is ice"),
    ],
)
def test_impossible_wishes_get_a_sentence(change, words):
    asked = {"dough": 25, "flour": 21, "room": 22} | change
    values = {name: c(v) for name, v in asked.items() if name != "dough"}
    with pytest.raises(FitError, match=words):
        plan_water(bread(), c(asked["dough"]), **values)


def test_a_dough_without_plain_water_is_refused():
    formula = Formula.from_pairs([("wheat_bread", 500), ("milk_whole", 330)])
    with pytest.raises(FitError, match="no plain water"):
        plan_water(formula, c(25), flour=c(21), room=c(22))


def test_no_mixes_or_cooling_ones_are_refused():
    with pytest.raises(FitError, match="at least one"):
        learn_friction([])
    with pytest.raises(FitError, match="as if mixing cooled it"):
        learn_friction([Mix(22, 24, 30, 15)])


def test_bare_numbers_are_refused():
    with pytest.raises(TypeError, match="dough needs a unit"):
        plan_water(bread(), 25, flour=c(21), room=c(22))
