"""Corners of a line: how wide a bend fits, and when an elbow is needed."""

import math
from dataclasses import replace

import numpy as np
import pytest

from planner.hydraulics.catalogue import catalogue
from planner.output.materials.bends import elbow_angle, elbows, needs_elbow, turns
from planner.output.materials.make import materials_of
from tests.output.materials.hand import PN16, along, hand_plan, line_of


def test_a_square_corner_between_legs_of_four_metres() -> None:
    # The bend may begin half-way along a leg, 2 m from the corner: R = 2 / tan 45° = 2 m.
    (turn,) = turns(line_of(along([(0, 0, 10), (4, 0, 10), (4, 4, 10)])))
    assert turn.angle == pytest.approx(math.pi / 2)
    assert turn.radius == pytest.approx(2.0)
    assert turn.chainage_m == pytest.approx(4.0)
    assert elbow_angle(turn) == "90°"


def test_the_short_leg_rules_and_a_turn_in_profile_counts() -> None:
    # Level for 10 m, then 45° down for 2.83 m: R = 1.414 / tan 22.5° = 3.41 m.
    (turn,) = turns(line_of(along([(0, 0, 10), (10, 0, 10), (12, 0, 8)])))
    assert turn.angle == pytest.approx(math.radians(45.0))
    assert turn.radius == pytest.approx(math.sqrt(2.0) / math.tan(math.radians(22.5)))


@pytest.mark.parametrize(("leg", "count"), [(4.0, 0), (1.0, 1)])
def test_pe_bends_where_the_legs_leave_room(leg: float, count: int) -> None:
    # PE of 32 mm SDR 11 bends to 0.8 m: legs of 4 m hold a bend of 2 m, legs of 1 m one of 0.5 m.
    assert 0.5 < PN16.bend_radius < 2.0
    line = line_of(along([(0, 0, 10), (leg, 0, 10), (leg, leg, 10)], step=0.1))
    assert len(elbows(line)) == count


def test_steel_takes_an_elbow_at_every_turn_its_joints_do_not_take_up() -> None:
    steel = next(pipe for pipe in catalogue() if pipe.material == "steel")
    for degrees, count in ((2.0, 0), (4.0, 1), (30.0, 1)):
        angle = math.radians(degrees)
        end = (60 + 60 * math.cos(angle), 60 * math.sin(angle), 10.0)
        assert len(elbows(line_of(along([(0, 0, 10), (60, 0, 10), end]), steel))) == count


def test_a_wide_curve_of_many_small_corners_needs_none() -> None:
    ring = [(20 * math.cos(a), 20 * math.sin(a), 10.0) for a in np.linspace(0, math.pi, 60)]
    line = line_of(along(ring))
    assert elbows(line) == ()
    radii = [turn.radius for turn in turns(line)]
    assert radii
    assert min(radii) > PN16.bend_radius


def test_elbows_are_listed_with_their_clamps_where_pipe_is_barbed() -> None:
    barbed = next(
        pipe for pipe in catalogue() if pipe.standard == "ASTM D2239" and pipe.nominal == "1 in"
    )
    plan = hand_plan()
    line = line_of(along([(0, 0, 10), (1, 0, 10), (1, 1, 10)], step=0.1), barbed)
    assert needs_elbow(turns(line)[0], line.runs[0])
    listed = materials_of(replace(plan, lines=(line,)))
    (elbow,) = [one for one in listed.items if one.article.code.startswith("elbow-90")]
    assert elbow.quantity == 1.0
    (clamps,) = [one for one in listed.items if one.article.code.startswith("clamps")]
    # Barbs: elbow 2, adapters at ram and tank 2, drain tee 2, spare coupling 2; 2 m need no other.
    assert clamps.quantity == 8.0


def test_no_turns_on_a_straight_pipe() -> None:
    assert turns(line_of(along([(0, 0, 10), (50, 0, 9.5)]))) == ()
