import json
from pathlib import Path

import pytest
from pyproj import Geod

from planner.errors import SketchError
from planner.site.line_file import is_recorded, read_line

# Points and places as counted in the files themselves (see the data folder's README).
REAL = [
    ("gpx_gpxpy/Mojstrovka.gpx", 184, (13.748273, 46.434981)),
    ("gpx_gpxpy/route.gpx", 55, (13.726695478, 45.2787641494)),
    ("kml_togeojson/gxtrack.kml", 7, (-122.207881, 37.371915)),
]


@pytest.mark.parametrize(("name", "count", "first"), REAL)
def test_real_walks_are_read(
    name: str, count: int, first: tuple[float, float], shared_data: Path
) -> None:
    line = read_line(shared_data / name)
    assert len(line.coords) == count
    assert line.coords[0] == pytest.approx(first)
    assert not line.has_z
    assert 100.0 < Geod(ellps="WGS84").geometry_length(line) < 20_000.0


@pytest.mark.parametrize(
    "name",
    [
        "gpx_gpxpy/cerknicko-jezero.gpx",
        "gpx_gpxpy/korita-zbevnica.gpx",
        "kml_togeojson/linestring.kml",
    ],
)
def test_walks_of_several_days_are_not_joined(name: str, shared_data: Path) -> None:
    with pytest.raises(SketchError, match=r"holds \d pieces, .* keep one line"):
        read_line(shared_data / name)


def _write(folder: Path, geometry: object) -> Path:
    path = folder / "line.geojson"
    path.write_text(json.dumps(geometry), encoding="utf-8")
    return path


def _line(*coordinates: list[float]) -> dict[str, object]:
    return {"type": "LineString", "coordinates": list(coordinates)}


def test_pieces_that_follow_each_other_are_one_line(tmp_path: Path) -> None:
    first, second = [[11.2, 47.3, 9.0], [11.201, 47.3, 9.0]], [[11.201, 47.3], [11.202, 47.301]]
    both = {"type": "MultiLineString", "coordinates": [first, second]}
    line = read_line(_write(tmp_path, {"type": "Feature", "geometry": both, "properties": None}))
    assert list(line.coords) == [(11.2, 47.3), (11.201, 47.3), (11.202, 47.301)]


BAD = [
    ({"type": "Point", "coordinates": [11, 47]}, "holds no line"),
    ({"type": "FeatureCollection", "features": []}, "holds no line"),
    (_line([11, 47], [11, 47]), "stands still"),
    (_line([11, 47]), "geometry is broken"),
    (_line([47, 174.0], [47, 174.1]), "longitude first"),
    (_line([500000, 5238000], [500100, 5238000]), "longitude first"),
    (_line([11, 47], [11.1, float("nan")]), "no longitude"),
]


@pytest.mark.parametrize(("geometry", "words"), BAD)
def test_what_is_no_line_is_refused(geometry: object, words: str, tmp_path: Path) -> None:
    with pytest.raises(SketchError, match=words) as caught:
        read_line(_write(tmp_path, geometry))
    assert "line.geojson" in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("name", ["missing.gpx", "line.dwg", "."])
def test_files_that_cannot_be_lines(name: str, tmp_path: Path) -> None:
    with pytest.raises(SketchError, match="give"):
        read_line(tmp_path / name)


def named(*lines: tuple[str | None, list[list[float]]]) -> dict[str, object]:
    return {
        "type": "FeatureCollection",
        "features": [
            {
                "type": "Feature",
                "properties": {"name": name},
                "geometry": {"type": "LineString", "coordinates": path},
            }
            for name, path in lines
        ],
    }


FAR = [[11.3, 47.3], [11.301, 47.3]]
NEAR = [[11.2, 47.3], [11.201, 47.3]]


def test_of_several_lines_the_one_of_that_name_is_taken(tmp_path: Path) -> None:
    path = _write(tmp_path, named(("supply", FAR), ("Delivery", NEAR), (None, FAR)))
    assert list(read_line(path, "delivery").coords) == [(11.2, 47.3), (11.201, 47.3)]
    with pytest.raises(SketchError, match="3 pieces") as caught:
        read_line(path)
    with pytest.raises(SketchError) as caught:
        read_line(path, "main")
    assert str(caught.value) == (
        'line.geojson holds several lines, none of them called "main" ("supply", "Delivery", ""); '
        "name the line so, or keep it alone"
    )


def test_a_name_stands_before_the_line_that_another_thing_belongs_to(tmp_path: Path) -> None:
    made = named(("delivery", NEAR), ("coil 1", FAR))
    made["features"][1]["properties"]["line"] = "delivery"  # type: ignore[index]
    assert read_line(_write(tmp_path, made), "delivery").coords[0] == (11.2, 47.3)
    made["features"][0]["properties"]["name"] = "supply"  # type: ignore[index]
    assert read_line(_write(tmp_path, made), "delivery").coords[0] == (11.3, 47.3)


@pytest.mark.parametrize("called", ["Track 7", None])
def test_a_line_alone_is_taken_whatever_it_is_called(called: str | None, tmp_path: Path) -> None:
    path = _write(tmp_path, named((called, NEAR)))
    assert len(read_line(path, "delivery").coords) == 2


GPX = """<?xml version="1.0"?><gpx version="1.1" creator="t"
 xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="47" lon="11"><name>De 01</name></wpt>
<rte><name>delivery</name><rtept lat="47.3" lon="11.2"/><rtept lat="47.3" lon="11.201"/></rte>
<trk><name>supply</name><trkseg><trkpt lat="47.2" lon="11.2"/><trkpt lat="47.2" lon="11.21"/>
</trkseg></trk><trk><name>delivery</name><trkseg><trkpt lat="47.3" lon="11.2"><ele>900</ele>
</trkpt><trkpt lat="47.3" lon="11.201"><ele>910</ele></trkpt></trkseg></trk></gpx>"""


def test_a_line_as_route_and_track_of_one_gpx_is_one_line(tmp_path: Path) -> None:
    path = tmp_path / "stakes.gpx"
    path.write_text(GPX, encoding="utf-8")
    line = read_line(path, "delivery")
    assert list(line.coords) == [(11.2, 47.3), (11.201, 47.3)]
    assert not line.has_z


RECORDED = [
    ("gpx_gpxpy/korita-zbevnica.gpx", True),
    ("gpx_gpxpy/Mojstrovka.gpx", True),
    ("gpx_gpxpy/route.gpx", False),  # of waypoints, without times
    ("kml_togeojson/gxtrack.kml", True),
    ("kml_togeojson/linestring.kml", False),
]


@pytest.mark.parametrize(("name", "recorded"), RECORDED)
def test_a_recorded_walk_is_told_by_the_times_of_its_points(
    name: str, recorded: bool, shared_data: Path
) -> None:
    assert is_recorded(shared_data / name) == recorded


def test_tracks_without_times_and_other_files_were_not_recorded(tmp_path: Path) -> None:
    path = tmp_path / "stakes.gpx"
    path.write_text(GPX.replace("<name>De 01", "<time>2026-09-12T10:00:00Z</time><name>De 01"))
    assert not is_recorded(path)
    path.write_text(GPX.replace("<ele>900</ele>", "<ele>9</ele><time>2026-09-12T10:00:00Z</time>"))
    assert is_recorded(path)
    path.write_text(GPX.replace("</gpx>", "<wpt lat='1' lon='1'><time>2026</time></wpt></gpx>"))
    assert not is_recorded(path)
    assert not is_recorded(_csv(tmp_path, STAKES))


STAKES = """\
name,line,number,chainage_m,lon,lat,remark
De 02,delivery,2,10.0,11.2001,47.3000,
De 01,delivery,1,0.0,11.2000,47.3000,start
Su 01,supply,1,0.0,11.3000,47.3000,start
De 10,delivery,10,90.0,11.2009,47.3000,end
Su 02,supply,2,10.0,11.3001,47.3000,end
"""


def _csv(folder: Path, text: str) -> Path:
    path = folder / "stakes.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_stakes_of_a_line_stand_in_the_order_of_their_numbers(tmp_path: Path) -> None:
    line = read_line(_csv(tmp_path, STAKES), "delivery")
    assert [lon for lon, _ in line.coords] == [11.2, 11.2001, 11.2009]
    assert len(read_line(tmp_path / "stakes.csv", "Supply").coords) == 2


def test_stakes_without_numbers_stand_as_they_come(tmp_path: Path) -> None:
    text = "line;lat;lon\nx;47.3;11.2\nx;47.3;11.202\nx;47.3;11.201\n"
    line = read_line(_csv(tmp_path, text), "delivery")
    assert list(line.coords) == [(11.2, 47.3), (11.202, 47.3), (11.201, 47.3)]
    assert read_line(_csv(tmp_path, text.replace("line;", "note;"))).equals(line)


def test_a_list_that_a_spreadsheet_saved_with_decimal_commas(tmp_path: Path) -> None:
    text = "line;chainage_m;lat;lon\nx;12,5;47,3;11,202\nx;0,0;47,3;11,2\nx;3,25;47,3;11,201\n"
    line = read_line(_csv(tmp_path, text), "x")
    assert list(line.coords) == [(11.2, 47.3), (11.201, 47.3), (11.202, 47.3)]


def test_stakes_without_numbers_stand_in_the_order_of_their_chainage(tmp_path: Path) -> None:
    text = STAKES.replace("number", "remark 2")
    line = read_line(_csv(tmp_path, text), "delivery")
    assert [lon for lon, _ in line.coords] == [11.2, 11.2001, 11.2009]


BAD_STAKES = [
    (STAKES, "main", 'none of them called "main" ("delivery", "supply")'),
    (STAKES, None, "keep one line in the file"),
    (STAKES.replace("lon,lat", "east,north"), "supply", "it needs lon and lat"),
    (STAKES.replace("11.3001", "11,3001"), "delivery", None),
    (STAKES.replace("11.2001", "here"), "delivery", 'line 2: lon is "here"'),
    (STAKES.replace("delivery,2", "delivery,1"), "delivery", "line 3: the line has a stake number"),
    (STAKES.replace("delivery,2", "delivery,2b"), "delivery", "line 2: the stake's number is"),
    (STAKES.replace("delivery,2", "delivery,"), "delivery", "line 2: the stake's number is"),
    (
        STAKES.replace("number", "n").replace("2,10.0,11.2", "2,far,11.2"),
        "delivery",
        "line 2: the stake's chainage_m is",
    ),
    (STAKES.replace("11.2001,47.3000", "47.3,174.0"), "delivery", "latitude before longitude"),
    (STAKES.replace("11.2001", "500000"), "delivery", "no longitude and latitude"),
    ("line,lon,lat\n", "delivery", "holds no line"),
    ("line,lon,lat\na,11,47\n", "delivery", "stands still"),
    (" , ,\n", "delivery", "holds no table"),
    ("line,lon,lat\n" + "a,11,47\n" * 20_001, "a", "keep those of the stakes alone"),
]


@pytest.mark.parametrize(("text", "name", "words"), BAD_STAKES)
def test_a_stake_list_that_cannot_be_used_is_refused(
    text: str, name: str | None, words: str | None, tmp_path: Path
) -> None:
    path = _csv(tmp_path, text)
    if words is None:  # a fault in another line's row is not this line's
        assert len(read_line(path, name).coords) == 3
        return
    with pytest.raises(SketchError) as caught:
        read_line(path, name)
    assert words in str(caught.value)
    assert "stakes.csv" in str(caught.value)
    assert "\n" not in str(caught.value)
