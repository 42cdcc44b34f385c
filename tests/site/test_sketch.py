import json
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import MultiPolygon, box

from planner.errors import SketchError
from planner.site.defaults import CROSSING_COST
from planner.site.read import site_from_text
from planner.site.value import Sketch
from tests.site.example import site_text

FLOOR = """
[sketch]
[[sketch.points]]
role = "source"
at = [11.2, 47.3]
[[sketch.points]]
role = "tank"
at = [11.21, 47.31]
"""


def _sketch(more: str, folder: Path) -> Sketch:
    return site_from_text(site_text(sketch=FLOOR + more), folder).sketch


def test_points_without_a_name_are_called_after_their_role(tmp_path: Path) -> None:
    more = '[[sketch.points]]\nrole = "tank"\nat = [11.22, 47.31]\n' * 1
    more += '[[sketch.points]]\nname = "Tank 3"\nat = [11.23, 47.31]\n'
    more += '[[sketch.points]]\nrole = "tank"\nat = [11.24, 47.31]\n'
    names = [point.name for point in _sketch(more, tmp_path).points]
    assert names == ["source", "tank", "tank 2", "Tank 3", "tank 4"]


def test_several_sources_and_tanks_are_taken(tmp_path: Path) -> None:
    more = '[[sketch.points]]\nname = "creek"\nat = [11.22, 47.31]\n'
    assert len(_sketch(more, tmp_path).role("source")) == 2


def test_two_roles_may_share_a_place(tmp_path: Path) -> None:
    more = '[[sketch.points]]\nname = "chamber"\nat = [11.2, 47.3]\n'
    assert len(_sketch(more, tmp_path).points) == 3


def test_way_points_name_their_line(tmp_path: Path) -> None:
    more = '[[sketch.points]]\nrole = "way"\nline = "delivery"\nat = [11.2, 47.31]\n'
    assert _sketch(more, tmp_path).role("way")[0].line == "delivery"


def test_an_owner_may_have_several_parcels_with_holes(tmp_path: Path) -> None:
    shape = MultiPolygon([box(0, 0, 1, 1).difference(box(0.2, 0.2, 0.4, 0.4)), box(2, 0, 3, 1)])
    area = f'[[sketch.areas]]\nrole = "owner"\nname = "Field & Son"\nwkt = "{shape.wkt}"\n'
    areas = _sketch(area + area, tmp_path).areas
    assert [one.name for one in areas] == ["Field & Son"] * 2
    assert areas[0].shape.equals(shape)


def test_a_ring_closes_itself_or_is_closed(tmp_path: Path) -> None:
    area = '[[sketch.areas]]\nrole = "avoid"\nring = [[0, 0], [1, 0], [1, 1]{}]\n'
    open_ring, closed = (_sketch(area.format(end), tmp_path).areas for end in ("", ", [0, 0]"))
    assert open_ring[0].shape == closed[0].shape
    assert open_ring[0].name == "avoid"


def test_duplicates_name_both_points(tmp_path: Path) -> None:
    more = '[[sketch.points]]\nname = "old tank"\nat = [11.21, 47.31]\n'
    with pytest.raises(SketchError, match=r'"tank" .*"old tank"|"old tank" .*"tank"'):
        _sketch(more, tmp_path)


def test_a_road_is_crossed_at_its_price(tmp_path: Path) -> None:
    more = """
[[sketch.crossings]]
name = "Lane"
path = [[11.2, 47.305], [11.205, 47.3], [11.21, 47.305]]
cost = "40 m"
[[sketch.crossings]]
path = [[11.2, 47.306], [11.21, 47.306]]
"""
    lane, other = _sketch(more, tmp_path).crossings
    assert (lane.name, lane.cost) == ("Lane", 40.0)
    assert list(lane.shape.coords) == [(11.2, 47.305), (11.205, 47.3), (11.21, 47.305)]
    assert (other.name, other.cost) == ("crossing", CROSSING_COST)


WAY = [[11.2, 47.305], [11.21, 47.306]]
SQUARE = [[11.2, 47.3], [11.21, 47.3], [11.21, 47.31], [11.2, 47.3]]


def _from_file(folder: Path, said: dict[str, Any], coordinates: Any, kind: str) -> Sketch:
    geometry = {"type": kind, "coordinates": coordinates}
    feature = {"type": "Feature", "properties": said, "geometry": geometry}
    document = {"type": "FeatureCollection", "features": [feature]}
    (folder / "lines.geojson").write_text(json.dumps(document), encoding="utf-8")
    floor = FLOOR.replace("[sketch]", '[sketch]\nfile = "lines.geojson"')
    return site_from_text(site_text(sketch=floor), folder).sketch


@pytest.mark.parametrize(
    ("said", "crossings", "areas", "ignored"),
    [
        ({"role": "crossing", "cost": "12 m"}, 1, 0, 0),
        ({"role": "Crossing", "name": "Track 7"}, 1, 0, 0),
        ({"name": "Mill Brook"}, 1, 0, 0),
        ({"name": "Track 7"}, 0, 0, 1),  # how a GPS names the way it was carried
        ({"name": "Rocky field by the road"}, 0, 1, 0),
        ({"name": "Road", "role": "avoid"}, 0, 1, 0),
        ({"name": "Road", "role": "walked"}, 0, 0, 1),
    ],
)
def test_a_line_of_a_file_is_one_to_cross_by_role_or_name(
    said: dict[str, str], crossings: int, areas: int, ignored: int, tmp_path: Path
) -> None:
    sketch = _from_file(tmp_path, said, SQUARE, "LineString")
    assert len(sketch.crossings) == crossings
    assert len(sketch.areas) == areas
    assert len(sketch.ignored) == ignored


def test_each_piece_of_a_line_is_crossed(tmp_path: Path) -> None:
    pieces = [WAY, [[11.2, 47.307], [11.21, 47.307]]]
    sketch = _from_file(tmp_path, {"role": "crossing", "cost": "12 m"}, pieces, "MultiLineString")
    assert [one.cost for one in sketch.crossings] == [12.0, 12.0]
    assert list(sketch.crossings[1].shape.coords) == [(11.2, 47.307), (11.21, 47.307)]


def test_an_area_is_no_crossing(tmp_path: Path) -> None:
    with pytest.raises(SketchError, match="role"):
        _from_file(tmp_path, {"role": "crossing"}, [SQUARE], "Polygon")
