"""`Plan` and its parts: all that is known of a scheme, in SI and the terrain's own grid.

Central value of the program: the chain in `planner.plan` fills it, checks read it, outputs draw
it. It computes nothing.
"""

import datetime
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt
from shapely.geometry import LineString, MultiPolygon, Polygon

from planner.band import Band
from planner.errors import Obstacle
from planner.hydraulics.part_full import PartFull
from planner.levels.value import Survey
from planner.profile.value import HighPoint, LowPoint, Profile, Stretch
from planner.record.works import (
    AsBuilt,
    Crossed,
    Decided,
    LineAir,
    LinePressure,
    PipeRun,
    RamWorks,
    SourceWorks,
    TankWorks,
)
from planner.routing.options import Alternatives, Choice, Figures
from planner.site.field import GroundClass
from planner.site.value import AreaRole, LineRole, LineSettings, PointRole, Site
from planner.terrain.drainage import Stream
from planner.terrain.value import Terrain

FloatArray = npt.NDArray[np.float64]

SchemeKind = Literal["gravity", "ram", "powered"]
Level = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Placed:
    """A point of the sketch on the ground.

    `level` is the level that counts for the water [m]: the ground plus the point's height.
    `by_program` tells that the program chose the place (a chamber the user did not set).
    `level_error` is the standard error of a level measured on the ground [m], None: read from the
    elevation data.
    """

    name: str
    role: PointRole
    xy: tuple[float, float]
    lonlat: tuple[float, float]
    ground: float
    level: float
    by_program: bool = False
    level_error: float | None = None


@dataclass(frozen=True, slots=True)
class PlacedArea:
    """An area of the sketch in the terrain's grid."""

    name: str
    role: AreaRole
    shape: Polygon | MultiPolygon
    factor: float = 1.0
    deepest_trench: float | None = None
    ground: GroundClass | None = None


@dataclass(frozen=True, eq=False, slots=True)
class LineWater:
    """Water in one line.

    Attributes
    ----------
    flow : float
        Expected flow when the line runs [m³/s].
    velocity : float
        Mean speed at that flow in the full pipe [m/s]; where it runs part full, see there.
    friction : float
        Head lost along the line at that flow [m].
    closed_level : (n,) ndarray
        Level [m] to which water would stand in a pipe set on each sample of the profile with the
        outlet closed; pressure is this less the pipe's level.
    open_level : (n,) ndarray
        The hydraulic grade line: the same with the outlet open and `flow` running.
    end_head : float
        Head left at the end with the outlet open [m].
    part_full : tuple of PartFull
        Stretches in which water runs with air above it: less comes than the pipe could carry.
    """

    flow: float
    velocity: float
    friction: float
    closed_level: FloatArray
    open_level: FloatArray
    end_head: float
    part_full: tuple[PartFull, ...] = ()

    @property
    def runs_full(self) -> bool:
        """Whether no part of the line has air above the water."""
        return not self.part_full


@dataclass(frozen=True, eq=False, slots=True)
class Line:
    """One pipe of the plan, from the point `start` to the point `end` as the water flows.

    `flats` are the stretches whose laid grade is under the least grade; `rule_kept` is False
    where the line needs vents that its role would rather not have, or runs against its rule.
    `figures` is what the line takes, `choices` what was chosen where and what the next best would
    cost; `alternatives` are other routes for it, None where none were asked for. `runs` are its
    pipes in turn, `crossed` what it crosses. `walked`: it lies where it was walked or staked, and
    no route was looked for; `built` what is known of it as it was laid; `decided` the vents and
    washouts that are to be fitted.
    """

    name: str
    role: LineRole
    start: str
    end: str
    settings: LineSettings
    profile: Profile
    high_points: tuple[HighPoint, ...] = ()
    low_points: tuple[LowPoint, ...] = ()
    flats: tuple[Stretch, ...] = ()
    rule_kept: bool = True
    water: LineWater | None = None
    air: LineAir | None = None
    pressure: LinePressure | None = None
    figures: Figures | None = None
    choices: tuple[Choice, ...] = ()
    alternatives: Alternatives | None = None
    runs: tuple[PipeRun, ...] = ()
    crossed: tuple[Crossed, ...] = ()
    walked: bool = False
    built: AsBuilt | None = None
    decided: tuple[Decided, ...] = ()

    @property
    def path(self) -> LineString:
        """The line in the terrain's x, y [m]."""
        return LineString(self.profile.xy)


@dataclass(frozen=True, slots=True)
class Blocked:
    """A line for which no route was found, and what blocks it."""

    name: str
    role: LineRole
    start: str
    end: str
    obstacle: Obstacle
    message: str
    where: tuple[float, float] | None = None
    shortfall: float | None = None
    edge: tuple[float, float] | None = None  # as of `planner.errors.NoRoute`


@dataclass(frozen=True, eq=False, slots=True)
class Water:
    """The scheme's water, m and m³/s unless said otherwise; None where it can't be told.

    Attributes
    ----------
    source_flow : float or None
        What the source gives at its lowest known; a wet reading is reduced to it where asked.
    taken : float or None
        What may be taken: the source's flow less the share left in the stream.
    fall : Band or None
        Level of the chamber above the ram (ram), or of the source above the tank (gravity).
    lift : Band or None
        Level of the tank's inlet above the ram or pump, without friction.
    lift_friction : float or None
        Head lost in the delivery line at the expected flow.
    delivered : Band or None
        Delivered into the tank [m³/day].
    spent : Band or None
        Water the ram wastes, which returns to the stream.
    drive_length_to_fall, drive_length_to_bore : float or None
        Ratios of the drive pipe.
    pump_draws : float or None
        What a powered pump would draw on its line if enough came.
    need : float or None
        Needed [m³/day], the expected figure; `need_band` with its spread.
    intake, ram, tank : SourceWorks, RamWorks, TankWorks or None
        What is known of each.
    """

    source_flow: float | None = None
    taken: float | None = None
    fall: Band | None = None
    lift: Band | None = None
    lift_friction: float | None = None
    delivered: Band | None = None
    spent: Band | None = None
    drive_length_to_fall: float | None = None
    drive_length_to_bore: float | None = None
    pump_draws: float | None = None
    need: float | None = None
    need_band: Band | None = None
    intake: SourceWorks | None = None
    ram: RamWorks | None = None
    tank: TankWorks | None = None


@dataclass(frozen=True, slots=True)
class OwnerShare:
    """Metres of a line on one owner's land; `owner` None: land of nobody listed."""

    line: str
    owner: str | None
    metres: float


@dataclass(frozen=True, slots=True)
class Finding:
    """Something to stop for, to heed or to know.

    Attributes
    ----------
    level : {"stop", "warn", "note"}
    code : str
        Which check made it; `planner.wording` turns code and values into sentences.
    values : dict
        Numbers in SI and names that the sentence needs.
    line : str or None
        Name of the line it concerns.
    chainage_m : float or None
        Where on that line.
    at : (float, float) or None
        x, y in the terrain's grid, where it can be shown.
    likelihood : float or None
        Odds that it is so, 0..1; None until they are computed.
    """

    level: Level
    code: str
    values: dict[str, float | str] = field(default_factory=dict)
    line: str | None = None
    chainage_m: float | None = None
    at: tuple[float, float] | None = None
    likelihood: float | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """A figure or a high point that measuring changed.

    Attributes
    ----------
    code : str
        What it is, with a case where it needs other words: "fall", "high-point/gone"; the texts are
        in `planner.wording.changes`.
    name : str
        The line or point it concerns, "" for the scheme.
    before, after : float or None
        From the elevation data alone, and with what was measured, SI; for a high point its
        chainage, None where there is none.
    error_before, error_after : float or None
        Half of each figure's band.
    """

    code: str
    name: str
    before: float | None
    after: float | None
    error_before: float | None = None
    error_after: float | None = None


@dataclass(frozen=True, eq=False, slots=True)
class Plan:
    """A checked plan.

    Attributes
    ----------
    scheme : {"gravity", "ram", "powered"}
    scheme_reason : str
        Code of why: "tank-below-source", "pump-curve", "tank-above-source".
    findings : tuple of Finding
        Stops first, then warnings, then notes; a finding's number is its place, from 1.
    survey : Survey or None
        The levels measured on the ground; the terrain is bent to them.
    changes : tuple of Change
        What the measuring changed.
    """

    site: Site
    terrain: Terrain
    scheme: SchemeKind
    scheme_reason: str
    points: tuple[Placed, ...]
    areas: tuple[PlacedArea, ...]
    lines: tuple[Line, ...]
    blocked: tuple[Blocked, ...]
    water: Water
    streams: tuple[Stream, ...]
    owners: tuple[OwnerShare, ...]
    made: datetime.date
    findings: tuple[Finding, ...] = ()
    survey: Survey | None = None
    changes: tuple[Change, ...] = ()

    def line(self, name: str) -> Line:
        """The line of that name."""
        return next(line for line in self.lines if line.name == name)

    def point(self, name: str) -> Placed:
        """The point of that name."""
        return next(point for point in self.points if point.name == name)
