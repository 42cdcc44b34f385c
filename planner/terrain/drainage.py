"""Watercourses found in the terrain."""

from dataclasses import dataclass

from planner.terrain.value import FloatArray


@dataclass(frozen=True, eq=False, slots=True)
class Stream:
    """A watercourse: x, y downstream [m], and the land that drains to its lower end [m²]."""

    xy: FloatArray
    catchment: float
