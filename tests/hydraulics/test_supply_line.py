"""What the pipe can carry and what the source gives, apart."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import pipe_flow
from planner.hydraulics.supply_line import supply_line

S, Z = [0.0, 60.0, 100.0], [100.0, 98.0, 97.0]


def test_where_less_comes_it_runs_part_full_from_the_source() -> None:
    got = supply_line(S, Z, 100.0, 2e-4, 0.04)
    assert got.carries == pytest.approx(pipe_flow(3.0, 0.04, 100.0), rel=0.05)
    assert (got.flow, got.left_over) == (2e-4, 0.0)
    (stretch,) = got.part_full
    assert (stretch.start, stretch.end) == pytest.approx((0.0, 100.0))
    assert 0.0 < stretch.least_depth <= stretch.most_depth < 0.5


def test_where_more_comes_the_rest_stays() -> None:
    even = supply_line([0.0, 100.0], [100.0, 97.0], 100.0, 5e-3, 0.04)
    assert even.flow == pytest.approx(pipe_flow(3.0, 0.04, 100.0))
    assert even.left_over == pytest.approx(5e-3 - even.flow)
    assert even.part_full == ()


def test_a_crest_above_the_source_lets_nothing_in() -> None:
    got = supply_line(S, [100.0, 101.0, 97.0], 100.0, 1e-3, 0.04)
    assert (got.carries, got.flow, got.left_over) == (0.0, 0.0, 1e-3)


def test_a_drowned_end_fills_the_pipe_from_below() -> None:
    free = supply_line(S, Z, 100.0, 2e-4, 0.04)
    drowned = supply_line(S, Z, 100.0, 2e-4, 0.04, end_level=99.0)
    assert drowned.part_full[0].end < free.part_full[0].end
    assert drowned.carries < free.carries


@given(st.floats(0.0, 5e-3), st.floats(0.0, 5e-3), st.floats(0.015, 0.08), st.floats(1.0, 2.0))
def test_water_is_shared_out_and_a_wider_pipe_takes_no_less(
    comes: float, more: float, bore: float, wider: float
) -> None:
    got = supply_line(S, Z, 100.0, comes, bore)
    assert got.flow + got.left_over == pytest.approx(comes)
    assert supply_line(S, Z, 100.0, comes + more, bore).flow >= got.flow
    assert supply_line(S, Z, 100.0, comes, bore * wider).carries >= got.carries * (1 - 1e-9)


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="comes must be 0 or more"):
        supply_line(S, Z, 100.0, -1.0, 0.04)
    with pytest.raises(OutsideRange, match="start_level must be"):
        supply_line(S, Z, np.nan, 1e-3, 0.04)
