"""The works in `plan.json`: intake, ram, tank, and the air and pressure of each line.

Heads and levels are metres of water; a pressure always says outlet open, outlet closed or surge.
"""

from typing import Literal

from pydantic import Field

from planner.hydraulics.pressure import State
from planner.hydraulics.ram_remedy import Trouble
from planner.hydraulics.ram_size import Caution
from planner.hydraulics.settling import Rule
from planner.hydraulics.source import Basis
from planner.hydraulics.vents import VentKind
from planner.record.schema_base import BandModel, Model, Number, Text


class ScreenModel(Model):
    """The smallest screen of the intake."""

    area_m2: Number = Field(description="wetted face, net of its frame")
    plate_m2: Number = Field(description="the same with the frame")
    opening_m2: Number = Field(description="holes in it")
    slot_speed_m_s: Number | None
    ruled_by: Literal["fish", "clogging"]


class ChamberModel(Model):
    """The smallest settling chamber, inside its walls."""

    surface_m2: Number
    length_m: Number
    width_m: Number
    depth_m: Number
    volume_m3: Number
    detention_s: Number | None
    ruled_by: Rule


class IntakeModel(Model):
    """The source at its lowest, and what an intake on it needs."""

    lowest_flow_m3_s: BandModel
    basis: Basis
    for_design: bool = Field(description="false: a wet-season reading")
    screen: ScreenModel
    chamber: ChamberModel
    cover_m: Number = Field(description="water over the intake's mouth")


class PhasesModel(Model):
    """How long each part of a beat takes; null where the ram stalls."""

    acceleration_s: Number | None
    closing_s: Number | None
    delivery_s: Number | None
    recoil_s: Number | None


class CycleModel(Model):
    """One beat, and what comes of beating."""

    stalls: bool
    free_velocity_m_s: Number | None = Field(description="waste valve held open")
    beats_per_minute: Number | None
    phases: PhasesModel
    wasted_m3: Number | None = Field(description="each beat")
    delivered_m3: Number | None = Field(description="each beat, no leak or drag counted")
    drive_flow_m3_s: Number | None
    delivered_flow_m3_s: Number | None
    efficiency: Number | None = Field(description="d'Aubuisson's, of the cycle alone")
    peak_head_m: Number | None = Field(description="surge at the ram as it beats")
    design_head_m: Number | None = Field(description="surge the ram is to stand at least")


class BeatModel(Model):
    """The cycle, what is amiss with it, and what would put it right."""

    trouble: Trouble
    cycle: CycleModel
    length_m: Number | None = Field(description="drive pipe that mends it")
    load: Number | None = Field(description="factor on the waste valve's load that mends it")
    longer: CycleModel | None
    heavier: CycleModel | None


class DrivePeakModel(Model):
    """Surge heads at the ram."""

    beating_m: Number | None
    blocked_m: Number | None = Field(description="the delivery shut while the ram beats")
    design_m: Number | None


class SizeModel(Model):
    """Bore of a drive pipe and the mean speed in it."""

    bore_m: Number
    velocity_m_s: Number | None


class SecondStageModel(Model):
    """A ram driven by what another lifted to a tank between."""

    tank_lift_m: Number | None
    fall_m: Number | None
    lift_m: Number | None
    drive_flow_m3_s: Number | None
    size: SizeModel | None


class RamOptionModel(Model):
    """One way to lift the water."""

    arrangement: Literal["single", "parallel", "stages"]
    count: int
    size: SizeModel
    neighbours: list[SizeModel]
    delivered_m3_s: BandModel
    second: SecondStageModel | None
    cautions: list[Caution]


class DeliveryPipeModel(Model):
    """A ram with one bore of delivery pipe."""

    bore_m: Number
    delivered_m3_s: BandModel
    friction_m: Number | None
    velocity_m_s: Number | None
    lost_m3_s: Number | None = Field(description="what friction costs")


class DeliverySizesModel(Model):
    """Delivery pipes by rising bore, and the place of the one to take."""

    pipes: list[DeliveryPipeModel]
    chosen: int = Field(description="place in `pipes`, from 0")
    bearable: bool


class StartModel(Model):
    """What it takes to set the ram going."""

    drive_volume_m3: Number | None
    delivery_volume_m3: Number | None
    back_pressure_m: Number | None = Field(description="needed, delivery closed")
    by_itself_m: Number | None = Field(description="given by the source, delivery closed")
    strokes: tuple[int, int] = Field(description="by hand, fewest and most")
    filling_time_s: Number | None
    steps: list[Text]


class RamModel(Model):
    """The ram, its drive pipe, its delivery pipe and its start."""

    closing_velocity_m_s: Number | None
    tuned: bool = Field(description="the closing velocity was tuned by the program")
    beat: BeatModel
    peak: DrivePeakModel
    options: list[RamOptionModel]
    sizes: DeliverySizesModel | None
    start: StartModel


class StorageModel(Model):
    """The tank through the hours."""

    stored_m3: list[Number | None] = Field(description="before the first hour and after each")
    shortage_m3: list[Number | None]
    overflow_m3: list[Number | None]
    shortage_days: int
    missing_m3: Number | None
    spilt_m3: Number | None


class LoadModel(Model):
    """A full tank on its ground or stand."""

    mass_kg: Number | None
    weight_n: Number | None
    pressure_pa: Number | None = Field(description="on the ground under its base")
    design_weight_n: Number | None
    footing_m2: Number | None
    engineer: bool = Field(description="an engineer is to design what carries it")


class TankModel(Model):
    """The tank: given, recommended, and how it fares."""

    volume_m3: Number | None = Field(description="as given")
    smallest_m3: Number | None = Field(description="that serves the need through the dry days")
    days: int
    storage: StorageModel | None
    fill_time_s: Number | None
    load: LoadModel | None


class LegModel(Model):
    """The falling leg below a crest, and the air in it."""

    crest_m: Number = Field(description="chainage")
    foot_m: Number = Field(description="chainage")
    height_m: Number
    steepest: Number | None = Field(description="fall over horizontal run")
    clears: bool | None = Field(description="null: it can't be said")
    loss_m: BandModel = Field(description="head that air takes there, outlet open")


class StartUpModel(Model):
    """Whether a gravity line starts as it is, unvented."""

    starts: bool
    pockets_m: list[Number | None]
    heads_m: list[Number | None]
    needed_m: Number | None
    available_m: Number | None
    margin_m: Number | None


class VentModel(Model):
    """A vent at a high point; `kind` null: there must be none."""

    chainage_m: Number
    kind: VentKind | None
    height_m: Number | None = Field(description="of a standpipe, above the crest")
    by_hand: bool | None


class AirModel(Model):
    """Air in a line."""

    legs: list[LegModel]
    start: StartUpModel | None
    vents: list[VentModel]
    enough: bool = Field(description="false where no vents are enough, or none can be told")


class LeastMarginModel(Model):
    """Where the pipe is nearest to its rating."""

    state: State
    chainage_m: Number
    head_m: Number | None
    rating_m: Number | None
    margin_m: Number | None


class ClassModel(Model):
    """A stretch in one class of pipe."""

    start_m: Number
    end_m: Number
    standard: Text
    nominal: Text
    series: Text
    pressure_class: Text
    bore_m: Number
    outside_m: Number | None
    rating_m: Number | None = Field(description="at the temperature of its standard")
    needed_m: Number | None


class ClassesModel(Model):
    """The classes chosen for a line."""

    stretches: list[ClassModel]
    mass_kg: Number | None
    mass_spared_kg: Number | None
    too_weak: list[tuple[Number, Number]] = Field(description="chainages")


class BreakPressureModel(Model):
    """Break-pressure tanks of a gravity line."""

    tanks_m: list[Number] = Field(description="chainages")
    static_level_m: list[Number | None] = Field(description="outlets closed, at each sample")
    blocked_m: Number | None = Field(description="chainage beyond which no tanks are enough")


class PressureModel(Model):
    """Pressure heads at each sample of the profile, and what the pipe bears."""

    open_m: list[Number | None] = Field(description="outlet open")
    closed_m: list[Number | None] = Field(description="outlet closed")
    surge_m: list[Number | None] = Field(description="outlet shut by hand")
    rating_m: list[Number | None]
    surge_rating_m: list[Number | None]
    least: LeastMarginModel
    classes: ClassesModel | None
    break_pressure: BreakPressureModel | None
