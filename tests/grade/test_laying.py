"""The one air-trap test, against an exhaustive twin and planted truths."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.errors import OutsideRange
from planner.grade.kernel import rise_shortfall
from planner.grade.laying import extra_depth, falling_levels, pipe_levels

grounds = arrays(
    np.float64, st.integers(2, 9), elements=st.floats(-3, 3).map(lambda v: round(v, 2))
)
leasts = st.sampled_from([0.0, 0.005, 0.05, 0.2])
slacks = st.sampled_from([0.0, 0.1, 0.5, 1.5])


def plain_piece(run, top, slack, least, direction):
    """Shallowest rising (+1) or falling (-1) piece over all the samples, or None."""
    level = list(top)
    if direction > 0:
        for k in range(len(run) - 2, -1, -1):
            level[k] = min(top[k], level[k + 1] - least * (run[k + 1] - run[k]))
    else:
        for k in range(1, len(run)):
            level[k] = min(top[k], level[k - 1] - least * (run[k] - run[k - 1]))
    return level if all(t - p <= slack + 1e-9 for t, p in zip(top, level, strict=True)) else None


def plain_laying(run, top, slack, least, start, end):
    """Fewest high points and least digging over every choice of joints: the definition itself."""
    n, best = len(run), None
    for size in range(n - 1):
        for inner in itertools.combinations(range(1, n - 1), size):
            for first in (1, -1):
                total = plain_chain(run, top, slack, least, (0, *inner, n - 1), first)
                if total is None:
                    continue
                highs, dug, last = total
                highs += (first < 0 and start == "closed") + (last > 0 and end == "closed")
                best = min(best or (highs, dug), (highs, dug))
    return best


def plain_chain(run, top, slack, least, joints, first):
    highs, dug, way = 0, 0.0, first
    for a, b in itertools.pairwise(joints):
        if a > 0:
            highs += way < 0
        piece = plain_piece(run[a : b + 1], top[a : b + 1], slack, least, way)
        if piece is None:
            return None
        depth = [t - p for t, p in zip(top[a : b + 1], piece, strict=True)]
        steps = np.diff(run[a : b + 1])
        dug += sum((d + e) / 2 * s for d, e, s in zip(depth, depth[1:], steps, strict=False))
        way = -way
    return highs, dug, -way


@settings(max_examples=300, deadline=None)
@given(grounds, leasts, slacks, st.sampled_from(["open", "closed"]))
def test_laying_has_as_few_high_points_as_the_definition(ground, least, slack, start):
    run = np.arange(ground.size) * 2.0
    best = plain_laying(list(run), list(ground), slack, least, start, "open")
    laid = pipe_levels(run, ground, slack, least, start=start)
    if best is None:
        assert np.any(laid.flat)
        return
    assert laid.highs.size == best[0]
    assert np.all(laid.level <= ground + 1e-9)
    assert np.all(laid.level >= ground - slack - 1e-9)
    assert not np.any(laid.flat)


@settings(max_examples=200, deadline=None)
@given(grounds, leasts, slacks)
def test_a_laying_and_its_mirror_have_equally_many_high_points(ground, least, slack):
    run = np.arange(ground.size) * 2.0
    there = pipe_levels(run, ground, slack, least)
    back = pipe_levels(run, ground[::-1].copy(), slack, least)
    assert there.highs.size == back.highs.size
    there = pipe_levels(run, ground, slack, least, hugs="bottom")
    assert there.highs.size == back.highs.size


@settings(max_examples=200, deadline=None)
@given(grounds, leasts, slacks, st.floats(-50, 50))
def test_a_shift_in_height_shifts_the_pipe(ground, least, slack, shift):
    run = np.arange(ground.size) * 2.0
    low = pipe_levels(run, ground, slack, least)
    high = pipe_levels(run, ground + round(shift, 2), slack, least)
    assert low.highs.size == high.highs.size


@settings(max_examples=200, deadline=None)
@given(grounds, st.sampled_from([0.005, 0.05, 0.2]), st.sampled_from([0.1, 0.5, 1.5]))
def test_digging_deeper_by_the_stated_depth_removes_the_high_point(ground, least, slack):
    run = np.arange(ground.size) * 2.0
    laid = pipe_levels(run, ground, slack, least, start="closed")
    if np.any(laid.flat) or laid.highs.size != 1:
        return
    t = np.full(run.size, slack)
    more = extra_depth(laid, run, ground, t, least=least, high=int(laid.highs[0]), start="closed")
    deeper = pipe_levels(run, ground, slack + more + 1e-6, least, start="closed")
    assert deeper.highs.size == 0
    if more > 1e-3:
        shy = pipe_levels(run, ground, slack + more - 1e-4, least, start="closed")
        assert shy.highs.size == 1


def test_one_planted_hump_is_found_with_its_rise():
    run = np.arange(0.0, 101.0, 0.5)
    ground = 0.1 * run + 3.0 * np.exp(-(((run - 50.0) / 6.0) ** 2))
    laid = pipe_levels(run, ground, 0.3, 0.005, start="closed")
    assert laid.highs.size == 1
    assert run[laid.highs[0]] == pytest.approx(run[np.argmax(ground[:120])], abs=0.5)
    assert laid.lows.size == 1


def test_a_band_as_deep_as_the_dip_needs_no_vent():
    run = np.arange(0.0, 101.0, 1.0)
    ground = 0.1 * run
    ground[40:60] += 1.0
    need = rise_shortfall(run, ground, np.zeros(run.size), 0.005)
    assert pipe_levels(run, ground, need + 1e-9, 0.005, start="closed").highs.size == 0
    assert pipe_levels(run, ground, need - 1e-3, 0.005, start="closed").highs.size == 1


def test_a_delivery_that_falls_away_from_the_ram_counts_one_at_run_0():
    run = np.arange(0.0, 21.0)
    ground = np.abs(run - 5.0)
    laid = pipe_levels(run, ground, 0.1, 0.01, start="closed")
    assert list(laid.highs) == [0]
    assert pipe_levels(run, ground, 0.1, 0.01, start="open").highs.size == 0


def test_a_surface_pipe_lies_on_the_ground_where_it_can():
    run = np.arange(0.0, 31.0)
    ground = 0.1 * run
    ground[10] -= 0.25
    laid = pipe_levels(run, ground + 0.3, 0.3, 0.005, hugs="bottom", start="closed")
    assert laid.highs.size == 0
    assert np.max(np.delete(laid.level - ground, 10)) < 1e-9
    assert laid.level[10] - ground[10] == pytest.approx(0.155, abs=1e-9)


def test_level_ground_without_slack_is_told_as_flat():
    laid = pipe_levels([0.0, 1.0, 2.0], [5.0, 5.0, 5.0], 0.0, 0.005)
    assert np.all(laid.flat)
    assert laid.highs.size == 0


def test_a_falling_line_exists_only_inside_its_band():
    run = np.arange(0.0, 11.0)
    ground = -0.1 * run
    ground[5] -= 0.3
    assert falling_levels(run, ground, 0.1, 0.01) is None
    level = falling_levels(run, ground, 0.35, 0.01)
    assert level is not None
    assert np.all(np.diff(level) <= -0.01 + 1e-9)


@pytest.mark.parametrize(
    ("run", "top", "slack", "least", "word"),
    [
        ([0.0], [1.0], 0.1, 0.01, "two samples"),
        ([0.0, 0.0], [1.0, 2.0], 0.1, 0.01, "rise from sample"),
        ([0.0, 1.0], [1.0, np.nan], 0.1, 0.01, "level at every sample"),
        ([0.0, 1.0], [1.0, 2.0], -0.1, 0.01, "slack of 0"),
        ([0.0, 1.0], [1.0, 2.0], 0.1, np.nan, "least grade"),
    ],
)
def test_what_is_no_profile_is_refused(run, top, slack, least, word):
    with pytest.raises(OutsideRange, match=word):
        pipe_levels(run, top, slack, least)


def test_twenty_thousand_samples_are_laid():
    run = np.arange(20000) * 0.5
    rng = np.random.default_rng(7)
    ground = 0.05 * run + np.cumsum(rng.normal(0, 0.05, run.size))
    laid = pipe_levels(run, ground, 0.5, 0.005)
    assert np.all(ground - laid.level <= 0.5 + 1e-9)


def plain_between(run, top, slack, least, greatest):
    """The highest pipe that falls by least to greatest: each limit applied until nothing moves."""
    level = list(top)
    for _ in range(2 * len(run)):
        for a, b in itertools.combinations(range(len(run)), 2):
            step = run[b] - run[a]
            level[b] = min(level[b], level[a] - least * step)
            level[a] = min(level[a], level[b] + greatest * step)
    return level if all(p >= t - slack - 1e-9 for t, p in zip(top, level, strict=True)) else None


@settings(max_examples=200)
@given(grounds, leasts, st.sampled_from([0.2, 0.5, 2.0]), slacks, st.data())
def test_a_falling_line_between_two_grades_is_the_highest_there_is(
    rough, least, greatest, slack, data
):
    steps = data.draw(st.lists(st.sampled_from([0.5, 1.0, 4.0]), min_size=9, max_size=9))
    run = np.cumsum(steps[: rough.size])
    ground = 0.2 * rough - (least + greatest) / 2 * run
    expected = plain_between(run, ground, slack, least, greatest)
    level = falling_levels(run, ground, slack, least, greatest)
    if expected is None:
        assert level is None
    else:
        assert level == pytest.approx(expected, abs=1e-9)
