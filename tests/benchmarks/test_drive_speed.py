"""Drive pipes by the thousand: what a pair of places costs to try."""

from collections.abc import Iterator

import numpy as np
import pytest

from planner.routing.drive_rule import DriveRule, drives
from planner.routing.ground import Ground, make_ground
from planner.terrain.value import Terrain
from tests.benchmarks.table import Row, median_of

CELL = 5.0  # m
BORE = 0.0525  # m
RULE = DriveRule(propped=1.0, dug=0.5, bores=(BORE,))
REACH = 1000.0 * BORE
CHAMBERS = 1500
NANOSECONDS = 112.0  # a pair, as measured on a first prototype


def valley(cells: int) -> Ground:
    """Waves of hills over a slope, with a creek bed from west to east in the middle."""
    side = int(np.sqrt(cells))
    y, x = np.meshgrid(np.arange(side) * CELL, np.arange(side) * CELL, indexing="ij")
    rng = np.random.default_rng(1)
    z = 0.05 * (side * CELL - x) + 0.2 * np.abs(y - side * CELL / 2)
    for wave in (2000.0, 700.0, 210.0, 65.0):
        turn = rng.uniform(0.0, 2.0 * np.pi, 3)
        along = x * np.cos(turn[0]) + y * np.sin(turn[0])
        across = y * np.cos(turn[0]) - x * np.sin(turn[0])
        z += 0.02 * wave * np.sin(2 * np.pi * along / wave + turn[1]) * np.cos(across / wave)
    return make_ground(Terrain.from_array(z, CELL), 0.0)


def creek(ground: Ground) -> tuple[np.ndarray, np.ndarray]:
    """Chambers along the creek, and every cell within reach of it as a place for the ram."""
    side = ground.terrain.shape[0]
    middle = -side * CELL / 2
    x = np.linspace(60.0, side * CELL - 60.0, CHAMBERS)
    centres = (np.arange(side) + 0.5) * CELL
    rows = middle + np.arange(-REACH, REACH + CELL, CELL)
    east, north = (part.ravel() for part in np.meshgrid(centres, rows))
    return np.column_stack([x, np.full(CHAMBERS, middle)]), np.column_stack([east, north])


def within_reach(chambers: np.ndarray, rams: np.ndarray) -> int:
    """Pairs no farther apart than the longest pipe: those that have to be looked at."""
    return sum(int((np.hypot(*(rams - chamber).T) <= REACH).sum()) for chamber in chambers)


def measured(cells: int) -> tuple[float, int, int]:
    """Seconds for all, pairs looked at, and those that keep the rule."""
    ground = valley(cells)
    chambers, rams = creek(ground)
    seconds = median_of(lambda: drives(ground, chambers, rams, RULE))
    return seconds, within_reach(chambers, rams), drives(ground, chambers, rams, RULE).fall.size


def rows(cells: int) -> Iterator[Row]:
    seconds, pairs, kept = measured(cells)
    each = seconds / pairs * 1e9
    what = f"drive pipes: {each:.0f} ns a pair, {pairs:,} pairs in reach, {kept:,} keep the rule"
    yield Row(what, cells, None, seconds)


@pytest.mark.benchmark
def test_a_pair_takes_no_longer_than_the_yardstick() -> None:
    seconds, pairs, kept = measured(1_000_000)
    assert kept > 1000
    assert seconds / pairs * 1e9 < NANOSECONDS
