"""The moves of a stencil: the cells crossed and their shares, and the samples."""

import numpy as np
import pytest

from planner.routing.stencil import REACH, crossed, make_stencil, moves, sampled
from planner.routing.sweep import crossing_of

SIZES = [8, 16, 32, 80, 176]


@pytest.mark.parametrize("neighbours", SIZES)
def test_as_many_moves_as_named_each_with_its_opposite(neighbours):
    found = moves(neighbours)
    assert len(found) == len(set(found)) == neighbours
    assert {(-r, -c) for r, c in found} == set(found)
    assert max(max(abs(r), abs(c)) for r, c in found) == REACH[neighbours]


@pytest.mark.parametrize("neighbours", SIZES)
def test_shares_equal_dense_samples(neighbours):
    """Many samples along a move fall into the cells by their shares."""
    count = 4_000
    along = (np.arange(count) + 0.5) / count
    for rows, cols in moves(neighbours):
        cells = np.floor(np.column_stack([rows * along, cols * along]) + 0.5).astype(int)
        found, counts = np.unique(cells, axis=0, return_counts=True)
        sampled_shares = {tuple(cell): n / count for cell, n in zip(found, counts, strict=True)}
        shares = {(row, col): share for row, col, share in crossed(rows, cols)}
        assert sum(shares.values()) == pytest.approx(1.0, abs=1e-12)
        assert min(shares.values()) > 1e-3  # a corner shares nothing
        for cell in set(shares) | set(sampled_shares):
            assert shares.get(cell, 0.0) == pytest.approx(sampled_shares.get(cell, 0.0), abs=2e-3)


def test_a_knight_shares_four_cells_alike():
    assert [cell[:2] for cell in crossed(1, 2)] == [(0, 0), (0, 1), (1, 1), (1, 2)]
    assert [cell[2] for cell in crossed(1, 2)] == pytest.approx([0.25] * 4)


def test_a_diagonal_shares_two_cells_and_none_beside():
    assert crossed(-1, 1) == [(0, 0, 0.5), (-1, 1, 0.5)]


@pytest.mark.parametrize("neighbours", SIZES)
def test_samples_are_a_quarter_cell_apart_at_most(neighbours):
    for rows, cols in moves(neighbours):
        if 0 not in (rows, cols):
            steps = np.diff(sampled(rows, cols)) * np.hypot(rows, cols)
            assert np.all(steps > 0.0)
            assert np.all(steps <= 0.25 + 1e-9)


@pytest.mark.parametrize("cell", [(1.0, 1.0), (2.0, 0.7)])
@pytest.mark.parametrize("neighbours", [8, 16, 32])
def test_a_level_plane_is_sampled_as_it_is(cell, neighbours):
    """Weights of every sample add up to one and meet a plane exactly; steps add up to the run."""
    columns = 50
    stencil = make_stencil(cell, columns, neighbours)
    node = np.arange(-400, 401)
    row, col = np.divmod(node + 25, columns)
    plane = dict(zip(node.tolist(), (3.0 * row - 2.0 * (col - 25)).tolist(), strict=True))
    for k, (rows, cols) in enumerate(moves(neighbours)):
        first, last = stencil.sample_from[k : k + 2]
        assert stencil.step[first:last].sum() == pytest.approx(stencil.run[k])
        gone = 0.0
        for s in range(first, last):
            gone += stencil.step[s] / stencil.run[k]
            part = slice(*stencil.corner_from[s : s + 2])
            assert stencil.weight[part].sum() == pytest.approx(1.0)
            level = sum(
                w * plane[c]
                for c, w in zip(stencil.corner[part].tolist(), stencil.weight[part], strict=True)
            )
            assert level == pytest.approx((3.0 * rows - 2.0 * cols) * gone, abs=1e-9)


@pytest.mark.parametrize("neighbours", SIZES)
def test_what_is_crossed_adds_up_for_the_sweeps(neighbours):
    crossing = crossing_of(neighbours, 1000)
    pairs = np.diff(crossing.pair_from)
    assert np.all(pairs[: crossing.plain] == 0)
    assert np.all(pairs[crossing.plain :] > 0)
    for k in range(neighbours):
        between = crossing.pair_share[slice(*crossing.pair_from[k : k + 2])].sum()
        assert 2.0 * (crossing.end_share[k] + between) == pytest.approx(1.0)
