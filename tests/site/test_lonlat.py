from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from planner.errors import SketchError
from planner.site.lonlat import unswap
from planner.site.read import site_from_text
from planner.site.value import Area, Crossing, Point, Sketch
from tests.site.example import site_text

BOUNDS = (11.1, 47.2, 11.3, 47.4)


def _sketch(*places: tuple[float, float]) -> Sketch:
    points = tuple(Point(f"tank {n}", "tank", at) for n, at in enumerate(places))
    road = Crossing("road", LineString([(47.3, 11.2), (47.31, 11.22)]), 20.0)
    bog = Area("bog", "avoid", box(47.3, 11.2, 47.31, 11.22))
    return Sketch(points, (bog,), crossings=(road,))


def test_points_exchanged_as_a_whole_are_put_right() -> None:
    right = unswap(_sketch((47.3, 11.2), (47.31, 11.21)), BOUNDS)
    assert right.swapped
    assert [point.at for point in right.points] == [(11.2, 47.3), (11.21, 47.31)]
    assert right.areas[0].shape.bounds == (11.2, 47.3, 11.22, 47.31)
    assert list(right.crossings[0].shape.coords) == [(11.2, 47.3), (11.22, 47.31)]


@pytest.mark.parametrize(
    "places", [((11.2, 47.3),), ((11.2, 47.3), (47.3, 11.2)), ((0.0, 0.0),), ()]
)
def test_what_is_right_or_wrong_either_way_is_left(places: tuple[tuple[float, float], ...]) -> None:
    sketch = _sketch(*places)
    assert unswap(sketch, BOUNDS) is sketch


@given(st.floats(11.1, 11.3), st.floats(47.2, 47.4), st.floats(11.1, 11.3), st.floats(47.2, 47.4))
def test_putting_right_undoes_the_exchange(a: float, b: float, c: float, d: float) -> None:
    assert [p.at for p in unswap(_sketch((b, a), (d, c)), BOUNDS).points] == [(a, b), (c, d)]


def _at(first: str, second: str, crs: str = "") -> str:
    return f"""
[sketch]
{crs}
[[sketch.points]]
role = "source"
at = [{first}]
[[sketch.points]]
role = "tank"
at = [{second}]
"""


def test_a_latitude_beyond_90_tells_that_the_two_are_exchanged(tmp_path: Path) -> None:
    text = site_text(sketch=_at("-36.87, 174.76", "-36.871, 174.761"))
    sketch = site_from_text(text, tmp_path).sketch
    assert sketch.swapped
    assert sketch.points[0].at == (174.76, -36.87)


def test_places_off_the_earth_are_refused_with_the_remedy(tmp_path: Path) -> None:
    text = site_text(sketch=_at("11.2, 47.3", "445000, 5238000"))
    with pytest.raises(SketchError, match=r"points no\. 2: 445000, 5238000 .* longitude first"):
        site_from_text(text, tmp_path)


def test_places_that_a_projection_cannot_hold_are_refused(tmp_path: Path) -> None:
    text = site_text(sketch=_at("11.2, 47.3", "1e300, 1e300", 'crs = "EPSG:32632"'))
    with pytest.raises(SketchError, match="is no longitude and latitude"):
        site_from_text(text, tmp_path)


def test_a_projected_sketch_comes_out_in_degrees(tmp_path: Path) -> None:
    # UTM zone 32, 500 000 E lies on its central meridian of 9 degrees east by definition.
    crs = 'crs = "EPSG:32632"'
    text = site_text(sketch=_at("500000, 5238000", "500100, 5238000", crs))
    points = site_from_text(text, tmp_path).sketch.points
    assert points[0].at[0] == pytest.approx(9.0, abs=1e-9)
    assert 47.2 < points[0].at[1] < 47.4
