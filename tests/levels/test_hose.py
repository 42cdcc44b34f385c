import math

import pytest

from tests.levels.written import read, refusal


def test_the_water_stands_equally_high_at_both_ends(tmp_path):
    shots = "from,to,from_reading,to_reading\nSpring,A,0.412,1.386\nA,B,0.980,0.655\n"
    first, second = read(tmp_path, shots).differences
    assert first.rise == pytest.approx(-0.974)  # more is read where the ground is lower
    assert second.rise == pytest.approx(0.325)
    # 2 to 3 mm a reading, two readings, and their rounding to the millimetre
    assert first.error == pytest.approx(math.sqrt(2 * (0.0025**2 + 0.001**2 / 12)))
    assert first.method == "hose"
    assert math.isnan(first.distance)


@pytest.mark.parametrize(
    "shots",
    [
        "from,to,rise\nA,B,-0.30\n",
        "from,to,rise,fall\nA,B,,0.30\n",
        "shot from;to;Up;Down\nA;B;0;0,30\n".replace("shot ", ""),
        "From\tTo\tFall (cm)\nA\tB\t30\n",
        "from,to,rise\nA,B,−0.30 m\n",
    ],
)
def test_rise_and_fall_in_the_words_people_use(tmp_path, shots):
    (one,) = read(tmp_path, shots).differences
    assert (one.start, one.end) == ("A", "B")
    assert one.rise == pytest.approx(-0.30)


def test_repeated_shots_stay_separate(tmp_path):
    readings = read(tmp_path, "from,to,rise\nA,B,0.300\nA,B,0.304\nB,A,-0.302\n")
    assert [one.rise for one in readings.differences] == [0.300, 0.304, -0.302]
    assert [one.row.line for one in readings.differences] == [2, 3, 4]
    assert all(closure.good for closure in readings.closures)


@pytest.mark.parametrize(
    ("shots", "words"),
    [
        ("from,to,rise\nA,A,0.3\n", ("line 2, column to", "to itself")),
        ("from,to,rise\nA, a ,0.3\n", ("line 2", "to itself")),
        ("from,to,rise\nA,,0.3\n", ("line 2", "no station in column to")),
        ("from,to,rise\nA,B,\n", ("line 2, column rise", "no reading")),
        ("from,to,up,down\nA,B,1.2,0.9\n", ("line 2", "both filled in", "from_reading")),
        ("from,to,from_reading,to_reading\nA,B,1.2,\n", ("to_reading", "is empty")),
        ("from,to,from_reading,to_reading\nA,B,12.4,1\n", ("from_reading", "12.4 m", "hose")),
        ("from,to,from_reading,to_reading,rise\nA,B,1.2,1,0.3\n", ("rise", "0.3 m", "0.2 m")),
        ("from,to,rise\nA,B,412\n", ("line 2, column rise", "412.0 m", "30 m")),
        ("from,to,rise\nA,B,twelve\n", ("line 2, column rise", '"twelve"', "number")),
    ],
)
def test_a_shot_that_can_not_be_is_named(tmp_path, shots, words):
    message = refusal(tmp_path, shots)
    for word in words:
        assert word in message
