"""Air in every line that has a crest: what clears, what locks, which vents it takes."""

import numpy as np

from planner.errors import OutsideRange
from planner.hydraulics.air import barometric_head
from planner.hydraulics.air_leg import FallingLeg, falling_legs, pocket_loss
from planner.hydraulics.air_lock import Undulations, start_up, undulations
from planner.hydraulics.vents import Running, fewest_vents, vent_kind
from planner.record.value import Line, LineWater
from planner.record.works import LegAir, LineAir, PlacedVent
from planner.terrain.value import FloatArray

ROUNDING = 1e-6  # m
FULL = ("delivery", "main", "distribution")  # lines that run full, where a pocket takes head


def line_air(line: Line, start_level: float) -> LineAir | None:
    """Air in a line with high points; None for a line without, or one that runs part full.

    Parameters
    ----------
    start_level : float
        Water level from which a gravity line is filled [m].
    """
    water = line.water
    crests = [high.index for high in line.high_points]
    if water is None or line.role not in FULL or not crests:
        return None
    lows = [low.index for low in line.low_points]
    altitude = float(np.clip(line.profile.ground[0], -400.0, 5000.0))
    air = barometric_head(altitude)
    legs = tuple(_leg(line, water, leg, air) for leg in _legs(line, crests, lows))
    cleared = {leg.leg.crest for leg in legs if leg.clears is True}
    if line.role == "delivery":  # pumped full: it starts against any pocket, but each takes head
        given = _given(line)
        wanted = tuple(k for k in crests if k not in cleared or k in given)
        return LineAir(legs, None, _vents(line, water, wanted, cleared), enough=True)
    levels = _levels(line, crests, lows, start_level)
    if levels is None:
        return LineAir(legs, None, (), enough=False)
    return _gravity(line, water, legs, (levels, air, cleared))


def _gravity(
    line: Line,
    water: LineWater,
    legs: tuple[LegAir, ...],
    state: tuple[Undulations, float, set[int]],
) -> LineAir:
    levels, air, cleared = state
    crests = [high.index for high in line.high_points]
    friction = _friction_between(line, water, crests)
    swept = [i for i, k in enumerate(crests) if k in cleared]
    forbidden = [i for i, k in enumerate(crests) if _head(line, water.open_level, k) < 0.0]
    given = [i for i, k in enumerate(crests) if k in _given(line) and i not in forbidden]
    start = start_up(levels, air, given)
    running = Running(friction, swept)
    choice = fewest_vents(levels, air, running=running, forbidden=forbidden, given=given)
    if choice is None:
        return LineAir(legs, start, (), enough=False)
    chosen = tuple(crests[i] for i in choice.crests)
    return LineAir(legs, start, _vents(line, water, chosen, cleared), enough=True)


def _given(line: Line) -> set[int]:
    """Samples of the high points whose vents are decided."""
    return {one.index for one in line.decided if one.kind == "vent" and one.at_turn}


def _legs(line: Line, crests: list[int], lows: list[int]) -> tuple[FallingLeg, ...]:
    try:
        return falling_legs(line.profile.run, line.profile.pipe, crests, lows)
    except OutsideRange:  # a crest at the very end, with no leg behind it
        return ()


def _leg(line: Line, water: LineWater, leg: FallingLeg, air: float) -> LegAir:
    verdict = leg.clears(water.velocity, line.settings.pipe.bore) if water.velocity > 0 else False
    pressure = float(water.open_level[leg.crest] - line.profile.pipe[leg.crest])
    return LegAir(leg, verdict, pocket_loss(leg, verdict, pressure, air))


def _levels(line: Line, crests: list[int], lows: list[int], source: float) -> Undulations | None:
    try:
        return undulations(line.profile.pipe, crests, lows, source)
    except OutsideRange:  # it ends on a crest: no leg holds air behind it
        return None


def _friction_between(line: Line, water: LineWater, crests: list[int]) -> list[float]:
    """Head lost from the start to the first crest, from crest to crest, to the end [m]."""
    marks = np.array([0, *crests, line.profile.run.size - 1])
    share = np.diff(line.profile.chainage[marks]) / line.profile.length
    return [float(part * water.friction) for part in share]


def _vents(
    line: Line, water: LineWater, where: tuple[int, ...], cleared: set[int]
) -> tuple[PlacedVent, ...]:
    return tuple(
        PlacedVent(
            k,
            float(line.profile.chainage[k]),
            vent_kind(
                _head(line, water.open_level, k),
                _head(line, water.closed_level, k),
                cleared=k in cleared,
            ),
        )
        for k in where
    )


def _head(line: Line, level: FloatArray, index: int) -> float:
    """Pressure head at a sample [m]; at a crest that just holds the water back it is 0."""
    head = float(level[index] - line.profile.pipe[index])
    return 0.0 if abs(head) < ROUNDING else head
