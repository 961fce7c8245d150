"""Yeast against temperature, dough in the cold, schedules."""

import math
from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.errors import FitError, OutOfRangeWarning
from bakelab.fermentation import (
    CHILL_COLUMNS,
    MODELS,
    SCHEDULE_COLUMNS,
    Stage,
    chill,
    equivalent_time,
    plan_back,
    relative_rate,
    slowing_remarks,
    to_icalendar,
    yeast_for,
)
from bakelab.formula import Formula
from bakelab.units import Q_
from tests.work.exact_series import slab_left, sphere_left


def c(value: float):
    return Q_(value, "degC")


def minutes(value: float):
    return Q_(value, "minute")


def bread() -> Formula:
    return Formula.from_pairs(
        [("wheat_bread", 500), ("water", 325), ("salt_table", 10)]
    )


def model(name: str):
    return next(m for m in MODELS if m.name == name)


def test_cardinal_temperatures_of_the_paper():
    """Salvado et al. 2011, abstract: best 32.3 °C, none at 45.4 °C and below 1.3 °C."""
    rate = model("cardinal temperatures").rate
    places = np.linspace(0, 47, 4701)
    values = rate(places)
    assert places[values.argmax()] == pytest.approx(32.3, abs=0.02)
    assert values.max() == pytest.approx(1.0, abs=1e-6)
    assert rate(np.array(45.4)) == pytest.approx(0, abs=1e-9)
    assert rate(np.array(1.3)) == 0


def test_a_tenth_per_degree():
    """Trade article as seen: 1 °C more speeds yeast by about 10 percent."""
    faster = relative_rate(c(26))["a tenth per degree"]
    assert faster == pytest.approx(1.10)


def test_rates_double_per_ten_degrees():
    assert relative_rate(c(15))["double per ten degrees"] == pytest.approx(0.5)


def test_equivalent_time_by_hand():
    """90 min, 4 K warmer: 90/1.1^4 = 61.5 and 90/2^0.4 = 68.2 min."""
    found = equivalent_time(minutes(90), at=c(21), to=c(25))
    assert found.low_minutes == pytest.approx(90 / 1.1**4)
    assert found.minutes == pytest.approx(90 / 2**0.4)
    assert found.low_minutes < found.minutes < found.high_minutes
    assert "about 68 min at 25 °C (61 to 70 min)" in found.text
    assert found.time.to("hour").magnitude == pytest.approx(found.minutes / 60)


@given(at=st.floats(15, 34), to=st.floats(15, 34))
def test_there_and_back_is_the_same_time(at, to):
    there = equivalent_time(minutes(60), at=c(at), to=c(to))
    back = equivalent_time(minutes(there.minutes), at=c(to), to=c(at))
    assert back.minutes == pytest.approx(60, rel=1e-9)
    assert there.low_minutes <= there.minutes <= there.high_minutes


def test_the_band_widens_with_the_distance():
    near = equivalent_time(minutes(60), at=c(24), to=c(25))
    far = equivalent_time(minutes(60), at=c(12), to=c(25))
    assert far.high_minutes / far.low_minutes > near.high_minutes / near.low_minutes


def test_cold_and_heat_warn_and_the_impossible_is_refused():
    with pytest.warns(OutOfRangeWarning, match="read the band"):
        relative_rate(c(6))
    with pytest.raises(FitError, match="between -1 and 42"):
        relative_rate(c(50))
    with (
        pytest.warns(OutOfRangeWarning),
        pytest.raises(FitError, match="standing still"),
    ):
        equivalent_time(minutes(60), at=c(2), to=c(25))
    with pytest.raises(FitError, match="no proof"):
        equivalent_time(minutes(0), at=c(20), to=c(25))


def test_yeast_for_twice_the_time_is_half():
    middle, low, high = yeast_for(
        1.0, time=minutes(60), at=c(25), new_time=minutes(120), new_at=c(25)
    )
    assert (middle, low, high) == pytest.approx((0.5, 0.5, 0.5))
    cooler, low, high = yeast_for(
        1.0, time=minutes(60), at=c(25), new_time=minutes(60), new_at=c(21)
    )
    assert 1.2 < low <= cooler <= high < 1.5


def test_yeast_for_a_leap_is_refused():
    with pytest.raises(FitError, match="times the yeast"):
        yeast_for(1, time=minutes(60), at=c(25), new_time=minutes(600), new_at=c(25))
    with pytest.raises(FitError, match="does not raise"):
        yeast_for(0, time=minutes(60), at=c(25), new_time=minutes(60), new_at=c(25))


def test_sugar_and_salt_are_told_without_invented_figures():
    plain = slowing_remarks(Formula.from_pairs([("wheat_bread", 500), ("water", 300)]))
    assert plain == ()
    sweet = slowing_remarks(
        Formula.from_pairs(
            [("wheat_bread", 500), ("sugar_white", 75), ("salt_table", 8)]
        )
    )
    assert [r.split(",")[0] for r in sweet] == ["Sugar", "Salt"]


def _fourier_biot(found, length_m: float, seconds: float) -> tuple[float, float]:
    """From the dough's own properties at the mean temperature, by Choi and Okos."""
    from bakelab.oven.food_properties import (
        dough_composition,
        gas_free_conductivity,
        gas_free_density,
        heat_capacity,
        porous_conductivity,
    )
    from bakelab.oven.material import vapour_conductivity

    mix, mean_c = dough_composition(bread()), 12.0
    conductivity = porous_conductivity(gas_free_conductivity(mix, mean_c), 0.3)
    conductivity += vapour_conductivity(mean_c, 0.3)
    held = gas_free_density(mix, mean_c) * 0.7 * heat_capacity(mix, mean_c)
    assert found.run.balance.heat_off_error[0] < 1e-3
    return conductivity / held * seconds / length_m**2, 8.0 * length_m / conductivity


def test_a_ball_cools_as_the_series_says():
    """Carslaw & Jaeger: a sphere with a surface coefficient; properties vary 5 %."""
    found = chill(bread(), Q_(1, "kg"), start=c(25), fridge=c(4), time=Q_(4, "hour"))
    volume = found.run.mesh.volume.sum() * found.run.mesh.copies
    radius = (volume * 3 / (4 * math.pi)) ** (1 / 3)
    for hours in (1, 2, 3, 4):
        fourier, biot = _fourier_biot(found, radius, hours * 3600.0)
        exact = 4 + 21 * sphere_left(biot, fourier)
        core = found.run.at(found.run.core_c, hours * 3600.0)[0]
        assert core == pytest.approx(exact, abs=0.4)


def test_a_slab_cools_as_the_series_says():
    found = chill(
        bread(),
        Q_(3, "kg"),
        start=c(25),
        fridge=c(4),
        time=Q_(4, "hour"),
        shape="slab",
        thickness=Q_(8, "cm"),
    )
    for hours in (1, 2, 4):
        fourier, biot = _fourier_biot(found, 0.04, hours * 3600.0)
        exact = 4 + 21 * slab_left(biot, fourier)
        core = found.run.at(found.run.core_c, hours * 3600.0)[0]
        assert core == pytest.approx(exact, abs=0.4)


def test_a_batch_and_a_roll_get_different_answers():
    roll, batch = (
        chill(bread(), Q_(g, "g"), start=c(25), fridge=c(4), time=Q_(12, "hour"))
        for g in (90, 2000)
    )
    assert roll.hours_until(8) < 3 < batch.hours_until(8)
    assert batch.proof_minutes > 1.3 * roll.proof_minutes
    assert batch.low_minutes < batch.proof_minutes < batch.high_minutes
    curves = batch.curves
    assert tuple(curves.columns) == CHILL_COLUMNS
    assert (curves.surface_c[5:] <= curves.mean_c[5:]).all()
    assert (curves.mean_c[5:] <= curves.core_c[5:] + 1e-9).all()
    assert curves.proof_minutes.is_monotonic_increasing
    assert "After 12 h" in batch.text


def test_dough_that_stays_at_25_degrees_works_its_own_time():
    found = chill(bread(), Q_(500, "g"), start=c(25), fridge=c(25), time=Q_(2, "hour"))
    assert found.proof_minutes == pytest.approx(120, rel=1e-6)
    assert found.low_minutes == pytest.approx(found.high_minutes, rel=1e-6)


def test_cold_dough_warms_in_a_room():
    found = chill(bread(), Q_(500, "g"), start=c(4), fridge=c(22), time=Q_(6, "hour"))
    assert (found.curves.core_c.diff().dropna() > -0.01).all()
    assert 18 < found.curves.core_c.iloc[-1] < 22


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"start": -5}, "frozen"),
        ({"fridge": -18}, "freezes"),
        ({"fridge": 60}, "above 42 °C"),
        ({"hours": 0}, "0 h is not computed"),
        ({"hours": 200}, "200 h is not computed"),
        ({"grams": 0}, "0 g is not computed"),
        ({"shape": "pyramid"}, "no shape 'pyramid'"),
    ],
)
def test_bad_cold_gets_a_sentence(change, words):
    asked = {"start": 25, "fridge": 4, "hours": 12, "grams": 500, "shape": "ball"}
    asked |= change
    with pytest.raises(FitError, match=words):
        chill(
            bread(),
            Q_(asked["grams"], "g"),
            start=c(asked["start"]),
            fridge=c(asked["fridge"]),
            time=Q_(asked["hours"], "hour"),
            shape=asked["shape"],
        )


def loaf_plan():
    return plan_back(
        [
            Stage("mix, 5; fold", 20),
            Stage("first rise", Q_(1.5, "hour"), low=75, high=110, note="near 25 °C"),
            Stage("proof", "55 min", low=45, high=70),
            Stage("bake", "40 min"),
        ],
        ready=datetime(2026, 3, 7, 8, 0),
    )


def test_a_schedule_counts_back_from_ready():
    """By hand: 20 + 90 + 55 + 40 = 205 min before 8:00 is 4:35."""
    plan = loaf_plan()
    assert plan.start == datetime(2026, 3, 7, 4, 35)
    assert tuple(plan.frame.columns) == SCHEDULE_COLUMNS
    ends = [step.end for step in plan.steps]
    assert ends[-1] == plan.ready
    assert ends[:-1] == [step.start for step in plan.steps[1:]]
    last = plan.steps[-1]
    assert last.earliest == datetime(2026, 3, 7, 7, 35)
    assert last.latest == datetime(2026, 3, 7, 8, 35)
    assert plan.text.splitlines()[0] == "Sat 04:35 to 04:55  mix, 5; fold (20 min)"
    assert "08:00  ready" in plan.text


def test_a_schedule_over_night_crosses_the_day():
    plan = plan_back(
        [Stage("cold rise", "14 h"), Stage("bake", "40 min")],
        ready=datetime(2026, 3, 7, 8, 0),
    )
    assert plan.start == datetime(2026, 3, 6, 17, 20)


def test_icalendar_as_rfc_5545_wants_it():
    """RFC 5545: CRLF, escaped comma and semicolon (3.3.11), DTSTAMP in UTC (3.8.7.2).

    Lines of at most 75 octets (3.1).
    """
    text = to_icalendar(
        loaf_plan(), title="Harbour loaf", stamp=datetime(2026, 3, 6, 12, tzinfo=UTC)
    )
    lines = text.split("\r\n")
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-2:] == ["END:VCALENDAR", ""]
    assert "VERSION:2.0" in lines
    assert any(line.startswith("PRODID:") for line in lines)
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT") == 4
    assert "DTSTART:20260307T043500" in lines
    assert "DTEND:20260307T080000" in lines
    assert "DTSTAMP:20260306T120000Z" in lines
    assert r"SUMMARY:Harbour loaf: mix\, 5\; fold" in lines
    assert all(len(line.encode()) <= 75 for line in lines)
    uids = [line for line in lines if line.startswith("UID:")]
    assert len(set(uids)) == 4


def test_too_late_or_empty_schedules_are_refused():
    with pytest.raises(FitError, match="60 min too late"):
        plan_back(
            [Stage("bake", "40 min"), Stage("proof", "50 min")],
            ready=datetime(2026, 3, 7, 8, 0),
            now=datetime(2026, 3, 7, 7, 30),
        )
    with pytest.raises(FitError, match="at least one stage"):
        plan_back([], ready=datetime(2026, 3, 7, 8, 0))
    with pytest.raises(FitError, match="outside its own band"):
        plan_back([Stage("proof", 60, low=70, high=90)], ready=datetime(2026, 3, 7))
    with pytest.raises(FitError, match="takes -5 min"):
        plan_back([Stage("proof", -5)], ready=datetime(2026, 3, 7))
