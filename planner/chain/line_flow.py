"""What one line carries, loses and where it runs part full, by its own pipe and profile."""

from scipy.optimize import brentq

from planner.hydraulics import friction_loss, pipe_flow
from planner.hydraulics.fittings import k_sum, minor_loss
from planner.hydraulics.part_full import PartFull, line_capacity, part_full_stretches
from planner.record.value import Line
from planner.site.value import Site


def carried(site: Site, line: Line, head: float, given: float | None) -> float:
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


def carries(site: Site, line: Line, start_level: float, end_level: float) -> float:
    """What a line could carry from its start at most [m³/s].

    Its crests count: none may be sucked over. What its fittings lose is taken off at its start.
    """
    bore, speed_heads = line.settings.pipe.bore, _fittings(line)

    def at(level: float) -> float:
        return line_capacity(
            line.profile.chainage,
            line.profile.pipe,
            level,
            bore,
            end_level=end_level,
            roughness=line.settings.pipe.roughness,
            temperature=site.temperature,
        )

    bare = at(start_level)
    if speed_heads == 0.0 or bare == 0.0:
        return bare

    def spare(flow: float) -> float:
        return at(start_level - float(minor_loss(flow, bore, speed_heads))) - flow

    return float(brentq(spare, 0.0, bare, rtol=1e-9))


def head_lost(site: Site, line: Line, flow: float) -> float:
    """Head that a flow loses along a line, by friction and in its fittings [m]."""
    pipe = line.settings.pipe
    friction = float(
        friction_loss(flow, pipe.bore, line.profile.length, pipe.roughness, site.temperature)
    )
    return friction + float(minor_loss(flow, pipe.bore, _fittings(line)))


def part_full(site: Site, line: Line, flow: float, end_level: float) -> tuple[PartFull, ...]:
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


def _fittings(line: Line) -> float:
    """Speed heads lost in the line's counted fittings."""
    pipe = line.settings.pipe
    return k_sum(dict(pipe.fittings), pipe.bore)
