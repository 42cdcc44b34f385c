"""A plan in a few lines of plain text, for the terminal."""

from collections.abc import Iterator

from planner.output.sheets.write import numbered
from planner.record.value import Line, Plan
from planner.units import System, band_text, decimals_for, show

_SCHEMES = {
    "gravity": "water runs by itself",
    "ram": "a ram lifts the water",
    "powered": "a powered pump lifts the water",
}


def summary(plan: Plan) -> list[str]:
    """Title, water figures, lines and findings, one fact a line."""
    return [
        f"{plan.site.title}: {_SCHEMES[plan.scheme]}",
        "",
        *_figures(plan),
        "",
        *_lines(plan),
        "",
        *_findings(plan),
    ]


def line_summary(line: Line, units: System) -> list[str]:
    """Length, fall and high points of one line."""
    profile = line.profile
    rise = float(profile.ground[-1] - profile.ground[0])
    facts = [
        f"{show(profile.length, 'distance', units)} of pipe, "
        f"{'rising' if rise > 0 else 'falling'} {show(abs(rise), 'level', units)} from end to end"
    ]
    facts += [
        f"  high point at {show(high.chainage_m, 'distance', units)}: stands "
        f"{show(high.rise_m, 'level', units)} above the pipe beside it; "
        f"{show(high.deeper_m, 'level', units)} more trench removes it"
        for high in line.high_points
    ]
    return facts if line.high_points else [*facts, "  no high point: it traps no air"]


def _figures(plan: Plan) -> Iterator[str]:
    water, units = plan.water, plan.site.units
    decimals = decimals_for(plan.terrain.provenance.standard_error)
    if water.delivered is not None:
        yield f"  delivered per day   {band_text(water.delivered, 'per_day', units)}"
    if water.need is not None:
        yield f"  needed per day      {show(water.need, 'per_day', units)}"
    if water.fall is not None:
        yield f"  fall                {band_text(water.fall, 'level', units, decimals=decimals)}"
    if water.lift is not None:
        yield f"  lift                {band_text(water.lift, 'level', units, decimals=decimals)}"
    error = plan.terrain.provenance.standard_error
    yield f"  heights good to     ± {show(error, 'level', units)} (standard error of one point)"


def _lines(plan: Plan) -> Iterator[str]:
    for line in plan.lines:
        length = show(line.profile.length, "distance", plan.site.units)
        highs = len(line.high_points)
        air = f", {highs} high point{'s' if highs > 1 else ''}" if highs else ""
        yield f"  {line.name}: {line.start} to {line.end}, {length}{air}"
    for blocked in plan.blocked:
        yield f"  {blocked.name}: {blocked.start} to {blocked.end}, no way found"


def _findings(plan: Plan) -> Iterator[str]:
    for finding in numbered(plan):
        yield f"  {finding.number} {finding.level}: {finding.message} {finding.remedy}"
