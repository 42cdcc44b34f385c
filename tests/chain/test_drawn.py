"""A line drawn by hand or walked: laid where it is."""

import json

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.chain.drawn import drawn_line, read_drawn
from planner.errors import SketchError, TerrainError
from planner.site.defaults import default_line
from planner.terrain.frame import to_local
from tests.chain.scene import at, levels, terrain_of, valley
from tests.command import SPRING, TANK, write_dem


def drawn(*places, role="main", ground=None):
    return drawn_line(ground or valley(), LineString([at(*place) for place in places]), role)


def test_it_runs_where_it_was_drawn_and_in_that_direction():
    line = drawn((20, -0.5), (60, 10), (100, -20))
    assert line.profile.xy[0] == pytest.approx((20, -0.5), abs=1e-6)
    assert line.profile.xy[-1] == pytest.approx((100, -20), abs=1e-6)
    corner = np.hypot(*(line.profile.xy - (60, 10)).T)
    assert corner.min() < 1e-6
    assert (line.start, line.end, line.water) == ("start", "end", None)


def test_across_the_valley_it_has_one_sag_and_across_a_spur_one_crest():
    sag = drawn((50, 40), (50, -40))
    assert (len(sag.high_points), len(sag.low_points)) == (0, 1)
    spur = drawn((50, 40), (50, -40), ground=terrain_of(-levels()))
    assert (len(spur.high_points), len(spur.low_points)) == (1, 0)
    assert not spur.rule_kept
    assert spur.profile.xy[spur.high_points[0].index, 1] == pytest.approx(0.0, abs=1.5)


@pytest.mark.parametrize(("role", "highs"), [("delivery", 1), ("main", 0)])
def test_a_delivery_that_falls_away_from_its_ram_holds_air_there(role, highs):
    line = drawn((50, 40), (50, 2), role=role)
    assert len(line.high_points) == highs
    assert all(high.run_m == 0.0 for high in line.high_points)


def test_heights_in_the_line_are_left_aside():
    flat = LineString([(*at(20, 5), 4000.0), (*at(90, 5), -7.0)])
    line = drawn_line(valley(), flat)
    assert np.all(np.abs(line.profile.ground - 97.0) < 6.0)


def test_a_drive_pipe_lies_straight():
    line = drawn((60, 0.5), (95, 0.5), role="drive")
    grades = np.diff(line.profile.pipe) / np.diff(line.profile.run)
    fall = line.profile.ground[0] - line.profile.ground[-1]
    assert np.allclose(grades, -fall / 35.0)
    assert not line.high_points


@pytest.mark.parametrize("role", ["supply", "delivery", "main", "distribution", "waste"])
def test_every_role_lies_in_its_usual_trench(role):
    laying = default_line(role).laying
    depth = drawn((20, -20), (150, 30), role=role).profile.depth
    assert depth.min() >= laying.least_cover - 1e-6
    assert depth.max() <= laying.deepest_trench + 1e-6


def test_off_the_data_and_over_a_hole_are_told_apart():
    with pytest.raises(TerrainError, match="outside the elevation data"):
        drawn((20, 0), (300, 0))
    z = levels()
    z[70:90, 100:110] = np.nan
    with pytest.raises(TerrainError, match="hole"):
        drawn((20, 0), (150, 0), ground=terrain_of(z))


def test_a_line_without_length_is_refused():
    with pytest.raises(SketchError, match="no length"):
        drawn((20, 0), (20, 0))


def test_files_are_read_round_the_line(tmp_path):
    dem = write_dem(tmp_path / "dem.tif")
    file = tmp_path / "walk.geojson"
    file.write_text(json.dumps({"type": "LineString", "coordinates": [SPRING, TANK]}))
    terrain, line = read_drawn(dem, file, role="supply")
    ends = to_local(terrain, [SPRING, TANK])
    assert line.profile.xy[[0, -1]] == pytest.approx(ends, abs=1e-6)
    assert line.profile.ground[0] == pytest.approx(520.0 - 0.12 * 19.5 + 0.02 * 49.5, abs=0.5)
    assert line.rule_kept
