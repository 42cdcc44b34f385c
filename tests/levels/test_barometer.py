import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.levels.written import read, refusal

HEAD = "station,time,altitude\n"
DAY = HEAD + "Base,09:00,412\nRidge,09:10,447\nTank,09:30,439\nBase,10:00,418\n"


def test_the_drift_is_taken_out_evenly(tmp_path):
    readings = read(tmp_path, DAY)
    ridge, tank = readings.differences
    assert (ridge.start, ridge.end, ridge.method) == ("Base", "Ridge", "barometer")
    assert ridge.rise == pytest.approx(447 - 413)  # a sixth of 6 m has come
    assert tank.rise == pytest.approx(439 - 415)  # half of it
    assert ridge.error == 1.5  # within 15 minutes: 1 to 2 m
    assert tank.error == 2.3
    (note,) = readings.notes
    assert "moved +6 m at Base in 60 minutes" in note


@given(st.floats(-8, 8), st.lists(st.floats(1, 59), min_size=1, max_size=6))
def test_a_steady_drift_leaves_no_trace(tmp_path_factory, drift, minutes):
    rows = ["Base,00:00:00,500"]
    for number, minute in enumerate(sorted(minutes)):
        whole = round(minute * 60)
        level = 500 + 10 * (number + 1) + drift * whole / 3600
        rows.append(f"P{number},00:{whole // 60:02d}:{whole % 60:02d},{level:.6f}")
    rows.append(f"Base,01:00:00,{500 + drift:.6f}")
    found = read(tmp_path_factory.getbasetemp(), HEAD + "\n".join(rows)).differences
    truth = [10.0 * (number + 1) for number in range(len(minutes))]
    assert [one.rise for one in found] == pytest.approx(truth, abs=1e-4)


def test_pressures_by_the_hypsometric_equation(tmp_path):
    # US Standard Atmosphere, 1976: 1013.25 hPa at 0 m and 898.76 hPa at 1000 m; the air between
    # them has a mean of 11.75 °C.
    rows = "A,9:00,1013.25,11.75\nB,9:05,898.76,11.75\nA,9:10,1013.25,11.75\n"
    (one,) = read(tmp_path, "station,time,pressure,temperature\n" + rows).differences
    assert one.rise == pytest.approx(1000.0, abs=0.5)


@pytest.mark.parametrize(
    ("head", "base", "point"),
    [
        ("pressure", "1000", "990"),
        ("pressure (hPa)", "1000 hPa", "990"),
        ("pressure_kpa", "100", "99"),
        ("barometer", "29.52999 inHg", "29.23469"),
        ("Pressure, inHg", "29.52999", "29.23469"),
        ("pressure", "1000 mbar", "742.561 mmHg"),
    ],
)
def test_pressures_in_the_units_of_barometers(tmp_path, head, base, point):
    head = head.replace(", ", " ")
    rows = f"station,time,{head}\nA,9:00,{base}\nB,9:05,{point}\nA,9:10,{base}\n"
    readings = read(tmp_path, rows)
    expected = 287.053 * 288.15 / 9.80665 * math.log(1000 / 990)
    assert readings.differences[0].rise == pytest.approx(expected, abs=0.05)
    assert "15 °C" in readings.notes[0]


@pytest.mark.parametrize(
    "times",
    [
        ("9:00", "9.30", "10h00"),
        ("11:40 pm", "11:50 p.m.", "11:59 PM"),
        ("2025-05-04 23:50", "2025-05-04T23:59:30", "2025-05-05 00:20"),
        ("2025-05-04T23:50Z", "2025-05-05T01:59+02:00", "2025-05-05T00:20Z"),
    ],
)
def test_times_as_they_are_written(tmp_path, times):
    rows = [f"{name},{time},{h}" for name, time, h in zip("ABA", times, (1, 2, 1), strict=True)]
    assert len(read(tmp_path, HEAD + "\n".join(rows)).differences) == 1


def test_a_date_leads_past_midnight(tmp_path):
    rows = "A,2025-05-04,23:50,1\nB,2025-05-05,00:00,2\nA,2025-05-05,00:10,1\n"
    assert read(tmp_path, "station,date,time,altitude\n" + rows).differences[0].rise == 1.0


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("A,9:00,1\nB,9:10,2\n", ("no station was read twice", "again at the end")),
        ("A,9:00,1\nB,9:20,2\nA,9:10,1\n", ("line 4, column time", "line 3", "order")),
        ("B,8:50,2\nA,9:00,1\nA,9:10,1\n", ("line 2", "not read between", "A")),
        ("A,9:00,1\nA,9:00,1\n", ("no station was read twice",)),
        ("A,,1\nB,9:20,2\nA,9:30,1\n", ("line 2, column time", "is empty")),
        ("A,25:00,1\nA,9:30,1\n", ('"25:00"', "no time of the day")),
        ("A,13:00 pm,1\nA,9:30,1\n", ("no time of the day",)),
        ("A,noon,1\nA,9:30,1\n", ('"noon"', "14:35")),
        ("A,9:00,high\nA,9:30,1\n", ("line 2, column altitude", '"high"')),
        ("A,9:00,\nA,9:30,1\n", ("line 2, column altitude", "is empty")),
        ("A,9:00,9999\nA,9:30,1\n", ("no altitude on the Earth",)),
    ],
)
def test_readings_that_can_not_be_corrected_are_refused(tmp_path, rows, words):
    message = refusal(tmp_path, HEAD + rows)
    for word in words:
        assert word in message


@pytest.mark.parametrize("text", ["1200", "9.9", "42 psi", "-1000", "29.92 bananas"])
def test_what_is_no_air_pressure_is_refused(tmp_path, text):
    rows = f"station,time,pressure\nA,9:00,{text}\nA,9:30,1000\n"
    message = refusal(tmp_path, rows)
    assert "line 2, column pressure" in message
    assert text in message
