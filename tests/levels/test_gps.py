import pytest

from planner.errors import InputError
from planner.levels.read import read_levels
from tests.levels.written import write

GPX = """<?xml version="1.0"?>
<gpx version="1.1" creator="a" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="46.601" lon="11.201"><ele>512</ele><name>tank</name></wpt>
<wpt lat="46.602" lon="11.202"><name>Car &amp; key</name></wpt>
<trk><trkseg><trkpt lat="46.6" lon="11.2"><ele>500</ele></trkpt>
<trkpt lat="46.61" lon="11.2"><ele>520</ele></trkpt></trkseg></trk></gpx>
"""
BOOK = "station,back,fore\nSpring,1.2,\nTank,,0.9\n"


def test_heights_of_a_gps_are_left_aside_and_points_tell_places(tmp_path):
    track, book = write(tmp_path, GPX, "walk.gpx"), write(tmp_path, BOOK)
    readings = read_levels([track, book], unit="m")
    assert [one.method for one in readings.differences] == ["level"]
    assert readings.knowns == ()
    assert readings.places == {"Tank": pytest.approx((11.201, 46.601))}
    note = readings.notes[0]
    for word in ("walk.gpx", "never levels", "1 of the stations", "1 points in it are no"):
        assert word in note


def test_a_gpx_without_heights_is_told(tmp_path):
    bare = GPX.replace("<ele>512</ele>", "").replace("<ele>500</ele>", "")
    track = write(tmp_path, bare.replace("<ele>520</ele>", ""), "walk.gpx")
    readings = read_levels([track, write(tmp_path, BOOK)], unit="m")
    assert "walk.gpx: it holds no heights" in readings.notes[0]


def test_a_gps_point_far_from_the_books_place_is_refused_by_row(tmp_path):
    known = write(tmp_path, "station,level,lon,lat\nTank,5,11.3,46.601\n", "known.csv")
    with pytest.raises(InputError, match=r"walk.gpx line 3: Tank stands .* m from where known.csv"):
        read_levels([write(tmp_path, GPX, "walk.gpx"), known], unit="m")


@pytest.mark.parametrize(
    ("text", "name", "word"),
    [
        (GPX, "walk.csv", "end in .gpx"),
        ("station,level\nA,1\n", "walk.gpx", "not a GPX file"),
        ("<!DOCTYPE x>" + GPX, "walk.gpx", "plain GPX"),
        (GPX.replace("46.601", "466.01"), "walk.gpx", "line 3: tank stands at no place"),
        (GPX[:-200], "walk.gpx", "walk.gpx"),
        (GPX.replace("</trkpt>\n<trkpt", "</trkpt></trkseg><trkseg><trkpt"), "w.gpx", "w.gpx"),
    ],
)
def test_what_is_no_gpx_is_refused(tmp_path, text, name, word):
    with pytest.raises(InputError, match=word):
        read_levels([write(tmp_path, text, name)], unit="m")
