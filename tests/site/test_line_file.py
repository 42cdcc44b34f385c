import json
from pathlib import Path

import pytest
from pyproj import Geod

from planner.errors import SketchError
from planner.site.line_file import read_line

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
