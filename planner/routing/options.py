"""`Choice` and `Alternative`: what a route chose where, and what else there was to choose."""

from dataclasses import dataclass
from typing import Literal

from shapely.geometry import LineString

Kind = Literal["vent", "deeper", "detour"]
Reason = Literal["fewer-vents", "less-digging", "shorter", "gentler", "elsewhere"]


@dataclass(frozen=True, slots=True)
class Option:
    """Another way to have a place on a line, set against the way that was chosen.

    Attributes
    ----------
    kind : {"vent", "deeper", "detour"}
    more_m : float
        What it costs more than the chosen way [m of pipe]; negative: less; NaN where digging has
        no price.
    pipe_m : float
        Pipe more than on the chosen line [m]; negative: less.
    vents : int
        Vents more than on the chosen line; negative: fewer.
    at_m : float or None
        Where its vent stands, along its own line [m].
    deeper_m : float
        Depth beyond the deepest trench allowed [m]; 0 where it keeps within it.
    deepest_m : float
        Its trench at the deepest [m below the ground], where it digs more than the chosen line.
    over_m : float
        Over what length it digs deeper than the chosen line, or than is allowed [m].
    pins : tuple of (float, float)
        x, y [m] of way points that make a detour the line; empty where they were not looked for,
        or do not.
    """

    kind: Kind
    more_m: float
    pipe_m: float = 0.0
    vents: int = 0
    at_m: float | None = None
    deeper_m: float = 0.0
    deepest_m: float = 0.0
    over_m: float = 0.0
    pins: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Choice:
    """What was chosen at one place of a line, and the other ways to have it, cheapest first.

    Attributes
    ----------
    chainage_m : float
        Along the pipe [m].
    chosen : {"vent", "deeper", "detour"}
    price_m : float
        What the chosen way costs [m of pipe].
    pipe_m : float
        A detour's extra pipe [m].
    deeper_m, over_m : float
        How far a deeper trench goes below the least cover, and over what length [m].
    others : tuple of Option
    detour_weighed : bool
        False where no detour was looked for: too many places on one line.
    """

    chainage_m: float
    chosen: Kind
    price_m: float
    pipe_m: float = 0.0
    deeper_m: float = 0.0
    over_m: float = 0.0
    others: tuple[Option, ...] = ()
    detour_weighed: bool = True


@dataclass(frozen=True, slots=True)
class Figures:
    """What a laid line takes.

    Attributes
    ----------
    length : float
        Of pipe, in three dimensions [m].
    vents : int
        High points.
    digging : float
        Section of the trench below the least cover [m²].
    steepest : float
        Greatest grade of the laid pipe, up or down, rise over run.
    cost : float
        Length times the cost of the ground, digging, vents and bends at the site's prices
        [m of pipe].
    depth : float
        Mean depth of the trench [m]; negative: propped above the ground.
    bends : int
        In plan.
    """

    length: float
    vents: int
    digging: float
    steepest: float
    cost: float
    depth: float
    bends: int = 0


@dataclass(frozen=True, eq=False, slots=True)
class Alternative:
    """A route that really differs from the chosen one and from the other alternatives.

    Attributes
    ----------
    line : shapely.LineString
        In the terrain's x, y [m].
    reason : str
        What it does better than the chosen line, or that it runs elsewhere.
    figures : Figures
    more_m : float
        What it costs more than the chosen line [m of pipe]; negative: less.
    shared : float
        Part of it that runs close to the chosen line or to another alternative, 0..1.
    """

    line: LineString
    reason: Reason
    figures: Figures
    more_m: float
    shared: float


@dataclass(frozen=True, eq=False, slots=True)
class Alternatives:
    """Alternatives found for a line, cheapest first, and how many were asked for."""

    asked: int
    found: tuple[Alternative, ...]
