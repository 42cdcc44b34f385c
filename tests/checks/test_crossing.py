"""Lines across what the sketch draws: each crossing is found where it was put."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.site.value import Crossing
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_lonlat
from tests.checks.altered import base, found
from tests.checks.troubles import crossing, road_crossed


def test_a_road_is_told_where_the_line_crosses_it() -> None:
    (note,) = found(road_crossed(), "crossing-drawn")
    assert note.values == {"crossing": "Mill lane"}
    assert note.line == "main"
    assert note.chainage_m == pytest.approx(0.0, abs=50.1)  # the nearest sample of three
    assert note.at is not None


def test_each_crossing_is_told_once_for_each_place() -> None:
    """There and back 3 m apart is one place on the ground, 30 m farther on is another."""
    plan = road_crossed()
    turns = [(20.0, -120.0), (20.0, -60.0), (23.0, -60.0), (23.0, -120.0), (53.0, -60.0)]
    road = Crossing("lane", LineString(to_lonlat(base().terrain, turns)), 20.0)
    plan = crossing(plan, road)
    assert len(found(plan, "crossing-drawn")) == 2


def test_a_road_that_no_line_meets_is_not_told() -> None:
    plan = road_crossed()
    far = LineString(to_lonlat(base().terrain, [(20.0, -80.0), (20.0, -60.0)]))
    plan = crossing(plan, Crossing("a", far, 1.0))
    assert found(plan, "crossing-drawn") == []


def test_a_stream_found_in_the_ground_is_no_crossing_drawn() -> None:
    streams = (Stream(np.array([[20.0, -120.0], [20.0, -60.0]]), 1e5),)
    plan = crossing(replace(road_crossed(), streams=streams))
    assert [one.name for line in plan.lines for one in line.crossed] == [""]
    assert found(plan, "crossing-drawn") == []
