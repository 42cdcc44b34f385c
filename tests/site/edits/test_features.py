"""What files of other programs hold for a sketch."""

import json

import geopandas as gpd
import pytest
from shapely.geometry import MultiPoint, Point, Polygon

from planner.errors import SketchError
from planner.site.edits.apply import edited
from planner.site.edits.features import features_of
from planner.site.edits.open import draft_site
from planner.site.edits.value import AddFeatures
from tests.site.edits.drafts import BOG, collection, feature, features, geojson_draft

GPX = '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'


def _gpx(path, **waypoints):
    points = "".join(
        f'<wpt lat="{47.3 + n / 1000}" lon="11.2"><ele>812</ele><name>{name}</name>'
        f"<sym>{sym}</sym></wpt>"
        for n, (name, sym) in enumerate(waypoints.items())
    )
    walk = '<trkpt lat="47" lon="11"/><trkpt lat="48" lon="11"/>'
    track = f"<trk><name>Track 7</name><trkseg>{walk}</trkseg></trk>"
    path.write_text(GPX.format(points + track), encoding="utf-8")
    return path


def test_waypoints_come_with_the_role_their_name_tells_or_none(tmp_path):
    found = features_of(_gpx(tmp_path / "w.gpx", spring="Flag", p005="Pin", ram="Pin"))
    assert [one["properties"] for one in found] == [
        {"name": "spring", "role": "source"},
        {"name": "p005", "role": None},
        {"name": "ram", "role": "pump"},
    ]
    assert found[2]["geometry"] == {"type": "Point", "coordinates": [11.2, 47.302]}


def test_what_comes_can_be_added_once_each_role_is_chosen(tmp_path):
    found = features_of(_gpx(tmp_path / "w.gpx", spring="Flag", p005="Pin"))
    draft = geojson_draft(tmp_path)
    with pytest.raises(SketchError, match='nothing tells what "p005" is'):
        edited(draft, AddFeatures(found))
    found[1]["properties"]["role"] = "outlet"
    points = draft_site(edited(draft, AddFeatures(found))).sketch.points
    assert [(p.name, p.role) for p in points[6:]] == [("p005", "outlet")]  # the spring is there


def test_a_sketch_of_this_kind_comes_whole_but_for_its_walk(tmp_path):
    path = tmp_path / "other.geojson"
    path.write_text(collection(features()), encoding="utf-8")
    found = features_of(path)
    assert [one["properties"]["name"] for one in found] == [
        "spring",
        "ram",
        "first peg",
        "bog",
        "mill lane",
        "second peg",
        "tank",
        "trough",
        "slabs",
    ]
    assert found[2]["properties"] == {"name": "first peg", "role": "way", "line": "delivery"}
    assert found[4]["properties"] == {"name": "mill lane", "role": "crossing", "cost": "12 m"}
    assert found[6]["properties"]["height"] == "2 m"
    assert found[8]["properties"] == {"name": "slabs", "role": "costly", "factor": 3.0}
    assert json.loads(json.dumps(found)) == list(found)


def test_a_geopackage_in_metres_with_columns_of_its_own(tmp_path):
    rows = gpd.GeoDataFrame(
        {
            "name": ["tank", None, "well", "field"],
            "role": [None, None, "borehole", None],
            "height": [812.4, 1.0, 2.0, 3.0],
            "species": ["oak", "ash", "fir", "elm"],
        },
        geometry=[
            Point(11.2, 47.3, 812.0),
            MultiPoint([(11.201, 47.3), (11.202, 47.3)]),
            Point(11.203, 47.3),
            Polygon(BOG),
        ],
        crs=4326,
    )
    rows.to_crs(32632).to_file(tmp_path / "s.gpkg")
    found = features_of(tmp_path / "s.gpkg")
    assert [one["properties"] for one in found] == [
        {"name": "tank", "role": "tank"},
        {"name": "feature 2", "role": None},
        {"name": "feature 2", "role": None},
        {"name": "well", "role": None},
        {"name": "field", "role": None},
    ]
    assert found[0]["geometry"]["coordinates"] == [11.2, 47.3]
    assert found[2]["geometry"]["coordinates"] == [11.202, 47.3]
    assert found[4]["geometry"]["coordinates"][0] == BOG


def test_names_are_cleaned_and_cut_but_never_read(tmp_path):
    path = tmp_path / "n.geojson"
    names = ["<script>alert(1)</script>", "\u202eknat\x00", "x" * 300]
    members = [
        feature("Point", [11.2, 47.3 + n / 1000], name=name, role="tank")
        for n, name in enumerate(names)
    ]
    path.write_text(collection(members), encoding="utf-8")
    assert [one["properties"]["name"] for one in features_of(path)] == [
        "<script>alert(1)</script>",
        "knat",
        "x" * 80,
    ]


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("w.gpx", GPX.format(""), r"w\.gpx holds no point, no area and no road or stream"),
        ("w.gpx", "<html>", r"w\.gpx is not a GPX file"),
        ("w.doc", "x", r"w\.doc is of no kind that is read here"),
        ("w.csv", "x,y\n484153,4984312\n", "is no longitude and latitude in degrees"),
        ("w.geojson", "{", "not valid JSON"),
    ],
)
def test_what_holds_nothing_is_refused_in_a_sentence(name, text, words, tmp_path):
    (tmp_path / name).write_text(text, encoding="utf-8")
    with pytest.raises(SketchError, match=words):
        features_of(tmp_path / name)


def test_real_waypoints_are_offered_and_a_real_track_is_not(shared_data):
    found = features_of(shared_data / "gpx_gpxpy" / "cerknicko-jezero.gpx")
    assert [one["properties"]["name"] for one in found][:3] == ["001", "BACK T TH", "BIRDS NEST"]
    assert {one["properties"]["role"] for one in found} == {None}
    with pytest.raises(SketchError, match="holds no point"):
        features_of(shared_data / "gpx_gpxpy" / "Mojstrovka.gpx")
