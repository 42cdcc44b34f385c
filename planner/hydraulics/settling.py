"""The chamber before the drive pipe: grit settles, air rises, the level stays steady."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.optimize import brentq

from planner.band import Figure
from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_FLOW, between, plain, positive
from planner.hydraulics.water import GRAVITY, viscosity

QUARTZ = 1.65  # submerged specific gravity of quartz grit
LARGEST_GRAIN = 0.1  # m
SMALLEST_GRAIN = 1e-7  # m

Rule = Literal["grit", "detention", "air"]


def settling_velocity(
    diameter: npt.ArrayLike,
    temperature: npt.ArrayLike = 10.0,
    *,
    submerged_gravity: float = QUARTZ,
    c1: float = 18.0,
    c2: float = 1.0,
) -> Figure:
    """Speed at which a grain sinks in still water [m/s].

    w = R g d² / (c1 nu + sqrt(0.75 c2 R g d³)): Stokes for silt, a constant drag for gravel.

    Parameters
    ----------
    diameter : float or array
        Of the grain [m], above 0, at most 0.1. Broadcasts with the temperature.
    temperature : float or array
        Of the water [°C], 0..60.
    submerged_gravity : float
        R, weight in water over that of the water it displaces: quartz 1.65; 0.01..20.
    c1, c2 : float
        18 and 1 for natural sieved sand, 18 and 0.4 for spheres; 20 and 1.1 for nominal
        diameters.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd; the message names it.

    References
    ----------
    Ferguson and Church, "A simple universal equation for grain settling velocity",
    J. Sedimentary Research 74 (2004) 933.

    Examples
    --------
    >>> round(settling_velocity(2e-4) * 1e3, 1)  # mm/s
    19.4
    """
    d = positive("diameter", diameter, LARGEST_GRAIN)
    heavy = GRAVITY * float(between("submerged_gravity", submerged_gravity, 0.01, 20.0))
    stokes = float(positive("c1", c1, 100.0)) * np.asarray(viscosity(temperature))
    drag = 0.75 * float(positive("c2", c2, 10.0))
    return plain(heavy * d**2 / (stokes + np.sqrt(drag * heavy * d**3)))


def finest_kept(flow: float, surface: float, temperature: float = 10.0) -> float:
    """Smallest grain of quartz that a chamber keeps [m]: one that sinks at flow over surface.

    Parameters
    ----------
    flow : float
        Through the chamber [m³/s], above 0.
    surface : float
        Of its water [m²], above 0.
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, or the flow carries all up to the largest grain.

    Examples
    --------
    >>> round(finest_kept(1e-3, 1 / 6.0) * 1e3, 2)  # mm
    0.1
    """
    rise = float(positive("flow", flow, MOST_FLOW) / positive("surface", surface, 1e6))
    if rise >= settling_velocity(LARGEST_GRAIN, temperature):
        msg = f"surface must be larger: at {rise:.3g} m/s no grain settles in the chamber"
        raise OutsideRange(msg)
    if rise <= settling_velocity(SMALLEST_GRAIN, temperature):
        return SMALLEST_GRAIN
    return float(
        brentq(
            lambda d: float(settling_velocity(d, temperature)) - rise,
            SMALLEST_GRAIN,
            LARGEST_GRAIN,
            xtol=1e-12,
        )
    )


@dataclass(frozen=True, slots=True)
class Chamber:
    """A settling chamber, inside its walls.

    Attributes
    ----------
    surface, length, width, depth, volume : float
        Of the water in it [m², m, m, m, m³].
    detention : float
        Mean time that the water stays [s].
    ruled_by : {"grit", "detention", "air"}
        Which of the three asks for that much surface.
    """

    surface: float
    length: float
    width: float
    depth: float
    volume: float
    detention: float
    ruled_by: Rule


def settling_chamber(
    flow: float,
    diameter: float = 1e-4,
    *,
    temperature: float = 10.0,
    safety: float = 2.0,
    depth: float = 0.9,
    detention: float = 900.0,
    length_to_width: float = 4.0,
    sinking: float = 0.05,
) -> Chamber:
    """Smallest chamber that keeps a grain, holds the water long enough and lets bubbles rise.

    Parameters
    ----------
    flow : float
        Through the chamber [m³/s], above 0.
    diameter : float
        Smallest grain of quartz to keep [m]; 0.1 mm keeps a ram's valves from wear.
    temperature : float
        Of the water [°C], 0..60; the colder, the slower a grain sinks.
    safety : float
        On the surface, for eddies, 1 or more.
    depth : float
        Of the water [m], above 0; 0.6 to 1.2 usual. Medium confidence.
    detention : float
        Least time the water stays [s], 0 or more: 900 to 1200 for a clear spring, 1800 to 3600
        for a stream. Medium confidence.
    length_to_width : float
        1 or more; 4 or more usual. Medium confidence.
    sinking : float
        Fastest the water may go down to its outlet and leave bubbles behind [m/s], above 0: those
        of 2 mm rise at 0.2 to 0.25, of 0.2 mm at 0.01 to 0.02. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> got = settling_chamber(1e-3, 1e-4, detention=0.0)
    >>> round(got.surface, 2), got.ruled_by  # 0.33 m² for each l/s
    (0.33, 'grit')
    """
    q = float(positive("flow", flow, MOST_FLOW))
    deep = float(positive("depth", depth, 100.0))
    stretch = float(between("length_to_width", length_to_width, 1.0, 1000.0))
    grain = float(settling_velocity(diameter, temperature))
    surfaces: dict[Rule, float] = {
        "grit": float(between("safety", safety, 1.0, 100.0)) * q / grain,
        "detention": float(between("detention", detention, 0.0, 1e7)) * q / deep,
        "air": air_separation_area(flow, sinking=sinking),
    }
    ruled_by = max(surfaces, key=lambda rule: surfaces[rule])
    surface = surfaces[ruled_by]
    width = math.sqrt(surface / stretch)
    volume = surface * deep
    return Chamber(surface, width * stretch, width, deep, volume, volume / q, ruled_by)


def air_separation_area(flow: float, *, sinking: float = 0.05) -> float:
    """Level section in which water sinks slowly enough to leave its bubbles behind [m²].

    Parameters
    ----------
    flow : float
        [m³/s], above 0.
    sinking : float
        Fastest downward speed [m/s], above 0, at most 1. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd.

    Examples
    --------
    >>> air_separation_area(1e-3)
    0.02
    """
    return float(positive("flow", flow, MOST_FLOW) / positive("sinking", sinking, 1.0))


def drive_tank_volume(drive_flow: float, *, seconds: float = 60.0) -> float:
    """Water that a drive tank should hold so that its level stays steady [m³].

    Parameters
    ----------
    drive_flow : float
        All the ram's drive water [m³/s], above 0.
    seconds : float
        Of that flow, above 0; 30 to 60 usual. Medium confidence.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd.

    Examples
    --------
    >>> drive_tank_volume(5e-4)
    0.03
    """
    return float(positive("drive_flow", drive_flow, MOST_FLOW) * positive("seconds", seconds, 1e6))
