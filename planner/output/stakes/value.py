"""`Stake`: one peg of a line, with all that is read off or measured at it."""

from dataclasses import dataclass
from typing import Literal

from planner.record.value import Line

Reason = Literal[
    "start",
    "end",
    "high",
    "low",
    "crossing",
    "joint",
    "size",
    "bend",
    "grade",
    "way",
    "finding",
    "interval",
]
"""Why a stake stands where it does; "size": another size or class of pipe begins."""


@dataclass(frozen=True, slots=True)
class Stake:
    """One peg.

    Attributes
    ----------
    name : str
        Letters of the role and a number, "De 07"; unique on the site.
    line : str
    number : int
        Along the line, from 1.
    index : int
        Sample of the line's profile it stands nearest to.
    reasons : tuple of Reason
        The most telling first.
    remark : str
        What is done there, in plain words: "high point: fit an air valve".
    chainage_m, run_m : float
        Along the pipe, and horizontal [m].
    xy, lonlat : (float, float)
        In the terrain's grid [m]; longitude, latitude [degrees].
    ground_m, pipe_m, depth_m : float
        Levels, and how deep the pipe lies [m].
    back_m : float
        Horizontal distance from the stake before [m], 0 at the first.
    bearing : float or None
        From the stake before, clockwise from true north [degrees]; None at the first.
    rise_m, ground_rise_m : float
        Of the pipe and of the ground since the stake before, negative where it falls [m].
    grade_after : float or None
        Of the pipe to the next stake, rise over run; None at the last.
    findings : tuple of int
        Numbers of the plan's findings at it.
    """

    name: str
    line: str
    number: int
    index: int
    reasons: tuple[Reason, ...]
    remark: str
    chainage_m: float
    run_m: float
    xy: tuple[float, float]
    lonlat: tuple[float, float]
    ground_m: float
    pipe_m: float
    depth_m: float
    back_m: float
    bearing: float | None
    rise_m: float
    ground_rise_m: float
    grade_after: float | None
    findings: tuple[int, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class StakedLine:
    """A line of the plan with its stakes, in the direction the water flows."""

    line: Line
    stakes: tuple[Stake, ...]
