"""`edited`: one change of a draft, and the draft as it is afterwards."""

from dataclasses import replace
from functools import reduce

from planner.site.draft import Draft
from planner.site.edits import areas, points
from planner.site.edits.document import add_table, set_value
from planner.site.edits.drawing import Drawing, Json, read_drawing
from planner.site.edits.incomplete import incomplete_site
from planner.site.edits.more import add_features
from planner.site.edits.put_away import put_away
from planner.site.edits.refer import refer_anew
from planner.site.edits.text import plain
from planner.site.edits.value import (
    AddArea,
    AddFeatures,
    AddPoint,
    AddTable,
    DeleteArea,
    DeletePoint,
    Edit,
    MovePoint,
    RenamePoint,
    SetArea,
    SetPoint,
    SetValue,
    Several,
    ShapeArea,
)
from planner.site.edits.way import makes_way
from planner.site.file import SiteFile
from planner.site.read import site_table

SketchEdit = (
    AddPoint
    | MovePoint
    | RenamePoint
    | SetPoint
    | DeletePoint
    | AddArea
    | ShapeArea
    | SetArea
    | DeleteArea
    | AddFeatures
)


def edited(draft: Draft, edit: Edit) -> Draft:
    """The draft after an edit; nothing is written.

    Comments and layout of the site file stay; what is said of a line and can't stand beside a new
    value goes, such as the bore where a trade size is given. Features of the sketch that the edit
    does not touch stay too. A sketch that stands in the site file, or in a file of another kind
    than GeoJSON in longitude/latitude, moves to a new file beside the site file when it is first
    changed.

    Parameters
    ----------
    draft : Draft
    edit : Edit

    Returns
    -------
    Draft
        One that `incomplete_site` takes.

    Raises
    ------
    SiteError, SketchError
        What the edit speaks of is not there, or what it says can't be; the draft before it stays
        good.
    """
    after = _applied(draft, edit)
    incomplete_site(after)
    return after


def _applied(draft: Draft, edit: Edit) -> Draft:
    match edit:
        case Several(edits=edits):
            return reduce(_applied, edits, draft)
        case SetValue(path, value):
            text = reduce(_taken_out, makes_way(path, value), draft.site)
            return replace(draft, site=set_value(text, path, value))
        case AddTable(path, table):
            return replace(draft, site=add_table(draft.site, path, table))
        case _:
            return _redrawn(draft, edit)


def _taken_out(text: str, path: tuple[str, ...]) -> str:
    return set_value(text, path, None)


def _redrawn(draft: Draft, edit: SketchEdit) -> Draft:
    drawing = read_drawing(draft)
    table = site_table(plain(draft.site), draft.site_name)
    after = put_away(draft, drawing, _features(table, drawing, edit))
    if isinstance(edit, RenamePoint):
        _, point = points.found(drawing, edit.name)
        return replace(after, site=refer_anew(after.site, point.name, edit.to))
    return after


def _features(table: SiteFile, drawing: Drawing, edit: SketchEdit) -> list[Json]:
    match edit:
        case AddPoint():
            return points.add_point(drawing, edit, powered=table.pump.kind == "powered")
        case AddFeatures():
            return add_features(drawing, edit, table.gallon)
        case AddArea() | ShapeArea() | SetArea() | DeleteArea():
            return _areas(drawing, edit)
        case _:
            return _points(drawing, edit)


def _points(drawing: Drawing, edit: MovePoint | RenamePoint | SetPoint | DeletePoint) -> list[Json]:
    match edit:
        case MovePoint():
            return points.move_point(drawing, edit)
        case RenamePoint():
            return points.rename_point(drawing, edit)
        case SetPoint():
            return points.set_point(drawing, edit)
        case DeletePoint():
            return points.delete_point(drawing, edit)


def _areas(drawing: Drawing, edit: AddArea | ShapeArea | SetArea | DeleteArea) -> list[Json]:
    match edit:
        case AddArea():
            return areas.add_area(drawing, edit)
        case ShapeArea():
            return areas.shape_area(drawing, edit)
        case SetArea():
            return areas.set_area(drawing, edit)
        case DeleteArea():
            return areas.delete_area(drawing, edit)
