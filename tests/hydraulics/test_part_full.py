"""Pipes running part full: known ratios of the round section, and planted stretches found again."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pipe_flow
from planner.hydraulics.part_full import (
    depth_of_flow,
    line_capacity,
    manning_flow,
    part_full_stretches,
    running_level,
    slope_flow,
)

BORES = st.floats(0.015, 0.3)
SLOPES = st.floats(1e-3, 0.5)

# Chow, Open-Channel Hydraulics (1959), table of a circular section's elements, constant n: depth
# over bore, flow over that of the full pipe.
CHOW = [(0.1, 0.0209), (0.2, 0.0877), (0.3, 0.196), (0.5, 0.500), (0.8, 0.978), (0.94, 1.076)]


@pytest.mark.parametrize(("depth", "share"), CHOW)
def test_manning_reproduces_the_round_sections_table(depth: float, share: float) -> None:
    full = manning_flow(0.05, 0.05, 0.01)
    assert manning_flow(depth * 0.05, 0.05, 0.01) / full == pytest.approx(share, abs=2e-3)


def test_manning_full_by_hand() -> None:
    # A = pi 0.05²/4 = 1.9635e-3; R = 0.0125, R^(2/3) = 0.053861; sqrt(0.01) = 0.1
    assert manning_flow(0.05, 0.05, 0.01, n=0.01) == pytest.approx(1.9635e-3 * 0.53861, rel=1e-4)
    assert manning_flow(0.0, 0.05, 0.01) == manning_flow(0.02, 0.05, 0.0) == 0.0


@pytest.mark.parametrize("bore", [0.03, 0.05, 0.1])
@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_the_pipes_own_law_lies_beside_manning(bore: float, share: float) -> None:
    # New plastic lies between n 0.0075 and 0.010 at the slopes of supply lines.
    rough, smooth = (manning_flow(share * bore, bore, 0.02, n=n) for n in (0.010, 0.0075))
    assert depth_of_flow(rough, bore, 0.02) < share * bore < depth_of_flow(smooth, bore, 0.02)


@given(BORES, SLOPES)
def test_half_the_full_flow_runs_half_full(bore: float, slope: float) -> None:
    # A half-full round pipe has the full one's hydraulic radius, so the same speed.
    depth = depth_of_flow(slope_flow(slope, bore) / 2, bore, slope)
    assert depth == pytest.approx(bore / 2, rel=1e-6)


@given(BORES, SLOPES, st.floats(1e-3, 0.95), st.floats(1.0, 3.0))
def test_more_water_runs_deeper_and_steeper_runs_shallower(
    bore: float, slope: float, share: float, more: float
) -> None:
    flow = share * slope_flow(slope, bore)
    depth = depth_of_flow(flow, bore, slope)
    assert 0.0 < depth < bore
    assert depth_of_flow(flow * more, bore, slope) >= depth * (1 - 1e-9)
    assert depth_of_flow(flow, bore, min(slope * more, 1.0)) <= depth * (1 + 1e-9)


def test_a_flow_beyond_what_the_slope_takes_fills_it() -> None:
    assert depth_of_flow(1.3 * slope_flow(0.01, 0.05), 0.05, 0.01) == 0.05
    assert depth_of_flow(0.0, 0.05, 0.01) == 0.0
    assert slope_flow(0.0, 0.05) == slope_flow(-0.1, 0.05) == 0.0


def test_an_even_slope_carries_what_the_full_pipe_does() -> None:
    got = line_capacity([0.0, 40.0, 100.0], [100.0, 98.0, 95.0], 100.0, 0.0204)
    assert got == pytest.approx(pipe_flow(5.0, 0.0204, 100.0), rel=1e-9)


def test_a_flat_start_throttles_the_line() -> None:
    # 1 m of fall in the first 50 m, 9 m in the next: the flat piece rules.
    s, z = [0.0, 50.0, 100.0], [100.0, 99.0, 90.0]
    assert line_capacity(s, z, 100.0, 0.03) == pytest.approx(pipe_flow(1.0, 0.03, 50.0), rel=1e-9)
    assert line_capacity(s, z, 99.0, 0.03) == 0.0
    assert line_capacity(s, z, 100.0, 0.03, end_level=100.0) == 0.0


def test_pieces_of_two_bores_lose_head_in_turn() -> None:
    s, z, bores = [0.0, 60.0, 100.0], [50.0, 45.0, 40.0], np.array([0.04, 0.02])
    flow = line_capacity(s, z, 50.0, bores)
    lost = float(friction_loss(flow, 0.04, 60.0)) + float(friction_loss(flow, 0.02, 40.0))
    assert lost == pytest.approx(10.0, rel=1e-9)


def test_a_planted_stretch_is_found() -> None:
    # Flat, steep, flat: at three quarters of what the first flat piece takes, all of it and the
    # steep one run part full, but for where the last flat piece backs water up; that one, flatter
    # still than the friction, runs full.
    s, z = np.array([0.0, 50.0, 70.0, 170.0]), np.array([100.0, 99.0, 95.0, 94.9])
    flow = 0.75 * pipe_flow(1.0, 0.03, 50.0)
    friction = float(friction_loss(flow, 0.03, 1.0))
    backed = 94.9 + 100.0 * friction  # level at the foot of the steep piece
    end = 70.0 - (backed - 95.0) / (4.0 / 20.0 - friction)
    (got,) = part_full_stretches(s, z, flow, 0.03)
    assert (got.start, got.end) == pytest.approx((0.0, end))
    assert got.most_depth == pytest.approx(depth_of_flow(flow, 0.03, 0.02) / 0.03)
    assert got.least_depth == pytest.approx(depth_of_flow(flow, 0.03, 0.2) / 0.03)
    level = running_level(s, z, flow, 0.03)
    assert level == pytest.approx([100.0, 99.0, backed, 94.9])


def test_water_over_the_end_drowns_the_last_piece() -> None:
    s, z = [0.0, 100.0], [10.0, 0.0]
    (got,) = part_full_stretches(s, z, 0.0, 0.03, end_level=4.0)
    assert got.end == pytest.approx(60.0)
    assert (got.start, got.most_depth, got.fastest) == (0.0, 0.0, 0.0)


def test_at_its_capacity_an_even_line_runs_full() -> None:
    s, z = np.linspace(0.0, 200.0, 21), np.linspace(30.0, 20.0, 21)
    flow = line_capacity(s, z, 30.0, 0.025)
    assert part_full_stretches(s, z, flow, 0.025) == ()
    assert part_full_stretches(s, z, flow * 0.99, 0.025)[0].start == 0.0


@given(st.lists(st.floats(-5.0, 5.0), min_size=2, max_size=12), st.floats(0.0, 2e-3), BORES)
def test_levels_never_rise_along_the_flow_nor_dip_under_the_pipe(
    ground: list[float], flow: float, bore: float
) -> None:
    s = np.arange(len(ground)) * 10.0
    level = running_level(s, ground, flow, bore)
    assert np.all(np.diff(level) <= 1e-9)
    assert np.all(level >= np.array(ground) - 1e-9)
    # Energy: between two points at least the full pipe's friction is lost.
    assert np.all(-np.diff(level) >= float(friction_loss(flow, bore, 10.0)) - 1e-9)
    # What needs that level at the start is what that level can carry.
    able = line_capacity(s, ground, float(level[0]) + 1e-6, bore)
    assert able >= flow * (1 - 1e-6)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"chainage": [0.0, 0.0]}, "chainage must be 2 to 1000000 distances"),
        ({"chainage": [0.0]}, "chainage must be 2 to"),
        ({"pipe": [1.0, np.nan]}, "pipe must be .* got nan at index 1"),
        ({"pipe": [1.0, 2.0, 3.0]}, "pipe must have a level for each of the 2"),
        ({"flow": -1.0}, "flow must be 0 or more"),
        ({"bore": 0.0}, "bore must be above 0"),
        ({"bore": [0.03, 0.03]}, "bore must be one number or one for each of 1"),
        ({"roughness": 0.02}, "roughness must be at most 0.5 of the bore"),
        ({"end_level": np.inf}, "end_level must be"),
    ],
)
def test_refuses_by_name(change: dict[str, object], words: str) -> None:
    given_: dict[str, object] = {
        "chainage": [0.0, 10.0], "pipe": [2.0, 1.0], "flow": 1e-4, "bore": 0.03
    }  # fmt: skip
    with pytest.raises(OutsideRange, match=words):
        part_full_stretches(**{**given_, **change})  # type: ignore[arg-type]
    with pytest.raises(OutsideRange, match="slope must be above 0"):
        depth_of_flow(1e-4, 0.03, 0.0)
    with pytest.raises(OutsideRange, match=r"depth must be 0 or more and at most 0\.05"):
        manning_flow(0.06, 0.05, 0.01)
