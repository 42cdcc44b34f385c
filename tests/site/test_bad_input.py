"""A careless or hostile site file ends in one sentence: the value, its place, the remedy."""

import json
import math
import time
from pathlib import Path

import pytest

from planner.errors import InputError, SiteError, SketchError
from planner.site.read import read_site, site_from_text
from tests.site.example import ELEVATION, HEAD, SKETCH, SOURCE, site_text, write_site


def refusal(text: str, folder: Path) -> str:
    """The message with which a site file is refused, after the checks that hold for all."""
    with pytest.raises(InputError) as caught:
        site_from_text(text, folder, "hollow.toml")
    return checked(caught.value)


def checked(error: InputError) -> str:
    message = str(error)
    assert "\n" not in message
    assert message.isprintable()
    assert len(message) < 400
    for noise in ("Traceback", "pydantic", "errors.", "Input should", "[type="):
        assert noise not in message
    return message


# What stands in the file, and the words of the message: place, value, remedy.
REST: list[tuple[str, tuple[str, ...]]] = [
    ('[source]\nflow = "-5 L/min"', ("source.flow", '"-5 L/min"', "give 0.01 L/min to")),
    ('[source]\nflow = "30"', ("source.flow", '"30" has no unit', "12 L/min")),
    ("[source]\nflow = 30", ("source.flow", '"30" has no unit', "12 L/min")),
    ("[source]\nflow = true", ("source.flow", '"True"', "12 L/min")),
    ("[source]\nflow = nan", ("source.flow", '"nan"', "12 L/min")),
    ('[source]\nflow = "30 ft"', ("source.flow", "no flow", "12 L/min")),
    ('[source]\nflow = "plenty"', ("source.flow", '"plenty"', "12 L/min")),
    ('[source]\nflow = "5 gpm"', ("source.flow", "18.9 L/min", "22.7 L/min", "imperial")),
    ('[source]\nflow = ["30 L/min"]', ("source.flow", "not a number", "12 L/min")),
    ('[source]\nflow = "1,500 L/day"', ("source.flow", "1,500", "1500 or 1.500")),
    ('[source]\nmeasured = "last week"', ("source.measured", "last week", "2026-08-20")),
    ('[source]\nseason = "autumn"', ("source.season", '"autumn"', '"dry" or "wet"')),
    ('[source]\nshare_left = "130 %"', ("source.share_left", "130 %", "0 % to 100 %")),
    ('[source]\nflwo = "30 L/min"', ('"flwo"', '"flow" is probably meant')),
    ('[sauce]\nflow = "30 L/min"', ('"sauce"', '"source" is probably meant')),
    ("[spare]\nx = 1", ('"spare"', "the keys are title")),
    ('source = "spring"', ("source", '"spring" is no table', "under a heading")),
    ('[need]\nper_day = "1500 gal"', ("need.per_day", "L/day in US gallons", "write US")),
    ('[use]\nfrost_depth = "600 m"', ("use.frost_depth", '"600 m"', "0 m to 6 m")),
    ('[use]\nfrost_depth = "0,6 m"', ("use.frost_depth", '"0,6 m"', "0.6")),
    ('[use]\nseason = "winter"', ("use.season", '"winter"', '"all-year" or "summer"')),
    ('[pump]\nkind = "solar"', ("pump.kind", '"solar"', '"ram" or "powered"')),
    ('[pump]\nkind = "powered"', ("pump", "needs its curve", "add curve = ")),
    ('[pump]\ncurve = [["0 L/s", "9 m"], ["1 L/s", "8 m"]]', ("pump", "no curve", "powered")),
    (
        '[pump]\nkind = "powered"\ncurve = [["0 L/s", "9 m"]]',
        ("pump.curve", "too few", "at least 2"),
    ),
    (
        '[pump]\nkind = "powered"\ncurve = [["0 L/s", "9 m"], ["1 L/s", "10 m"]]',
        ("pump", "out of order", "head must not rise"),
    ),
    (
        '[pump]\nkind = "powered"\ncurve = [["0 L/s", "9 m"], ["1 L/s"]]',
        ("pump.curve no. 2", "pair"),
    ),
    ("[pump]\nhours_per_day = 25", ("pump.hours_per_day", '"25"', "less than or equal to 24")),
    ('[pump]\nhours_per_day = "six"', ("pump.hours_per_day", '"six"', "a number")),
    (
        '[lines.delivery]\nleast_cover = "0.6"',
        ("lines.delivery.least_cover", '"0.6" has no unit', "7.5 ft"),
    ),
    ("[lines.delivry]\nsiphon = true", ("lines", '"delivry"', '"delivery" is probably meant')),
    (
        '[lines.main]\nleast_cover = "1 m"\ndeepest_trench = "0.8 m"',
        ("lines.main.deepest_trench", "0.80 m", "1.00 m", "deeper"),
    ),
    (
        '[lines.main]\nlaid = "surface"\nleast_cover = "1 m"',
        ("lines.main.least_cover", "no cover", "give propped"),
    ),
    ('[lines.main]\npropped = "1 m"', ("lines.main.propped", "not propped", 'laid = "surface"')),
    ('[lines.main]\nsiphon = "yes"', ("lines.main.siphon", '"yes"', "true or false")),
    ('[lines.main]\ndig_cost = "1 m"', ("lines.main.dig_cost", '"1 m"', "1 m/m2")),
    (
        '[lines.main]\nlaid = "surface"\ndig_cost = "1 m/m2"',
        ("lines.main.dig_cost", "no trench", 'laid = "buried"'),
    ),
    (
        '[lines.main]\ngreatest_grade = "5 %"',
        ("lines.main.greatest_grade", "supply, waste, overflow", "leave it out"),
    ),
    (
        '[lines.waste]\ngreatest_grade = "0.5 %"',
        ("lines.waste.greatest_grade", "0.50%", "least grade of 1.00%", "steeper"),
    ),
    ('[lines.main]\nside_slope = "900 %"', ("lines.main.side_slope", "0.1 % to 500 %")),
    ('[lines.main]\nbend_cost = "one"', ("lines.main.bend_cost", '"one"', "7.5 ft")),
    ('[lines.main]\nleast_leg = "200 m"', ("lines.main.least_leg", "0 m to 100 m")),
    ("[lines.main]\nbend = true", ("lines.main.bend", "drive pipe", "leave it out")),
    ('[use]\nstream_cost = "-1 m"', ("use.stream_cost", '"-1 m"', "0 m to 10 km")),
    ('[lines.main]\nbore = "25 m"', ("lines.main.bore", '"25 m"', "3 mm to 1000 mm")),
    ('[lines.main]\nleast_grade = "0"', ("lines.main.least_grade", '"0"', "0.01 % to")),
    ('[source]\nflow = "30 L/min', ("hollow.toml, line", "30 L/min", "text in quotes")),
    ("[source]\nflow = 30 L/min", ("hollow.toml, line", "30 L/min", "text in quotes")),
    ("[source]\n[source]", ("hollow.toml, line", "[source]", "key = value")),
    ("x = " + "[" * 5000, ("hollow.toml", "nested too deep")),
    ("x = " + "9" * 5000, ("hollow.toml", "number too long")),
    ('"\\u001b[31mflow" = 1', ("there is no key", "the keys are")),
]


@pytest.mark.parametrize(("rest", "words"), REST)
def test_rest_of_the_file(rest: str, words: tuple[str, ...], tmp_path: Path) -> None:
    message = refusal(site_text(head=HEAD + rest + "\n", rest=""), tmp_path)
    for word in words:
        assert word in message


ELEVATIONS: list[tuple[str, tuple[str, ...]]] = [
    ("", ('"elevation" is missing', "files = ")),
    ("[elevation]\n", ("elevation", '"files" is missing', '["dem.tif"]')),
    ("[elevation]\nfiles = []\n", ("elevation.files", "at least 1")),
    ('[elevation]\nfiles = "dem.tif"\n', ("elevation.files", "dem.tif", "square brackets")),
    ("[elevation]\nfiles = [1]\n", ("elevation.files no. 1", '"1"', "text in quotes")),
    (ELEVATION + "band = 1.5\n", ("elevation.band", '"1.5"', "a whole number")),
    (ELEVATION + "band = 0\n", ("elevation.band", '"0"', "greater than or equal to 1")),
    (ELEVATION + 'height_unit = "feet"\n', ("elevation.height_unit", '"feet"', '"ft"')),
    (ELEVATION + 'margin = "-3 m"\n', ("elevation.margin", '"-3 m"', "0 m to 20 km")),
    (ELEVATION + 'crs = "UTM"\n', ("elevation.crs", '"UTM"', "EPSG:32633")),
]


@pytest.mark.parametrize(("elevation", "words"), ELEVATIONS)
def test_elevation(elevation: str, words: tuple[str, ...], tmp_path: Path) -> None:
    message = refusal(site_text(elevation=elevation), tmp_path)
    for word in words:
        assert word in message


def points(*tables: str) -> str:
    return "".join(f"\n[[sketch.points]]\n{table}\n" for table in tables)


SOURCE_POINT = 'role = "source"\nat = [11.2, 47.3]'
TANK = 'name = "tank"\nat = [11.21, 47.31]'
BASE = points(SOURCE_POINT, TANK)

SKETCHES: list[tuple[str, tuple[str, ...]]] = [
    ("", ('"sketch" is missing', "file = ")),
    ("[sketch]\n", ("no source", 'role = "source"')),
    (points(TANK), ("no source", 'role = "source"')),
    (points(SOURCE_POINT), ("no tank and no outlet", 'role = "tank"')),
    (
        BASE + points('name = "Tank"\nrole = "outlet"\nat = [11.22, 47.3]'),
        ('"Tank"', "(tank at 11.21", "outlet at 11.22", "name of its own"),
    ),
    (
        BASE + points('name = "tank 2"\nat = [11.21, 47.31]'),
        ('"tank"', '"tank 2"', "11.210000, 47.310000", "move or remove"),
    ),
    (
        points(SOURCE_POINT, 'name = "tank"\nat = [47.31, 11.21]'),
        ('"tank" at 47.310000, 11.210000', "km from", "longitude comes first"),
    ),
    (points('name = "hut"\nat = [11.2, 47.3]'), ("no. 1", '"hut"', "give it a role")),
    (
        points('name = "spring at the tank"\nat = [11.2, 47.3]'),
        ("no. 1", "source and tank", "give it a role"),
    ),
    (points('role = "well"\nat = [11.2, 47.3]'), ("points no. 1, role", '"well"', '"source"')),
    (points('role = "tank"\nat = [11.2]'), ("points no. 1, at", "too few", "at least 2")),
    (points('role = "tank"\nat = [1, 2, 3]'), ("points no. 1, at", "too many", "at most 2")),
    (points('role = "tank"\nat = ["47°12", 3]'), ("no. 1, at no. 1", "47°12", "a number")),
    (points('role = "tank"\nat = [nan, 47.3]'), ("no. 1, at no. 1", '"nan"', "finite")),
    (points('role = "tank"'), ("sketch.points no. 1", '"at" is missing', "at = [")),
    (BASE + points('role = "tank"\nat = [200, 100]'), ("200, 100", "longitude first")),
    (
        BASE + points('role = "tank"\nat = [11.2, 47.2]\nheight = 2'),
        ("points no. 3, height", '"2" has no unit', "7.5 ft"),
    ),
    (
        BASE + points('role = "tank"\nline = "main"\nat = [11.2, 47.2]'),
        ("no. 3", "only a way point", "leave line"),
    ),
    (BASE + points(f'name = "{"t" * 81}"\nrole = "tank"\nat = [11, 47]'), ("81", "at most 80")),
    ('[sketch]\ncrs = "here"\n' + BASE, ("sketch.crs", '"here"', "EPSG:")),
    ('[sketch]\nfile = "nowhere.geojson"\n', ("nowhere.geojson", "is not there", "give the path")),
    ('[sketch]\nfile = "sketch.dwg"\n', ("sketch.dwg", "no kind", "GeoJSON")),
    ('[sketch]\nfile = "/vsicurl/http://a/b.kml"\n', ("sketch.file", "/vsicurl", "give a path")),
]


@pytest.mark.parametrize(("sketch", "words"), SKETCHES)
def test_points(sketch: str, words: tuple[str, ...], tmp_path: Path) -> None:
    message = refusal(site_text(sketch=sketch), tmp_path)
    for word in words:
        assert word in message


def area(table: str) -> str:
    return BASE + f'\n[[sketch.areas]]\nname = "bog"\n{table}\n'


AREAS: list[tuple[str, tuple[str, ...]]] = [
    (
        'role = "avoid"\nring = [[0, 0], [1, 1], [1, 0], [0, 1]]',
        ('"bog"', "crosses itself at 0.5", "meet at corners"),
    ),
    ('role = "avoid"\nring = [[0, 0], [1, 1]]', ('"bog"', "three corners")),
    ('role = "avoid"\nring = [[0, 0], [1, 1], [2, 2]]', ('"bog"', "three corners")),
    ('role = "avoid"\nwkt = "POINT (1 1)"', ('"bog"', "not a Point", "polygon")),
    ('role = "avoid"\nwkt = "POLYGON EMPTY"', ('"bog"', "encloses nothing")),
    ('role = "avoid"\nwkt = "POLYGOON"', ('"bog"', "can't be read", "three corners")),
    ('role = "avoid"', ("areas no. 1", "outline once", "ring = ")),
    (
        'role = "swamp"\nring = [[0, 0], [1, 1], [1, 0]]',
        ("areas no. 1, role", '"swamp"', '"avoid"'),
    ),
    ("ring = [[0, 0], [1, 1], [1, 0]]", ('"bog"', "give it a role")),
    (
        'role = "costly"\nfactor = 0.5\nring = [[0, 0], [1, 1], [1, 0]]',
        ("areas no. 1, factor", '"0.5"', "greater than or equal to 1"),
    ),
]


@pytest.mark.parametrize(("table", "words"), AREAS)
def test_areas(table: str, words: tuple[str, ...], tmp_path: Path) -> None:
    message = refusal(site_text(sketch=area(table)), tmp_path)
    for word in words:
        assert word in message


CROSSINGS: list[tuple[str, tuple[str, ...]]] = [
    ("path = [[11.2, 47.3]]", ("crossings no. 1, path", "too few", "at least 2")),
    ('cost = "9 m"', ("sketch.crossings no. 1", '"path" is missing', "path = [[lon")),
    ("path = [[11.2, 47.3], [nan, 47.3]]", ("crossings no. 1, path no. 2", "finite")),
    ("path = [[11.2, 47.3], [11.2, 47.3]]", ("no. 1", "no length", "two different points")),
    ('path = [[11.2, 47.3], [11.3, 47.3]]\nrole = "avoid"', ("no. 1, role", '"crossing"')),
    ('path = [[11.2, 47.3], [11.3, 47.3]]\ncost = "5"', ("no. 1, cost", '"5" has no unit')),
]


@pytest.mark.parametrize(("table", "words"), CROSSINGS)
def test_crossings(table: str, words: tuple[str, ...], tmp_path: Path) -> None:
    message = refusal(site_text(sketch=f"{BASE}\n[[sketch.crossings]]\n{table}\n"), tmp_path)
    for word in words:
        assert word in message


@pytest.mark.slow
def test_an_area_of_a_million_corners_is_refused_without_a_hang(tmp_path: Path) -> None:
    angles = [2 * math.pi * n / 1_000_000 for n in range(1_000_000)]
    ring = [[11.2 + 0.01 * math.cos(a), 47.3 + 0.01 * math.sin(a)] for a in angles]
    geometry = {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}
    feature = {"type": "Feature", "properties": {"role": "avoid"}, "geometry": geometry}
    (tmp_path / "big.geojson").write_text(json.dumps(feature), encoding="utf-8")
    begun = time.perf_counter()
    message = refusal(site_text(sketch='[sketch]\nfile = "big.geojson"\n'), tmp_path)
    assert time.perf_counter() - begun < 20.0
    assert "1,000,001 vertices" in message
    assert "simplify it" in message


FILES: list[tuple[bytes | None, tuple[str, ...]]] = [
    (None, ("is not there", "give the path")),
    (b"\x00\x01\x02\xff\xfe binary", ("not text in UTF-8", "save it again")),
    (b"\x00\x01\x02 binary", ("not a text file", "plain text")),
    ('title = "B\u00e4ch"'.encode("latin-1"), ("not text in UTF-8", "save it again")),
    (site_text().encode("utf-16"), ("not text in UTF-8", "save it again")),
    (b"", ('"elevation" is missing', "add it")),
    (b"II*\x00\x08\x00\x00\x00", ("not a text file", "plain text")),
]


@pytest.mark.parametrize(("content", "words"), FILES)
def test_files_that_are_no_site_file(
    content: bytes | None, words: tuple[str, ...], tmp_path: Path
) -> None:
    path = tmp_path / "hollow.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(SiteError) as caught:
        read_site(path)
    message = checked(caught.value)
    assert "hollow.toml" in message
    for word in words:
        assert word in message


def test_a_name_too_long_and_a_circle_of_links_are_no_site_file(tmp_path: Path) -> None:
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    for path in (tmp_path / ("x" * 300), tmp_path / "loop.toml"):
        with pytest.raises(SiteError, match="can't be read") as caught:
            read_site(path)
        checked(caught.value)


def test_a_folder_and_a_giant_are_no_site_file(tmp_path: Path) -> None:
    with pytest.raises(SiteError, match="is a folder"):
        read_site(tmp_path)
    giant = tmp_path / "giant.toml"
    with giant.open("wb") as file:
        file.truncate(200_000_000)
    with pytest.raises(SiteError, match="more than 10 MB"):
        read_site(giant)


def test_messages_begin_with_the_files_name(tmp_path: Path) -> None:
    path = write_site(tmp_path, site_text(rest=SOURCE.replace("30 L/min", "30")))
    with pytest.raises(SiteError, match=r"^hollow\.toml: source\.flow: "):
        read_site(path)
    path = write_site(tmp_path, site_text(sketch=SKETCH.replace('"tank"', '"hut"')))
    with pytest.raises(SketchError, match=r"^hollow\.toml: sketch\.points no\. 3 \(\"hut\"\): "):
        read_site(path)
