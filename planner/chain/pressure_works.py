"""Pressure in every line that runs full: open, closed, surge, against what its pipe bears."""

import numpy as np

from planner.hydraulics.allowance import ALLOWANCES
from planner.hydraulics.break_pressure import BreakPressure, break_pressure_tanks
from planner.hydraulics.classes import ClassedLine, choose_classes, needed_along
from planner.hydraulics.derating import derated_rating
from planner.hydraulics.pipe import CataloguePipe
from planner.hydraulics.pressure import PressureProfile, least_margin, pressure_profile
from planner.hydraulics.surge import surge_along
from planner.record.value import Line, LineWater
from planner.record.works import LinePressure

FULL = ("delivery", "main", "distribution")

# A wave runs at 240 to 400 m/s in polyethylene, by its wall; the faster is the cautious side.
PE_WAVE = 400.0  # m/s
HAND_VALVE = 2.0  # s, a valve at the outlet shut by a hand that takes its time


def line_pressure(
    line: Line, offered: tuple[CataloguePipe, ...], temperature: float
) -> LinePressure | None:
    """Pressure heads of a line that runs full; None for others.

    Parameters
    ----------
    offered : tuple of CataloguePipe
        The pipes its trade size can mean, weakest first; none where the bore was given.
    temperature : float
        Of the pipe's wall [°C].
    """
    water = line.water
    if water is None or line.role not in FULL:
        return None
    rise = _surge(line, water)
    classes = _classes(line, water, rise, offered, temperature)
    heads = pressure_profile(
        line.profile.chainage,
        line.profile.pipe,
        water.open_level,
        water.closed_level,
        rise,
        _rating(line, classes, temperature),
        surge_allowance=ALLOWANCES["PE"].recurring,
    )
    return LinePressure(
        heads=heads,
        least=least_margin(heads),
        classes=classes,
        tanks=_tanks(line, water, heads),
    )


def _surge(line: Line, water: LineWater) -> np.ndarray:
    """Rise of head when the outlet is shut by hand; a delivery has no valve at its end."""
    if line.role == "delivery" or not water.velocity > 0.0:
        return np.zeros(line.profile.run.size)
    return surge_along(line.profile.chainage, PE_WAVE, water.velocity, HAND_VALVE)


def _classes(
    line: Line,
    water: LineWater,
    rise: np.ndarray,
    offered: tuple[CataloguePipe, ...],
    temperature: float,
) -> ClassedLine | None:
    if not offered:
        return None
    needed = needed_along(
        line.profile.pipe, water.closed_level, water.open_level, rise, 0.0, offered[0].material
    )
    return choose_classes(line.profile.chainage, needed, offered, temperature=temperature)


def _rating(line: Line, classes: ClassedLine | None, temperature: float) -> np.ndarray:
    """Head the pipe bears at each sample: of the class that lies there, where one was chosen."""
    rating = np.full(line.profile.run.size, line.settings.pipe.rating)
    for stretch in () if classes is None else classes.stretches:
        inside = line.profile.chainage >= stretch.start
        rating[inside] = float(derated_rating(stretch.pipe, temperature))
    return rating


def _tanks(line: Line, water: LineWater, heads: PressureProfile) -> BreakPressure | None:
    """Break-pressure tanks of a gravity line whose closed head is over its pipe's rating."""
    if line.role == "delivery" or float(np.max(heads.closed - heads.rating)) <= 0.0:
        return None
    share = line.profile.chainage / line.profile.length
    return break_pressure_tanks(
        line.profile.chainage,
        line.profile.pipe,
        float(water.closed_level[0]),
        heads.rating,
        friction=share * water.friction,
    )
