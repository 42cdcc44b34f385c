"""Air and pressure of a line as models of plan.json; places as chainages."""

from planner.hydraulics.air_lock import StartUp
from planner.hydraulics.break_pressure import BreakPressure
from planner.hydraulics.classes import ClassedLine, ClassedStretch
from planner.output.rounding import METRE, RATIO, band_model, number, numbers
from planner.profile.value import Profile
from planner.record import schema_works as schema
from planner.record.works import LegAir, LineAir, LinePressure, PlacedVent


def air_model(air: LineAir, profile: Profile) -> schema.AirModel:
    """Air in one line."""
    return schema.AirModel(
        legs=[_leg(leg, profile) for leg in air.legs],
        start=None if air.start is None else _start_up(air.start),
        vents=[_vent(vent) for vent in air.vents],
        enough=air.enough,
    )


def pressure_model(works: LinePressure, profile: Profile) -> schema.PressureModel:
    """Pressure in one line."""
    heads, least = works.heads, works.least
    return schema.PressureModel(
        open_m=numbers(heads.open),
        closed_m=numbers(heads.closed),
        surge_m=numbers(heads.surge),
        rating_m=numbers(heads.rating),
        surge_rating_m=numbers(heads.surge_rating),
        least=schema.LeastMarginModel(
            state=least.state,
            chainage_m=_chainage(profile, least.index),
            head_m=number(least.head, METRE),
            rating_m=number(least.rating, METRE),
            margin_m=number(least.margin, METRE),
        ),
        classes=None if works.classes is None else _classes(works.classes),
        break_pressure=None if works.tanks is None else _tanks(works.tanks, profile),
    )


def _chainage(profile: Profile, index: int) -> float:
    return round(float(profile.chainage[index]), METRE)


def _leg(air: LegAir, profile: Profile) -> schema.LegModel:
    leg = air.leg
    return schema.LegModel(
        crest_m=_chainage(profile, leg.crest),
        foot_m=_chainage(profile, leg.foot),
        height_m=round(leg.height, METRE),
        steepest=number(leg.steepest, RATIO),
        clears=air.clears,
        loss_m=band_model(air.loss, METRE),
    )


def _start_up(start: StartUp) -> schema.StartUpModel:
    return schema.StartUpModel(
        starts=start.starts,
        pockets_m=[number(pocket, METRE) for pocket in start.pockets],
        heads_m=[number(head, METRE) for head in start.heads],
        needed_m=number(start.needed, METRE),
        available_m=number(start.available, METRE),
        margin_m=number(start.margin, METRE),
    )


def _vent(placed: PlacedVent) -> schema.VentModel:
    vent = placed.vent
    return schema.VentModel(
        chainage_m=round(placed.chainage_m, METRE),
        kind=None if vent is None else vent.kind,
        height_m=None if vent is None else number(vent.height, METRE),
        by_hand=None if vent is None else vent.by_hand,
    )


def _classes(line: ClassedLine) -> schema.ClassesModel:
    return schema.ClassesModel(
        stretches=[_stretch(stretch) for stretch in line.stretches],
        mass_kg=number(line.mass, 1),
        mass_spared_kg=number(line.mass_spared, 1),
        too_weak=[(round(start, METRE), round(end, METRE)) for start, end in line.too_weak],
    )


def _stretch(stretch: ClassedStretch) -> schema.ClassModel:
    pipe = stretch.pipe
    return schema.ClassModel(
        start_m=round(stretch.start, METRE),
        end_m=round(stretch.end, METRE),
        standard=pipe.standard,
        nominal=pipe.nominal,
        series=pipe.series,
        pressure_class=pipe.pressure_class,
        bore_m=round(pipe.bore, RATIO),
        outside_m=number(pipe.outside, RATIO),
        rating_m=number(pipe.rating, METRE),
        needed_m=number(stretch.needed, METRE),
    )


def _tanks(works: BreakPressure, profile: Profile) -> schema.BreakPressureModel:
    return schema.BreakPressureModel(
        tanks_m=[_chainage(profile, index) for index in works.tanks],
        static_level_m=numbers(works.static_level),
        blocked_m=None if works.blocked is None else _chainage(profile, works.blocked),
    )
