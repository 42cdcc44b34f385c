"""A small finished plan, made by hand, for tests that read plans: no routing, no hydraulics.

Ground: a valley falling east to a stream, a spur rising north; one hump on the delivery line.
"""

import datetime
from pathlib import Path

import numpy as np
from shapely.geometry import LineString, Polygon

from planner.band import Band
from planner.profile.value import HighPoint, LowPoint, Profile
from planner.record.value import (
    Finding,
    Line,
    LineWater,
    OwnerShare,
    Placed,
    PlacedArea,
    Plan,
    Water,
)
from planner.site.value import (
    Area,
    Elevation,
    Laying,
    LineRole,
    LineSettings,
    Pipe,
    Point,
    PointRole,
    Site,
    Sketch,
    Source,
)
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.sample import ground_at
from planner.terrain.value import Provenance, Terrain

CRS = "+proj=tmerc +lat_0=47.3 +lon_0=11.2 +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m"

PLACES: dict[str, tuple[PointRole, float, float]] = {
    "spring": ("source", -120.0, -60.0),
    "chamber": ("chamber", -60.0, -66.0),
    "ram": ("pump", -35.0, -68.0),
    "tank": ("tank", 60.0, 110.0),
    "trough": ("outlet", 120.0, 40.0),
}

ENDS: dict[str, tuple[LineRole, str, str]] = {
    "supply": ("supply", "spring", "chamber"),
    "drive": ("drive", "chamber", "ram"),
    "delivery": ("delivery", "ram", "tank"),
    "distribution-trough": ("distribution", "tank", "trough"),
}


def example_terrain() -> Terrain:
    """300 rows x 340 columns of 1 m cells round the origin."""
    x = np.arange(340) - 169.5
    y = 149.5 - np.arange(300)
    xx, yy = np.meshgrid(x, y)
    z = 500.0 - 0.06 * (xx + 60.0) + 0.12 * np.maximum(yy + 66.0, 0.0)
    z = z + 0.3 * np.maximum(-66.0 - yy, 0.0)
    z = z + 2.5 * np.exp(-((xx - 10.0) ** 2 + (yy - 20.0) ** 2) / 300.0)
    terrain = Terrain.from_array(z, 1.0, origin=(-170.0, 150.0), crs=CRS)
    return Terrain(
        z=terrain.z,
        cell=terrain.cell,
        origin=terrain.origin,
        crs=terrain.crs,
        provenance=Provenance(
            files=("hollow-dem.tif",),
            kind="lidar",
            native_cell=1.0,
            standard_error=0.15,
        ),
    )


def example_settings() -> dict[LineRole, LineSettings]:
    """Buried everywhere, 26.6 mm bore."""
    roles: tuple[LineRole, ...] = (
        "supply",
        "drive",
        "delivery",
        "main",
        "distribution",
        "waste",
        "overflow",
    )
    return {
        role: LineSettings(
            laying=Laying("buried", 0.4, 0.8, 0.005), pipe=Pipe(bore=0.0266, rating=100.0)
        )
        for role in roles
    }


def _profile(terrain: Terrain, start: tuple[float, float], end: tuple[float, float]) -> Profile:
    path = LineString([start, end])
    run = np.linspace(0.0, path.length, int(path.length * 2) + 2)
    xy = np.array([path.interpolate(r).coords[0] for r in run])
    ground = ground_at(terrain, xy[:, 0], xy[:, 1])
    pipe = ground - 0.5
    steps = np.hypot(np.diff(run), np.diff(pipe))
    return Profile(
        xy=xy,
        run=run,
        chainage=np.concatenate([[0.0], np.cumsum(steps)]),
        ground=ground,
        pipe=pipe,
        filled=np.zeros(run.size, dtype=bool),
    )


def _line(terrain: Terrain, name: str) -> Line:
    role, start, end = ENDS[name]
    profile = _profile(terrain, PLACES[start][1:], PLACES[end][1:])
    highs: tuple[HighPoint, ...] = ()
    lows: tuple[LowPoint, ...] = ()
    if name == "delivery":
        top = int(np.argmax(profile.pipe[: profile.pipe.size // 2 + 30]))
        dip = top + int(np.argmin(profile.pipe[top:]))
        highs = (
            HighPoint(
                top,
                float(profile.run[top]),
                float(profile.chainage[top]),
                float(profile.pipe[top]),
                0.62,
                0.35,
            ),
        )
        lows = (
            LowPoint(
                dip,
                float(profile.run[dip]),
                float(profile.chainage[dip]),
                float(profile.pipe[dip]),
                0.62,
            ),
        )
    still = np.full(profile.run.size, max(profile.ground[0], profile.ground[-1]))
    friction = 1.4
    return Line(
        name=name,
        role=role,
        start=start,
        end=end,
        settings=example_settings()[role],
        profile=profile,
        high_points=highs,
        low_points=lows,
        rule_kept=not highs,
        water=LineWater(
            flow=5e-5,
            velocity=0.09,
            friction=friction,
            closed_level=still,
            open_level=still - friction * profile.run / profile.run[-1],
            end_head=1.2,
        ),
    )


def example_plan() -> Plan:
    """A ram scheme with one high point on its delivery line and three findings."""
    terrain = example_terrain()
    points: list[Placed] = []
    sketch: list[Point] = []
    for name, (role, x, y) in PLACES.items():
        lon, lat = to_lonlat(terrain, np.array([[x, y]]))[0]
        level = float(ground_at(terrain, x, y))
        points.append(Placed(name, role, (x, y), (float(lon), float(lat)), level, level))
        sketch.append(Point(name, role, (float(lon), float(lat))))
    field = Polygon([(-10, -40), (30, -40), (30, 0), (-10, 0)])
    ring = to_lonlat(terrain, np.array(field.exterior.coords))
    lines = tuple(_line(terrain, name) for name in ENDS)
    hump = lines[2].high_points[0]
    where = lines[2].profile.xy[hump.index]
    site = Site(
        title="Larch Hollow",
        elevation=Elevation(files=(Path("/nowhere/hollow-dem.tif"),)),
        sketch=Sketch(tuple(sketch), (Area("orchard", "avoid", Polygon(ring)),)),
        lines=example_settings(),
        source=Source(flow=5e-4, measured=datetime.date(2026, 8, 20), season="dry"),
        need=2.0,
    )
    return Plan(
        site=site,
        terrain=terrain,
        scheme="ram",
        scheme_reason="tank-above-source",
        points=tuple(points),
        areas=(PlacedArea("orchard", "avoid", field),),
        lines=lines,
        blocked=(),
        water=Water(
            source_flow=5e-4,
            taken=3.5e-4,
            fall=Band(1.2, 1.5, 1.8),
            lift=Band(14.0, 14.3, 14.6),
            lift_friction=1.4,
            delivered=Band(1.2, 1.7, 2.3),
            spent=Band(3.2e-4, 3.3e-4, 3.4e-4),
            drive_length_to_fall=16.0,
            drive_length_to_bore=490.0,
            need=2.0,
        ),
        streams=(Stream(to_local(terrain, ring)[:3], 250000.0),),
        owners=(OwnerShare("delivery", None, lines[2].profile.length),),
        made=datetime.date(2026, 11, 24),
        findings=(
            Finding(
                "warn",
                "air-trap",
                {"rise_m": 0.62, "deeper_m": 0.35},
                line="delivery",
                chainage_m=hump.chainage_m,
                at=(float(where[0]), float(where[1])),
            ),
            Finding("warn", "yield-below-need", {"expected_m3": 1.7, "need_m3": 2.0}),
            Finding("note", "ram-needed", {}),
        ),
    )
