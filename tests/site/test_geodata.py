"""One sketch through every format, and files that are not what they say."""

import json
from pathlib import Path

import geopandas as gpd
import pytest
from shapely.geometry import Point as Dot
from shapely.geometry import Polygon

from planner.errors import SketchError
from planner.site.geodata import read_features
from planner.site.read import site_from_text
from planner.site.value import Sketch
from tests.site.example import site_text

PLACES = {
    "spring": ("source", 11.2000, 47.3000),
    "house ram": ("pump", 11.2010, 47.2990),
    "upper one": ("tank", 11.2020, 47.3010),
}
BOG = Polygon([(11.2015, 47.3), (11.2017, 47.3), (11.2017, 47.3003)])


def _frame() -> gpd.GeoDataFrame:
    rows: list[tuple[object, ...]] = [
        (name, role, None, Dot(x, y)) for name, (role, x, y) in PLACES.items()
    ]
    rows.append(("bog", "costly", 3, BOG))
    columns = ["name", "role", "factor", "geometry"]
    return gpd.GeoDataFrame(rows, columns=columns, crs="EPSG:4326")


def _csv(path: Path) -> None:
    rows = [f"{name};{role};{y};{x}" for name, (role, x, y) in PLACES.items()]
    path.write_text("\n".join(["Name;Role;Lat;Lon", *rows]), encoding="utf-8-sig")


def _gpx(path: Path) -> None:
    points = "".join(
        f'<wpt lat="{y}" lon="{x}"><name>{name}</name></wpt>'
        for name, (_, x, y) in {**PLACES, "tank": PLACES["upper one"]}.items()
    )
    corners = "".join(f'<trkpt lat="{y}" lon="{x}"/>' for x, y in BOG.exterior.coords)
    path.write_text(
        '<?xml version="1.0"?><gpx version="1.1" creator="x" '
        f'xmlns="http://www.topografix.com/GPX/1/1">{points}'
        f"<trk><name>avoid bog</name><trkseg>{corners}</trkseg></trk></gpx>",
        encoding="utf-8",
    )


def _kml(path: Path) -> None:
    def data(role: str) -> str:
        return f'<ExtendedData><Data name="role"><value>{role}</value></Data></ExtendedData>'

    marks = "".join(
        f"<Placemark><name>{name}</name>{data(role)}<Point><coordinates>{x},{y},0</coordinates>"
        "</Point></Placemark>"
        for name, (role, x, y) in PLACES.items()
    )
    ring = " ".join(f"{x},{y},0" for x, y in BOG.exterior.coords)
    path.write_text(
        '<?xml version="1.0"?><!-- walked --><kml xmlns="http://www.opengis.net/kml/2.2">'
        f"<Document>{marks}<Placemark><name>bog</name>{data('avoid')}<Polygon><outerBoundaryIs>"
        f"<LinearRing><coordinates>{ring}</coordinates></LinearRing></outerBoundaryIs></Polygon>"
        "</Placemark></Document></kml>",
        encoding="utf-8",
    )


def _sketch(folder: Path, name: str, crs: str = "") -> Sketch:
    return site_from_text(site_text(sketch=f'[sketch]\nfile = "{name}"\n{crs}'), folder).sketch


@pytest.mark.parametrize("name", ["s.geojson", "s.gpkg", "s.kml", "s.csv"])
def test_the_same_points_come_from_every_format(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    if name == "s.kml":
        _kml(path)
    elif name == "s.csv":
        _csv(path)
    else:
        _frame().to_file(path)
    sketch = _sketch(tmp_path, name)
    assert [(p.name, p.role) for p in sketch.points] == [
        (name, role) for name, (role, *_) in PLACES.items()
    ]
    for point, (_, x, y) in zip(sketch.points, PLACES.values(), strict=True):
        assert point.at == pytest.approx((x, y), abs=1e-9)
    if name != "s.csv":
        assert sketch.areas[0].shape.equals_exact(BOG, 1e-9)
    if name in ("s.geojson", "s.gpkg"):
        assert sketch.areas[0].factor == 3.0


def test_waypoints_are_told_by_name_and_the_rest_is_said(tmp_path: Path) -> None:
    _gpx(tmp_path / "walk.gpx")
    sketch = _sketch(tmp_path, "walk.gpx")
    assert [(p.name, p.role) for p in sketch.points] == [
        ("spring", "source"),
        ("house ram", "pump"),
        ("tank", "tank"),
    ]
    assert sketch.ignored == ("upper one",)
    assert (sketch.areas[0].name, sketch.areas[0].role) == ("avoid bog", "avoid")
    assert sketch.areas[0].shape.equals(BOG)


def test_a_geopackage_brings_its_own_coordinate_system(tmp_path: Path) -> None:
    _frame().to_crs("EPSG:32632").to_file(tmp_path / "s.gpkg")
    sketch = _sketch(tmp_path, "s.gpkg")
    assert sketch.points[0].at == pytest.approx((11.2, 47.3), abs=1e-8)


def test_a_csv_in_metres_needs_and_heeds_the_sites_crs(tmp_path: Path) -> None:
    rows = "x,y,name\n500000,5238000,spring\n500100,5238000,tank\n"
    (tmp_path / "s.csv").write_text(rows, encoding="utf-8")
    assert _sketch(tmp_path, "s.csv", 'crs = "EPSG:32632"').points[0].at[0] == pytest.approx(9.0)
    with pytest.raises(SketchError, match=r"s\.csv, row 1 \(\"spring\"\): .* crs = "):
        _sketch(tmp_path, "s.csv")


def test_points_of_a_file_and_of_the_site_file_are_one_sketch(tmp_path: Path) -> None:
    _csv(tmp_path / "s.csv")
    more = '[[sketch.points]]\nname = "trough"\nat = [11.203, 47.3]\n'
    assert [p.name for p in _sketch(tmp_path, "s.csv", more).points] == [*PLACES, "trough"]


@pytest.mark.parametrize("folder", ["gabilan_1m", "auckland_1m", "sanpedro_10m"])
def test_real_scenarios_are_read(folder: str, shared_data: Path) -> None:
    text = site_text(sketch='[sketch]\nfile = "scenario.geojson"\n')
    sketch = site_from_text(text, shared_data / folder).sketch
    assert [point.role for point in sketch.points] == ["source", "pump", "tank", "outlet"]
    assert [point.name for point in sketch.points] == ["source", "pump", "tank", "outlet"]
    assert len(sketch.ignored) == 2  # its two lines


def test_real_waypoints_without_a_role_are_named_when_a_source_is_missing(
    shared_data: Path,
) -> None:
    text = site_text(sketch='[sketch]\nfile = "korita-zbevnica.gpx"\n')
    with pytest.raises(SketchError, match=r'no source; .* \(not understood: "001", "002"'):
        site_from_text(text, shared_data / "gpx_gpxpy")


LAUGHS = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "ha">'
    + "".join(
        f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    + ']><gpx version="1.1"><wpt lat="47" lon="11"><name>&i;</name></wpt></gpx>'
)
VRT = "<OGRVRTDataSource><OGRVRTLayer name='x'/></OGRVRTDataSource>"
POINT = '{"type": "Feature", "properties": {%s}, "geometry": {"type": "Point", "coordinates": %s}}'

BROKEN: list[tuple[str, bytes, str]] = [
    ("laughs.gpx", LAUGHS.encode(), "more than GPX; save it again"),
    ("laughs.kml", LAUGHS.replace("gpx", "kml").encode(), "more than KML; save it again"),
    ("laughs16.gpx", LAUGHS.encode("utf-16"), "more than GPX; save it again"),
    ("other.kml", VRT.encode(), "more than KML; save it again"),
    ("two.kml", f"<kml></kml>{VRT}".encode(), "more than KML; save it again"),
    ("html.gpx", b"<html><gpx/></html>", "not a GPX file"),
    ("comments.gpx", b"<!-- x -->" * 5000 + b"<x/>", "not a GPX file"),
    ("cut.gpx", b'<gpx version="1.1"><wpt lat="47" lon="11"><name>spr', "can't be read as GPX"),
    ("deep.kml", b"<kml>" + b"<Folder>" * 100_000, "can't be read as KML"),
    ("empty.kml", b" \n", "is empty"),
    ("junk.gpkg", b"SQLite format 3\0" + b"junk" * 99, "can't be read as GeoPackage"),
    ("text.gpkg", b"spring, 11.2, 47.3", "not a GeoPackage file"),
    ("cut.geojson", b'{"type": "FeatureCollection", "features": [', "not valid JSON at line 1"),
    ("list.geojson", b"[1, 2]", "is not GeoJSON"),
    ("number.json", b"7", "is not GeoJSON"),
    ("features.geojson", b'{"type": "FeatureCollection", "features": 7}', "is not GeoJSON"),
    ("deep.geojson", b"[" * 200_000, "nested too deep"),
    ("digits.geojson", b'{"type": ' + b"9" * 5000 + b"}", "number too long"),
    ("latin.geojson", '{"name": "B\u00e4ch"}'.encode("latin-1"), "not written in UTF-8"),
    ("none.geojson", b'{"type": "Feature", "geometry": {"type": "Point"}}', "geometry is broken"),
    ("text.geojson", (POINT % ("", '["a", "b"]')).encode(), "geometry is broken"),
    ("nan.geojson", (POINT % ('"role": "tank"', "[NaN, 47]")).encode(), "no longitude"),
    ("role.geojson", (POINT % ('"role": "well"', "[11, 47]")).encode(), '"well" is not one of'),
    (
        "height.geojson",
        (POINT % ('"role": "tank", "height": 2', "[11, 47]")).encode(),
        'height: "2" has no unit',
    ),
    (
        "crs.geojson",
        b'{"type": "FeatureCollection", "features": [], "crs": {"properties": {"name": "Q"}}}',
        '"Q" is not known',
    ),
    ("columns.csv", b"a,b\n1,2\n", "it needs lon and lat"),
    ("comma.csv", b"lon;lat;role\n11,2;47,3;source\n", 'row 1: lon is "11,2"'),
    ("short.csv", b"lon,lat,role\n11.2\n", "row 1: lat is"),
    ("binary.csv", b"\xff\xfe\x00\x01", "not written in UTF-8"),
    ("quote.csv", b'lon,lat\n"' + b"x" * 200_000, "no row of a table"),
]


@pytest.mark.parametrize(("name", "content", "words"), BROKEN, ids=[name for name, *_ in BROKEN])
def test_broken_and_hostile_files_end_in_a_message(
    name: str, content: bytes, words: str, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(SketchError) as caught:
        _sketch(tmp_path, name)
    message = str(caught.value)
    assert words in message
    assert name in message
    assert "\n" not in message
    assert len(message) < 400


def test_a_file_beyond_the_size_limit_is_not_opened(tmp_path: Path) -> None:
    with (tmp_path / "big.gpkg").open("wb") as file:
        file.truncate(60_000_000)
    with pytest.raises(SketchError, match=r"60 MB; give a file of at most 50 MB"):
        read_features(tmp_path / "big.gpkg")


def test_too_many_points_are_refused(tmp_path: Path) -> None:
    places = [(11.0 + n * 1e-4, 47.0) for n in range(1001)]
    features = [
        json.loads(POINT % (f'"role": "outlet", "name": "tap {n}"', list(at)))
        for n, at in enumerate(places)
    ]
    collection = {"type": "FeatureCollection", "features": features}
    (tmp_path / "s.geojson").write_text(json.dumps(collection), encoding="utf-8")
    with pytest.raises(SketchError, match="1,001 points; keep at most 1,000"):
        _sketch(tmp_path, "s.geojson")
