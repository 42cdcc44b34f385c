"""The foot of a sheet: what was chosen along the line, where there is room."""

from dataclasses import replace

import pytest

from planner.output.sheets.content import SheetContent
from planner.output.sheets.draw import draw_sheet
from planner.output.sheets.foot import remarks
from planner.output.sheets.ink import drawing
from planner.output.sheets.write import sheet_contents
from planner.wording.choices import choice_sentence
from tests.output.weighed import weighed_plan


@pytest.fixture(scope="module")
def delivery() -> SheetContent:
    (sheet,) = (s for s in sheet_contents(weighed_plan()) if s.line.name == "delivery")
    return sheet


@pytest.mark.parametrize(("room", "count"), [(-1, 0), (0, 0), (1, 1), (9, 2)])
def test_as_many_choices_as_there_is_room_for(
    delivery: SheetContent, room: int, count: int
) -> None:
    assert len(remarks(delivery, 180.0, room)) == count


def test_they_stand_on_the_sheet_above_the_cautions(delivery: SheetContent) -> None:
    sheet = replace(delivery, findings=delivery.findings[:1])
    with drawing():
        figure = draw_sheet(sheet)
        (axes,) = (axes for axes in figure.axes if axes.get_label() == "sheet")
        texts = {text.get_text(): text.get_position()[1] for text in axes.texts}
    said = [choice_sentence(choice, "metric") for choice in sheet.line.choices]
    (cautions,) = (y for text, y in texts.items() if text.startswith("Cautions:"))
    assert all(texts[sentence] > cautions for sentence in said)
