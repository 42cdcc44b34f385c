"""The level of a line that lies where it lies, by the rule of its role."""

from dataclasses import replace

import numpy as np

from planner.profile.along import chainage_of
from planner.profile.lay import Laid, lay, lay_falling, lay_straight
from planner.profile.value import FloatArray, Profile
from planner.routing.land import Land
from planner.routing.outfall import in_the_open
from planner.routing.way import Way
from planner.site.value import Laying, LineRole

FALLING: frozenset[LineRole] = frozenset({"supply", "waste", "overflow"})
OPEN_MOUTHED: frozenset[LineRole] = frozenset({"waste", "overflow"})
STRAIGHT = 0.01  # m; a rigid pipe nearer to its chord than this does not bend


def lay_role(land: Land, profile: Profile, role: LineRole, laying: Laying) -> Way:
    """Lay a line in its trench as the finder of its role does, without looking for a route.

    Parameters
    ----------
    land : Land
        Tells how deep can be dug where.
    profile : Profile
        Its ground; without holes.

    Returns
    -------
    Way
        Whether its role's rule is kept: a line that should fall all the way is laid with rises
        where its trench is too shallow for that, and the rule is not kept then.

    Raises
    ------
    TerrainError
        The profile crosses a hole in the elevation data.
    """
    if role == "drive":
        return Way(lay_straight(profile), rule_kept=laying.bend or _is_straight(profile))
    slack = land.slack_at(laying, profile.xy)
    if role in FALLING:
        fallen = _falling(profile, slack, role, laying)
        if fallen is not None:
            return fallen
    laid = lay(
        profile,
        cover=laying.least_cover,
        slack=slack,
        least=laying.least_grade,
        start="closed" if role == "delivery" else "open",
    )
    return Way(laid, rule_kept=role not in FALLING and keeps_rule(role, laid))


def keeps_rule(role: LineRole, laid: Laid) -> bool:
    """Whether a laid line is as its role would have it: falling, or rising, all the way."""
    if role in FALLING:
        pipe = laid.profile.pipe
        return not (laid.high_points or laid.low_points) and bool(pipe[0] > pipe[-1])
    return role != "delivery" or not laid.high_points


def on_ground(land: Land, way: Way, added: FloatArray, *, role: LineRole, laying: Laying) -> Way:
    """A line laid anew on ground that was measured to be higher by so much, sample by sample [m].

    A drive pipe keeps its shape, its ends go with the ground.
    """
    if not np.any(added):
        return way
    old = way.laid.profile
    ground = old.ground + added
    if role == "drive":
        pipe = old.pipe + np.interp(old.run, old.run[[0, -1]], added[[0, -1]])
        profile = replace(old, ground=ground, pipe=pipe, chainage=chainage_of(old.run, pipe))
        return replace(way, laid=replace(way.laid, profile=profile))
    profile = replace(old, ground=ground, pipe=ground, chainage=chainage_of(old.run, ground))
    return lay_role(land, profile, role, laying)


def _falling(profile: Profile, slack: FloatArray, role: LineRole, laying: Laying) -> Way | None:
    for greatest in dict.fromkeys((laying.greatest_grade, None)):
        laid = lay_falling(
            profile,
            cover=laying.least_cover,
            slack=slack,
            least=laying.least_grade,
            greatest=greatest,
        )
        if laid is None:
            continue
        kept = greatest == laying.greatest_grade
        if role not in OPEN_MOUTHED:
            return Way(laid, kept)
        out = in_the_open(laid, laying)
        return Way(laid if out is None else out, kept and out is not None)
    return None


def _is_straight(profile: Profile) -> bool:
    along = profile.xy[-1] - profile.xy[0]
    east, north = along / np.hypot(*along)
    off = (profile.xy - profile.xy[0]) @ np.array([north, -east])
    return bool(np.max(np.abs(off)) < STRAIGHT)
