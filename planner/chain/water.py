"""The water of a scheme: what is taken, lifted and delivered, and how each line runs."""

import math
from dataclasses import replace

from scipy.optimize import brentq

from planner.band import Band
from planner.chain.ram_works import measured_ram
from planner.chain.scheme import Scheme
from planner.chain.source_works import source_flow
from planner.chain.tank_works import needed
from planner.hydraulics import (
    Delivered,
    delivered_flow,
    friction_loss,
    pipe_flow,
    pump_duty,
    velocity,
)
from planner.hydraulics.drive import drive_ratios
from planner.hydraulics.fittings import k_sum, minor_loss
from planner.hydraulics.grade_line import closed_level, hydraulic_grade_line
from planner.hydraulics.part_full import (
    PartFull,
    line_capacity,
    part_full_stretches,
    running_level,
)
from planner.record.value import Line, LineWater, Placed, Water
from planner.site.value import LineRole, Site
from planner.terrain.value import Terrain

DAY = 86400.0  # s
HOUR = 3600.0  # s

# A village tap gives 0.1 - 0.2 l/s; where the site does not say, an outlet is to give the upper.
TAP_FLOW = 2e-4  # m³/s

# A fall is the difference of two heights whose errors are taken as independent, the cautious
# side; 90 % of a normal error lies within 1.645 standard errors.
NINETY_PERCENT = 1.645


def scheme_water(
    site: Site, terrain: Terrain, scheme: Scheme, lines: tuple[Line, ...]
) -> tuple[Water, tuple[Line, ...]]:
    """The scheme's water, and its lines with theirs."""
    lowest, need = source_flow(site), needed(site)
    share = 1.0 - site.source.share_left
    taken = None if lowest is None else lowest.flow.times(share)
    water = Water(
        source_flow=None if lowest is None else float(lowest.flow.expected),
        taken=None if taken is None else float(taken.expected),
        need=None if need is None else float(need.expected),
        need_band=need,
    )
    by_role = {line.role: line for line in lines}
    through = taken
    if taken is not None:
        most = min((_capacity(site, scheme, line) for line in lines), default=math.inf)
        through = Band(*(min(float(q), most) for q in (taken.low, taken.expected, taken.high)))
    work = {"gravity": _gravity, "ram": _ram, "powered": _powered}[scheme.kind]
    water = work(site, terrain, scheme, by_role, water, through)
    flow = None if through is None else float(through.expected)
    return water, tuple(
        replace(line, water=_line_water(site, scheme, water, line, flow)) for line in lines
    )


def difference(upper: Placed, lower: Placed, terrain: Terrain) -> Band:
    """Level of one point above another, with the error of two heights of the terrain [m]."""
    value = upper.level - lower.level
    error = terrain.provenance.standard_error
    half = NINETY_PERCENT * math.sqrt(2.0) * error if math.isfinite(error) else 0.0
    return Band(value - half, value, value + half)


def _ram(
    site: Site,
    terrain: Terrain,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    if scheme.pump is None:
        return water
    fall = difference(scheme.chamber or scheme.source, scheme.pump, terrain)
    lift = difference(scheme.goal, scheme.pump, terrain)
    water = replace(water, fall=fall, lift=lift)
    drive, delivery = lines.get("drive"), lines.get("delivery")
    if drive is not None and fall.expected > 0.0:
        ratios = drive_ratios(drive.profile.length, float(fall.expected), drive.settings.pipe.bore)
        water = replace(
            water,
            drive_length_to_fall=ratios.length_to_fall,
            drive_length_to_bore=ratios.length_to_bore,
        )
    if through is None or delivery is None or not float(through.expected) > 0.0:
        return water
    if fall.expected <= 0.0 or lift.expected <= 0.0:
        return water
    # The poor ram on the least water, and the good one on the most: the band holds both doubts.
    low, got, high = (
        _lifted(site, float(q), fall, lift, delivery) if q > 0.0 else None
        for q in (through.low, through.expected, through.high)
    )
    if got is None or low is None or high is None:
        return water
    flow = Band(low.flow.low, got.flow.expected, high.flow.high)
    spent = float(through.expected) - float(got.flow.expected)
    return replace(
        water,
        lift_friction=float(got.friction),
        delivered=flow.times(DAY),
        spent=Band(
            min(float(through.low) - float(low.flow.low), spent),
            spent,
            max(float(through.high) - float(high.flow.high), spent),
        ),
    )


def _lifted(site: Site, flow: float, fall: Band, lift: Band, delivery: Line) -> Delivered:
    pipe = delivery.settings.pipe
    return delivered_flow(
        flow,
        fall,
        lift,
        pipe.bore,
        delivery.profile.length,
        kind=site.ram.make,
        roughness=pipe.roughness,
        temperature=site.temperature,
        efficiency=measured_ram(site),
    )


def _powered(
    site: Site,
    terrain: Terrain,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    if scheme.pump is None or site.powered is None:
        return water
    lift = difference(scheme.goal, scheme.pump, terrain)
    water = replace(water, lift=lift)
    delivery = lines.get("delivery")
    if delivery is None:
        return water
    pipe, length = delivery.settings.pipe, delivery.profile.length
    flows = []
    for height in (lift.high, lift.expected, lift.low):
        duty = pump_duty(
            site.powered.curve,
            float(height),
            pipe.bore,
            length,
            roughness=pipe.roughness,
            temperature=site.temperature,
        )
        flow = math.nan if duty is None else duty[0]
        flows.append(flow if through is None else min(flow, float(through.expected)))
    if math.isnan(flows[1]):
        return replace(water, delivered=Band(math.nan, math.nan, math.nan))
    band = Band(0.0 if math.isnan(flows[0]) else flows[0], flows[1], flows[2])
    lost = float(friction_loss(flows[1], pipe.bore, length, pipe.roughness, site.temperature))
    daily = band.times(HOUR * site.powered.hours_per_day)
    return replace(water, lift_friction=lost, delivered=daily)


def _gravity(
    site: Site,
    terrain: Terrain,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    head = scheme.chamber or scheme.source
    fall = difference(head, scheme.goal, terrain)
    water = replace(water, fall=fall)
    main = lines.get("main")
    if main is None:
        return water
    goal = scheme.goal.level
    flows = [
        _carries(site, main, goal + float(height), goal)
        for height in (fall.low, fall.expected, fall.high)
    ]
    if through is not None:
        given = (through.low, through.expected, through.high)
        flows = [min(most, float(q)) for most, q in zip(flows, given, strict=True)]
    return replace(water, delivered=Band(*flows).times(DAY))


def _carried(site: Site, line: Line, head: float, given: float | None) -> float:
    """What runs through a full line: what it can carry, and no more than comes."""
    pipe = line.settings.pipe
    most = pipe_flow(
        max(head, 0.0),
        pipe.bore,
        line.profile.length,
        pipe.roughness,
        site.temperature,
        _fittings(line),
    )
    return most if given is None else min(most, given)


def _fittings(line: Line) -> float:
    """Speed heads lost in the line's counted fittings."""
    pipe = line.settings.pipe
    return k_sum(dict(pipe.fittings), pipe.bore)


def _lost(site: Site, line: Line, flow: float) -> float:
    """Head that a flow loses along a line, by friction and in its fittings [m]."""
    pipe = line.settings.pipe
    friction = float(
        friction_loss(flow, pipe.bore, line.profile.length, pipe.roughness, site.temperature)
    )
    return friction + float(minor_loss(flow, pipe.bore, _fittings(line)))


def _capacity(site: Site, scheme: Scheme, line: Line) -> float:
    """What a supply line can carry at most [m³/s]; no limit by any other line."""
    upper, lower = _supply_ends(scheme, line)
    if line.role != "supply" or lower is None:
        return math.inf
    return _carries(site, line, upper.level, lower.level)


def _supply_ends(scheme: Scheme, line: Line) -> tuple[Placed, Placed | None]:
    """Between what points a supply line runs: a powered pump behind a chamber has two of them."""
    if scheme.chamber is not None and line.start == scheme.chamber.name:
        return scheme.chamber, scheme.pump
    return scheme.source, scheme.chamber or scheme.pump


def _line_water(
    site: Site, scheme: Scheme, water: Water, line: Line, through: float | None
) -> LineWater | None:
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
    return _tapped(site, line, start.level, outlets[line.end], wanted)


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
        flow = given if given is not None else _carried(site, line, start_level - end.level, None)
        level = hydraulic_grade_line(profile.chainage, start_level, _lost(site, line, flow))
        part_full: tuple[PartFull, ...] = ()
    else:
        most = _carries(site, line, start_level, end.level)
        flow = most if given is None else min(most, given)
        part_full = _part_full(site, line, flow, end.level)
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
        friction=_lost(site, line, flow),
        closed_level=closed_level(profile.chainage, start_level),
        open_level=level,
        end_head=float(level[-1]) - end.level,
        part_full=part_full,
    )


def _carries(site: Site, line: Line, start_level: float, end_level: float) -> float:
    """What a line could carry from its start at most [m³/s].

    Its crests count: none may be sucked over. What its fittings lose is taken off at its start.
    """
    bore, speed_heads = line.settings.pipe.bore, _fittings(line)

    def carried(level: float) -> float:
        return line_capacity(
            line.profile.chainage,
            line.profile.pipe,
            level,
            bore,
            end_level=end_level,
            roughness=line.settings.pipe.roughness,
            temperature=site.temperature,
        )

    bare = carried(start_level)
    if speed_heads == 0.0 or bare == 0.0:
        return bare

    def spare(flow: float) -> float:
        return carried(start_level - float(minor_loss(flow, bore, speed_heads))) - flow

    return float(brentq(spare, 0.0, bare, rtol=1e-9))


def _part_full(site: Site, line: Line, flow: float, end_level: float) -> tuple[PartFull, ...]:
    """Where air stands above the water of a line that runs into the water at its end."""
    return part_full_stretches(
        line.profile.chainage,
        line.profile.pipe,
        flow,
        line.settings.pipe.bore,
        end_level=end_level,
        roughness=line.settings.pipe.roughness,
        temperature=site.temperature,
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
    flow = _carried(site, line, start_level - end.level, wanted)
    lost = _lost(site, line, flow)
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
        parts = _part_full(site, line, flow, float(level[-1]))
    all_of_it = PartFull(0.0, line.profile.length, 0.0, 1.0, math.nan)
    speed = float(velocity(flow, bore)) if math.isfinite(flow) else math.nan
    return LineWater(flow, speed, 0.0, level, level, 0.0, part_full=parts or (all_of_it,))


def _spilt(line: Line, water: Water) -> float:
    if line.role == "waste":
        return math.nan if water.spent is None else float(water.spent.expected)
    return math.nan if water.delivered is None else float(water.delivered.expected) / DAY
