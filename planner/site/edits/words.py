"""What an edit is called, for the buttons that take it back and do it again."""

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
from planner.site.value import AreaRole, PointRole

PLACED: dict[PointRole, str] = {
    "source": "place a source",
    "chamber": "place a chamber",
    "pump": "place the ram",
    "tank": "place a tank",
    "outlet": "place an outlet",
    "way": "put a peg on the line",
}
DRAWN: dict[AreaRole, str] = {
    "avoid": "draw an area to avoid",
    "costly": "draw a costly area",
    "stay": "draw the land to stay on",
    "owner": "draw an owner's land",
}
TABLES = {"fit": "fitting", "pipes": "pipe", "built": "line laid", "walked": "line walked"}


def edit_words(edit: Edit) -> str:
    """A few words on an edit, to stand behind "undo"; names are as their owner typed them.

    Examples
    --------
    >>> edit_words(MovePoint("Tank", (11.2, 47.3)))
    'move Tank'
    >>> edit_words(SetValue(("lines", "delivery", "least_cover"), "0.6 m"))
    'set the least cover of delivery'
    """
    match edit:
        case Several(words=words):
            return words
        case SetValue(path, value):
            return f"{'clear' if value in (None, '') else 'set'} the {_value(path)}"
        case AddTable(path):
            return f"add a {TABLES.get(path[-1], path[-1])}"
        case AddFeatures(features):
            return f"add {len(features)} thing{'s' if len(features) != 1 else ''} from a file"
        case AddArea() | ShapeArea() | SetArea() | DeleteArea():
            return _area(edit)
        case _:
            return _point(edit)


def _point(edit: AddPoint | MovePoint | RenamePoint | SetPoint | DeletePoint) -> str:
    match edit:
        case AddPoint(role=role, name=name):
            return f"place {name}" if name else PLACED[role]
        case MovePoint(name):
            return f"move {name}"
        case RenamePoint(name, to):
            return f"rename {name} to {to}"
        case SetPoint(name, key, value):
            return f"{'clear' if value in (None, '') else 'set'} the {key} of {name}"
        case DeletePoint(name):
            return f"delete {name}"


def _area(edit: AddArea | ShapeArea | SetArea | DeleteArea) -> str:
    match edit:
        case AddArea(role=role):
            return DRAWN[role]
        case ShapeArea():
            return "reshape an area"
        case SetArea(key=key):
            return f"set the {_plain(key)} of an area"
        case DeleteArea():
            return "delete an area"


def _value(path: tuple[str, ...]) -> str:
    *tables, key = (part for part in path if part != "lines" and not part.isdecimal())
    return _plain(key) + (f" of {_plain(' '.join(tables))}" if tables else "")


def _plain(key: str) -> str:
    return key.replace("_", " ")
