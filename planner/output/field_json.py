"""What goes to the field and comes back, as it stands in plan.json."""

from planner.levels.value import Closure, Levelled, Survey
from planner.output.rounding import DEGREE, METRE, RATIO, degrees, number
from planner.output.stakes.value import Stake
from planner.record import schema_field as schema
from planner.record.schema_base import LonLat
from planner.record.value import Change, Line
from planner.record.works import AsBuilt, BuiltMark, PipeRun
from planner.site.value import Units
from planner.terrain.value import Terrain
from planner.wording.changes import change_sentence

FIGURE = 9  # decimals of a changed figure, which may be a flow in m³/s
ANGLE = 1  # decimals of a degree that a compass can show


def run_model(run: PipeRun) -> schema.RunModel:
    """A part of a line in one pipe."""
    return schema.RunModel(
        start_m=round(run.start_m, METRE),
        end_m=round(run.end_m, METRE),
        label=run.label,
        bore_m=round(run.bore, RATIO),
        rating_m=round(run.rating, METRE),
        named=run.named,
        form=run.form,
        piece_m=round(run.piece, METRE),
        joints_m=[round(joint, METRE) for joint in run.joints],
    )


def crossed_models(line: Line, at: list[LonLat]) -> list[schema.CrossedModel]:
    """What a line crosses; `at` are the places of its samples."""
    return [
        schema.CrossedModel(
            name=one.name, chainage_m=round(one.chainage_m, METRE), at=at[one.index]
        )
        for one in line.crossed
    ]


def built_model(built: AsBuilt, terrain: Terrain) -> schema.BuiltModel:
    """What is known of a line as it was laid."""
    return schema.BuiltModel(
        date=built.date,
        marks=[_mark(mark, terrain) for mark in built.marks],
        photos=list(built.photos),
        note=built.note,
    )


def decided_models(line: Line, at: list[LonLat]) -> list[schema.DecidedModel]:
    """What is to be fitted on a line; `at` are the places of its samples."""
    return [
        schema.DecidedModel(
            kind=one.kind,
            chainage_m=round(one.chainage_m, METRE),
            at=at[one.index],
            at_turn=one.at_turn,
            note=one.note,
        )
        for one in line.decided
    ]


def survey_model(survey: Survey, terrain: Terrain) -> schema.SurveyModel:
    """Levels that were measured, and how they hang together."""
    return schema.SurveyModel(
        stations=[_station(station, terrain) for station in survey.stations],
        shift_m=number(survey.shift, METRE),
        reach_m=number(survey.reach, METRE),
        spread_before_m=number(survey.spread_before, METRE),
        spread_after_m=number(survey.spread_after, METRE),
        closures=[_closure(closure) for closure in survey.closures],
        notes=list(survey.notes),
    )


def change_model(change: Change, units: Units) -> schema.ChangeModel:
    """What measuring changed, in figures and in words."""
    return schema.ChangeModel(
        code=change.code,
        name=change.name,
        before=number(change.before, FIGURE),
        after=number(change.after, FIGURE),
        error_before=number(change.error_before, FIGURE),
        error_after=number(change.error_after, FIGURE),
        message=change_sentence(change, units),
    )


def stake_model(stake: Stake) -> schema.StakeModel:
    """A peg with its figures."""
    lon, lat = stake.lonlat
    return schema.StakeModel(
        name=stake.name,
        line=stake.line,
        number=stake.number,
        reasons=list(stake.reasons),
        remark=stake.remark,
        chainage_m=round(stake.chainage_m, METRE),
        run_m=round(stake.run_m, METRE),
        at=(round(lon, DEGREE), round(lat, DEGREE)),
        ground_m=number(stake.ground_m, METRE),
        pipe_m=number(stake.pipe_m, METRE),
        depth_m=number(stake.depth_m, METRE),
        back_m=round(stake.back_m, METRE),
        bearing_deg=number(stake.bearing, ANGLE),
        rise_m=number(stake.rise_m, METRE),
        ground_rise_m=number(stake.ground_rise_m, METRE),
        grade_after=number(stake.grade_after, RATIO),
        findings=list(stake.findings),
    )


def _mark(mark: BuiltMark, terrain: Terrain) -> schema.MarkModel:
    return schema.MarkModel(
        chainage_m=round(mark.chainage_m, METRE),
        at=degrees(terrain, [mark.xy])[0],
        depth_m=number(mark.depth, METRE),
        what=mark.what,
        photo=mark.photo,
        remark=mark.remark,
    )


def _station(station: Levelled, terrain: Terrain) -> schema.StationModel:
    return schema.StationModel(
        name=station.name,
        at=degrees(terrain, [station.xy])[0],
        level_m=number(station.level, METRE),
        error_m=number(station.error, METRE),
        model_m=number(station.model, METRE),
        methods=list(station.methods),
    )


def _closure(closure: Closure) -> schema.ClosureModel:
    return schema.ClosureModel(
        file=closure.file,
        what=closure.what,
        misclosure_m=number(closure.misclosure, METRE),
        allowed_m=number(closure.allowed, METRE),
        good=closure.good,
        setups=closure.setups,
        length_m=number(closure.length, METRE),
    )
