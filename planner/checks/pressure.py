"""Heads at outlets and tanks, and speeds in the lines."""

from collections.abc import Iterator

from planner.checks.planned import chosen, expected, lines_with_water
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.hydraulics import limits
from planner.record.value import Finding, Level, Line, LineWater, Plan
from planner.site.value import LineRole

_ALL: tuple[LineRole, ...] = (
    "supply",
    "drive",
    "delivery",
    "main",
    "distribution",
    "waste",
    "overflow",
)

DRIP_LEAST = Limit(1.0, "drip lines need 1 m or more [m]")
TAP_LEAST = Limit(5.0, "village taps: 5 m at the least, 10 to 15 m wanted [m]")
TAP_MOST = Limit(30.0, "village taps: throttle above 30 m [m]")
SPEED_MOST = Limit.high(limits.VELOCITY_ANY)
SPEED_LEAST = Limit(0.5, "slower water drops its silt [m/s]")


def outlet_head_low(plan: Plan) -> Iterator[Finding]:
    """Little pressure left at an outlet."""
    for line, water in lines_with_water(plan, "distribution"):
        head = water.end_head
        steps: tuple[tuple[Level, float], ...] = (
            ("stop", 0.0),
            ("warn", DRIP_LEAST.value),
            ("note", TAP_LEAST.value),
        )
        level = next((level for level, limit in steps if head < limit), None)
        if level is not None:
            values: Values = {"case": level, "outlet": line.end, "head_m": head}
            if level == "stop":
                values["short_m"] = -head
            yield _at_end(line, level, "outlet-head-low", values)


def outlet_head_high(plan: Plan) -> Iterator[Finding]:
    """Too much pressure at an outlet."""
    for line, water in lines_with_water(plan, "distribution"):
        if water.end_head > TAP_MOST.value:
            values: Values = {"outlet": line.end, "head_m": water.end_head}
            yield _at_end(line, "note", "outlet-head-high", values)


def _at_end(line: Line, level: Level, code: str, values: Values) -> Finding:
    return on_line(line, line.profile.run.size - 1, level, code, values)


def velocity_high(plan: Plan) -> Iterator[Finding]:
    """Water that runs too fast."""
    for line, water in lines_with_water(plan, *_ALL):
        if water.velocity > SPEED_MOST.value:
            yield _velocity(line, water, "warn", "velocity-high", SPEED_MOST)


def velocity_low(plan: Plan) -> Iterator[Finding]:
    """Unsettled water that runs too slowly to carry its silt."""
    sources = {point.name for point in plan.points if point.role == "source"}
    for line, water in lines_with_water(plan, "supply", "main"):
        if line.start in sources and 0.0 < water.velocity < SPEED_LEAST.value:
            yield _velocity(line, water, "note", "velocity-low", SPEED_LEAST)


def _velocity(line: Line, water: LineWater, level: Level, code: str, limit: Limit) -> Finding:
    return Finding(level, code, {"velocity": water.velocity, "limit": limit.value}, line.name)


def part_full(plan: Plan) -> Iterator[Finding]:
    """A line meant to run full that the source can't fill; a supply line may run part full."""
    for line, water in lines_with_water(plan, "drive", "main", "distribution"):
        if not water.runs_full:
            first = water.part_full[0]
            values: Values = {"start_m": first.start, "end_m": first.end}
            yield Finding("warn", "pipe-part-full", values, line.name, first.start)


def tank_out_of_reach(plan: Plan) -> Iterator[Finding]:
    """A tank's inlet above what the water, or the pump, can reach."""
    for line, water in lines_with_water(plan, "main"):
        if water.end_head < 0.0:
            values: Values = {"case": "gravity", "end": line.end, "short_m": -water.end_head}
            yield _at_end(line, "stop", "tank-out-of-reach", values)
    yield from _beyond_pump(plan)


def _beyond_pump(plan: Plan) -> Iterator[Finding]:
    lift, pump = expected(plan.water.lift), plan.site.powered
    if plan.scheme != "powered" or pump is None or lift is None:
        return
    head, friction = max(head for _, head in pump.curve), plan.water.lift_friction or 0.0
    if lift + friction >= head:
        tank = chosen(plan, "tank")
        values: Values = {
            "case": "powered",
            "lift_m": lift,
            "friction_m": friction,
            "head_m": head,
        }
        yield Finding("stop", "tank-out-of-reach", values, at=tank.xy if tank else None)
