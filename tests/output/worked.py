"""The example with air and pressure in its lines, found by the hydraulics itself."""

from dataclasses import replace

from planner.chain.air_works import line_air
from planner.chain.pressure_works import line_pressure
from planner.record.value import Line, Plan
from planner.site.value import Units
from tests.checks import works
from tests.example import example_plan


def worked_plan(units: Units = "metric") -> Plan:
    """Its delivery has one high point, which takes a standpipe; its ram is the worked example."""
    plan = example_plan()
    ram, tank = works.ram().water.ram, works.tank(None).water.tank
    return replace(
        plan,
        site=replace(plan.site, units=units),
        lines=tuple(_worked(line) for line in plan.lines),
        water=replace(plan.water, ram=ram, tank=tank),
    )


def _worked(line: Line) -> Line:
    assert line.water is not None
    level = float(line.water.closed_level[0])
    return replace(line, air=line_air(line, level), pressure=line_pressure(line, (), 20.0))
