"""A part of a terrain has the same levels at the same places."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.terrain.part import part_of
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain

LEVELS = np.random.default_rng(7).normal(100.0, 5.0, (40, 60))
WHOLE = Terrain.from_array(LEVELS, (2.0, 3.0), (500.0, 900.0))  # x 500..620, y 780..900


@given(
    st.floats(505.0, 600.0), st.floats(785.0, 880.0), st.floats(0.0, 20.0), st.floats(0.0, 200.0)
)
def test_levels_stay_where_they_were(x: float, y: float, side: float, margin: float) -> None:
    part = part_of(WHOLE, (x, y, x + side, y + side), margin)
    west, south, east, north = part.bounds
    assert west <= max(x - margin, 500.0)
    assert east >= min(x + side + margin, 620.0)
    assert south <= max(y - margin, 780.0)
    assert north >= min(y + side + margin, 900.0)
    inside = (west + east) / 2.0, (south + north) / 2.0
    assert ground_at(part, *inside) == pytest.approx(ground_at(WHOLE, *inside), nan_ok=True)


def test_no_more_is_kept_than_asked_for() -> None:
    part = part_of(WHOLE, (550.0, 840.0, 559.0, 846.0), 4.0)
    assert part.bounds == (546.0, 834.0, 564.0, 852.0)
    assert part.shape == (6, 9)
    assert part_of(WHOLE, (550.0, 840.0, 560.0, 846.0), 500.0) is WHOLE
