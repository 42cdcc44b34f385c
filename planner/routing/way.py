"""`Way`: a routed and laid line, and the one step from a rule to it that all finders share."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.profile.along import profile_along
from planner.profile.lay import Laid, lay, lay_falling
from planner.profile.value import FloatArray, Profile
from planner.routing.find import find_route
from planner.routing.land import Land
from planner.site.value import Laying

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Way:
    """A line on the ground: laid, and whether it keeps the rule its role would have."""

    laid: Laid
    rule_kept: bool


def route(
    land: Land,
    ends: tuple[Place, Place],
    laying: Laying,
    rule: GradeRule,
    *,
    via: Sequence[Place] = (),
    begins: End = "open",
) -> LineString:
    """The route under a rule over the land, in the trench its laying allows. See `find_route`."""
    found = find_route(
        land.terrain,
        *ends,
        rule,
        land.cost,
        way=via,
        slack=land.slack(laying),
        begins=begins,
        dig_cost=laying.dig_cost,
        side_slope=np.inf if laying.side_slope is None else laying.side_slope,
        bend_cost=laying.bend_cost,
        least_leg=laying.least_leg,
    )
    return found.line


def laid_in_pieces(land: Land, line: LineString, laying: Laying, begins: End = "open") -> Laid:
    """Lay a line as rising and falling pieces with the fewest high points."""
    profile, slack = _profile(land, line, laying)
    return lay(
        profile,
        cover=laying.least_cover,
        slack=slack,
        least=laying.least_grade,
        start=begins,
    )


def laid_falling(land: Land, line: LineString, laying: Laying) -> Laid | None:
    """Lay a line that falls all the way, or None where its trench holds none."""
    profile, slack = _profile(land, line, laying)
    return lay_falling(
        profile,
        cover=laying.least_cover,
        slack=slack,
        least=laying.least_grade,
        greatest=laying.greatest_grade,
    )


def _profile(land: Land, line: LineString, laying: Laying) -> tuple[Profile, FloatArray]:
    profile = profile_along(land.terrain, line)
    return profile, land.slack_at(laying, profile.xy)
