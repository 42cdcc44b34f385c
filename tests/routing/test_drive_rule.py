"""Many drive pipes at once: every pair that keeps the rule and no other, with true figures."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.hydraulics import limits
from planner.routing.drive_rule import LENGTH_TO_BORE, LENGTH_TO_FALL, DriveRule, drive_rule, drives
from planner.routing.ground import make_ground
from planner.site.defaults import default_line
from planner.terrain.sample import bilinear, grid_position
from planner.terrain.value import Terrain

RULE = DriveRule(propped=1.0, dug=0.5)


def hillside(seed: int, cell: tuple[float, float] = (1.0, 1.0), shape: tuple[int, int] = (24, 31)):
    """Rough land that falls to the south-east, with holes and closed cells."""
    rng = np.random.default_rng(seed)
    rows, cols = shape
    y, x = np.meshgrid(np.arange(rows), np.arange(cols), indexing="ij")
    z = 30.0 - 0.22 * cell[1] * y - 0.06 * cell[0] * x
    z = z + 0.4 * np.sin(x / 3.0 + seed) * np.cos(y / 4.0) + rng.normal(0.0, 0.05, shape)
    z[rng.random(shape) < 0.01] = np.nan
    cost = np.where(rng.random(shape) < 0.01, np.inf, 1.0)
    return make_ground(Terrain.from_array(z, cell, origin=(100.0, 900.0)), 0.0, cost)


def places(ground, count: int, seed: int):
    west, south, east, north = ground.terrain.bounds
    rng = np.random.default_rng(seed)
    return np.column_stack([rng.uniform(west, east, count), rng.uniform(south, north, count)])


def plain(ground, chambers, rams, rule):
    """The rule of a drive pipe tried pair by pair: the definition, slow."""
    top = np.where(ground.open_cells, ground.terrain.z, np.nan)
    spans = [(LENGTH_TO_BORE[0] * b, LENGTH_TO_BORE[1] * b) for b in rule.bores] or [(0, np.inf)]
    found = {}
    for c, chamber in enumerate(chambers):
        for m, ram in enumerate(rams):
            (r1, r2), (c1, c2) = grid_position(
                ground.terrain, *np.transpose([chamber, ram]).astype(float)
            )
            high, low = bilinear(top, np.array([r1, r2]), np.array([c1, c2]))
            fall = high - low
            if not fall > 0.0:
                continue
            length = np.sqrt(np.sum((np.subtract(chamber, ram)) ** 2) + fall**2)
            if not rule.length_to_fall[0] <= length / fall <= rule.length_to_fall[1]:
                continue
            if not any(a <= length <= b for a, b in spans):
                continue
            pieces = max(int(np.ceil(np.hypot((c2 - c1), (r2 - r1)) / 0.5)), 1)
            share = np.arange(pieces + 1) / pieces
            under = bilinear(top, r1 + share * (r2 - r1), c1 + share * (c2 - c1))
            depth = under - (high + share * (low - high))
            if np.all((depth >= -rule.propped) & (depth <= rule.dug)):
                found[c, m] = (fall, length, max(0.0, -depth.min()), max(0.0, depth.max()))
    return found


def as_dict(found):
    pairs = zip(found.chamber.tolist(), found.ram.tolist(), strict=True)
    figures = zip(found.fall, found.length, found.propped, found.dug, strict=True)
    return dict(zip(pairs, figures, strict=True))


RULES = [
    RULE,
    DriveRule(propped=0.3, dug=0.1),
    DriveRule(propped=1.0, dug=0.5, bores=(0.025,)),
    DriveRule(propped=2.0, dug=2.0, bores=(0.02, 0.08), length_to_fall=(3.0, 20.0)),
]


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("cell", [(1.0, 1.0), (2.0, 0.7)])
def test_every_pair_that_keeps_the_rule_is_found_and_no_other(rule, cell):
    total = 0
    for seed in range(3):
        ground = hillside(seed, cell)
        chambers, rams = places(ground, 25, seed), places(ground, 40, seed + 9)
        expected = plain(ground, chambers, rams, rule)
        found = as_dict(drives(ground, chambers, rams, rule))
        assert found.keys() == expected.keys()
        for pair, figures in expected.items():
            assert found[pair] == pytest.approx(figures, abs=1e-9)
        total += len(expected)
    assert total > 15


def test_a_length_that_suits_any_of_the_bores_will_do():
    ground = hillside(1)
    chambers, rams = places(ground, 60, 3), places(ground, 60, 4)
    each = [as_dict(drives(ground, chambers, rams, DriveRule(1, 0.5, (b,)))) for b in (0.02, 0.15)]
    both = as_dict(drives(ground, chambers, rams, DriveRule(1, 0.5, (0.02, 0.15))))
    assert both == each[0] | each[1]
    assert each[0].keys() != each[1].keys()


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.floats(-500.0, 500.0), st.sampled_from([0.5, 2.0, 8.0]))
def test_moved_up_and_scaled_land_has_the_same_pipes(seed, lift, scale):
    """Levels, places, clearance and bores times a scale: lengths and falls follow, pairs stay."""
    ground = hillside(seed)
    chambers, rams = places(ground, 8, seed), places(ground, 30, seed + 1)
    one = drives(ground, chambers, rams, DriveRule(1.0, 0.5, (0.03,)))
    terrain = Terrain.from_array(
        scale * (ground.terrain.z + lift), scale, origin=(100.0 * scale, 900.0 * scale)
    )
    other = drives(
        make_ground(terrain, 0.0, ground.cost),
        scale * chambers,
        scale * rams,
        DriveRule(scale, 0.5 * scale, (0.03 * scale,)),
    )
    same = set(as_dict(one)) ^ set(as_dict(other))
    # Only a pipe that keeps a limit to the last bit may turn with rounding.
    assert len(same) <= 1
    for pair in as_dict(one).keys() & as_dict(other).keys():
        there = np.array(as_dict(other)[pair]) / scale
        assert there == pytest.approx(as_dict(one)[pair], abs=1e-8)


def test_one_chamber_many_rams_and_the_other_way_are_parts_of_all():
    ground = hillside(5)
    chambers, rams = places(ground, 12, 1), places(ground, 50, 2)
    every = as_dict(drives(ground, chambers, rams, RULE))
    assert every
    for c in range(12):
        alone = as_dict(drives(ground, chambers[c : c + 1], rams, RULE))
        assert alone == {(0, m): v for (k, m), v in every.items() if k == c}
    for m in range(50):
        alone = as_dict(drives(ground, chambers, rams[m : m + 1], RULE))
        assert alone == {(c, 0): v for (c, k), v in every.items() if k == m}


def test_pairs_come_by_chamber():
    ground = hillside(5)
    found = drives(ground, places(ground, 12, 1), places(ground, 50, 2), RULE)
    assert np.all(np.diff(found.chamber) >= 0)


def test_a_wall_one_cell_thin_is_never_crossed():
    z = np.tile(20.0 - 0.2 * np.arange(40.0), (30, 1))
    cost = np.ones(z.shape)
    cost[:, 20] = np.inf
    terrain = Terrain.from_array(z, 1.0)
    west = [(x + 0.5, -y - 0.5) for x in range(5, 20) for y in range(0, 30, 3)]
    east = [(x + 0.5, -y - 0.5) for x in range(21, 40) for y in range(0, 30, 3)]
    assert drives(make_ground(terrain, 0.0), west, east, RULE).ram.size > 100
    assert drives(make_ground(terrain, 0.0, cost), west, east, RULE).ram.size == 0


def test_places_off_the_data_and_none_at_all_have_no_pipe():
    ground = hillside(2)
    inside = places(ground, 5, 1)
    for chambers, rams in (
        ([(0.0, 0.0)], inside),
        (inside, [(0.0, 0.0)]),
        (np.empty((0, 2)), inside),
        (inside, np.empty((0, 2))),
    ):
        assert drives(ground, chambers, rams, RULE).chamber.size == 0


def test_the_rule_of_a_laying_is_how_far_it_is_propped_and_dug_in():
    assert drive_rule(default_line("drive").laying) == DriveRule(1.0, 0.5)
    buried = default_line("drive", manner="buried").laying
    assert drive_rule(buried, [0.05]) == DriveRule(0.0, buried.deepest_trench, (0.05,))


def test_the_ratios_are_the_published_ones():
    bore = limits.DRIVE_LENGTH_TO_BORE
    assert (bore.low, bore.high) == LENGTH_TO_BORE
    falls = limits.DRIVE_LENGTH_TO_FALL.low, limits.DRIVE_LENGTH_TO_FALL_USDA.high
    assert falls == LENGTH_TO_FALL
