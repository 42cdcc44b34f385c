"""Cells and weights that make a level are those of `ground_at`."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from planner.terrain.corners import corners
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain


@given(
    rows=st.integers(1, 6),
    cols=st.integers(1, 5),
    across=st.floats(0.0, 1.0),
    down=st.floats(0.0, 1.0),
    seed=st.integers(0, 99),
)
def test_corners_make_the_level_of_the_ground(
    rows: int, cols: int, across: float, down: float, seed: int
) -> None:
    z = np.random.default_rng(seed).normal(100.0, 5.0, (rows, cols))
    terrain = Terrain.from_array(z, (2.0, 3.0), origin=(-7.0, 11.0))
    x, y = -7.0 + across * 2.0 * cols, 11.0 - down * 3.0 * rows
    at = corners(terrain, [(x, y)])
    made = np.sum(z[at.row, at.col] * at.weight)
    assert np.isclose(made, ground_at(terrain, x, y), atol=1e-9)
    assert np.isclose(at.weight.sum(), 1.0)
    assert at.weight.min() >= 0.0


def test_no_points_make_no_corners() -> None:
    at = corners(Terrain.from_array(np.zeros((3, 3)), 1.0), np.zeros((0, 2)))
    assert at.row.shape == at.weight.shape == (0, 4)
