"""Stakes written and read back by readers that know nothing of this program."""

import csv
import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import geopandas as gpd
import numpy as np
import pyogrio
import pytest
from pyproj import Transformer
from shapely import points
from shapely.geometry import shape

from planner.levels.stakes_file import read_stakes
from planner.output.look import ROLES
from planner.output.stakes.clean import one_line
from planner.output.stakes.csvfile import write_stakes_csv
from planner.output.stakes.geojson import write_stakes_geojson
from planner.output.stakes.gpx import write_stakes_gpx
from planner.output.stakes.kml import kml_colour, write_stakes_kml
from planner.output.stakes.make import stakes_of
from planner.output.stakes.value import Stake, StakedLine
from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.site.line_file import read_line
from tests.example import CRS
from tests.staked import HOSTILE, a_line, full_plan, plan_of, profile_of

Write = Callable[[Plan, Sequence[StakedLine], Path], None]
WRITERS: dict[str, Write] = {
    "stakes.csv": write_stakes_csv,
    "stakes.gpx": write_stakes_gpx,
    "stakes.kml": write_stakes_kml,
    "stakes.geojson": write_stakes_geojson,
}
CENTIMETRE = 0.01


@pytest.fixture
def plan() -> Plan:
    """A plan whose title, points and crossings are named by someone who means ill."""
    plan = full_plan()
    lines = (replace(plan.lines[0], start=HOSTILE), *plan.lines[1:])
    return replace(plan, lines=lines, site=replace(plan.site, title=HOSTILE))


def every_stake(plan: Plan) -> list[Stake]:
    return [stake for one in stakes_of(plan) for stake in one.stakes]


def local(lon: Sequence[float], lat: Sequence[float]) -> FloatArray:
    x, y = Transformer.from_crs("EPSG:4326", CRS, always_xy=True).transform(lon, lat)
    return np.column_stack([x, y])


def written(plan: Plan, folder: Path, name: str) -> Path:
    WRITERS[name](plan, stakes_of(plan), folder / name)
    return folder / name


def parsed(path: Path) -> ElementTree.Element:
    return ElementTree.parse(path).getroot()  # noqa: S314 - our own file


def hold_places(plan: Plan, lon: Sequence[float], lat: Sequence[float]) -> None:
    wanted = np.array([stake.xy for stake in every_stake(plan)])
    np.testing.assert_allclose(local(lon, lat), wanted, atol=CENTIMETRE)


@pytest.mark.parametrize("name", WRITERS)
def test_the_same_plan_gives_the_same_bytes(plan, tmp_path, name):
    first = written(plan, tmp_path, name).read_bytes()
    assert first == written(plan, tmp_path, name).read_bytes()
    assert b"larch-hollow" not in first.lower().replace(b"larch hollow", b"")


@pytest.mark.parametrize("name", WRITERS)
def test_a_plan_without_lines_is_written_too(tmp_path, name):
    assert written(plan_of(), tmp_path, name).stat().st_size > 0


def test_csv_holds_every_stake_and_its_sums_close(plan, tmp_path):
    with written(plan, tmp_path, "stakes.csv").open(encoding="utf-8-sig", newline="") as file:
        table = list(csv.DictReader(file))
    assert list(table[0]) == [
        "name", "line", "number", "reasons", "remark", "chainage_m", "run_m", "lon", "lat",
        "x_m", "y_m", "ground_m", "pipe_m", "depth_m", "back_m", "bearing", "rise_m",
        "ground_rise_m", "grade_after", "findings",
    ]  # fmt: skip
    stakes = every_stake(plan)
    assert [row["name"] for row in table] == [stake.name for stake in stakes]
    assert [row["remark"] for row in table] == [one_line(stake.remark) for stake in stakes]
    hold_places(plan, [float(row["lon"]) for row in table], [float(row["lat"]) for row in table])
    for line in plan.lines:
        own = [row for row in table if row["line"] == line.name]
        for rise, level in (
            ("rise_m", "pipe_m"),
            ("ground_rise_m", "ground_m"),
            ("back_m", "run_m"),
        ):
            total = round(sum(float(row[rise]) for row in own), 3)
            assert total == round(float(own[-1][level]) - float(own[0][level]), 3)
        assert own[0]["bearing"] == own[-1]["grade_after"] == ""


def test_csv_in_feet_stands_behind_the_metres(plan, tmp_path):
    us = replace(plan, site=replace(plan.site, units="us"))
    with written(us, tmp_path, "stakes.csv").open(encoding="utf-8-sig", newline="") as file:
        table = list(csv.DictReader(file))
    assert list(table[0])[20:] == [
        "chainage_ft", "run_ft", "ground_ft", "pipe_ft", "depth_ft", "back_ft", "rise_ft",
        "ground_rise_ft",
    ]  # fmt: skip
    for row in table:
        assert float(row["pipe_ft"]) == pytest.approx(float(row["pipe_m"]) / 0.3048, abs=0.01)
    own = [row for row in table if row["line"] == "delivery"]
    total = round(sum(float(row["rise_ft"]) for row in own), 2)
    assert total == round(float(own[-1]["pipe_ft"]) - float(own[0]["pipe_ft"]), 2)


@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_csv_cells_are_no_formulas(tmp_path, start):
    plan = plan_of(a_line(profile_of([(0, 0), (30, 5)])))
    (one,) = stakes_of(plan)
    bad = replace(one.stakes[0], remark=f"{start}cmd|' /c calc'!A0", name=f"{start}1")
    write_stakes_csv(plan, [replace(one, stakes=(bad, *one.stakes[1:]))], tmp_path / "s.csv")
    with (tmp_path / "s.csv").open(encoding="utf-8-sig", newline="") as file:
        row = next(csv.DictReader(file))
    assert row["remark"] == f"'{start}cmd|' /c calc'!A0"
    assert row["name"] == f"'{start}1"


def test_gpx_shows_stakes_in_order_and_a_track_a_line(plan, tmp_path):
    path = written(plan, tmp_path, "stakes.gpx")
    points = gpd.read_file(path, layer="waypoints", engine="pyogrio")
    stakes = every_stake(plan)
    assert points["name"].tolist() == [stake.name for stake in stakes]
    hold_places(plan, points.geometry.x.to_list(), points.geometry.y.to_list())
    np.testing.assert_allclose(points["ele"], [stake.ground_m for stake in stakes], atol=CENTIMETRE)
    assert points["desc"].str.contains("elevation data").all()
    assert "<b>&amp;</b>" in points["desc"].iloc[0]
    tracks = gpd.read_file(path, layer="tracks", engine="pyogrio")
    assert tracks["name"].tolist() == [line.name for line in plan.lines]
    for line, track in zip(plan.lines, tracks.geometry, strict=True):
        lon, lat = np.concatenate([np.array(part.coords)[:, :2] for part in track.geoms]).T
        course = local(lon.tolist(), lat.tolist())
        np.testing.assert_allclose(course[[0, -1]], line.profile.xy[[0, -1]], atol=CENTIMETRE)
    west, south, east, north = points.total_bounds
    bounds = parsed(path).find("{*}metadata/{*}bounds")
    assert bounds is not None
    assert float(bounds.attrib["minlon"]) <= west + 1e-9
    assert float(bounds.attrib["maxlat"]) >= north - 1e-9
    assert float(bounds.attrib["maxlon"]) >= east - 1e-9
    assert float(bounds.attrib["minlat"]) <= south + 1e-9


def test_gpx_follows_the_order_of_its_schema(plan, tmp_path):
    """The sequences of GPX 1.1: www.topografix.com/GPX/1/1/gpx.xsd."""
    root = parsed(written(plan, tmp_path, "stakes.gpx"))
    orders = {
        "gpx": ["metadata", "wpt", "rte", "trk"],
        "metadata": ["name", "desc", "author", "copyright", "link", "time", "keywords", "bounds"],
        "wpt": ["ele", "time", "name", "cmt", "desc", "src", "link", "sym", "type"],
        "trk": ["name", "cmt", "desc", "src", "link", "number", "type", "trkseg"],
    }
    assert root.attrib["version"] == "1.1"
    for element in root.iter():
        kind = element.tag.rpartition("}")[2]
        assert element.tag.startswith("{http://www.topografix.com/GPX/1/1}")
        if kind in orders:
            places = [orders[kind].index(child.tag.rpartition("}")[2]) for child in element]
            assert places == sorted(places)


def test_gpx_leaves_out_heights_that_are_not_known(tmp_path):
    profile = profile_of([(-60.0, 0.0), (60.0, 0.0)])
    hole = np.where((profile.run > 38.0) & (profile.run < 52.0), np.nan, profile.ground)
    plan = plan_of(a_line(replace(profile, ground=hole, pipe=hole - 0.5)))
    root = parsed(written(plan, tmp_path, "stakes.gpx"))
    bare = [e for e in root.findall(".//{*}wpt") if e.find("{*}ele") is None]
    assert [round(s.chainage_m) for s in every_stake(plan) if np.isnan(s.ground_m)] == [40, 50]
    assert len(bare) == 2
    assert all("not known" in (e.findtext("{*}desc") or "") for e in bare)


def test_kml_has_a_folder_a_line(plan, tmp_path):
    path = written(plan, tmp_path, "stakes.kml")
    assert pyogrio.read_info(path, layer="delivery")["driver"] == "LIBKML"
    assert pyogrio.list_layers(path)[:, 0].tolist() == [line.name for line in plan.lines]


def test_kml_stakes_are_read_back(plan, tmp_path):
    path = written(plan, tmp_path, "stakes.kml")
    names: list[str] = []
    lon: list[float] = []
    lat: list[float] = []
    for line, one in zip(plan.lines, stakes_of(plan), strict=True):
        frame = gpd.read_file(path, layer=line.name, engine="pyogrio")
        assert frame.geometry.iloc[0].geom_type == "LineString"
        points = frame.iloc[1:]
        names += points["Name"].tolist()
        lon += points.geometry.x.to_list()
        lat += points.geometry.y.to_list()
        levels = points["pipe_m"].astype(float)
        np.testing.assert_allclose(levels, [s.pipe_m for s in one.stakes], atol=0.001)
    assert names == [stake.name for stake in every_stake(plan)]
    hold_places(plan, lon, lat)


def test_kml_descriptions_hold_no_markup_and_styles_are_those_of_the_roles(plan, tmp_path):
    root = parsed(written(plan, tmp_path, "stakes.kml"))
    told = [element.text or "" for element in root.findall(".//{*}description")]
    assert any("&lt;b&gt;" in text for text in told)
    assert not any("<" in text for text in told)
    styles = {e.attrib["id"]: e for e in root.findall(".//{*}Style")}
    assert set(styles) == {line.role for line in plan.lines}
    for line in plan.lines:
        look, style = ROLES[line.role], styles[line.role]
        assert style.findtext("{*}LineStyle/{*}color") == kml_colour(look.colour)
        assert float(style.findtext("{*}LineStyle/{*}width") or 0) == look.width
    used = {(e.text or "").lstrip("#") for e in root.findall(".//{*}styleUrl")}
    assert used == set(styles)


def test_geojson_is_read_by_json_and_by_a_gis(plan, tmp_path):
    path = written(plan, tmp_path, "stakes.geojson")
    content = json.loads(path.read_text(encoding="utf-8"))
    assert "crs" not in content
    lines = [f for f in content["features"] if f["properties"]["kind"] == "line"]
    stakes = [f for f in content["features"] if f["properties"]["kind"] == "stake"]
    assert [f["properties"]["name"] for f in lines] == [line.name for line in plan.lines]
    assert [f["properties"]["name"] for f in stakes] == [s.name for s in every_stake(plan)]
    assert all(len(f["geometry"]["coordinates"]) == 2 for f in stakes)
    points = [shape(f["geometry"]) for f in stakes]
    hold_places(plan, [p.x for p in points], [p.y for p in points])
    for line, feature in zip(plan.lines, lines, strict=True):
        course = local(*np.array(shape(feature["geometry"]).coords).T.tolist())
        np.testing.assert_allclose(course[[0, -1]], line.profile.xy[[0, -1]], atol=CENTIMETRE)
    frame = gpd.read_file(path, engine="pyogrio")
    assert len(frame) == len(content["features"])
    np.testing.assert_allclose(frame.total_bounds, content["bbox"], atol=1e-9)
    assert frame.crs == "EPSG:4326"


def test_hostile_names_come_back_as_one_line(plan, tmp_path):
    wanted = one_line(plan.lines[0].start)
    assert "💧" in wanted
    assert "\n" not in wanted
    content = json.loads(written(plan, tmp_path, "stakes.geojson").read_text(encoding="utf-8"))
    assert content["features"][0]["properties"]["start"] == wanted
    root = parsed(written(plan, tmp_path, "stakes.kml"))
    assert root.findtext("{*}Document/{*}name") == one_line(plan.site.title)
    root = parsed(written(plan, tmp_path, "stakes.gpx"))
    assert root.findtext("{*}metadata/{*}name") == one_line(plan.site.title)


@pytest.mark.parametrize("name", WRITERS)
def test_what_no_file_can_hold_is_left_out(plan, tmp_path, name):
    awful = "a\x00b\x1b[31m\ud800c\ufffe"
    line = replace(plan.lines[0], start=awful)
    odd = replace(plan, lines=(line,), site=replace(plan.site, title=awful))
    content = written(odd, tmp_path, name).read_bytes().decode("utf-8-sig")
    assert not set("\x00\x1b\ufffe") & set(content)
    if name != "stakes.csv":
        assert "a b [31m c" in content


def test_stakes_come_back_through_the_readers_of_the_field(plan, tmp_path):
    back = read_stakes(written(plan, tmp_path, "stakes.csv"))
    assert list(back) == [stake.name for stake in every_stake(plan)]
    hold_places(plan, *zip(*back.values(), strict=True))


@pytest.mark.parametrize("name", WRITERS)
def test_a_line_comes_back_by_its_name(plan, tmp_path, name):
    path = written(plan, tmp_path, name)
    for line in plan.lines:
        course = local(*np.array(read_line(path, line.name).coords)[:, :2].T.tolist())
        np.testing.assert_allclose(course[[0, -1]], line.profile.xy[[0, -1]], atol=CENTIMETRE)
        away = line.path.distance(points(course))
        assert max(away) < CENTIMETRE
