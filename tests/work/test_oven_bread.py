"""Baking: the plateau, the crust, the balances, and what other pans change."""

from dataclasses import replace

import numpy as np
import pytest

from bakelab.errors import FitError
from bakelab.formula import Formula
from bakelab.oven import PAN_SURFACES, UNKNOWNS, estimate_bake, house_heating
from bakelab.oven import oven as read_oven
from bakelab.oven.baking import Case, bake, gas_free_of, nominal
from bakelab.oven.body import body_of
from bakelab.oven.boiling import boiling_c
from bakelab.oven.calibration import heating_for
from bakelab.oven.food_properties import dough_composition
from bakelab.oven.material import dough_material
from bakelab.oven.mesh import box
from bakelab.oven.solver import Run, simulate
from bakelab.oven.surroundings import Side, Surroundings
from bakelab.pans import pan
from bakelab.units import Q_

TIN = "loaf 9 x 5 x 2.75 in"


def bread(**meta) -> Formula:
    return Formula.from_pairs(
        [
            ("wheat_bread", 500),
            ("water", 320),
            ("salt_table", 10),
            ("shortening", 15),
            ("yeast_instant", 5),
        ],
        **({"style": "white_pan", "oven": "200 °C", "bake_minutes": (34, 36)} | meta),
    )


def case(spec: str, grams: float = 850, setting: str = "200 C") -> Case:
    mix = dough_composition(bread())
    body = body_of(pan(spec), grams, gas_free_kg_m3=gas_free_of(mix))
    return Case(body, mix, read_oven(setting), "grey")


def run(spec: str, minutes: float, grid: str = "quick", **meta) -> Run:
    return bake(
        case(spec, **meta),
        nominal(end_c=96, start_c=30),
        expected_s=2100,
        until_s=60 * minutes,
        to_the_end=True,
        grid=grid,
        cut_every_s=600,
    )


def when(spec: str, *, grid: str = "quick", heating: float = 1.0, grams=850) -> float:
    unknowns = nominal(end_c=96, start_c=30, heating=[heating])
    found = bake(case(spec, grams), unknowns, expected_s=2100, until_s=9000, grid=grid)
    return float(found.when_core_reaches(unknowns.end_c)[0]) / 60


def test_crumb_holds_at_boiling_while_the_crust_goes_on():
    """Zanoni, Peri & Pierucci, J. Food Eng. 19 (1993) 383-398, abstract.

    Crumb to 100 degC, crust towards the oven's temperature, crumb keeps its water.
    """
    long = run(TIN, 75)
    core = long.core_c[:, 0]
    assert core.max() == pytest.approx(boiling_c(0), abs=0.2)
    assert (core <= boiling_c(0) + 1e-6).all()
    crust = long.surfaces["top"][:, 0]
    assert 150 < crust[-1] < 200
    assert crust[-1] > crust[len(crust) // 2] > crust[4]
    _, _, water = long.cuts[3]
    middle = water.reshape(*long.mesh.shape, 1)[0, 0, 5, 0]
    start = case(TIN).material(nominal(end_c=96, start_c=30)).water[0]
    assert middle == pytest.approx(start, rel=0.15)
    assert middle >= start


def test_evaporation_front_moves_inwards():
    long = run(TIN, 60)
    dry = [int((water < 1.0).sum()) for _, _, water in long.cuts]
    assert dry == sorted(dry)
    assert dry[0] == 0
    assert dry[-1] > 0


@pytest.mark.parametrize(
    "spec",
    [
        TIN,
        "round 20 x 7 cm",
        "fluted tube 25 x 10 cm",
        "sheet 40 x 30 x 3 cm",
        "hearth",
        "loaf 33 x 10 x 10 cm, lidded",
    ],
)
def test_heat_and_water_add_up(spec):
    """Issue: conserved to 0.1 %."""
    balance = run(spec, 40).balance
    assert balance.heat_off_error[0] < 1e-3
    assert balance.water_off_error[0] < 1e-3
    assert balance.water_lost_kg[0] > 0
    assert balance.heat_in_j[0] > 1e4


def test_heat_is_what_calorimetry_says():
    """Heat in = warming of dough + evaporation, by hand from the curves."""
    found = run(TIN, 35)
    grams, lost = 850.0, found.balance.water_lost_kg[0]
    warming = grams / 1e3 * 2.8e3 * (found.mean_c[-1, 0] - 30.0)
    rough = warming + lost * 2.26e6
    assert found.balance.heat_in_j[0] == pytest.approx(rough, rel=0.1)


def test_oven_starting_values_bake_an_ordinary_loaf_in_an_ordinary_time():
    """No fitting: a 9 x 5 in loaf at 200 degC; common practice 30 to 40 min."""
    assert 28 < when(TIN) < 42


def test_loss_lies_in_the_handbook_band_less_cooling():
    """Gisslen, ch. 6: 9.1 to 11.5 % of the dough, cooled loaf.

    Base: dough. Here at the oven's door, so 1 to 2 % less (common practice).
    """
    found = estimate_bake(bread(), TIN, TIN, samples=0)
    assert 7.0 < found.loss_pct[0] < 11.5


def test_zoned_tins_of_a_travelling_oven():
    """Therdthai, Zhou & Adamczak 2002, abstract: tins at 115/130/156/176 degC.

    27.4 min in four equal zones, crumb 99 degC. Reproduced within 6 K with a
    cross-section of 10 x 10 cm; the size of the loaf is not in the abstract.
    """
    one, quarter = np.ones(1), 27.4 * 60 / 4
    side = Side(1e9 * one, 0 * one, 0.005 * one)
    later = tuple((quarter * i, c * one) for i, c in ((1, 130), (2, 156), (3, 176)))
    found = simulate(
        box([0.30], [0.10], [0.10], (8, 8, 16), finer=0.7),
        dough_material(dough_composition(bread()), [0.75]),
        Surroundings(
            115.0 * one, dict.fromkeys(("top", "side", "bottom"), side), later=later
        ),
        start_c=35.0 * one,
        until_s=27.4 * 60,
        step_s=40.0,
    )
    assert found.core_c[-1, 0] == pytest.approx(99, abs=6)


def test_share_of_radiation():
    """Baik et al. 1999, abstract (cakes): 75 to 80 % of the flux; h 20 to 48.

    Our starting values for a still oven at 200 degC: not reproduced exactly, 67 to
    75 % and 25 to 28 W/(m2 K), inside the range of the coefficient.
    """
    around = case(TIN).surroundings(nominal(end_c=96, start_c=30))
    top = around.sides["top"]
    whole = top.coefficient(around.air_c)[0]
    assert 20 < whole < 48
    assert 0.6 < 1 - top.convection[0] / whole < 0.8


@pytest.mark.parametrize("spec", [TIN, "round 20 x 7 cm", "loaf 14 x 7 x 5 cm"])
def test_quick_grid_against_a_fine_one(spec):
    """Time and ratio of times: 5 % and 3 %, far inside the band."""
    quick, fine = when(spec), when(spec, grid="fine")
    assert quick == pytest.approx(fine, rel=0.05)
    assert quick / when(TIN) == pytest.approx(fine / when(TIN, grid="fine"), rel=0.03)


def test_half_the_steps_change_little():
    unknowns = nominal(end_c=96, start_c=30)
    times = [
        bake(case(TIN), unknowns, expected_s=s, until_s=9000).when_core_reaches(
            unknowns.end_c
        )[0]
        for s in (2100, 1050)
    ]
    assert times[0] == pytest.approx(times[1], rel=0.01)


def test_samples_side_by_side_are_as_one_by_one():
    unknowns = nominal(end_c=96, start_c=30, heating=[0.8, 1.0, 1.4])
    together = bake(case(TIN), unknowns, expected_s=2100, until_s=2100, to_the_end=True)
    for i, heating in enumerate((0.8, 1.0, 1.4)):
        alone = bake(
            case(TIN),
            nominal(end_c=96, start_c=30, heating=[heating]),
            expected_s=2100,
            until_s=2100,
            to_the_end=True,
        )
        # the largest step is stable for all samples, so the stages are the same
        assert alone.core_c[:, 0] == pytest.approx(together.core_c[:, i], rel=1e-6)


def test_steam_warms_the_surface_sooner():
    dry = run("hearth", 6)
    steamed = bake(
        replace(case("hearth"), setting=read_oven("200 C", steam=Q_(10, "minute"))),
        nominal(end_c=96, start_c=30),
        expected_s=2100,
        until_s=360,
        to_the_end=True,
    )
    assert steamed.surfaces["top"][2, 0] > dry.surfaces["top"][2, 0] + 5
    assert steamed.loss[-1, 0] < dry.loss[-1, 0]


def test_a_dark_pan_is_faster_than_a_bright_one_and_a_fan_than_none():
    times = {}
    for surface in PAN_SURFACES:
        one = replace(case(TIN), surface=surface)
        unknowns = nominal(end_c=96, start_c=30)
        found = bake(one, unknowns, expected_s=2100, until_s=9000)
        times[surface] = found.when_core_reaches(unknowns.end_c)[0]
    assert times["dark"] < times["grey"] < times["bright"]
    assert times["dark"] < times["glass"]
    fan = replace(case(TIN), setting=read_oven("200 C, fan"))
    unknowns = nominal(end_c=96, start_c=30)
    faster = bake(fan, unknowns, expected_s=2100, until_s=9000)
    assert faster.when_core_reaches(unknowns.end_c)[0] < times["grey"]


def test_the_recipes_own_pan_takes_the_recipes_time():
    found = estimate_bake(bread(), TIN, TIN, samples=0)
    assert found.middle_minutes == pytest.approx(35, abs=0.2)
    assert found.same_crust.air_c == pytest.approx(200, abs=1)
    assert found.same_crust.minutes == pytest.approx(35, abs=0.3)
    assert found.low_minutes == found.high_minutes == found.middle_minutes


def test_a_small_tin_is_sooner_and_wants_it_hotter():
    found = estimate_bake(bread(), TIN, "loaf 14 x 7 x 5 cm", samples=24)
    assert found.middle_minutes < 25
    assert found.low_minutes < found.middle_minutes < found.high_minutes
    assert found.look_from_minutes < found.low_minutes
    other = found.same_crust
    assert other.reached
    assert other.air_c > 205
    assert other.minutes < found.middle_minutes
    assert other.browning == pytest.approx(found.browning[0], rel=0.05)
    assert "look at it from" in found.text
    assert f"{other.air_c:.0f} °C" in found.text


@pytest.mark.parametrize("fewer", [32, 64])
def test_band_ends_hardly_move_with_more_samples(fewer: int):
    """By less than half a minute; the panel takes 32."""
    few, many = (
        estimate_bake(bread(), TIN, "round 20 x 7 cm", samples=n).band
        for n in (fewer, 128)
    )
    assert few.low == pytest.approx(many.low, abs=0.5)
    assert few.high == pytest.approx(many.high, abs=0.5)
    assert few.unfinished == 0
    assert set(few.effects) == {u.name for u in UNKNOWNS}


def test_band_of_the_same_pan_is_the_recipes_own_range():
    """What is not known of the loaf cancels; the range of the time stays."""
    found = estimate_bake(bread(), TIN, TIN, samples=48)
    assert found.low_minutes == pytest.approx(34, abs=1.0)
    assert found.high_minutes == pytest.approx(36, abs=1.0)
    assert next(iter(found.band.effects)) in ("time", "again")


def test_curves_cuts_balance_and_plan():
    found = estimate_bake(bread(), TIN, "round 20 x 7 cm", samples=0)
    curves = found.curves
    assert list(curves.pan.unique()) == ["recipe's pan", "new pan"]
    last = curves[curves.pan == "new pan"].iloc[-1]
    assert last.minutes == pytest.approx(found.middle_minutes, abs=2.5)
    assert last.core_c >= found.end_c
    assert (found.balance.off_pct < 0.1).all()
    assert "add up" in found.balance_text
    cuts = found.cuts
    one = cuts[(cuts.pan == "new pan") & (cuts.minutes == 0)]
    area = (one.width_cm * one.height_cm).sum()
    body = found.cases[1].body
    assert area == pytest.approx(body.across_cm * body.height_cm, rel=0.01)
    assert one.celsius.max() == pytest.approx(30)
    assert one.water_pct.min() == pytest.approx(100)
    plan = found.plan
    assert (plan.minutes.diff().dropna() >= 0).all()
    assert "probe" in " ".join(plan.what)
    assert found._repr_html_().count("<li>") >= 4


def test_altitude_keeps_the_crumb_cooler():
    found = estimate_bake(bread(), TIN, TIN, samples=0, altitude=Q_(10000, "ft"))
    assert found.end_c < boiling_c(3048)
    assert found.curves.core_c.max() < boiling_c(3048) + 0.01
    assert any("boiling point" in note for note in found.assumed)


def test_cautions_come_when_they_are_due():
    plain = estimate_bake(bread(), TIN, TIN, samples=0).cautions
    assert [c.split(":")[0] for c in plain] == ["Clock"]
    rich = Formula.from_pairs(
        [("wheat_bread", 500), ("milk_whole", 250), ("egg_whole", 100)],
        oven="180 °C",
        bake_minutes=(35, 35),
    )
    lidded = estimate_bake(rich, TIN, "loaf 33 x 10 x 10 cm, lidded", samples=0)
    subjects = [c.split(":")[0] for c in lidded.cautions]
    assert "Rich in egg and dairy" in subjects
    assert "Lid" in subjects
    assert "local food-safety rules" in " ".join(lidded.cautions)


def test_a_recipe_whose_time_is_too_short_is_carried_over_and_said():
    found = estimate_bake(bread(bake_minutes=(12, 12)), TIN, TIN, samples=0)
    assert found.middle_minutes == pytest.approx(12, rel=0.02)
    assert any(c.startswith("Recipe's time:") for c in found.cautions)


def test_own_readings_sharpen_the_oven():
    """Readings made with a strength of 1.3 are found again."""
    unknowns = nominal(end_c=96, start_c=27, heating=[1.3])
    own = bake(case(TIN), unknowns, expected_s=2100, until_s=2100, to_the_end=True)
    readings = [
        (Q_(m, "minute"), Q_(float(own.at(own.core_c, 60.0 * m)[0]), "degC"))
        for m in (0, 10, 18, 26, 34)
    ]
    learned = house_heating(bread(), TIN, readings, oven="200 C")
    assert learned.heating == pytest.approx(1.3, rel=0.03)
    assert learned.off_k < 1.5
    assert not learned.at_edge
    found = estimate_bake(
        bread(bake_minutes=None), TIN, TIN, heating=learned.heating, samples=0
    )
    assert found.middle_minutes == pytest.approx(
        when(TIN, heating=learned.heating), abs=3
    )


def test_interpolated_strength_is_exact_for_a_power_law():
    tried = np.array([0.5, 1.0, 2.0, 4.0])
    heating, carried = heating_for(tried, 40 / tried**0.5, 30.0)
    assert heating == pytest.approx((40 / 30) ** 2)
    assert carried == 1.0
    _, carried = heating_for(tried, 40 / tried**0.5, 10.0)
    assert carried == pytest.approx(0.5)


def test_settings_in_words_and_steps():
    assert read_oven("400 F, fan").describe() == "204 °C, fan"
    stepped = read_oven(
        "250 C", later=[(Q_(10, "minute"), Q_(200, "degC"))], steam=Q_(8, "minute")
    )
    assert stepped.last_c == 200
    assert stepped.at(240).later == ((10, 190),)
    found = estimate_bake(bread(), TIN, TIN, oven=stepped, samples=0)
    assert found.middle_minutes == pytest.approx(35, abs=0.3)
    assert "let the steam out" in list(found.plan.what)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"oven": Q_(90, "degC")}, "never gets done: in an oven at 90 °C"),
        ({"start": Q_(-18, "degC")}, "frozen"),
        ({"core_end": Q_(120, "degC")}, "water boils at 100.0 °C"),
        ({"oven": "warm"}, "no oven temperature in 'warm'"),
        ({"oven": "1e9 C"}, "no oven temperature in '1e9 C'"),
        ({"oven": Q_(900, "degC")}, "not computed"),
        ({"bake_minutes": 0}, "a bake time of 0 to 0 min"),
        ({"to_dough": Q_(4, "kg")}, "no porosity is left"),
        ({"to_dough": Q_(0, "g")}, "cannot be baked"),
        ({"to_surface": "wood"}, "no kind of pan 'wood'"),
        ({"samples": 3}, "24 or more"),
        ({"heating": 99.0}, "no oven's"),
    ],
)
def test_bad_questions_get_a_sentence(change, words):
    with pytest.raises(FitError, match=words):
        estimate_bake(bread(), TIN, TIN, **change)


def test_a_recipe_without_time_or_oven_is_refused():
    with pytest.raises(FitError, match="states no bake time"):
        estimate_bake(bread(bake_minutes=None), TIN, TIN)
    with pytest.raises(FitError, match="states no oven setting"):
        estimate_bake(bread(oven=""), TIN, TIN)


def test_a_cube_of_forty_centimetres_is_refused():
    with pytest.raises(FitError, match="too thick to compute"):
        estimate_bake(bread(), TIN, "loaf 40 x 40 x 40 cm", samples=0)


def test_too_few_readings_are_refused():
    with pytest.raises(FitError, match="1 readings"):
        house_heating(bread(), TIN, [(Q_(0, "minute"), Q_(30, "degC"))], oven="200 C")


def test_a_bare_number_for_a_quantity_is_refused():
    with pytest.raises(TypeError, match="start needs a unit"):
        estimate_bake(bread(), TIN, TIN, start=30)
