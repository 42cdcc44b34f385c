"""The drive pipe is straight, and its chamber stands where that gives most fall."""

import numpy as np
import pytest
from shapely.geometry import LineString, box

from planner.errors import NoRoute
from planner.profile.along import profile_along
from planner.routing.drive import SHORTEST, chamber_on, find_drive
from planner.routing.drive_rule import LENGTH_TO_FALL
from planner.site.defaults import default_line
from planner.terrain.sample import ground_at
from tests.routing.ground import grid, land, slope

DRIVE = default_line("drive").laying
CREEK = 0.02  # grade of the creek above the fall


def gully():
    """A creek bed that runs flat to the west and then drops 3 m over 20 m; the ram at its foot."""
    x, y = grid()
    bed = 10.0 + np.where(x > 40.0, 3.0 + CREEK * (x - 40.0), 0.15 * np.clip(x - 20.0, 0.0, None))
    return bed + 0.3 * np.abs(y + 30.0)


RAM, SPRING = (20.0, -30.0), (92.0, -30.0)


def supply_over(ground):
    return profile_along(ground.terrain, LineString([SPRING, RAM]))


def test_it_is_straight_in_plan_and_profile():
    ground = land(gully())
    way = find_drive(ground, (45.0, -30.0), RAM)
    profile = way.laid.profile
    assert way.rule_kept
    assert np.allclose(profile.xy[:, 1], -30.0)
    assert np.allclose(np.diff(profile.pipe, 2), 0.0, atol=1e-12)
    ends = ground_at(ground.terrain, profile.xy[[0, -1], 0], profile.xy[[0, -1], 1])
    assert np.allclose(profile.pipe[[0, -1]], ends)
    fall = 3.1
    assert profile.length == pytest.approx(np.hypot(25.0, fall), abs=0.02)


def test_the_chamber_gives_most_fall_at_a_length_to_suit():
    ground = land(gully())
    place = chamber_on(ground, supply_over(ground), RAM, DRIVE)
    assert place is not None
    fits = {}
    for x in np.arange(RAM[0] + SHORTEST, SPRING[0], 0.5):  # by trying every half metre
        pipe = find_drive(ground, (float(x), -30.0), RAM).laid.profile
        fall = pipe.pipe[0] - pipe.pipe[-1]
        near = np.all((pipe.depth >= DRIVE.least_cover) & (pipe.depth <= DRIVE.deepest_trench))
        if near and fall > 0 and LENGTH_TO_FALL[0] <= pipe.length / fall <= LENGTH_TO_FALL[1]:
            fits[float(x)] = fall
    best = max(fits.values())
    pipe = find_drive(ground, place, RAM).laid.profile
    fall = pipe.pipe[0] - pipe.pipe[-1]
    assert 3.0 <= pipe.length / fall <= 10.0
    assert fall == pytest.approx(best, abs=0.6 * CREEK + 1e-9)  # places are tried every metre


def test_a_place_with_a_length_for_the_bore_comes_before_one_with_more_fall():
    ground = land(gully())
    supply = supply_over(ground)
    free = chamber_on(ground, supply, RAM, DRIVE)
    assert free is not None
    length = np.hypot(free[0] - RAM[0], 3.2)
    thin = length / 1000.0 * 0.9  # too thin for so long a pipe, not for a slightly shorter one
    place = chamber_on(ground, supply, RAM, DRIVE, bores=[thin])
    assert place is not None
    pipe = find_drive(ground, place, RAM).laid.profile
    assert 150.0 * thin <= pipe.length <= 1000.0 * thin
    assert place[0] < free[0]


def test_where_no_length_suits_the_bore_the_most_fall_counts():
    ground = land(gully())
    supply = supply_over(ground)
    free = chamber_on(ground, supply, RAM, DRIVE)
    assert chamber_on(ground, supply, RAM, DRIVE, bores=[0.5]) == free  # 75 m at least


def test_along_a_flat_creek_there_is_no_place():
    ground = land(slope(0.01))  # a hundred metres for one of fall
    assert chamber_on(ground, supply_over(ground), RAM, DRIVE) is None


def test_a_place_that_wastes_most_of_the_fall_is_none():
    """A short steep bank by the ram would suit, with a fifth of what a longer pipe has."""
    x, y = grid()
    bed = 0.07 * (x - 20.0) + np.where(x > 26.0, 0.6, 0.1 * np.clip(x - 20.0, 0.0, None))
    ground = land(10.0 + bed + 0.3 * np.abs(y + 30.0))
    supply = supply_over(ground)
    assert supply.ground[0] - supply.ground[-1] > 5.0
    short = find_drive(ground, (26.0, -30.0), RAM).laid.profile
    assert 3.0 <= short.length / (short.pipe[0] - short.pipe[-1]) <= 10.0
    assert chamber_on(ground, supply, RAM, DRIVE) is None


def test_where_the_ground_stands_in_the_way_there_is_no_place():
    x, _ = grid()
    ground = land(gully() + np.where((x > 23.0) & (x < 26.0), 5.0, 0.0))
    assert chamber_on(ground, supply_over(ground), RAM, DRIVE) is None


def test_past_a_way_point_only():
    ground = land(gully())
    supply = supply_over(ground)
    place = chamber_on(ground, supply, RAM, DRIVE, beyond=60.0)
    assert place is not None
    assert place[0] <= SPRING[0] - 60.0 + 0.5


def test_a_closed_area_in_its_straight_way_is_told():
    ground = land(gully(), avoid=[box(30, -31, 33, -29)])
    with pytest.raises(NoRoute) as caught:
        find_drive(ground, (45.0, -30.0), RAM)
    assert caught.value.obstacle == "closed"
    assert caught.value.where is not None
    assert caught.value.where[0] == pytest.approx(33.5, abs=1.1)
    assert caught.value.shortfall == pytest.approx(3.0, abs=2.1)


def test_the_chamber_keeps_the_drive_off_closed_land():
    shut = box(24, -31, 26, -29)
    ground = land(gully(), avoid=[shut])
    assert chamber_on(ground, supply_over(ground), RAM, DRIVE) is None
    far = land(gully(), avoid=[box(43, -31, 45, -29)])
    place = chamber_on(far, supply_over(far), RAM, DRIVE)
    assert place is not None
    assert place[0] < 43.0


def test_a_hole_in_the_data_is_told_as_one():
    z = gully()
    z[28:32, 30:33] = np.nan
    with pytest.raises(NoRoute) as caught:
        find_drive(land(z), (45.0, -30.0), RAM)
    assert caught.value.obstacle == "void"


def test_chamber_and_ram_at_one_point_make_no_pipe():
    with pytest.raises(NoRoute, match="no length"):
        find_drive(land(gully()), RAM, RAM)
