"""Sampling the ground along a line."""

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.errors import SketchError
from planner.profile.along import profile_along
from planner.terrain.value import Terrain


def tilted(rows=40, cols=60, cell=(2.0, 3.0)):
    """A plane that rises 0.1 a metre east and 0.2 a metre north, off origin, oblong cells."""
    x = 1000.0 + (np.arange(cols) + 0.5) * cell[0]
    y = 5000.0 - (np.arange(rows) + 0.5) * cell[1]
    return Terrain.from_array(0.1 * x + 0.2 * y[:, None], cell, origin=(1000.0, 5000.0))


def test_a_plane_is_sampled_exactly():
    line = LineString([(1010.0, 4990.0), (1050.0, 4960.0), (1100.0, 4950.0)])
    profile = profile_along(tilted(), line)
    assert profile.ground == pytest.approx(0.1 * profile.xy[:, 0] + 0.2 * profile.xy[:, 1])
    assert profile.run[-1] == pytest.approx(line.length)
    assert np.max(np.diff(profile.run)) <= 1.0 + 1e-9


def test_vertices_are_samples():
    corner = (1033.3, 4971.7)
    profile = profile_along(tilted(), [(1010.0, 4990.0), corner, (1080.0, 4950.0)], step=7.0)
    assert np.min(np.hypot(*(profile.xy - corner).T)) < 1e-9


def test_chainage_runs_along_the_slope():
    profile = profile_along(tilted(), [(1010.0, 4950.0), (1010.0, 4990.0)])
    assert profile.length == pytest.approx(40.0 * np.hypot(1.0, 0.2))


def test_a_hole_is_nan_and_the_chainage_goes_on():
    z = np.ones((20, 20))
    z[8:12, 8:12] = np.nan
    profile = profile_along(Terrain.from_array(z, 1.0), [(2.0, -10.0), (18.0, -10.0)])
    assert np.any(np.isnan(profile.ground))
    assert profile.length == pytest.approx(16.0)


@pytest.mark.parametrize("line", [[(1.0, 1.0)], [(1.0, 1.0), (1.0, 1.0)], [(0.0, np.nan), (1, 1)]])
def test_a_line_without_length_is_refused(line):
    with pytest.raises(SketchError):
        profile_along(tilted(), line)


def test_an_endless_line_is_refused_before_memory_is_taken():
    with pytest.raises(SketchError, match="too long"):
        profile_along(tilted(), [(0.0, 0.0), (1e9, 0.0)])
