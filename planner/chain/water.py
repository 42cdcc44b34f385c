"""The water of a scheme: what is taken, lifted and delivered, and how each line runs."""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from planner.band import Band
from planner.chain.decided import with_decided
from planner.chain.line_flow import carries
from planner.chain.line_water import line_water, supply_capacity
from planner.chain.ram_works import measured_ram
from planner.chain.scheme import Scheme
from planner.chain.source_works import source_flow
from planner.chain.tank_works import needed
from planner.hydraulics import (
    Delivered,
    delivered_flow,
    friction_loss,
    pump_duty,
)
from planner.hydraulics.drive import drive_ratios
from planner.levels.value import Survey
from planner.record.value import Line, Placed, Water
from planner.site.value import LineRole, Site
from planner.terrain.value import FloatArray, Terrain

DAY = 86400.0  # s
HOUR = 3600.0  # s

# A fall is the difference of two heights whose errors are taken as independent, the cautious
# side; 90 % of a normal error lies within 1.645 standard errors.
NINETY_PERCENT = 1.645

Above = Callable[[Placed, Placed], Band]
"""Level of one point above another, with its doubt [m]."""


def scheme_water(
    site: Site,
    terrain: Terrain,
    scheme: Scheme,
    lines: tuple[Line, ...],
    survey: Survey | None = None,
) -> tuple[Water, tuple[Line, ...]]:
    """The scheme's water, and its lines with theirs; heights as sure as they were measured.

    The lines take the vents and washouts that are decided.
    """
    lines = with_decided(site, terrain, lines)
    water, flow = water_of(site, terrain, scheme, lines, survey)
    return water, tuple(
        replace(line, water=line_water(site, scheme, water, line, flow)) for line in lines
    )


def water_of(
    site: Site,
    terrain: Terrain,
    scheme: Scheme,
    lines: tuple[Line, ...],
    survey: Survey | None = None,
) -> tuple[Water, float | None]:
    """The scheme's water alone, and what comes from the source into its lines [m³/s]."""
    lowest, need = source_flow(site), needed(site)
    share = 1.0 - site.source.share_left
    taken = None if lowest is None else lowest.flow.times(share)
    water = Water(
        source_flow=None if lowest is None else float(lowest.flow.expected),
        taken=None if taken is None else float(taken.expected),
        need=None if need is None else float(need.expected),
        need_band=need,
    )
    by_role = {line.role: line for line in reversed(lines)}  # of several the first
    through = taken
    if taken is not None:
        most = min((supply_capacity(site, scheme, line) for line in lines), default=math.inf)
        through = Band(*(min(float(q), most) for q in (taken.low, taken.expected, taken.high)))
    work = {"gravity": _gravity, "ram": _ram, "powered": _powered}[scheme.kind]
    above = partial(difference, terrain=terrain, survey=survey)
    water = work(site, above, scheme, by_role, water, through)
    return water, None if through is None else float(through.expected)


def difference(
    upper: Placed, lower: Placed, terrain: Terrain, survey: Survey | None = None
) -> Band:
    """Level of one point above another [m], with the error of both heights.

    Two that were levelled are as sure as the levels between them; any other height has its own
    error, or that of the elevation data.
    """
    value = upper.level - lower.level
    stations = [survey.at(one.name, one.xy) for one in (upper, lower)] if survey is not None else []
    levelled = [one for one in stations if one is not None]
    if survey is not None and len(levelled) == 2:
        error = survey.difference(*levelled)[1]
    else:
        usual = terrain.provenance.standard_error
        error = math.hypot(
            *(usual if one.level_error is None else one.level_error for one in (upper, lower))
        )
    half = NINETY_PERCENT * error if math.isfinite(error) else 0.0
    return Band(value - half, value, value + half)


def _ram(
    site: Site,
    above: Above,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    if scheme.pump is None:
        return water
    fall = above(scheme.chamber or scheme.source, scheme.pump)
    lift = above(scheme.goal, scheme.pump)
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
    taken = np.array([through.low, through.expected, through.high], dtype=np.float64)
    if np.any(taken <= 0.0):
        return water
    # The poor ram on the least water, and the good one on the most: the band holds both doubts.
    got = _lifted(site, taken, fall, lift, delivery)
    edges = (got.flow.low, got.flow.expected, got.flow.high)
    flow = np.array([float(np.asarray(edge)[k]) for k, edge in enumerate(edges)])
    low, spent, high = (float(rest) for rest in taken - flow)
    return replace(
        water,
        lift_friction=float(np.asarray(got.friction)[1]),
        delivered=Band(*(float(one) for one in flow)).times(DAY),
        spent=Band(min(low, spent), spent, max(high, spent)),
    )


def _lifted(site: Site, flow: FloatArray, fall: Band, lift: Band, delivery: Line) -> Delivered:
    """What a ram lifts of each of some flows [m³/s]."""
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
    above: Above,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    if scheme.pump is None or site.powered is None:
        return water
    lift = above(scheme.goal, scheme.pump)
    water = replace(water, lift=lift)
    delivery = lines.get("delivery")
    if delivery is None:
        return water
    pipe, length = delivery.settings.pipe, delivery.profile.length
    flows, drawn = [], []
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
        drawn.append(flow)
        flows.append(flow if through is None else min(flow, float(through.expected)))
    if math.isnan(flows[1]):
        return replace(water, delivered=Band(math.nan, math.nan, math.nan))
    band = Band(0.0 if math.isnan(flows[0]) else flows[0], flows[1], flows[2])
    lost = float(friction_loss(flows[1], pipe.bore, length, pipe.roughness, site.temperature))
    daily = band.times(HOUR * site.powered.hours_per_day)
    return replace(water, lift_friction=lost, delivered=daily, pump_draws=drawn[1])


def _gravity(
    site: Site,
    above: Above,
    scheme: Scheme,
    lines: dict[LineRole, Line],
    water: Water,
    through: Band | None,
) -> Water:
    head = scheme.chamber or scheme.source
    fall = above(head, scheme.goal)
    water = replace(water, fall=fall)
    main = lines.get("main" if scheme.goal.role == "tank" else "distribution")
    if main is None or main.end != scheme.goal.name:
        return water
    goal = scheme.goal.level
    flows = [
        carries(site, _tilted(main, float(height - fall.expected)), goal + float(height), goal)
        for height in (fall.low, fall.expected, fall.high)
    ]
    if through is not None:
        given = (through.low, through.expected, through.high)
        flows = [min(most, float(q)) for most, q in zip(flows, given, strict=True)]
    return replace(water, delivered=Band(*flows).times(DAY))


def _tilted(line: Line, rise: float) -> Line:
    """The line with its start that much higher [m], and its end where it is.

    The doubt in the fall is the ground's, so the pipe that lies in it tilts with it; left where
    it is, its start would stand out of the water of a smaller fall.
    """
    share = 1.0 - line.profile.chainage / line.profile.length
    return replace(line, profile=replace(line.profile, pipe=line.profile.pipe + rise * share))
