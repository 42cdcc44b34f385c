"""Small cases for the chain's works: a line by its turning points, and three little schemes."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from planner.hydraulics.grade_line import closed_level, hydraulic_grade_line
from planner.profile.value import HighPoint, LowPoint, Profile
from planner.record.value import Line, LineWater, SchemeKind
from planner.site.defaults import default_line
from planner.site.value import (
    Elevation,
    LineRole,
    LineSettings,
    Point,
    PointRole,
    PoweredPump,
    Site,
    Sketch,
    Source,
)
from planner.terrain.frame import to_lonlat
from tests.example import example_terrain

ROLES: tuple[LineRole, ...] = (
    "supply",
    "drive",
    "delivery",
    "main",
    "distribution",
    "waste",
    "overflow",
)
KINDS: tuple[SchemeKind, ...] = ("gravity", "ram", "powered")
PLACES: dict[str, tuple[PointRole, float, float]] = {
    "spring": ("source", -120.0, -60.0),
    "chamber": ("chamber", -60.0, -66.0),
    "pump": ("pump", -35.0, -68.0),
    "tank": ("tank", 60.0, 110.0),
    "trough": ("outlet", 120.0, 40.0),
}
CURVE = PoweredPump(((0.0, 40.0), (4e-4, 30.0), (8e-4, 10.0)), hours_per_day=6.0)


def profile(turns: list[tuple[float, float]]) -> Profile:
    """A line through (run, level) points, sampled every metre, its pipe half a metre deep."""
    run, level = np.array(turns, dtype=float).T
    every = np.arange(run[0], run[-1] + 0.5)
    pipe = np.interp(every, run, level)
    steps = np.hypot(1.0, np.diff(pipe))
    return Profile(
        xy=np.column_stack([every, np.zeros_like(every)]),
        run=every,
        chainage=np.concatenate([[0.0], np.cumsum(steps)]),
        ground=pipe + 0.5,
        pipe=pipe,
        filled=np.zeros(every.size, dtype=bool),
    )


def line(turns: list[tuple[float, float]], role: LineRole = "main", **pipe: Any) -> Line:
    """A line with the crests and sags of its turning points, its water not known yet."""
    along = profile(turns)
    settings = settings_of(role, **pipe)
    inner = zip(turns, turns[1:], turns[2:], strict=False)
    highs, lows = [], []
    for (_, before), (run, level), (_, after) in inner:
        k = round(run - turns[0][0])
        if before < level > after:
            highs.append(HighPoint(k, run, float(along.chainage[k]), level, 1.0, 1.0))
        elif before > level < after:
            lows.append(LowPoint(k, run, float(along.chainage[k]), level, 1.0))
    return Line(role, role, "a", "b", settings, along, tuple(highs), tuple(lows))


def running(dry: Line, level: float, flow: float, lost: float) -> Line:
    """The line fed from a level, with a flow and the head it loses evenly along it."""
    s, bore = dry.profile.chainage, dry.settings.pipe.bore
    speed = flow / (np.pi / 4 * bore**2)
    open_level = hydraulic_grade_line(s, level, lost)
    end = float(open_level[-1] - dry.profile.pipe[-1])
    water = LineWater(flow, speed, lost, closed_level(s, level), open_level, end)
    return replace(dry, water=water)


def settings_of(role: LineRole, **pipe: Any) -> LineSettings:
    usual = default_line(role)
    return replace(usual, pipe=replace(usual.pipe, **pipe))


def site(kind: SchemeKind = "ram", **changes: Any) -> Site:
    """A site of one kind on the example's valley: 30 L/min in the dry season, 2 m³ a day needed."""
    places = dict(PLACES)
    if kind == "gravity":
        places |= {"tank": ("tank", 110.0, -40.0), "trough": ("outlet", 150.0, -50.0)}
        del places["chamber"], places["pump"]
    terrain = example_terrain()
    at = to_lonlat(terrain, np.array([where[1:] for where in places.values()]))
    points = tuple(
        Point(name, where[0], (float(lon), float(lat)))
        for (name, where), (lon, lat) in zip(places.items(), at, strict=True)
    )
    told: dict[str, Any] = {
        "source": Source(flow=5e-4, season="dry"),
        "need": 2.0,
        "powered": CURVE if kind == "powered" else None,
        "lines": {role: default_line(role) for role in ROLES},
    }
    return Site(
        title="Small",
        elevation=Elevation(files=(Path("/nowhere/small.tif"),)),
        sketch=Sketch(points),
        **(told | changes),
    )
