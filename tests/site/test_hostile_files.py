"""Files made to cost time or memory without end: refused at once, in a sentence."""

import sqlite3
from pathlib import Path

import geopandas as gpd
import pytest
from shapely.geometry import LineString

from planner.errors import InputError, SketchError
from planner.levels.table import read_table
from planner.site.csv_table import csv_table
from planner.site.gdal import MOST_LAYERS
from planner.site.geodata import read_features
from planner.site.line_file import read_line

WALK = LineString([(11.2, 47.3), (11.201, 47.3), (11.202, 47.301)])
GPX = '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'
COUNTING = (
    "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) "
    "SELECT x AS fid, (SELECT geom FROM walk) AS geom FROM n WHERE x < 0"
)
LAYER = """
INSERT INTO gpkg_contents (table_name, data_type, identifier, srs_id)
VALUES ('{0}', 'features', '{0}', 4326);
INSERT INTO gpkg_geometry_columns VALUES ('{0}', 'geom', 'LINESTRING', 4326, 0, 0);
"""


def _gpkg(folder: Path, sql: str = "") -> Path:
    path = folder / "walk.gpkg"
    gpd.GeoDataFrame({"name": ["delivery"]}, geometry=[WALK], crs=4326).to_file(path, layer="walk")
    database = sqlite3.connect(path)
    database.executescript(sql)
    database.close()
    return path


def test_a_plain_geopackage_with_its_index_and_triggers_is_read(tmp_path):
    assert read_line(_gpkg(tmp_path)).equals(WALK)


@pytest.mark.parametrize(
    "query",
    [
        COUNTING,
        "SELECT 1 AS fid, (SELECT geom FROM walk) AS geom, hex(zeroblob(400000000)) AS name",
    ],
    ids=["counts without end", "fills the memory"],
)
def test_a_view_is_not_run(query, tmp_path):
    path = _gpkg(tmp_path, f"CREATE VIEW endless AS {query};" + LAYER.format("endless"))
    with pytest.raises(SketchError, match='"endless" is a query, not a plain table'):
        read_features(path)


def test_a_column_reckoned_on_reading_is_not_run(tmp_path):
    made = "CREATE TABLE grown (fid INTEGER PRIMARY KEY, geom BLOB, big GENERATED ALWAYS AS ({}));"
    path = _gpkg(tmp_path, made.format("hex(zeroblob(400000000))") + LAYER.format("grown"))
    with pytest.raises(SketchError, match='"grown" is a query'):
        read_features(path)


def test_a_geopackage_cut_short(tmp_path):
    path = _gpkg(tmp_path)
    path.write_bytes(path.read_bytes()[:40_000])
    with pytest.raises(SketchError, match=r"walk\.gpkg can't be read as GeoPackage"):
        read_features(path)


def test_layers_without_number(tmp_path):
    made = "CREATE TABLE t{0} (fid INTEGER PRIMARY KEY, geom BLOB);"
    sql = "".join(made.format(k) + LAYER.format(f"t{k}") for k in range(MOST_LAYERS))
    with pytest.raises(SketchError, match=rf"^walk\.gpkg has {MOST_LAYERS + 1} layers; keep"):
        read_features(_gpkg(tmp_path, sql))


def test_a_line_stored_twice_counts_once_and_ten_thousand_are_soon_told_apart(tmp_path):
    def track(*points: tuple[str, str]) -> str:
        told = "".join(f'<trkpt lon="{lon}" lat="{lat}"/>' for lon, lat in points)
        return f"<trk><name>delivery</name><trkseg>{told}</trkseg></trk>"

    here, there = ("11.2", "47.3"), ("11.201", "47.301")
    path = tmp_path / "walk.gpx"
    path.write_text(GPX.format(track(here, there) + track(there, here)))
    assert len(read_line(path, "delivery").coords) == 2
    many = "".join(track(here, (f"11.2{k:05d}", "47.301")) for k in range(10_000))
    path.write_text(GPX.format(many))
    with pytest.raises(SketchError, match="10000 pieces"):
        read_line(path, "delivery")


def test_rows_without_end_are_not_all_read():
    with pytest.raises(SketchError, match="more than 20000 rows"):
        csv_table(b"lon,lat\n" + b"1,2\n" * 1_000_000, "walk.csv", "the stakes")


def test_a_cell_as_long_as_the_file(tmp_path):
    path = tmp_path / "levels.csv"
    path.write_text("station,back,fore\n" + "a" * 4_000_000 + ",1,2\n")
    with pytest.raises(InputError, match=r"levels\.csv line 2 has 4,000,004 characters"):
        read_table(path)
