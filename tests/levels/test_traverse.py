import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from planner.levels.read import read_levels
from tests.levels.written import read, refusal, write

HEAD = "from,to,slope distance,angle\n"


def test_rise_and_error_of_a_shot(tmp_path):
    (one,) = read(tmp_path, HEAD + "A,B,30,5.739\n").differences
    assert one.rise == pytest.approx(3.0, abs=1e-4)  # sine 0.1
    # Abney level: 5 to 10 minutes, 0.15 to 0.3 % of the distance
    assert 0.0015 * 30 < one.error < 0.003 * 30
    assert (one.method, one.distance) == ("traverse", 30.0)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("-4.5", -4.5),
        ("−4.5°", -4.5),
        ("-4° 30'", -4.5),
        ("-4°30′00″", -4.5),
        ("4 30", 4.5),
        ("+4 deg 30 min", 4.5),
        ("0° 15'", 0.25),
        ("-0° 15'", -0.25),
        ("10 %", math.degrees(math.atan(0.1))),
        ("1 in 20", None),
    ],
)
def test_angles_as_they_are_read(tmp_path, text, degrees):
    shots = HEAD + f'A,B,100,"{text}"\n'
    if degrees is None:
        assert "no angle" in refusal(tmp_path, shots)
    else:
        rise = read(tmp_path, shots).differences[0].rise
        assert rise == pytest.approx(100 * math.sin(math.radians(degrees)), abs=1e-9)


@pytest.mark.parametrize("head", ["grade", "angle_%", "Slope (%)", "gradient"])
def test_grades_are_rise_over_run(tmp_path, head):
    slope = read(tmp_path, f"from,to,slope distance,{head}\nA,B,100,-12\n").differences[0]
    flat = read(tmp_path, f"from,to,horizontal distance,{head}\nA,B,100,-12\n").differences[0]
    assert slope.rise == pytest.approx(-100 * 0.12 / math.hypot(1, 0.12))
    assert flat.rise == pytest.approx(-12.0)


def test_feet_of_tape_and_a_grade_as_one_in(tmp_path):
    shots = "From,To,Tape (ft),Grade\nA,B,100,1 in 20\n"
    (one,) = read(tmp_path, shots).differences
    assert one.rise == pytest.approx(30.48 * 0.05 / math.hypot(1, 0.05))


@given(st.floats(-89, 89), st.floats(1, 400))
def test_slope_and_horizontal_distance_agree(tmp_path_factory, angle, slope):
    flat = slope * math.cos(math.radians(angle))
    folder = tmp_path_factory.getbasetemp()
    one = read(folder, HEAD + f"A,B,{slope:.9f},{angle:.9f}\n").differences[0].rise
    if abs(angle) < 84:
        shots = f"from,to,horizontal distance,angle\nA,B,{flat:.9f},{angle:.9f}\n"
        assert read(folder, shots).differences[0].rise == pytest.approx(one, abs=1e-5)
    assert one == pytest.approx(slope * math.sin(math.radians(angle)), abs=1e-5)


def test_bearings_carry_a_known_place_along_both_ways(tmp_path):
    shots = "from,to,slope distance,angle,bearing\n2,1,50,0,270\n2,3,40,60,180\nX,Y,10,0,0\n"
    path = write(tmp_path, shots)
    assert read_levels([path], unit="m").places == {}
    known = write(tmp_path, "station,level,lon,lat\n1,50,11.2,46.6\n", "known.csv")
    places = read_levels([path, known], unit="m").places
    assert set(places) == {"1", "2", "3"}
    earth = Geod(ellps="WGS84")
    bearing, _, far = earth.inv(*places["1"], *places["2"])
    assert (bearing, far) == pytest.approx((90.0, 50.0), abs=1e-3)
    bearing, _, far = earth.inv(*places["2"], *places["3"])
    assert far == pytest.approx(20.0, abs=1e-6)  # 40 m along a slope of 60 degrees
    assert abs(bearing) == pytest.approx(180.0, abs=1e-6)
    staked = read_levels([path], unit="m", stakes={"2": (11.3, 46.7)})
    assert set(staked.places) == {"1", "3"}
    assert "true north" in staked.notes[0]


@pytest.mark.parametrize(
    ("shots", "words"),
    [
        (HEAD + "A,B,30,91\n", ("line 2, column angle", "more than 90")),
        (HEAD + "A,B,30,-95.5\n", ("line 2, column angle", "more than 90")),
        (HEAD + "A,B,30,4° 75'\n", ("line 2, column angle", "60 minutes")),
        (HEAD + "A,B,30,\n", ("column angle", "is empty")),
        (HEAD + "A,B,,4\n", ("column slope_distance", "is empty")),
        (HEAD + "A,B,0,4\n", ("column slope_distance", "0 m is no taped distance")),
        (HEAD + "A,B,5 km,4\n", ("column slope_distance", "5 km", "500 m")),
        (HEAD + "A,B,30,steep\n", ("column angle", '"steep"', "degrees")),
        (HEAD + "A,A,30,1\n", ("line 2", "to itself")),
        ("from,to,slope distance,angle,bearing\nA,B,9,1,361\n", ("bearing", '"361"', "360")),
        ("from,to,slope distance,grade\nA,B,9,1001\n", ("grade", "steeper than 1000 %")),
        ("from,to,horizontal distance,angle\nA,B,9,90\n", ("tape the slope",)),
        ("from,to,distance,angle\nA,B,9,1\n", ("slope_distance or the horizontal_distance",)),
        ("from,to,tape,slope\nA,B,9,1\n", ("angle (degrees) or a grade (%)",)),
    ],
)
def test_a_shot_that_can_not_be_is_named(tmp_path, shots, words):
    message = refusal(tmp_path, shots)
    for word in words:
        assert word in message
