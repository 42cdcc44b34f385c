"""What the water needs along its way: ram, source, tank, air and pressure of each line.

Values that the chain fills from `planner.hydraulics`; SI, heads and levels in metres of water.
"""

import datetime
from dataclasses import dataclass

from planner.band import Band
from planner.hydraulics.air_leg import FallingLeg
from planner.hydraulics.air_lock import StartUp
from planner.hydraulics.break_pressure import BreakPressure
from planner.hydraulics.classes import ClassedLine
from planner.hydraulics.delivery_size import DeliverySizes
from planner.hydraulics.intake import Screen
from planner.hydraulics.pipe import CataloguePipe, Form
from planner.hydraulics.pressure import LeastMargin, PressureProfile
from planner.hydraulics.ram_remedy import Remedy
from planner.hydraulics.ram_size import RamOption
from planner.hydraulics.ram_start import Start
from planner.hydraulics.settling import Chamber
from planner.hydraulics.source import LowestFlow
from planner.hydraulics.surge_drive import DrivePeak
from planner.hydraulics.tank import Load, Storage
from planner.hydraulics.vents import Vent
from planner.site.fit import FittingKind


@dataclass(frozen=True, eq=False, slots=True)
class SourceWorks:
    """Source and intake.

    Attributes
    ----------
    lowest : LowestFlow
        The source at its lowest known, and what that figure stands on.
    screen, chamber : Screen, Chamber
        Smallest that serve the flow taken.
    cover : float
        Water that should stand over the intake's mouth [m].
    """

    lowest: LowestFlow
    screen: Screen
    chamber: Chamber
    cover: float


@dataclass(frozen=True, eq=False, slots=True)
class RamWorks:
    """The ram, its drive pipe and its start.

    Attributes
    ----------
    closing_velocity : float
        At which the waste valve shuts [m/s]: the user's, or tuned to the flow there is.
    tuned : bool
        Whether it was tuned by the program.
    beat : Remedy
        The cycle, what is amiss with it, and what would put it right.
    peak : DrivePeak
        Surge heads at the ram.
    options : tuple of RamOption
        Rams that would use the flow, the plainest first.
    sizes : DeliverySizes
        Bores for the delivery line, with what each costs in water.
    start : Start
        Volumes, pressure, hand strokes and the order of steps.
    """

    closing_velocity: float
    tuned: bool
    beat: Remedy
    peak: DrivePeak
    options: tuple[RamOption, ...]
    sizes: DeliverySizes | None
    start: Start


@dataclass(frozen=True, eq=False, slots=True)
class TankWorks:
    """The tank.

    Attributes
    ----------
    volume : float or None
        As given [m³].
    smallest : float
        The smallest that serves the need over a run of dry days [m³]; NaN without a need.
    days : int
        How many days were followed, hour by hour.
    storage : Storage or None
        The given tank, or else the smallest, over those days.
    fill_time : float
        Empty to full at the expected delivery, nothing drawn [s].
    load : Load or None
        Of the given tank, or else the smallest.
    """

    volume: float | None
    smallest: float
    days: int
    storage: Storage | None
    fill_time: float
    load: Load | None


@dataclass(frozen=True, eq=False, slots=True)
class PlacedVent:
    """A vent at a high point: the sample it stands at, and its kind; None: it must have none."""

    index: int
    chainage_m: float
    vent: Vent | None


@dataclass(frozen=True, eq=False, slots=True)
class LegAir:
    """The falling leg below a crest: whether the flow clears it, and the head air takes there."""

    leg: FallingLeg
    clears: bool | None
    loss: Band


@dataclass(frozen=True, eq=False, slots=True)
class LineAir:
    """Air in one line.

    Attributes
    ----------
    legs : tuple of LegAir
    start : StartUp or None
        Whether a gravity line starts with the vents that are decided; None for a pumped line.
    vents : tuple of PlacedVent
        The fewest with which it starts and runs, those decided among them, each with its kind.
    enough : bool
        False where no vents are enough.
    """

    legs: tuple[LegAir, ...]
    start: StartUp | None
    vents: tuple[PlacedVent, ...]
    enough: bool


@dataclass(frozen=True, eq=False, slots=True)
class LinePressure:
    """Pressure in one line.

    Attributes
    ----------
    heads : PressureProfile
        Outlet open, outlet closed, surge, and what the pipe bears.
    least : LeastMargin
        Where it is nearest to its rating, and in which state.
    classes : ClassedLine or None
        Class by stretch, where the pipe was chosen from the catalogue.
    tanks : BreakPressure or None
        Break-pressure tanks, where a gravity line's closed head exceeds the pipe.
    """

    heads: PressureProfile
    least: LeastMargin
    classes: ClassedLine | None
    tanks: BreakPressure | None


SHORTEST_PIECE = 0.1  # m; so much is made up by the pipe before it


@dataclass(frozen=True, eq=False, slots=True)
class PipeRun:
    """A part of a line in one size and class of pipe.

    Attributes
    ----------
    start_m, end_m : float
        Chainage [m].
    label : str
        Size and class in the trade's words, or the bore where only that was said.
    bore, rating : float
        True inside diameter [m]; head it bears [m of water].
    pipe : CataloguePipe
        The pipe named, or where only a bore was said the nearest to it that is made.
    named : bool
        Whether the user named it.
    form, piece : str, float
        Coil or stick, and the length of one [m].
    """

    start_m: float
    end_m: float
    label: str
    bore: float
    rating: float
    pipe: CataloguePipe
    named: bool
    form: Form
    piece: float

    @property
    def joints(self) -> tuple[float, ...]:
        """Chainages [m] inside the run at which one piece ends and the next begins."""
        count = int((self.end_m - self.start_m - SHORTEST_PIECE) // self.piece)
        return tuple(self.start_m + self.piece * number for number in range(1, count + 1))


@dataclass(frozen=True, slots=True)
class Crossed:
    """Where a line crosses a stream found in the ground, or a line drawn to be crossed.

    `name` is "" for a stream; `run_m` and `chainage_m` along the line [m]; `index` the sample.
    """

    name: str
    index: int
    run_m: float
    chainage_m: float


@dataclass(frozen=True, slots=True)
class BuiltMark:
    """What was noted at one place of a laid line; `depth` [m] or None, `xy` in the grid [m]."""

    chainage_m: float
    xy: tuple[float, float]
    depth: float | None
    what: str
    photo: str
    remark: str


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """A line as it was laid: when, what was noted along it, pictures by name."""

    date: datetime.date | None
    marks: tuple[BuiltMark, ...]
    photos: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Decided:
    """A vent or a washout on a line that is decided, before it is laid.

    Attributes
    ----------
    number : int
        Which of `Site.fit` it is, from 0.
    index : int
        The sample it stands at.
    at_turn : bool
        Whether a vent stands at a high point, a washout at a low point: where it is of use.
    """

    number: int
    kind: FittingKind
    index: int
    chainage_m: float
    at_turn: bool
    note: str = ""
