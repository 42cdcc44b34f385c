"""`Site`: what the user said, in SI and longitude/latitude, checked and complete."""

import datetime
import math
import statistics
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from shapely.geometry import LineString, MultiPolygon, Polygon

from planner.errors import SiteError
from planner.site.field import Built, GroundClass, Measured, Papers, Rates
from planner.site.fit import Fit
from planner.terrain.value import DataKind, HeightUnit

PointRole = Literal["source", "chamber", "pump", "tank", "outlet", "way"]
CrossingRole = Literal["crossing"]
AreaRole = Literal["avoid", "costly", "stay", "owner"]
LineRole = Literal["supply", "drive", "delivery", "main", "distribution", "waste", "overflow"]
Units = Literal["metric", "us"]
Gallon = Literal["us", "imperial"]
Season = Literal["all-year", "summer"]  # when the water runs
FlowSeason = Literal["dry", "wet"]  # when the source's flow was measured
RamMake = Literal["commercial", "home-made"]


@dataclass(frozen=True, slots=True)
class Point:
    """One point of the sketch.

    `at` is (longitude, latitude) in degrees, WGS 84. `line` (way points only) names the role of
    the line that must pass it; `height` is how far the water's end stands above the ground [m]:
    a tank's inlet on its stand, an outlet's tap. `flow` is what an outlet should give [m³/s].
    """

    name: str
    role: PointRole
    at: tuple[float, float]
    line: LineRole | None = None
    height: float = 0.0
    flow: float | None = None


@dataclass(frozen=True, slots=True)
class Area:
    """One area of the sketch, in longitude/latitude.

    `factor` (costly areas) multiplies the cost of each metre of pipe inside, 1 or more;
    `deepest_trench` [m] limits the digging inside (rock), None: as elsewhere. `ground` tells how
    hard the digging is, None: as elsewhere, or rock where the trench is limited.
    """

    name: str
    role: AreaRole
    shape: Polygon | MultiPolygon
    factor: float = 1.0
    deepest_trench: float | None = None
    ground: GroundClass | None = None


@dataclass(frozen=True, slots=True)
class Crossing:
    """A line of the sketch that pipes cross at a price: a road, a stream, a ditch.

    `shape` in longitude/latitude; `cost` of each crossing [m of pipe], over that of the ground.
    """

    name: str
    shape: LineString
    cost: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """Points, areas and lines to cross.

    `swapped` tells that latitude and longitude had to be exchanged; `ignored` names what the
    sketch's file holds beside them: features whose role neither an attribute nor the name tells.
    """

    points: tuple[Point, ...]
    areas: tuple[Area, ...] = ()
    swapped: bool = False
    ignored: tuple[str, ...] = ()
    crossings: tuple[Crossing, ...] = ()

    def role(self, role: PointRole) -> tuple[Point, ...]:
        """The points of one role, in the order given."""
        return tuple(point for point in self.points if point.role == role)


@dataclass(frozen=True, slots=True)
class Elevation:
    """Which elevation data to read, and what the user knows of it."""

    files: tuple[Path, ...]  # absolute
    kind: DataKind | None = None  # None: judged by the cell size
    height_unit: HeightUnit | None = None  # None: as the file says, else metres assumed
    standard_error: float | None = None  # m
    surface_model: bool | None = None  # trees and roofs, not bare earth
    crs: str | None = None  # for files that carry none
    band: int = 1
    margin: float = 200.0  # m of ground read around the sketch


@dataclass(frozen=True, slots=True)
class Fill:
    """One filling of a vessel by the whole flow, held against a watch."""

    volume: float  # m³
    seconds: float


@dataclass(frozen=True, slots=True)
class Source:
    """The spring or creek.

    `flow` [m³/s] is as measured; where there are `timings` (bucket and watch), it is the mean of
    their flows. `season_factor` is the dry season's flow as a share of a wet reading, low and high.

    Raises
    ------
    SiteError
        A flow is given that is not the mean of the timings.
    """

    flow: float | None = None
    measured: datetime.date | None = None
    season: FlowSeason | None = None
    share_left: float = 0.3  # share of the flow that stays in the stream, 0..1
    timings: tuple[Fill, ...] = ()
    season_factor: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        if not self.timings:
            return
        mean = statistics.fmean(fill.volume / fill.seconds for fill in self.timings)
        if self.flow is not None and not math.isclose(self.flow, mean):
            msg = f"the source's flow is the mean of its timings, {mean:g} m³/s; give one of them"
            raise SiteError(msg)
        object.__setattr__(self, "flow", mean)


@dataclass(frozen=True, slots=True)
class MeasuredDelivery:
    """What a ram was measured to deliver, with the flow it drew and its two heights."""

    drive_flow: float  # m³/s, waste and delivery together
    fall: float  # m
    lift: float  # m, from the ram up
    delivered: float  # m³/s


@dataclass(frozen=True, slots=True)
class Ram:
    """The hydraulic ram.

    `closing_velocity` [m/s] is that in the drive pipe at which the waste valve shuts, None: tuned
    to the flow. What was `measured` of this ram stands in for the published yields.
    """

    make: RamMake = "commercial"
    closing_velocity: float | None = None
    measured: tuple[MeasuredDelivery, ...] = ()


@dataclass(frozen=True, slots=True)
class Tank:
    """The tank: what it holds [m³], the ground it stands on [m²], its stand's height [m].

    `days` is over how many dry days it is followed, hour by hour.
    """

    volume: float | None = None
    base: float | None = None
    stand: float = 0.0
    days: int = 14


@dataclass(frozen=True, slots=True)
class PoweredPump:
    """A powered pump: points of its curve, flow [m³/s] rising, head [m] not rising."""

    curve: tuple[tuple[float, float], ...]
    hours_per_day: float = 24.0


@dataclass(frozen=True, slots=True)
class Laying:
    """How one line is laid.

    Attributes
    ----------
    manner : {"buried", "surface"}
    least_cover : float
        From ground to pipe [m]; negative: propped above the ground by so much.
    deepest_trench : float
        From ground to pipe [m], at least `least_cover`; 0 for a pipe on the surface, unless it may
        be dug in here and there.
    least_grade : float
        Rise (or fall) over horizontal run that every piece must have, > 0.
    vent_cost : float
        What one high point's vent costs, in m of pipe.
    dig_cost : float
        What trench deeper than the least cover costs: m of pipe per m² of its section, depth times
        length.
    greatest_grade : float or None
        Of lines that fall all the way: no piece falls more steeply; None: no limit.
    side_slope : float or None
        Steepest slope of the ground across the trench, rise over run; None: no limit.
    bend_cost : float
        What one bend costs, in m of pipe.
    least_leg : float
        Shortest straight leg between two bends [m].
    bend : bool
        A drive pipe may have one bend where it can't lie straight.
    """

    manner: Literal["buried", "surface"]
    least_cover: float
    deepest_trench: float
    least_grade: float
    vent_cost: float = 30.0
    dig_cost: float = 0.0
    greatest_grade: float | None = None
    side_slope: float | None = None
    bend_cost: float = 0.0
    least_leg: float = 0.0
    bend: bool = False

    @property
    def slack(self) -> float:
        """Depth the trench may vary by [m]."""
        return self.deepest_trench - self.least_cover


@dataclass(frozen=True, slots=True)
class Pipe:
    """The pipe of one line.

    Attributes
    ----------
    rating : float
        The head it bears for good at 20 °C [m].
    bore_assumed : bool
        Bore and rating are the program's defaults, not the user's choice.
    size : str or None
        Trade size as written, such as "1 in"; the pipe catalogue tells the bore then. None: the
        bore is given or assumed.
    standard, pressure_class : str or None
        What else is printed on the pipe, such as "ISO 4427" and "PN 10".
    fittings : tuple of (str, int)
        Names of fittings and how many of each.
    """

    bore: float  # inside diameter, m
    rating: float  # m of water
    roughness: float = 1.5e-6  # m
    bore_assumed: bool = False
    size: str | None = None
    standard: str | None = None
    pressure_class: str | None = None
    fittings: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class OwnPipe:
    """A row that the user adds to the pipe catalogue; None where it is not known."""

    standard: str
    size: str
    bore: float  # inside diameter, m
    outside: float  # diameter, m
    rating: float  # m of water, for good, at 20 °C
    roughness: float = 1e-5  # m
    bend_radius: float | None = None  # m, the least, by hand
    coil: float | None = None  # m of pipe in one coil or stick


@dataclass(frozen=True, slots=True)
class LineSettings:
    """All that is said of one role's lines."""

    laying: Laying
    pipe: Pipe
    siphon: bool = False  # a crest above the hydraulic grade line is meant


@dataclass(frozen=True, slots=True)
class Site:
    """One site: everything `make_plan` needs, nothing it has to ask for.

    Attributes
    ----------
    need : float or None
        Water needed [m³/day].
    frost_depth : float or None
        How deep the ground freezes [m].
    flood_mark : float or None
        Measured flood level above the ground at the pump [m].
    each : dict
        The user's own water for one of them [m³/day], in place of the published figure.
    demand : dict
        How many of each that needs water: people, animals, square metres of garden.
    stream_cost : float
        What crossing a stream found in the ground costs [m of pipe].
    tank : Tank
    temperature : float
        Of the water [°C].
    own_pipes : tuple of OwnPipe
    lines : dict
        Settings for every `LineRole`.
    folder : Path or None
        Where the site file lies.
    text : str
        The site file as written, "" for a site made in Python.
    measured : Measured
    built : tuple of Built
        Lines that are laid already.
    fit : tuple of Fit
        Vents and washouts that are decided.
    papers : Papers
    rates : Rates
    """

    title: str
    elevation: Elevation
    sketch: Sketch
    lines: dict[LineRole, LineSettings]
    units: Units = "metric"
    gallon: Gallon | None = None
    source: Source = field(default_factory=Source)
    ram: Ram = field(default_factory=Ram)
    powered: PoweredPump | None = None
    need: float | None = None
    season: Season = "all-year"
    frost_depth: float | None = None
    flood_mark: float | None = None
    folder: Path | None = None
    text: str = ""
    demand: dict[str, float] = field(default_factory=dict)
    each: dict[str, float] = field(default_factory=dict)
    tank: Tank = field(default_factory=Tank)
    temperature: float = 10.0
    own_pipes: tuple[OwnPipe, ...] = ()
    stream_cost: float = 10.0
    measured: Measured = field(default_factory=Measured)
    built: tuple[Built, ...] = ()
    papers: Papers = field(default_factory=Papers)
    rates: Rates = field(default_factory=Rates)
    fit: tuple[Fit, ...] = ()

    @property
    def gauged(self) -> Source:
        """The source with its flow as it was measured in the field, where it was."""
        measured = self.measured
        if not measured.timings:
            return self.source
        return replace(
            self.source,
            flow=None,
            measured=measured.date,
            season=measured.flow_season,
            timings=tuple(Fill(volume, seconds) for volume, seconds in measured.timings),
        )

    @property
    def files(self) -> tuple[Path, ...]:
        """Every file the site is made from, but for the site file and the sketch's."""
        measured, built = self.measured, self.built
        named = (
            measured.stakes,
            self.rates.prices,
            *(one.along for one in built),
            *(one.marks for one in built),
        )
        there = tuple(path for path in named if path is not None)
        return (*self.elevation.files, *measured.levels, *measured.walked.values(), *there)
