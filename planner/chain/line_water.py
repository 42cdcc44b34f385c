"""The water of each line of a scheme: flow, levels with the outlet open and closed."""

import math

from planner.chain.line_flow import carried, carries, head_lost, part_full
from planner.chain.scheme import Scheme
from planner.hydraulics import velocity
from planner.hydraulics.grade_line import closed_level, hydraulic_grade_line
from planner.hydraulics.outlet import TAP_FLOW
from planner.hydraulics.part_full import PartFull, running_level
from planner.record.value import Line, LineWater, Placed, Water
from planner.site.value import Site

DAY = 86400.0  # s
HOUR = 3600.0  # s


def line_water(
    site: Site, scheme: Scheme, water: Water, line: Line, through: float | None
) -> LineWater | None:
    """The water of one line; None where it is not known, or the line leads nowhere.

    Parameters
    ----------
    through : float or None
        What comes from the source into the scheme [m³/s].
    """
    head = scheme.chamber or scheme.source
    if line.role in ("waste", "overflow"):
        return _open_pipe(site, line, _spilt(line, water))
    if line.role == "supply":
        upper, lower = _supply_ends(scheme, line)
        return _running(site, line, upper.level, lower, through)
    if line.role == "drive":
        return _running(site, line, head.level, scheme.pump, through, rushing=True)
    if line.role == "delivery":
        return _lifting(site, line, scheme, water)
    if line.role == "main":
        return _running(site, line, head.level, scheme.goal, through)
    start = scheme.goal if line.start == scheme.goal.name else head
    outlets = {outlet.name: outlet for outlet in (*scheme.outlets, scheme.goal)}
    wanted = {point.name: point.flow for point in site.sketch.points}.get(line.end) or TAP_FLOW
    if start is head and through is not None:  # no tank between: no more runs than comes
        wanted = min(wanted, through)
    return _tapped(site, line, start.level, outlets[line.end], wanted)


def supply_capacity(site: Site, scheme: Scheme, line: Line) -> float:
    """What a supply line can carry at most [m³/s]; no limit by any other line."""
    upper, lower = _supply_ends(scheme, line)
    if line.role != "supply" or lower is None:
        return math.inf
    return carries(site, line, upper.level, lower.level)


def _supply_ends(scheme: Scheme, line: Line) -> tuple[Placed, Placed | None]:
    """Between what points a supply line runs: a powered pump behind a chamber has two of them."""
    if scheme.chamber is not None and line.start == scheme.chamber.name:
        return scheme.chamber, scheme.pump
    return scheme.source, scheme.chamber or scheme.pump


def _running(
    site: Site,
    line: Line,
    start_level: float,
    end: Placed | None,
    given: float | None,
    *,
    rushing: bool = False,
) -> LineWater | None:
    """A line fed by the source: full as far as friction holds the water, else partly filled."""
    if end is None:
        return None
    profile = line.profile
    if rushing:
        flow = given if given is not None else carried(site, line, start_level - end.level, None)
        level = hydraulic_grade_line(profile.chainage, start_level, head_lost(site, line, flow))
        aired: tuple[PartFull, ...] = ()
    else:
        most = carries(site, line, start_level, end.level)
        flow = most if given is None else min(most, given)
        aired = part_full(site, line, flow, end.level)
        level = running_level(
            profile.chainage,
            profile.pipe,
            flow,
            line.settings.pipe.bore,
            end_level=end.level,
            roughness=line.settings.pipe.roughness,
            temperature=site.temperature,
        )
    return LineWater(
        flow=flow,
        velocity=float(velocity(flow, line.settings.pipe.bore)),
        friction=head_lost(site, line, flow),
        closed_level=closed_level(profile.chainage, start_level),
        open_level=level,
        end_head=float(level[-1]) - end.level,
        part_full=aired,
    )


def _lifting(site: Site, line: Line, scheme: Scheme, water: Water) -> LineWater | None:
    """A line pumped full up to the goal."""
    if water.delivered is None:
        return None
    pipe, profile = line.settings.pipe, line.profile
    lost = water.lift_friction if water.lift_friction is not None else math.nan
    if not math.isfinite(lost):
        return None
    hours = 24.0 if site.powered is None else site.powered.hours_per_day
    flow = float(water.delivered.expected) / (HOUR * hours)
    level = scheme.goal.level
    return LineWater(
        flow=flow,
        velocity=float(velocity(flow, pipe.bore)),
        friction=lost,
        closed_level=closed_level(profile.chainage, level),
        open_level=hydraulic_grade_line(profile.chainage, level + lost, lost),
        end_head=0.0,
    )


def _tapped(site: Site, line: Line, start_level: float, end: Placed, wanted: float) -> LineWater:
    """A line from a tank with its outlet throttled to the flow wanted, or open if it gives less."""
    pipe, profile = line.settings.pipe, line.profile
    flow = carried(site, line, start_level - end.level, wanted)
    lost = head_lost(site, line, flow)
    level = hydraulic_grade_line(profile.chainage, start_level, lost)
    return LineWater(
        flow=flow,
        velocity=float(velocity(flow, pipe.bore)),
        friction=lost,
        closed_level=closed_level(profile.chainage, start_level),
        open_level=level,
        end_head=float(level[-1]) - end.level,
    )


def _open_pipe(site: Site, line: Line, flow: float) -> LineWater:
    """A pipe that runs part full into the open: water stands nowhere in it."""
    level, bore = line.profile.pipe, line.settings.pipe.bore
    parts: tuple[PartFull, ...] = ()
    if math.isfinite(flow):
        parts = part_full(site, line, flow, float(level[-1]))
    all_of_it = PartFull(0.0, line.profile.length, 0.0, 1.0, math.nan)
    speed = float(velocity(flow, bore)) if math.isfinite(flow) else math.nan
    return LineWater(flow, speed, 0.0, level, level, 0.0, part_full=parts or (all_of_it,))


def _spilt(line: Line, water: Water) -> float:
    if line.role == "waste":
        return math.nan if water.spent is None else float(water.spent.expected)
    return math.nan if water.delivered is None else float(water.delivered.expected) / DAY
