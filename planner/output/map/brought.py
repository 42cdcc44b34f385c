"""What came back from the field, in words: levels measured, what they changed, lines as built."""

from dataclasses import dataclass

from planner.output.look import ROLES, RoleLook
from planner.output.sheets.measure import measure
from planner.record.value import Line, Plan
from planner.record.works import AsBuilt, BuiltMark
from planner.units.show import number_text, show
from planner.wording.changes import change_sentence

METHODS = {
    "level": "level",
    "hose": "hose level",
    "traverse": "tape and clinometer",
    "barometer": "barometer",
    "known": "known point",
}


@dataclass(frozen=True, slots=True)
class BuiltLine:
    """A line as it was laid: a sentence, and a row for each mark.

    A mark's row is its chainage, depth, what it is, the name of its picture and the remark.
    """

    line: str
    look: RoleLook
    text: str
    marks: tuple[tuple[str, ...], ...]


def change_lines(plan: Plan) -> list[str]:
    """What measuring changed, one sentence each."""
    return [change_sentence(change, plan.site.units) for change in plan.changes]


def survey_notes(plan: Plan) -> list[str]:
    """What a reader of the measured levels must know."""
    return [] if plan.survey is None else list(plan.survey.notes)


def station_rows(plan: Plan) -> list[tuple[str, ...]]:
    """Name, level, its error, level of the elevation data, and how it was measured."""
    if plan.survey is None:
        return []
    units = plan.site.units
    return [
        (
            station.name,
            number_text(station.level, "level", units),
            number_text(station.error, "level", units),
            number_text(station.model, "level", units),
            ", ".join(METHODS[method] for method in station.methods),
        )
        for station in plan.survey.stations
    ]


def built_lines(plan: Plan) -> list[BuiltLine]:
    """The lines that are known as they were laid."""
    return [
        BuiltLine(
            line.name,
            ROLES[line.role],
            _built_text(line.built),
            tuple(_mark_row(plan, mark) for mark in line.built.marks),
        )
        for line in plan.lines
        if line.built is not None
    ]


def laid_word(line: Line) -> str:
    """What is to be said of how a line's way was found: nothing of one that was looked for."""
    if line.built is not None:
        return "as built" if line.built.date is None else f"as built, {_day(line.built)}"
    return "as walked" if line.walked else ""


def _built_text(built: AsBuilt) -> str:
    parts = [f"finished {_day(built)}" if built.date else "day not noted"]
    if built.note:
        parts.append(built.note)
    if built.photos:
        parts.append(f"pictures: {', '.join(built.photos)}")
    return "; ".join(parts)


def _day(built: AsBuilt) -> str:
    return f"{built.date:%d %B %Y}".lstrip("0")


def _mark_row(plan: Plan, mark: BuiltMark) -> tuple[str, ...]:
    depth = "" if mark.depth is None else show(mark.depth, "level", plan.site.units)
    along = measure(plan.site.units).chainage(mark.chainage_m)
    return along, depth, mark.what, mark.photo, mark.remark
