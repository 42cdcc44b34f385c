"""Blocks of cells: their means, and walls that hold however thin."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage

from planner.routing.border_kernel import border_blocks, border_costs, leaving_bound
from planner.routing.coarse import make_coarse
from planner.routing.coarse_kernel import block_means, crests, walled_blocks
from planner.routing.ground import Ground, make_ground
from planner.terrain.value import Terrain

CELL = (2.0, 3.0)


def patchy(seed: int) -> Ground:
    rng = np.random.default_rng(seed)
    shape = tuple(rng.integers(3, 20, 2))
    z = rng.normal(0.0, 3.0, shape)
    z[rng.random(shape) < 0.1] = np.nan
    cost = rng.uniform(1.0, 4.0, shape)
    cost[rng.random(shape) < rng.choice([0.1, 0.4])] = np.inf
    return make_ground(Terrain.from_array(z, CELL), 0.1, cost)


def blocks_of(shape, side):
    down, along = (range(0, length, side) for length in shape)
    return [[np.s_[r : r + side, c : c + side] for c in along] for r in down]


def plainly_walled(ground, side):
    open_cells = ground.open_cells
    blocks = blocks_of(open_cells.shape, side)
    walled = np.zeros((len(blocks), len(blocks[0])), dtype=bool)
    shut = walled.copy()
    for i, j in np.ndindex(walled.shape):
        around = np.zeros(open_cells.shape, dtype=bool)
        for row in blocks[max(i - 1, 0) : i + 2]:
            for block in row[max(j - 1, 0) : j + 2]:
                around[block] = open_cells[block]
        pieces, _ = ndimage.label(around)
        mine = set(pieces[blocks[i][j]].flat) - {0}
        shut[i, j] = not mine
        beside = [
            set(pieces[blocks[k][m]].flat) - {0}
            for k, m in ((i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1))
            if 0 <= k < walled.shape[0] and 0 <= m < walled.shape[1]
        ]
        walled[i, j] = len(mine) > 1 or any(mine and other and not mine & other for other in beside)
    shut |= walled
    for i, j in np.argwhere(shut):
        for k, m in ((i + 1, j + 1), (i + 1, j - 1)):
            if k < shut.shape[0] and 0 <= m < shut.shape[1] and shut[k, m]:
                walled[i, m] = walled[k, j] = True
    return walled


@given(seed=st.integers(0, 9999), side=st.integers(1, 6))
@settings(deadline=None)
def test_blocks_equal_their_plain_twins(seed, side):
    ground = patchy(seed)
    level, price, count = block_means(ground.soil, side)
    for i, row in enumerate(blocks_of(ground.terrain.shape, side)):
        for j, block in enumerate(row):
            known = ground.open_cells[block]
            assert count[i, j] == known.sum()
            for got, grid in ((level, ground.terrain.z), (price, ground.cost)):
                want = grid[block][known].mean() if known.any() else np.nan
                assert got[i, j] == pytest.approx(want, nan_ok=True)
    np.testing.assert_array_equal(
        walled_blocks(ground.soil, side, count), plainly_walled(ground, side)
    )


def plain_crests(levels, slack):
    """Indices of the high points of a line of levels, each climb and fall more than the slack."""
    found, climbs, best = [], True, 0
    for i, level in enumerate(levels):
        if climbs and level < levels[best] - slack[i]:
            found.append(best)
            climbs, best = False, i
        elif not climbs and level > levels[best] + slack[i]:
            climbs, best = True, i
        elif (level > levels[best]) == climbs and level != levels[best]:
            best = i
    return found


@given(
    seed=st.integers(0, 9999),
    side=st.integers(1, 6),
    each=st.integers(1, 5),
    uniform=st.booleans(),
)
@settings(max_examples=50, deadline=None)
def test_crests_equal_their_plain_twin(seed, side, each, uniform):
    rng = np.random.default_rng(seed)
    ground = patchy(seed)
    slack = rng.uniform(0.0, 3.0, (1, 1) if uniform else ground.terrain.shape)
    ground = make_ground(ground.terrain, slack, ground.cost)
    slack = np.broadcast_to(slack, ground.terrain.shape)
    want = np.zeros([-(-length // side) for length in ground.terrain.shape])
    for turned in (False, True):
        top, deep = (grid.T if turned else grid for grid in (ground.top, slack))
        for r, levels in enumerate(top):
            if r % each:
                continue
            parts, _ = ndimage.label(np.isfinite(levels))
            for part in range(1, parts.max() + 1):
                cols = np.flatnonzero(parts == part)
                for c in plain_crests(levels[cols], deep[r, cols]):
                    at = (cols[c], r) if turned else (r, cols[c])
                    want[at[0] // side, at[1] // side] += 1
    np.testing.assert_array_equal(crests(ground.soil, side, each), want)


def test_waves_have_a_crest_each():
    z = np.tile(np.sin(np.arange(40) * np.pi / 5.0), (4, 1))  # crests at 2.5, 12.5, 22.5, 32.5
    terrain = Terrain.from_array(z, 1.0)
    assert crests(make_ground(terrain, 1.5).soil, 10, 1).tolist() == [[4.0] * 4]
    assert crests(make_ground(terrain, 2.5).soil, 10, 1).sum() == 0.0
    dear = make_coarse(make_ground(terrain, 1.5), 10, vent_cost=60.0).grid.ground.cost
    assert dear[0] == pytest.approx(1.0 + 0.25 * 60.0 / 20.0)


@given(seed=st.integers(0, 9999), side=st.integers(1, 5), least=st.floats(1.0, 3.0))
@settings(max_examples=50, deadline=None)
def test_the_bound_of_pairs_equals_its_plain_twin(seed, side, least):
    rng = np.random.default_rng(seed)
    blocks = rng.random((6, 7)) < 0.4
    rows, cols = np.nonzero(blocks)
    first, last = rng.uniform(0.0, 60.0, (2, rows.size))
    first[rng.random(rows.size) < 0.2] = np.inf
    plain = np.inf
    for a, b in product(range(rows.size), repeat=2):
        cells = [
            np.array(
                list(product(range(r * side, (r + 1) * side), range(c * side, (c + 1) * side)))
            )
            for r, c in ((rows[a], cols[a]), (rows[b], cols[b]))
        ]
        apart = (cells[0][:, None, :] - cells[1][None, :, :]) * np.array(CELL[::-1])
        plain = min(plain, first[a] + least * np.hypot(*apart.T).min() + last[b])
    assert leaving_bound(rows, cols, first, last, side, CELL, least) == pytest.approx(plain)


@given(seed=st.integers(0, 9999), side=st.integers(1, 5), reach=st.integers(1, 8))
@settings(max_examples=50, deadline=None)
def test_border_costs_equal_their_plain_twin(seed, side, reach):
    rng = np.random.default_rng(seed)
    shape = tuple(rng.integers(3, 25, 2))
    blocks = rng.random([-(-length // side) for length in shape]) < 0.7
    held = np.kron(blocks, np.ones((side, side), dtype=bool))[: shape[0], : shape[1]]
    cost = np.where(rng.random(shape) < 0.2, 0.0, rng.uniform(1.0, 9.0, shape))
    leaves = ndimage.maximum_filter(~held, 2 * reach + 1, mode="constant", cval=0) & held
    least = np.full(blocks.shape, np.inf)
    for i, row in enumerate(blocks_of(shape, side)):
        for j, block in enumerate(row):
            least[i, j] = np.min(cost[block][leaves[block] & (cost[block] > 0.0)], initial=np.inf)
            if leaves[block].any():
                assert border_blocks(blocks, side, reach)[i, j]
    padded = np.pad(cost, 2)
    got = border_costs(padded.ravel(), (-2, -2), padded.shape[1], shape, blocks, side, reach)
    np.testing.assert_array_equal(got, least)


def test_the_coarse_land_lies_where_the_fine_does():
    z = np.add.outer(-3.0 * np.arange(21), 2.0 * np.arange(35))  # falls 1 m a metre south and east
    ground = make_ground(Terrain.from_array(z, CELL, origin=(50.0, 80.0)), 0.0)
    coarse = make_coarse(ground, 4)
    land = coarse.grid.ground.terrain
    assert land.shape == (6, 9)
    assert land.cell == (8.0, 12.0)
    assert land.bounds[0] == 50.0
    assert land.bounds[3] == 80.0
    assert land.z[2, 3] == pytest.approx(z[8:12, 12:16].mean())


def test_places_cut_off_have_no_line_over_the_blocks():
    cost = np.ones((24, 40))
    cost[:, 10:22] = np.inf
    ground = make_ground(Terrain.from_array(np.zeros((24, 40)), 1.0), 0.0, cost)
    coarse = make_coarse(ground, 4)
    assert coarse.passing((2.0, -3.0), (30.0, -3.0)) is None
    assert coarse.passing((2.0, -3.0), (99.0, -3.0)) is None
    passing = coarse.passing((2.0, -3.0), (5.0, -20.0))
    assert passing is not None
    assert passing.cost.min() >= np.hypot(3.0, 17.0) - 8.0
    assert np.isinf(passing.cost[:, -1]).all()
