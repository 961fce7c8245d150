"""Readings as people and probes write them; nothing is dropped in silence."""

from datetime import UTC, date, datetime, timedelta, timezone

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bakelab.bakebook.facts import READINGS
from bakelab.bakebook.reading_sources import MOST_LINES
from bakelab.bakebook.reading_times import read_time
from bakelab.bakebook.readings import read_readings, read_rows
from bakelab.errors import BookError

DAY = date(2026, 3, 4)
CET = timezone(timedelta(hours=1))


def pairs(text, **options):
    found = read_readings(text, **options)
    assert found.unread == ()
    return [(r.kind, r.minute, r.value) for r in found.readings]


def moments(text, **options):
    found = read_readings(text, day=DAY, zone=CET, **options)
    assert found.unread == ()
    return [(f"{r.at:%d %H:%M:%S}", r.value) for r in found.readings]


CORE = [("core_c", 0.0, 27.5), ("core_c", 20.0, 90.0)]


@pytest.mark.parametrize(
    "text",
    [
        "0 27.5\n20 90",
        "0 27,5\n20 90",
        "0 min 27.5 °C\n20 min 90 °C",
        "0 min: 27,5 °C\n20 min: 90 C",
        "- core 27.5 C after 0 min\n- core 90 C after 20 min",
        "0,27.5\n20,90\n",
        "0;27,5\n20;90\n",
        "0\t27,5\n20\t90\n",
        "0|27.5|\n20|90|\n",
        "Time (min),Core (°C)\n0,27.5\n20,90\n",
        "Zeit [min];Kerntemperatur [°C]\r\n0;27,5\r\n20;90\r\n",
        "temps;température à cœur (°C)\n0 min;27,5\n20 min;90\n",
        "Time (s),Probe\n0,27.5\n1200,90\n",
        "Elapsed (h),Core\n0,27.5\n0.3333333333333,90\n",
        "Elapsed;Core °C\n0:00:00;27,5\n0:20:00;90,0\n",
        "Elapsed (mm:ss);Core °C\n00:00;27,5\n20:00;90,0\n",
        "Time,Core °C\n0:00,27.5\n0:20,90\n",
        "kind,minute,value,unit\ncore_c,0,27.5,°C\ncore_c,20,90,°C\n",
        "\ufeffminute,core_c\n0,27.5\n20,90\n",
        "no,Time (min),Core (°C),Battery (%)\n1,0,27.5,88\n2,20,90,88\n",
    ],
)
def test_the_same_core_in_many_hands(text):
    assert pairs(text) == [(k, pytest.approx(m), v) for k, m, v in CORE]


def test_fahrenheit_said_or_seen():
    """32 °F is 0 °C and 212 °F is 100 °C (NIST SP 811, appendix B.8)."""
    assert pairs("0 min 32 F\n9 min 212°F") == [("core_c", 0, 0), ("core_c", 9, 100)]
    assert pairs("min,Probe (°F)\n0,32\n9,212") == [
        ("core_c", 0, 0),
        ("core_c", 9, 100),
    ]
    found = read_readings("0 80.6\n20 199.4")
    assert [r.value for r in found.readings] == [27.0, 93.0]
    assert any("too hot for °C" in remark for remark in found.remarks)


def test_celsius_without_a_unit_is_said():
    assert "no unit is written; °C is taken" in read_readings("0 27\n9 80").remarks


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("pH 4,2 at 1 h", "ph", 4.2),
        ("rise 450 ml after 1 h", "rise_ml", 450),
        ("60 min 0,45 l", "rise_ml", 450),
        ("1 h 5 cm", "rise_mm", 50),
        ("60 min 2 inch", "rise_mm", 50.8),  # 25.4 mm to the inch, exact
        ("1 hour loss 61.5 g", "loss_g", 61.5),
    ],
)
def test_other_kinds_and_units(text, kind, value):
    assert pairs(text) == [(kind, 60, pytest.approx(value))]


def test_kind_that_is_asked_for():
    assert pairs("0 200\n60 410", kind="rise_ml")[1] == ("rise_ml", 60, 410)
    with pytest.raises(BookError, match="no kind of reading 'foo'"):
        read_readings("0 1", kind="foo")


def test_clock_times_and_midnight():
    found = moments("23:50 27.5 °C\n0:10 80 °C")
    assert found == [("04 22:50:00", 27.5), ("04 23:10:00", 80)]
    text = "Uhrzeit;Kern\n14:05 Uhr;27,5\n14.05.2026 14:25;80"
    assert read_readings(text, day=DAY).readings[0].at is not None
    assert moments("2:05 pm 27.5 C\n2:25 p.m. 80 C")[1] == ("04 13:25:00", 80)


@pytest.mark.parametrize(
    "text",
    [
        "timestamp,core_c\n2026-03-04T14:05:00+01:00,27.5\n",
        "timestamp;core_c\n2026-03-04 14:05;27,5\n",
        "Datum;Zeit;Kern\n04.03.2026;14:05;27,5\n",
        "Date,Time,Probe\n3/4/2026,2:05 PM,27.5\n3/25/2026,2:05 PM,27.5\n",
        "Date,Time,Probe\n4/3/2026,14:05,27.5\n25/3/2026,14:05,27.5\n",
    ],
)
def test_dates_with_day_or_month_first(text):
    assert moments(text)[0] == ("04 13:05:00", 27.5)


def test_minutes_and_seconds_of_a_long_log():
    text = "Time;Core\n" + "\n".join(f"{m:02}:30;{20 + m}" for m in range(0, 40, 10))
    found = read_readings(text)
    assert [r.minute for r in found.readings] == [0.5, 10.5, 20.5, 30.5]
    assert any("minutes and seconds" in remark for remark in found.remarks)


def test_what_is_not_understood_comes_back_whole():
    text = "Logger of the kitchen\nZeit;Kern (°C);Ofen (°C)\n0;27;220\n5;warm;220\n9;30"
    found = read_readings(text)
    assert [r.value for r in found.readings] == [27]
    assert [(u.line_no, u.text) for u in found.unread] == [
        (4, "5;warm;220"),
        (5, "9;30"),
    ]
    assert [u.text for u in found.before] == ["Logger of the kitchen"]
    assert any("'Ofen (°C)'" in remark for remark in found.remarks)
    with pytest.raises(BookError, match=r"line 4 'warm' is no number .* 1 more"):
        read_rows(text)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("0 27\nfoo 12 30", "'foo'"),
        ("0 27\n45", "told apart"),
        ("0 27\n5 min 6 min 30 °C", "is no time"),
        ("12,5,45,3", "comma"),
        ("0;1,200\n60;1,400", "thousands or decimals"),
        ("0 27\n5 min 400 °C", "core temperature"),
        ("0 27\n5 min 30 kPa", "kpa"),
        ("0 min 27 C\n30000 min 30 C", "two weeks"),
        ("pH 15 at 5 min", "from 0 to 14"),
        ("0;27\n5;1e999999999", "core temperature"),
        ("2026-13-40 12:00;27", "no time"),
    ],
)
def test_refused_with_the_reason(text, words):
    kind = "rise_ml" if "thousands" in words else None
    found = read_readings(text, kind=kind)
    assert words in found.unread[-1].why
    with pytest.raises(BookError, match="nothing was kept"):
        read_rows(text, kind=kind)


def test_decimal_comma_with_three_places_where_thousands_cannot_be():
    assert pairs("min;Kern °C\n0;27,125\n5;93,250")[1] == ("core_c", 5, 93.25)


def test_nothing_at_all():
    with pytest.raises(BookError, match="no reading here"):
        read_rows("  \n")


def test_tables_of_pandas():
    wide = pd.DataFrame({"minute": [0, 20], "core_c": [27.5, 90.0]})
    assert pairs(wide) == CORE
    assert pairs(wide.set_index("minute")) == CORE
    long = pd.DataFrame(
        [{"kind": "core_c", "minute": m, "value": v} for _, m, v in CORE]
    )
    assert pairs(long) == CORE
    moment = datetime(2026, 3, 4, 13, 5, tzinfo=UTC)
    assert read_rows([{"at": moment, "kind": "ph", "value": 4.5}])[0]["at"] == moment
    with pytest.raises(BookError, match="got int"):
        read_readings(5)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_files_in_several_encodings(tmp_path, encoding):
    path = tmp_path / "probe.csv"
    path.write_text("Zeit (min);Kern (°C)\n0;27,5\n20;90\n", encoding=encoding)
    assert pairs(path) == pairs(str(path)) == CORE
    said = read_readings(path).remarks
    assert any("Windows-1252" in r for r in said) == (encoding == "cp1252")


def test_file_that_is_not_there_and_too_much(tmp_path):
    with pytest.raises(BookError, match="cannot be read"):
        read_readings(tmp_path / "none.csv")
    with pytest.raises(BookError, match="cut it in parts"):
        read_readings("1 30\n" * (MOST_LINES + 1))


def test_frame_is_read_again_as_it_is():
    found = read_readings("14:05 27.5 °C\n14:25 80 °C", day=DAY, zone=CET)
    again = read_readings(found.frame)
    assert [(r.at, r.value) for r in again.readings] == [
        (r.at, r.value) for r in found.readings
    ]


@given(
    st.lists(
        st.tuples(st.integers(0, 600), st.integers(0, 11000)), min_size=1, max_size=20
    ),
    st.sampled_from(["\t", ";", " "]),
    st.sampled_from([".", ","]),
)
def test_what_was_written_is_read(rows, between, point):
    text = "\n".join(
        f"{m} min{between}{v / 100:.2f} °C".replace(".", point) for m, v in rows
    )
    assert pairs(text) == [("core_c", m, pytest.approx(v / 100)) for m, v in rows]


@given(st.text(max_size=200))
def test_any_text_is_accounted_for_line_by_line(text):
    found = read_readings(text)
    told = {line.line_no for line in (*found.readings, *found.unread, *found.before)}
    lines = {n for n, line in enumerate(text.splitlines(), 1) if line.strip()}
    assert lines == told | ({found.heading_line} - {None})
    for reading in found.readings:
        fact = READINGS[reading.kind]
        assert fact.low <= reading.value <= fact.high


@given(st.text(max_size=30))
def test_any_text_is_a_time_or_none(text):
    time = read_time(text)
    assert time is None or time.kind in ("elapsed", "number", "colon", "moment")
