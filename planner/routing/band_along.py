"""What a line that is given costs under a rule with one limit, its vents and digging told apart."""

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.band import Prices, State, band_rule, rooted_at_end, set_out
from planner.routing.band_follow_kernel import (
    CROWDED,
    LAID,
    Joints,
    Laying,
    cheapest_laying,
    sample_line,
    samples_of,
    section_of,
)
from planner.routing.band_kernel import Root, Rule
from planner.routing.edge_kernel import TOLERANCE
from planner.routing.follow import PART
from planner.routing.follow_kernel import Land
from planner.routing.ground import Ground
from planner.routing.piece_kernel import CLIMBS, SINKS, Strip, make_digging, make_strip
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray

ROOM = 16  # nodes of digging a sample, at first


class Along(NamedTuple):
    """What a line costs.

    Attributes
    ----------
    cost : float
        Length times the ground's factor, digging and vents [m of pipe]; infinite where the rule
        can't be kept.
    vents : int
        High points paid for.
    digging : float
        Section of the trench below the least cover [m²].
    length : float
        In three dimensions [m].
    state : State or None
        How the pipe stands at the far end from the root, to be carried on to the leg beyond; None
        where the rule can't be kept.
    """

    cost: float
    vents: int = 0
    digging: float = 0.0
    length: float = 0.0
    state: State | None = None


BARRED = Along(np.inf)


def band_cost_along(
    ground: Ground,
    rule: GradeRule,
    prices: Prices,
    xy: FloatArray,
    *,
    begins: End = "open",
    carried: State | None = None,
) -> Along:
    """Cost of a line, sampled every quarter cell, over all its layings with joints at any sample.

    Parameters
    ----------
    xy : (n, 2) ndarray
        Vertices [m] from start to end.
    rule, prices, begins, carried
        As for `planner.routing.band.find_in_band`. Of a climbing piece that goes on beyond the
        root, `carried` knows the level but not the digging still to be settled.

    Returns
    -------
    Along
        Infinite cost where the rule can't be kept or the line is closed.
    """
    if rooted_at_end(rule):
        xy = xy[::-1]
    root = set_out(ground, (float(xy[0, 0]), float(xy[0, 1])), prices, carried)
    if root is None:
        return BARRED
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    land = Land(ground.soil, *ground.terrain.cell, ground.side_slope, PART, TOLERANCE)
    strip = make_strip(samples_of(land, row, col))
    factor = np.empty(strip.step.size)
    if not sample_line(land, row, col, strip, factor):
        return BARRED
    walked = band_rule(rule, prices, begins, ground.side_slope)
    laying, joints = _laid(strip, factor, walked, root)
    if laying.status != LAID:
        return BARRED
    metres = np.hypot(strip.step, np.diff(strip.top, prepend=root.top))
    pieces = _pieces(strip, laying, joints)
    modes = [mode for _, _, mode in pieces]
    vents = sum(here == CLIMBS and there == SINKS for here, there in pairwise(modes))
    vents += carried is not None and carried.climbs and modes[0] == SINKS
    vents += begins == "closed" and modes[-1] == CLIMBS
    return Along(
        cost=float(np.sum(factor * metres)) + laying.cost,
        vents=vents,
        digging=sum(section_of(strip, *piece, walked.grade, root) for piece in pieces),
        length=float(np.sum(metres)),
        state=State(laying.mode == CLIMBS, laying.level),
    )


def _pieces(strip: Strip, laying: Laying, joints: Joints) -> list[tuple[int, int, int]]:
    """First and last sample (-1: the root) and mode of each piece, away from the root."""
    pieces, end, mode, joint = [], strip.step.size - 1, laying.mode, laying.joint
    while joint != 0:
        begin = int(joints.sample[joint])
        pieces.append((begin, end, mode))
        end, mode, joint = begin, SINKS + CLIMBS - mode, int(joints.before[joint])
    pieces.append((-1, end, mode))
    return pieces[::-1]


def _laid(strip: Strip, factor: FloatArray, rule: Rule, root: Root) -> tuple[Laying, Joints]:
    """The cheapest laying, with as much room as it takes."""
    n, room = strip.step.size, ROOM
    while True:
        joints = Joints(np.empty(2 * n + 1, np.int32), np.empty(2 * n + 1, np.int32), np.array([1]))
        digging = make_digging(room * n + 16, 1)
        laying = cheapest_laying(strip, factor, rule, root, digging, joints)
        if laying.status != CROWDED:
            return laying, joints
        room *= 8
