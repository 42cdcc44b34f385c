"""Intake and tank as models of plan.json."""

from planner.hydraulics.tank import Load, Storage
from planner.output.rounding import FLOW, METRE, RATIO, band_model, number, numbers
from planner.record import schema_works as schema
from planner.record.works import SourceWorks, TankWorks


def intake_model(works: SourceWorks) -> schema.IntakeModel:
    """The source at its lowest and its intake."""
    screen, chamber = works.screen, works.chamber
    return schema.IntakeModel(
        lowest_flow_m3_s=band_model(works.lowest.flow, FLOW),
        basis=works.lowest.basis,
        for_design=works.lowest.for_design,
        screen=schema.ScreenModel(
            area_m2=round(screen.area, RATIO),
            plate_m2=round(screen.plate, RATIO),
            opening_m2=round(screen.opening, RATIO),
            slot_speed_m_s=number(screen.slot_speed, METRE),
            ruled_by=screen.ruled_by,
        ),
        chamber=schema.ChamberModel(
            surface_m2=round(chamber.surface, METRE),
            length_m=round(chamber.length, METRE),
            width_m=round(chamber.width, METRE),
            depth_m=round(chamber.depth, METRE),
            volume_m3=round(chamber.volume, RATIO),
            detention_s=number(chamber.detention, 1),
            ruled_by=chamber.ruled_by,
        ),
        cover_m=round(works.cover, METRE),
    )


def tank_model(works: TankWorks) -> schema.TankModel:
    """The tank, the hours followed, and its weight."""
    return schema.TankModel(
        volume_m3=number(works.volume, METRE),
        smallest_m3=number(works.smallest, METRE),
        days=works.days,
        storage=None if works.storage is None else _storage(works.storage),
        fill_time_s=number(works.fill_time, 0),
        load=None if works.load is None else _load(works.load),
    )


def _storage(storage: Storage) -> schema.StorageModel:
    return schema.StorageModel(
        stored_m3=numbers(storage.stored),
        shortage_m3=numbers(storage.shortage),
        overflow_m3=numbers(storage.overflow),
        shortage_days=storage.shortage_days,
        missing_m3=number(storage.missing, METRE),
        spilt_m3=number(storage.spilt, METRE),
    )


def _load(load: Load) -> schema.LoadModel:
    return schema.LoadModel(
        mass_kg=number(load.mass, 1),
        weight_n=number(load.weight, 0),
        pressure_pa=number(load.pressure, 0),
        design_weight_n=number(load.design_weight, 0),
        footing_m2=number(load.footing, METRE),
        engineer=load.engineer,
    )
