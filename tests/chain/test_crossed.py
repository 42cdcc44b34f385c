"""Where lines cross streams and what the sketch draws to be crossed."""

from collections.abc import Sequence

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.chain.crossed import crossed
from planner.record.works import Crossed
from planner.site.value import Crossing, Sketch
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_lonlat
from tests.checks.altered import base, drawn

LINE = drawn("main", [0.0, 30.0, 60.0], [500.0, 498.0, 490.0])


Path = list[list[float]]


def _found(*, streams: Sequence[Path] = (), lanes: Sequence[Path] = ()) -> list[Crossed]:
    terrain, sketch = base().terrain, base().site.sketch
    drawn_ = tuple(
        Crossing("Mill Lane", LineString(to_lonlat(terrain, np.array(path))), 20.0)
        for path in lanes
    )
    sketch = Sketch(points=sketch.points, crossings=drawn_)
    found = [Stream(np.array(path), 1e5) for path in streams]
    return list(crossed(LINE, terrain, sketch, found))


def _at(run: float) -> tuple[float, float]:
    x, y = LINE.path.interpolate(run).coords[0]
    return float(x), float(y)


def _across(run: float) -> list[list[float]]:
    """A path square across the line."""
    (x, y), (x1, y1) = _at(run), _at(run + 1.0)
    dx, dy = x1 - x, y1 - y
    return [[x - 20 * dy, y + 20 * dx], [x + 20 * dy, y - 20 * dx]]


def test_a_stream_and_a_lane_are_found_where_they_are() -> None:
    found = _found(streams=[_across(45.0)], lanes=[_across(20.0)])
    assert [one.name for one in found] == ["Mill Lane", ""]
    assert [one.run_m for one in found] == pytest.approx([20.0, 45.0], abs=0.01)
    profile = LINE.profile
    for one in found:
        assert one.chainage_m == pytest.approx(
            np.interp(one.run_m, profile.run, profile.chainage), abs=1e-6
        )
        assert one.index == int(np.argmin(np.abs(profile.run - one.run_m)))


def test_a_stream_at_a_line_s_end_is_not_crossed_but_a_lane_is() -> None:
    assert _found(streams=[_across(1.0)]) == []
    assert [one.name for one in _found(lanes=[_across(1.0)])] == ["Mill Lane"]


def test_bends_of_one_stream_are_one_place_until_they_lie_apart() -> None:
    near = [*_across(30.0), *_across(33.0)[::-1]]
    far = [*_across(30.0), *_across(50.0)[::-1]]
    assert len(_found(streams=[near])) == 1
    assert len(_found(streams=[far])) == 2


def test_a_line_that_meets_nothing_crosses_nothing() -> None:
    assert _found() == []
