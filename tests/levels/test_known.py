import pytest

from planner.levels.known import KNOWN_ERROR
from tests.levels.written import read, refusal


def test_known_points_with_and_without_error_and_place(tmp_path):
    text = "Name,Elevation (ft),Standard error,Longitude,Latitude\nBM,100,0.1,11.2,46.6\nP,50,,,\n"
    readings = read(tmp_path, text, unit="ft")
    mark, point = readings.knowns
    assert (mark.station, mark.level) == ("BM", 30.48)
    assert mark.error == pytest.approx(0.03048)
    assert point.error == KNOWN_ERROR
    assert readings.places == {"BM": (11.2, 46.6)}
    assert mark.row.line == 2


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("BM,,\n", ("line 2, column level", "is empty", "BM")),
        ("BM,99999,\n", ("no level on the Earth",)),
        ("BM,10,-1\n", ("line 2, column error", "standard error")),
        ("BM,10,\nbm,10.5,\n", ("line 3", "10.500 m", "10.000 m at book.csv line 2")),
    ],
)
def test_a_level_that_can_not_be_is_refused(tmp_path, rows, words):
    message = refusal(tmp_path, "station,level,error\n" + rows)
    for word in words:
        assert word in message


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("11.2,", ("column lat", "empty beside a lon")),
        ("11.2,95", ("no place on the Earth",)),
        ("east,46", ("column lon", '"east"')),
        ("inf,46", ("column lon", "finite")),
    ],
)
def test_a_place_that_is_none_is_refused(tmp_path, place, words):
    message = refusal(tmp_path, f"station,level,lon,lat\nBM,10,{place}\n")
    for word in words:
        assert word in message


def test_a_station_in_two_places_is_refused(tmp_path):
    near = "station,level,lon,lat\nBM,10,11.20000,46.6\nBM,10,11.20005,46.6\n"
    assert read(tmp_path, near).places == {"BM": (11.2, 46.6)}
    message = refusal(tmp_path, near.replace("11.20005", "11.25"))
    assert "line 3" in message
    assert "line 2" in message
    assert "3,831 m" in message
