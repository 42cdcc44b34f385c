import pytest

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
from planner.site.edits.words import edit_words

AT = (11.2, 47.3)

WORDS: list[tuple[Edit, str]] = [
    (AddPoint("pump", AT), "place the ram"),
    (AddPoint("tank", AT, "Upper tank"), "place Upper tank"),
    (AddPoint("way", AT, line="delivery"), "put a peg on the line"),
    (MovePoint("Tank", AT), "move Tank"),
    (RenamePoint("Tank", "<b>"), "rename Tank to <b>"),
    (SetPoint("Tank", "height", "2 m"), "set the height of Tank"),
    (SetPoint("Tank", "height", None), "clear the height of Tank"),
    (DeletePoint("Tank"), "delete Tank"),
    (AddArea("avoid", (AT, AT, AT)), "draw an area to avoid"),
    (ShapeArea(0, (AT, AT, AT)), "reshape an area"),
    (SetArea(0, "deepest_trench", "1 m"), "set the deepest trench of an area"),
    (DeleteArea(0), "delete an area"),
    (AddFeatures(({},)), "add 1 thing from a file"),
    (AddFeatures(({}, {})), "add 2 things from a file"),
    (SetValue(("source", "flow"), "1 L/s"), "set the flow of source"),
    (SetValue(("units",), "us"), "set the units"),
    (SetValue(("lines", "delivery", "pipe"), None), "clear the pipe of delivery"),
    (SetValue(("fit", "0"), None), "clear the fit"),
    (AddTable(("fit",), {}), "add a fitting"),
    (Several("fit a vent", ()), "fit a vent"),
]


@pytest.mark.parametrize(("edit", "words"), WORDS, ids=[words for _, words in WORDS])
def test_every_edit_has_words_for_undo(edit: Edit, words: str) -> None:
    assert edit_words(edit) == words


def test_no_kind_of_edit_is_without() -> None:
    assert {type(edit) for edit, _ in WORDS} == set(Edit.__args__)
