"""A made valley with a creek, a spur and room for a tank, and sites on it."""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
from shapely.geometry import Polygon

from planner.record.value import Plan
from planner.site.defaults import default_line
from planner.site.read import LINE_ROLES
from planner.site.value import (
    Area,
    AreaRole,
    Elevation,
    LineRole,
    Point,
    PointRole,
    Site,
    Sketch,
    Source,
)
from planner.terrain.frame import to_lonlat
from planner.terrain.value import FloatArray, Provenance, Terrain
from tests.example import CRS

SIGMA = 0.1  # m
ROWS, COLS = 160, 220
WEST, NORTH = -20.0, 80.0


def grid() -> tuple[FloatArray, FloatArray]:
    """x, y [m] of the cell centres: the land lies from (-20, -80) to (200, 80)."""
    return np.meshgrid(WEST + np.arange(COLS) + 0.5, NORTH - np.arange(ROWS) - 0.5)


def levels() -> FloatArray:
    """A creek along y = 0 that falls east, 3 % and 18 % on one rapid; 25 % up on both sides."""
    x, y = grid()
    creek = 100.0 - 0.03 * x - 0.15 * np.clip(x - 60.0, 0.0, 30.0)
    return creek + 0.25 * np.abs(y)


def terrain_of(z: FloatArray, sigma: float = SIGMA) -> Terrain:
    """Levels as a terrain of lidar."""
    terrain = Terrain.from_array(z, 1.0, origin=(WEST, NORTH), crs=CRS)
    about = Provenance(files=("made.tif",), kind="lidar", native_cell=1.0, standard_error=sigma)
    return replace(terrain, provenance=about)


@cache
def valley() -> Terrain:
    return terrain_of(levels())


def at(x: float, y: float) -> tuple[float, float]:
    """Longitude, latitude of a place."""
    lon, lat = to_lonlat(valley(), [[x, y]])[0]
    return float(lon), float(lat)


def point(name: str, role: PointRole, x: float, y: float, **said: Any) -> Point:
    return Point(name, role, at(x, y), **said)


def area(name: str, role: AreaRole, box: tuple[float, float, float, float], **said: Any) -> Area:
    """A box from west, south, east, north [m]."""
    west, south, east, north = box
    corners = [(west, south), (east, south), (east, north), (west, north)]
    return Area(name, role, Polygon([at(x, y) for x, y in corners]), **said)


SPRING = point("spring", "source", 20.5, -0.5)
RAM = point("ram", "pump", 92.5, 1.5)
TANK = point("tank", "tank", 120.5, 60.5)
LOW_TANK = point("tank", "tank", 150.5, 6.5)
TROUGH = point("trough", "outlet", 170.5, 40.5)


def site(*points: Point, areas: tuple[Area, ...] = (), **said: Any) -> Site:
    """A site in Python: the made valley, 0.5 l/s at the spring, 0.3 of it left."""
    roles: dict[LineRole, Any] = {role: default_line(role) for role in LINE_ROLES}
    said = {"source": Source(flow=5e-4, season="dry"), **said}
    return Site(
        title="Made valley",
        elevation=Elevation(files=()),
        sketch=Sketch(points, areas),
        lines=roles,
        **said,
    )


def ram_site(**said: Any) -> Site:
    return site(SPRING, RAM, TANK, TROUGH, **said)


def codes(plan: Plan, *levels: str) -> set[str]:
    """Codes of the findings of these levels, or of all."""
    return {f.code for f in plan.findings if not levels or f.level in levels}
