"""One bend in a drive pipe, on request, where it can't lie straight: the gentlest that keeps on."""

from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import box

from planner.errors import NoRoute
from planner.routing.drive import find_drive
from planner.routing.drive_bend import MOST_TURN
from planner.routing.drive_rule import DriveRule
from planner.terrain.sample import ground_at
from tests.routing.ground import grid, land

RULE = DriveRule(propped=1.0, dug=0.5)
CHAMBER, RAM = (45.0, -30.0), (20.0, -30.0)
FALL = 4.0


def bank(knoll: float = 0.0, hollow: float = 0.0):
    """Land that falls 4 m from chamber to ram, with a knoll or a hollow in the straight way."""
    x, y = grid()
    away = (x - 32.5) ** 2 + (y + 30.5) ** 2
    return 0.16 * x + (knoll - hollow) * np.exp(-away / 8.0)


def legs(way):
    """The turning points of a laid pipe in x, y, z."""
    profile = way.laid.profile
    xyz = np.column_stack([profile.xy, profile.pipe])
    steps = np.diff(xyz, axis=0)
    steps /= np.linalg.norm(steps, axis=1)[:, None]
    turns = np.flatnonzero(np.linalg.norm(np.diff(steps, axis=0), axis=1) > 1e-9) + 1
    return xyz[[0, *turns, -1]]


def turn(points):
    one, two = np.diff(points, axis=0)
    cosine = one @ two / np.linalg.norm(one) / np.linalg.norm(two)
    return np.arccos(min(cosine, 1.0))


def test_without_leave_it_stays_straight():
    way = find_drive(land(bank(knoll=1.2)), CHAMBER, RAM)
    assert len(legs(way)) == 2


def test_where_it_lies_straight_there_is_no_bend():
    way = find_drive(land(bank(knoll=0.3)), CHAMBER, RAM, bend=RULE)
    assert len(legs(way)) == 2


@pytest.mark.parametrize("ground", [bank(knoll=1.2), bank(hollow=2.2)])
def test_one_bend_takes_it_past_what_stands_in_the_way(ground):
    made = land(ground)
    way = find_drive(made, CHAMBER, RAM, bend=RULE)
    profile = way.laid.profile
    points = legs(way)
    assert way.rule_kept
    assert len(points) == 3
    assert tuple(profile.xy[0]) == CHAMBER
    assert tuple(profile.xy[-1]) == RAM
    assert turn(points) <= MOST_TURN
    assert np.all(np.diff(points[:, 2]) < 0.0)
    fine = np.concatenate([np.linspace(a, b, 200) for a, b in pairwise(points)])
    depth = ground_at(made.terrain, fine[:, 0], fine[:, 1]) - fine[:, 2]
    assert depth.max() <= RULE.dug + 0.02  # between samples half a cell apart
    assert depth.min() >= -RULE.propped - 0.02
    length = np.linalg.norm(np.diff(points, axis=0), axis=1).sum()
    assert 3.0 <= length / FALL <= 10.0
    assert profile.length == pytest.approx(length, abs=1e-6)


def test_it_turns_least_of_all_elbows_that_keep_the_rule():
    """Against every cell and level in a wide box round the chord, the rule tried point by point."""
    made = land(bank(knoll=1.2))
    best = turn(legs(find_drive(made, CHAMBER, RAM, bend=RULE)))
    ends = [np.array([*at, ground_at(made.terrain, *at)]) for at in (CHAMBER, RAM)]
    gentlest = np.inf
    offsets = [0.0, *np.linspace(-RULE.dug, RULE.propped, 5)]
    for x in np.arange(21.5, 45.0):
        for y in np.arange(-40.5, -20.0):
            for offset in offsets:
                elbow = np.array([x, y, ground_at(made.terrain, x, y) + offset])
                angle = turn(np.array([ends[0], elbow, ends[1]]))
                if angle < min(gentlest, MOST_TURN) and _clear(made, ends, elbow):
                    gentlest = angle
    assert best == pytest.approx(gentlest, abs=1e-9)


def _clear(made, ends, elbow):
    if not ends[0][2] > elbow[2] > ends[1][2]:
        return False
    legs_ = [(ends[0], elbow), (elbow, ends[1])]
    length = sum(np.linalg.norm(b - a) for a, b in legs_)
    if not 3.0 <= length / FALL <= 10.0:
        return False
    for a, b in legs_:
        pieces = int(np.ceil(np.hypot(*(b - a)[:2]) / 0.5))
        at = np.linspace(a, b, pieces + 1)
        depth = ground_at(made.terrain, at[:, 0], at[:, 1]) - at[:, 2]
        if not np.all((depth >= -RULE.propped) & (depth <= RULE.dug)):
            return False
    return True


def test_past_a_closed_area_it_bends_where_leave_is_given():
    shed = box(32, -31, 33, -29)
    made = land(bank(), avoid=[shed])
    way = find_drive(made, CHAMBER, RAM, bend=RULE)
    assert len(legs(way)) == 3
    assert all(not shed.contains_properly(box(x, y, x, y)) for x, y in way.laid.profile.xy)
    with pytest.raises(NoRoute):
        find_drive(made, CHAMBER, RAM)


def test_no_bend_past_a_long_wall():
    made = land(bank(), avoid=[box(32, -50, 33, -10)])
    with pytest.raises(NoRoute) as caught:
        find_drive(made, CHAMBER, RAM, bend=RULE)
    assert caught.value.obstacle == "closed"


def test_where_no_gentle_bend_helps_the_straight_pipe_is_shown():
    x, _ = grid()
    made = land(bank() + np.where((x > 30.0) & (x < 33.0), 5.0, 0.0))
    way = find_drive(made, CHAMBER, RAM, bend=RULE)
    assert len(legs(way)) == 2
    assert way.laid.profile.depth.max() > RULE.dug


def test_a_pipe_that_would_climb_is_shown_straight():
    way = find_drive(land(bank(knoll=1.2)), RAM, CHAMBER, bend=RULE)
    assert len(legs(way)) == 2
