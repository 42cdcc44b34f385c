"""The ram's works as models of plan.json."""

from planner.hydraulics.delivery_size import DeliverySizes
from planner.hydraulics.ram_cycle import Cycle
from planner.hydraulics.ram_remedy import Remedy
from planner.hydraulics.ram_size import RamOption, SecondStage, Size
from planner.hydraulics.ram_start import Start
from planner.output.rounding import FLOW, METRE, RATIO, band_model, number
from planner.record import schema_works as schema
from planner.record.works import RamWorks


def ram_model(works: RamWorks) -> schema.RamModel:
    """The ram, its drive pipe, its delivery pipe and its start."""
    peak = works.peak
    return schema.RamModel(
        closing_velocity_m_s=number(works.closing_velocity, METRE),
        tuned=works.tuned,
        beat=_beat(works.beat),
        peak=schema.DrivePeakModel(
            beating_m=number(peak.beating, METRE),
            blocked_m=number(peak.blocked, METRE),
            design_m=number(peak.design, METRE),
        ),
        options=[_option(option) for option in works.options],
        sizes=None if works.sizes is None else _sizes(works.sizes),
        start=_start(works.start),
    )


def _beat(beat: Remedy) -> schema.BeatModel:
    return schema.BeatModel(
        trouble=beat.trouble,
        cycle=_cycle(beat.cycle),
        length_m=number(beat.length, METRE),
        load=number(beat.load, METRE),
        longer=None if beat.longer is None else _cycle(beat.longer),
        heavier=None if beat.heavier is None else _cycle(beat.heavier),
    )


def _cycle(cycle: Cycle) -> schema.CycleModel:
    phases = cycle.phases
    return schema.CycleModel(
        stalls=cycle.stalls,
        free_velocity_m_s=number(cycle.free_velocity, METRE),
        beats_per_minute=number(cycle.beats, 1),
        phases=schema.PhasesModel(
            acceleration_s=number(phases.acceleration, RATIO),
            closing_s=number(phases.closing, RATIO),
            delivery_s=number(phases.delivery, RATIO),
            recoil_s=number(phases.recoil, RATIO),
        ),
        wasted_m3=number(cycle.wasted, FLOW),
        delivered_m3=number(cycle.delivered, FLOW),
        drive_flow_m3_s=number(cycle.drive_flow, FLOW),
        delivered_flow_m3_s=number(cycle.delivered_flow, FLOW),
        efficiency=number(cycle.efficiency, METRE),
        peak_head_m=number(cycle.peak_head, METRE),
        design_head_m=number(cycle.design_head, METRE),
    )


def _size(size: Size) -> schema.SizeModel:
    return schema.SizeModel(
        bore_m=round(size.bore, RATIO), velocity_m_s=number(size.velocity, METRE)
    )


def _option(option: RamOption) -> schema.RamOptionModel:
    return schema.RamOptionModel(
        arrangement=option.arrangement,
        count=option.count,
        size=_size(option.size),
        neighbours=[_size(size) for size in option.neighbours],
        delivered_m3_s=band_model(option.delivered, FLOW),
        second=None if option.second is None else _second(option.second),
        cautions=list(option.cautions),
    )


def _second(stage: SecondStage) -> schema.SecondStageModel:
    return schema.SecondStageModel(
        tank_lift_m=number(stage.tank_lift, METRE),
        fall_m=number(stage.fall, METRE),
        lift_m=number(stage.lift, METRE),
        drive_flow_m3_s=number(stage.drive_flow, FLOW),
        size=None if stage.size is None else _size(stage.size),
    )


def _sizes(sizes: DeliverySizes) -> schema.DeliverySizesModel:
    pipes = [
        schema.DeliveryPipeModel(
            bore_m=round(pipe.bore, RATIO),
            delivered_m3_s=band_model(pipe.delivered, FLOW),
            friction_m=number(pipe.friction, METRE),
            velocity_m_s=number(pipe.velocity, METRE),
            lost_m3_s=number(pipe.lost, FLOW),
        )
        for pipe in sizes.pipes
    ]
    return schema.DeliverySizesModel(pipes=pipes, chosen=sizes.chosen, bearable=sizes.bearable)


def _start(start: Start) -> schema.StartModel:
    return schema.StartModel(
        drive_volume_m3=number(start.drive_volume, RATIO),
        delivery_volume_m3=number(start.delivery_volume, RATIO),
        back_pressure_m=number(start.back_pressure, METRE),
        by_itself_m=number(start.by_itself, METRE),
        strokes=start.strokes,
        filling_time_s=number(start.filling_time, 0),
        steps=list(start.steps),
    )
