"""Lines across what the sketch draws: each crossing is found where it was put."""

from dataclasses import replace

import pytest
from shapely.geometry import LineString

from planner.site.value import Crossing
from planner.terrain.frame import to_lonlat
from tests.checks.altered import base, found, site
from tests.checks.troubles import road_crossed


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
    plan = site(plan, sketch=replace(plan.site.sketch, crossings=(road,)))
    assert len(found(plan, "crossing-drawn")) == 2


def test_a_road_that_no_line_meets_is_not_told() -> None:
    plan = road_crossed()
    far = LineString(to_lonlat(base().terrain, [(20.0, -80.0), (20.0, -60.0)]))
    plan = site(plan, sketch=replace(plan.site.sketch, crossings=(Crossing("a", far, 1.0),)))
    assert found(plan, "crossing-drawn") == []
