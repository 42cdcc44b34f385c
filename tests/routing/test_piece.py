"""One piece of a pipe: its levels and its digging against a linear programme and closed forms."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.optimize import linprog

from planner.routing.piece_kernel import (
    CLIMBS,
    SINKS,
    Piece,
    Strip,
    climb_over,
    digs_no_more,
    make_digging,
    pass_over,
    sink_over,
)

N = 7  # samples, the first place included
GRADE = 0.05
PRICE = 3.0

steps = arrays(np.float64, N - 1, elements=st.floats(0.1, 4.0).map(lambda v: round(v, 2)))
tops = arrays(np.float64, N, elements=st.floats(0.0, 2.0).map(lambda v: round(v, 2)))
slacks = st.floats(0.0, 1.5).map(lambda v: round(v, 2))


def strip_of(step, top, slack):
    return Strip(step, top[1:].copy(), top[1:] - slack)


def programme(step, top, slack, sign, end=None):
    """Least digging of a piece that sinks (sign -1) or climbs (+1), as a linear programme.

    Variables are the levels; `end` pins the last one.
    """
    weight = np.zeros(N)
    weight[:-1] += 0.5 * step
    weight[1:] += 0.5 * step
    drop = np.zeros((N - 1, N))
    drop[np.arange(N - 1), np.arange(N - 1)] = sign
    drop[np.arange(N - 1), np.arange(1, N)] = -sign
    bounds = [(z - slack, z) for z in top]
    if end is not None:
        bounds[-1] = (end, end)
    found = linprog(-weight, A_ub=drop, b_ub=-GRADE * step, bounds=bounds)
    return (found.fun + weight @ top, found.x) if found.status == 0 else (np.inf, None)


@settings(max_examples=150, deadline=None)
@given(steps, tops, slacks)
def test_a_sinking_piece_digs_least(step, top, slack):
    level, section = sink_over(strip_of(step, top, slack), 0, N - 1, GRADE, top[0], top[0])
    least, laid = programme(step, top, slack, -1)
    if np.isnan(level):
        tight = programme(step, top, slack - 1e-6, -1)[0] if slack > 1e-6 else np.inf
        assert tight == np.inf
    else:
        assert section == pytest.approx(least, abs=1e-7)
        assert level == pytest.approx(laid[-1], abs=1e-7)


@settings(max_examples=150, deadline=None)
@given(steps, tops, slacks, st.floats(0.0, 1.0))
def test_a_climbing_piece_digs_least_wherever_it_ends(step, top, slack, part):
    digging = make_digging(100, N)
    strip = strip_of(step, top, slack)
    begun = Piece(CLIMBS, top[0] - slack, 0.0, 0)
    piece, sure = pass_over(digging, strip, 0, N - 1, top[0], begun, GRADE, PRICE)
    lowest = climb_over(strip, 0, N - 1, GRADE, top[0] - slack)
    assert np.array_equal(piece.level, lowest, equal_nan=True)
    if np.isnan(lowest) or lowest > top[-1]:
        return
    end = lowest + part * (top[-1] - lowest)
    least, _ = programme(step, top, slack, 1, end)
    assert cost_at(digging, piece, sure, end) == pytest.approx(PRICE * least, abs=1e-6)


def cost_at(digging, piece, cost, level):
    """f(q) of the module, read off the stack."""
    node = piece.stack
    while node > 0:
        cost += digging.weight[node] * max(digging.height[node] + piece.climb - level, 0.0)
        node = digging.below[node]
    return cost


@settings(max_examples=100, deadline=None)
@given(steps, tops, slacks, st.integers(1, N - 2))
def test_a_way_taken_in_two_parts_comes_to_the_same(step, top, slack, cut):
    strip, digging = strip_of(step, top, slack), make_digging(100, N)
    for mode, level in ((SINKS, top[0]), (CLIMBS, top[0] - slack)):
        begun = Piece(mode, level, 0.0, 0)
        whole, cost = pass_over(digging, strip, 0, N - 1, top[0], begun, GRADE, PRICE)
        half, first = pass_over(digging, strip, 0, cut, top[0], begun, GRADE, PRICE)
        if np.isnan(half.level):
            assert np.isnan(whole.level)
            continue
        parts, second = pass_over(digging, strip, cut, N - 1, top[cut], half, GRADE, PRICE)
        assert parts.level == pytest.approx(whole.level, nan_ok=True)
        if np.isfinite(whole.level):
            for end in np.linspace(whole.level, max(top[-1], whole.level), 5):
                together = cost_at(digging, parts, first + second, end)
                assert together == pytest.approx(cost_at(digging, whole, cost, end), abs=1e-9)


@settings(max_examples=200, deadline=None)
@given(steps, tops, tops, slacks, st.floats(0.0, 1.0), st.floats(-1.0, 1.0))
def test_of_two_climbing_pieces_the_one_that_never_costs_more_is_known(
    step, one, other, slack, part, dearer
):
    other = np.append(other[:-1], one[-1])  # they come to the same place
    digging = make_digging(200, N)
    made = []
    for top in (one, other):
        begun = Piece(CLIMBS, top[0] - slack, 0.0, 0)
        strip = strip_of(step, top, slack)
        made.append(pass_over(digging, strip, 0, N - 1, top[0], begun, GRADE, PRICE))
    (a, cost_a), (b, cost_b) = made
    if np.isnan(a.level) or np.isnan(b.level):
        return
    cost_b += dearer
    top, lowest = one[-1], b.level
    levels = np.linspace(lowest, max(top, lowest), 400)
    more = np.array(
        [cost_at(digging, b, cost_b, q) - cost_at(digging, a, cost_a, q) for q in levels]
    )
    verdict = digs_no_more(digging, top, a, cost_a, b, cost_b)
    if np.min(more) < -1e-6:
        assert not verdict
    elif np.min(more) > 0.02:  # no corner between two of the levels can lie so much lower
        assert verdict


def test_levels_too_low_to_matter_leave_no_digging_behind():
    """On land that climbs far more than the band is deep, nothing stays uncertain for long."""
    step, top = np.full(N - 1, 1.0), np.arange(N) * 1.0
    digging = make_digging(100, N)
    begun = Piece(CLIMBS, top[0] - 0.5, 0.0, 0)
    piece, sure = pass_over(digging, strip_of(step, top, 0.5), 0, N - 1, top[0], begun, 0.01, 1.0)
    assert sure == 0.0
    assert digging.below[piece.stack] == 0


def test_a_closed_sample_stops_both_modes():
    step, top = np.ones(N - 1), np.ones(N)
    top[3] = np.nan
    strip = strip_of(step, top, 0.5)
    assert np.isnan(sink_over(strip, 0, N - 1, 0.01, 1.0, 1.0)[0])
    assert np.isnan(climb_over(strip, 0, N - 1, 0.01, 0.5))
