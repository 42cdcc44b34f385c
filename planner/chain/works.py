"""Source, ram, tank, air and pressure of a scheme whose water is known."""

from dataclasses import replace

from planner.chain.air_works import line_air
from planner.chain.pipe_runs import pipe_runs
from planner.chain.pipes import Offered, wall
from planner.chain.pressure_works import line_pressure
from planner.chain.ram_works import ram_works
from planner.chain.source_works import source_flow, source_works
from planner.chain.tank_works import tank_works
from planner.record.value import Line, Water
from planner.site.value import Site


def add_works(
    site: Site, offered: Offered, water: Water, lines: tuple[Line, ...]
) -> tuple[Water, tuple[Line, ...]]:
    """The water and the lines of `scheme_water`, with their works.

    Parameters
    ----------
    offered : dict
        The pipes each role's trade size can mean, from `named_pipes`.
    """
    by_role = {line.role: line for line in lines}
    drive, delivery = by_role.get("drive"), by_role.get("delivery")
    ram = None
    if drive is not None and delivery is not None:
        ram = ram_works(site, water, drive, delivery)
    water = replace(
        water,
        intake=source_works(site, source_flow(site), water.taken),
        ram=ram,
        tank=tank_works(site, water),
    )
    return water, tuple(_with_works(site, offered, line) for line in lines)


def _with_works(site: Site, offered: Offered, line: Line) -> Line:
    start_level = float(line.water.closed_level[0]) if line.water is not None else 0.0
    warmth = wall(line.settings, site.temperature)
    pressure = line_pressure(line, offered.get(line.role, ()), warmth)
    if pressure is not None and pressure.classes is not None:
        # The pipe that is laid bears what the weakest class chosen for it bears.
        pipe = replace(line.settings.pipe, rating=float(pressure.heads.rating.min()))
        line = replace(line, settings=replace(line.settings, pipe=pipe))
    line = replace(line, air=line_air(line, start_level), pressure=pressure)
    return replace(line, runs=pipe_runs(line, offered.get(line.role, ()), warmth, site.units))
