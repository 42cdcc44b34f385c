"""Places as people write them. The tower in Toronto is the common example of the UTM grid:
43°38'33.24" N, 79°23'13.7" W is 17N 630084 4833438."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from planner.errors import SketchError
from planner.site.edits.coordinates import typed_place

HERE = (-3.2010, 45.0109)
EARTH = Geod(ellps="WGS84")

SPELT = [
    "45.0109, -3.2010",
    "45.0109,-3.2010",
    " 45.0109\t-3.2010\n",
    "(45.0109; -3.2010)",
    "45,0109; -3,2010",
    "45,0109, -3,2010",
    "45,0109 -3,2010",
    "45.0109 −3.2010",
    "45.0109N 3.2010W",
    "3.2010° W, 45.0109° N",
    "N45.0109 W3.2010",
    "w 3.2010 / n 45.0109",
    "45.0109 north, 3.2010 west",
    "lat 45.0109 lon -3.2010",
    "lon: -3.2010, lat: 45.0109",
    "lng=-3.2010 lat=45.0109",
    "Latitude: 45.0109° N Longitude: 3.2010° W",
    "geo:45.0109,-3.2010;u=35",
    "+45.0109-003.2010/",
    "45°00'39.24\"N 3°12'03.6\"W",
    "45° 00′ 39.24″ N, 3° 12′ 03.6″ W",
    "45º00’39.24''N 3º12’03.6''W",
    "N45 00 39.24 W3 12 03.6",
    "45 00 39.24 -3 12 03.6",
    "45 00.654 N 003 12.06 W",
    "N 45°00.654' W 003°12.06'",
    "45°00'39,24\"N; 3°12'03,6\"W",
    "45 deg 0 min 39.24 sec N, 3 deg 12 min 3.6 sec W",
]


@pytest.mark.parametrize("text", SPELT)
def test_one_place_in_every_spelling(text: str) -> None:
    assert typed_place(text) == pytest.approx(HERE, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "17N 630084 4833438",
        "17T 630084 4833438",
        "17 T 630084mE 4833438mN",
        "UTM zone 17 north 630084, 4833438",
    ],
)
def test_the_tower_in_the_utm_grid(text: str) -> None:
    lon, lat = typed_place(text)
    wanted = -(79 + 23 / 60 + 13.7 / 3600), 43 + 38 / 60 + 33.24 / 3600
    assert EARTH.inv(lon, lat, *wanted)[2] < 1.8  # m, as they are rounded: 0.1" is 2.2 m


def test_the_southern_half_is_told_by_a_band_or_a_word() -> None:
    by_band = typed_place("33H 500000 6250000")
    assert by_band == typed_place("33 south 500000 6250000") == typed_place("33S 500000 6250000")
    assert by_band == pytest.approx((15.0, -33.89), abs=0.01)


def test_longitude_comes_first_where_only_so_it_is_on_the_earth_or_on_the_ground() -> None:
    assert typed_place("147.3, -42.9") == (147.3, -42.9)
    assert typed_place("-3.2010, 45.0109") == (45.0109, -3.2010)
    ground = (-3.21, 45.0, -3.19, 45.02)
    assert typed_place("-3.2010, 45.0109", within=ground) == HERE
    assert typed_place("45.0109, -3.2010", within=ground) == HERE
    assert typed_place("-3.2010 N, 45.0109 E", within=ground) == (45.0109, -3.2010)
    assert typed_place("10.5, 20.5", within=ground) == (20.5, 10.5)


REFUSED = [
    ("", "can't be read as a place"),
    ("45", "can't be read as a place"),
    ("the old oak", 'at "t"'),
    ("<script>alert(1)</script>", "can't be read as a place"),
    ("45.0109, -3.2010, 812", "can't be read"),
    ("1e5, 3", "can't be read"),
    ("45.0.1, 3", "can't be read"),
    ("95.0 N, 3 E", "a latitude of 95 degrees is beyond 90"),
    ("45 N, 181 E", "a longitude of 181 degrees is beyond 180"),
    ("99, 99", "beyond 90"),
    ("45 N, 3 N", "gives one coordinate twice"),
    ("lat 45 E, lon 3 N", "can't be read"),
    ("45 61 N 3 0 E", "minutes or seconds of 60 or more"),
    ("45 0 60 N 3 0 0 E", "minutes or seconds of 60 or more"),
    ("45.5 30 N 3 E", "a decimal point before its last part"),
    ("-45 S, 3 E", "both a minus and S or W"),
    ("45 -30 N, 3 E", "can't be read"),
    ("45°30°N 3°E", "can't be read"),
    ("45\"30'N 3°E", "can't be read"),
    ("45\x00, 3", "can't be read"),
    ("4" * 500, "too long for one place"),
    ("61T 484153 4984312", "61T is no UTM zone"),
    ("30I 484153 4984312", "30I is no UTM zone"),
    ("30T 4984312 484153", "the easting must be"),
    ("30T 484153 2984312", "at 27.0° N, which is not in band T"),
    ("33S 500000 4000000", 'two ways, S for south .* write "33 south" or "33 north"'),
]


@pytest.mark.parametrize(("text", "words"), REFUSED, ids=range(len(REFUSED)))
def test_what_cannot_be_a_place_is_refused_in_a_sentence(text: str, words: str) -> None:
    with pytest.raises(SketchError, match=words) as caught:
        typed_place(text)
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 250


LONS, LATS = st.floats(-180, 180), st.floats(-90, 90)


def _sexagesimal(degrees: float, letters: str) -> str:
    whole, minutes = divmod(abs(degrees) * 60.0, 60.0)[0], abs(degrees) * 60.0 % 60.0
    minute, seconds = int(minutes), minutes % 1.0 * 60.0
    return f"{int(whole)}°{minute}'{math.floor(seconds * 1e6) / 1e6:.6f}\"{letters[degrees < 0]}"


@given(LONS, LATS)
def test_any_place_comes_back_from_decimal_degrees(lon: float, lat: float) -> None:
    assert typed_place(f"{lat:.9f} {lon:.9f}") == pytest.approx((lon, lat), abs=1e-9)
    assert typed_place(f"lon {lon:.9f}, lat {lat:.9f}") == pytest.approx((lon, lat), abs=1e-9)


@given(LONS, LATS)
def test_any_place_comes_back_from_degrees_minutes_and_seconds(lon: float, lat: float) -> None:
    text = f"{_sexagesimal(lon, 'EW')} {_sexagesimal(lat, 'NS')}"
    assert typed_place(text) == pytest.approx((lon, lat), abs=1e-8)


@given(st.text("0123456789.,;:-+°'\"NSEWnsew latonUTM\n", max_size=60) | st.text(max_size=40))
def test_any_text_is_a_place_on_the_earth_or_refused(text: str) -> None:
    try:
        lon, lat = typed_place(text)
    except SketchError:
        return
    assert abs(lon) <= 180.0
    assert abs(lat) <= 90.0
