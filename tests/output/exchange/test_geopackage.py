"""The GeoPackage, opened as a database and by a reader of geodata."""

import sqlite3
import sys
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import geopandas as gpd
import numpy as np
import pyogrio
import pytest
from pyproj import CRS, Transformer

from planner.errors import TerrainError
from planner.output.exchange.geopackage import write_geopackage
from planner.output.stakes.clean import one_line
from planner.output.stakes.make import stakes_of
from planner.record.value import Plan
from planner.terrain.value import Terrain
from tests.example import CRS as LOCAL
from tests.example import example_plan
from tests.staked import HOSTILE, field_plan, plan_of

LAYERS = {
    "points", "lines", "pipes", "samples", "high_points", "low_points", "vents", "crossings",
    "other_routes", "stakes", "findings", "areas", "streams", "levelled", "as_built",
    "as_built_marks", "owners", "plan",
}  # fmt: skip


def written(plan: Plan, folder: Path) -> Path:
    path = folder / "plan.gpkg"
    write_geopackage(plan, stakes_of(plan), path)
    return path


def layer(path: Path, name: str) -> gpd.GeoDataFrame:
    return gpd.read_file(path, layer=name, engine="pyogrio")


@pytest.fixture
def plan() -> Plan:
    return field_plan()


def test_every_layer_is_there_in_a_plan_of_any_kind(plan, tmp_path):
    for one in (plan, example_plan(), plan_of()):
        assert set(pyogrio.list_layers(written(one, tmp_path))[:, 0]) == LAYERS


def test_the_same_plan_gives_the_same_bytes_and_no_clock(plan, tmp_path):
    first = written(plan, tmp_path).read_bytes()
    assert written(plan, tmp_path).read_bytes() == first
    with closing(sqlite3.connect(tmp_path / "plan.gpkg")) as base:
        dates = {row[0] for row in base.execute("SELECT last_change FROM gpkg_contents")}
        assert base.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert dates == {f"{plan.made.isoformat()}T00:00:00.000Z"}
    assert pyogrio.get_gdal_config_option("OGR_CURRENT_DATE") is None


def test_it_lies_where_it_lies_on_the_earth(plan, tmp_path):
    """A CRS without a number is carried as text; a GIS must still place it to the centimetre."""
    stakes = layer(written(plan, tmp_path), "stakes")
    own = [stake for one in stakes_of(plan) for stake in one.stakes]
    assert stakes["name"].tolist() == [stake.name for stake in own]
    assert CRS(stakes.crs).to_epsg() is None
    degrees = stakes.to_crs("EPSG:4326")
    back = Transformer.from_crs("EPSG:4326", LOCAL, always_xy=True)
    xy = np.column_stack(back.transform(degrees.geometry.x, degrees.geometry.y))
    np.testing.assert_allclose(xy, [stake.xy for stake in own], atol=0.01)
    np.testing.assert_allclose(degrees.geometry.x, [s.lonlat[0] for s in own], atol=1e-8)
    for column, value in (("pipe_m", "pipe_m"), ("rise_m", "rise_m"), ("back_m", "back_m")):
        np.testing.assert_allclose(stakes[column], [getattr(s, value) for s in own], atol=0.0011)


def test_a_numbered_system_keeps_its_number(plan, tmp_path):
    shift = np.array([500_000.0, 5_200_000.0])
    west, north = np.array(plan.terrain.origin) + shift
    land = Terrain.from_array(plan.terrain.z, 1.0, (west, north), "EPSG:32632")
    lines = tuple(
        replace(one, profile=replace(one.profile, xy=one.profile.xy + shift)) for one in plan.lines
    )
    path = written(replace(plan, terrain=land, lines=lines), tmp_path)
    stakes = layer(path, "stakes")
    assert CRS(stakes.crs).to_epsg() == 32632
    with closing(sqlite3.connect(path)) as base:
        (srs,) = base.execute(
            "SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = 'stakes'"
        ).fetchone()
    assert srs == 32632
    degrees = stakes.to_crs("EPSG:4326")
    np.testing.assert_allclose(degrees.geometry.x, stakes["lon"], atol=2e-8)
    np.testing.assert_allclose(degrees.geometry.y, stakes["lat"], atol=2e-8)


def test_lines_carry_the_figures_of_the_plan(plan, tmp_path):
    lines = layer(written(plan, tmp_path), "lines").set_index("name")
    for line in plan.lines:
        row = lines.loc[line.name]
        assert row["length_m"] == pytest.approx(line.profile.length)
        assert row.geometry.length == pytest.approx(line.profile.run[-1])
        assert row["flow_m3s"] == pytest.approx(line.water.flow if line.water else np.nan)
        assert row["bore_m"] == line.settings.pipe.bore
        assert row["high_points"] == len(line.high_points)
        assert bool(row["walked"]) == line.walked
    assert lines.loc["delivery", "pipe"] == "32 mm PE, 25 mm PE <PN 16>"
    assert lines.loc["delivery", "vents"] == 1
    assert lines.loc["delivery", "built"] == "2026-10-03"


def test_pipes_lie_along_their_part_of_the_line(plan, tmp_path):
    pipes = layer(written(plan, tmp_path), "pipes")
    for line in plan.lines:
        own = pipes[pipes["line"] == line.name]
        assert own.geometry.length.sum() == pytest.approx(line.profile.run[-1])
        assert own["end_m"].tolist()[:-1] == own["start_m"].tolist()[1:]
        assert own["joints"].tolist() == [len(run.joints) for run in line.runs]


def test_points_along_the_lines_stand_on_them(plan, tmp_path):
    path = written(plan, tmp_path)
    delivery = plan.line("delivery")
    high = layer(path, "high_points").iloc[0]
    assert (high.geometry.x, high.geometry.y) == tuple(
        delivery.profile.xy[delivery.high_points[0].index]
    )
    assert high["rise_m"] == 0.62
    vent = layer(path, "vents").iloc[0]
    assert (vent["line"], vent["kind"]) == ("delivery", "air valve")
    assert vent.geometry.equals(high.geometry)
    assert len(layer(path, "low_points")) == 1
    crossings = layer(path, "crossings")
    assert crossings["name"].tolist() == [
        one_line(one.name) if len(one.name) < 100 else one_line(one.name, 2000)
        for line in plan.lines
        for one in line.crossed
    ]
    samples = layer(path, "samples")
    own = samples[samples["line"] == "delivery"]
    np.testing.assert_array_equal(own["pipe_m"], delivery.profile.pipe)
    np.testing.assert_array_equal(own["chainage_m"], delivery.profile.chainage)


def test_findings_come_in_words_and_number(plan, tmp_path):
    findings = layer(written(plan, tmp_path), "findings")
    assert findings["number"].tolist() == [1, 2, 3]
    assert findings["code"].tolist() == [one.code for one in plan.findings]
    assert findings["message"].str.len().min() > 10
    assert findings.geometry.isna().tolist() == [one.at is None for one in plan.findings]


def test_owners_and_figures_are_tables(plan, tmp_path):
    path = written(plan, tmp_path)
    owners = pyogrio.read_dataframe(path, layer="owners")
    assert owners["metres"].tolist() == [one.metres for one in plan.owners]
    figures = pyogrio.read_dataframe(path, layer="plan")
    told = dict(zip(figures["what"], figures["value"], strict=True))
    assert told["made"] == "2026-11-24"
    assert float(told["delivered, expected"]) == 1.7
    assert "bent to levels measured" in told["levels from"]


def test_what_the_field_brought_is_there(plan, tmp_path):
    path = written(plan, tmp_path)
    station = layer(path, "levelled").iloc[0]
    assert (station["name"], station["level_m"], station["methods"]) == (
        "De 02",
        503.21,
        "level, hose",
    )
    assert station["measured_less_model_m"] == pytest.approx(-0.19)
    built = layer(path, "as_built").iloc[0]
    assert (built["line"], built["date"]) == ("delivery", "2026-10-03")
    assert built["photos"] == "trench.jpg, valve.jpg"
    mark = layer(path, "as_built_marks").iloc[0]
    assert (mark["what"], mark["depth_m"], mark["photo"]) == ("air valve", 0.62, "a1.jpg")
    assert (mark.geometry.x, mark.geometry.y) == tuple(plan.line("delivery").profile.xy[25])
    for text in (mark["remark"], built["note"]):
        assert text == one_line(HOSTILE, 2000)


def test_without_a_coordinate_system_it_says_so(plan, tmp_path):
    staked = stakes_of(plan)
    bare = replace(plan, terrain=replace(plan.terrain, crs=None))
    with pytest.raises(TerrainError, match="no coordinate system"):
        write_geopackage(bare, staked, tmp_path / "plan.gpkg")
    assert not (tmp_path / "plan.gpkg").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="limits of this kind are of Unix")
def test_a_full_disk_is_told_as_one(tmp_path):
    """GDAL tells of it in a word of its own; the command knows OSError alone."""
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (150_000, before[1]))
    try:
        with pytest.raises(OSError, match="File too large"):
            write_geopackage(example_plan(), stakes_of(example_plan()), tmp_path / "plan.gpkg")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
