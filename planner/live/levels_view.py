"""Between two places: distance, fall and grade, and how sure it is that the one lies higher."""

import math

import numpy as np
from scipy.stats import norm

from planner.live.value import LevelsView
from planner.output.map.panel import odds
from planner.site.value import Units
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from planner.units.show import decimals_for, show

UNKNOWN = "not known there"
# Two heights' errors are taken as independent, as of the fall of a plan: the cautious side, since
# near by they go together.
OF_TWO = math.sqrt(2.0)


def levels_view(
    terrain: Terrain, units: Units, first: tuple[float, float], second: tuple[float, float]
) -> LevelsView:
    """What lies between two places x, y [m] in the terrain's grid.

    Levels and falls are told to the place of the data's error; the odds are that the second place
    truly lies on the side of the first that the data has it on.
    """
    ends = np.array([first, second], dtype=np.float64)
    z = ground_at(terrain, ends[:, 0], ends[:, 1])
    error = terrain.provenance.standard_error
    decimals = decimals_for(error) if math.isfinite(error) else None
    distance = float(np.hypot(*(ends[1] - ends[0])))
    fall = float(z[0] - z[1])
    known = math.isfinite(fall)
    return LevelsView(
        first=_level(float(z[0]), units, decimals),
        second=_level(float(z[1]), units, decimals),
        distance=show(distance, "length", units),
        fall=_fall(fall, error, units, decimals) if known else UNKNOWN,
        grade=_grade(fall, distance) if known else UNKNOWN,
        odds=_odds(fall, error) if known and distance > 0.0 else "",
    )


def _level(level: float, units: Units, decimals: int | None) -> str:
    if not math.isfinite(level):
        return UNKNOWN
    return show(level, "level", units, decimals=decimals)


def _fall(fall: float, error: float, units: Units, decimals: int | None) -> str:
    """Which way it goes and by how much, give or take one standard error."""
    way = "falls" if fall >= 0 else "rises"
    text = f"{way} {show(abs(fall), 'level', units, decimals=decimals)}"
    return text if not math.isfinite(error) else f"{text} ± {show(OF_TWO * error, 'level', units)}"


def _grade(fall: float, distance: float) -> str:
    if not distance > 0.0:
        return "–"
    grade = abs(fall) / distance
    text = show(grade, "grade" if grade < 0.1 else "share", "metric")
    return f"{text} {'down' if fall >= 0 else 'up'}" + (f", 1 in {1 / grade:,.0f}" if grade else "")


def _odds(fall: float, error: float) -> str:
    """How likely the second place lies lower (or higher) in truth."""
    if not (math.isfinite(error) and error > 0.0):
        return ""
    likely = float(norm.cdf(abs(fall) / (OF_TWO * error)))
    side = "lower" if fall >= 0 else "higher"
    return f"The second place lies {side}: {odds(likely).lower()}"
