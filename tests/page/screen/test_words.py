"""What the screen makes of views without a browser: words, rows and the edits they give."""

from collections.abc import Coroutine
from typing import Any

import pytest

from planner.errors import HeadfallError
from planner.page.screen.area_form import area_rows
from planner.page.screen.asked import Choice
from planner.page.screen.findings import heading
from planner.page.screen.leaf import leaf_of, levels_leaf
from planner.page.screen.line_form import line_rows
from planner.page.screen.roles import options_of
from planner.page.screen.section_panel import first_line, short_titles
from planner.site.edits.value import RenamePoint, SetArea, SetPoint, SetValue
from tests.loops import run
from tests.page import small_views
from tests.page.fake_hub import LEVELS, FakeHub


class Stub:
    """A desk without a page."""

    def __init__(self) -> None:
        self.hub = FakeHub(small_views.ground(), small_views.plan(), {}, "")
        self.chosen: Choice | None = None

    def choose(self, choice: Choice | None) -> None:
        self.chosen = choice

    async def tried(self, doing: Coroutine[Any, Any, Any]) -> str:
        try:
            await doing
        except HeadfallError as error:
            return error.message
        return ""


@pytest.fixture
def desk() -> Any:
    return Stub()


def give(rows: Any, key: str, text: str) -> str:
    row = next(one for one in rows if one.key == key)

    async def given() -> str:
        said: str = await row.give(text)
        return said

    return run(given())


def leaf(desk: Any, choice: Choice) -> Any:
    found = leaf_of(choice, small_views.plan(), desk)
    assert found is not None
    return found


def test_what_is_typed_of_a_point_becomes_an_edit(desk: Any) -> None:
    rows = leaf(desk, Choice("point", "Tank")).rows
    assert give(rows, "height", "1.5 m") == ""
    assert give(rows, "volume", "") == ""
    assert give(rows, "name", "Hill tank") == ""
    assert desk.hub.asked == [
        ("do", SetPoint("Tank", "height", "1.5 m")),
        ("do", SetValue(("tank", "volume"), None)),
        ("do", RenamePoint("Tank", "Hill tank")),
    ]
    assert desk.chosen == Choice("point", "Hill tank")


def test_a_point_without_a_name_is_refused_here(desk: Any) -> None:
    assert give(leaf(desk, Choice("point", "Ram")).rows, "name", "") == "a point needs a name"
    assert desk.hub.asked == []


def test_coordinates_move_a_point_and_trouble_is_said(desk: Any) -> None:
    rows = leaf(desk, Choice("point", "Ram")).rows
    assert give(rows, "place", "45.01, -3.2") == ""
    assert [one[0] for one in desk.hub.asked] == ["typed_place", "move"]
    desk.hub.refuse = "no such place"
    assert give(rows, "place", "here") == "no such place"


def test_a_point_of_the_programs_can_be_held_but_not_renamed_or_taken_away(desk: Any) -> None:
    box = leaf(desk, Choice("point", "Box"))
    assert [row.key for row in box.rows] == ["place"]
    assert not box.removable
    assert leaf(desk, Choice("point", "Tank")).removable


def test_what_is_gone_has_no_leaf(desk: Any) -> None:
    view = small_views.plan()
    for choice in (Choice("point", "Nix"), Choice("area", index=9), Choice("line", "main")):
        assert leaf_of(choice, view, desk) is None


def test_a_costly_area_asks_for_a_plain_number(desk: Any) -> None:
    view = small_views.area(0, "costly", "Slabs")
    rows = area_rows(view, desk)
    assert give(rows, "factor", "2,5") == ""
    assert give(rows, "factor", "twice") == "write a number, such as 3"
    assert desk.hub.asked == [("do", SetArea(0, "factor", 2.5))]
    assert "factor" not in [row.key for row in area_rows(small_views.area(0, "avoid", "Bog"), desk)]


def test_a_line_on_the_ground_is_propped_and_one_in_a_trench_covered(desk: Any) -> None:
    surface = {"lines.delivery.laid": "surface"}
    assert "propped" in [row.key for row in line_rows("delivery", surface, desk)]
    assert "least_cover" in [row.key for row in line_rows("delivery", {}, desk)]
    give(line_rows("delivery", {}, desk), "pipe", "32 mm")
    assert desk.hub.asked == [("do", SetValue(("lines", "delivery", "pipe"), "32 mm"))]


def test_findings_are_counted_in_words() -> None:
    stop, warn, note = small_views.plan()["findings"]
    assert heading([]) == "Findings: nothing in the way"
    assert heading([warn]) == "Findings: 1 to look at"
    assert heading([stop, warn]) == "Findings: 1 stops the work, 1 to look at"
    assert heading([stop, stop]) == "Findings: 2 stop the work"
    assert note["level"] == "note"


def test_lines_are_called_by_role_and_several_of_one_by_where_they_lead() -> None:
    lines = small_views.plan()["lines"]
    for one, title in zip(
        lines, ("Supply, A to B", "Distribution, T to Hut", "Distribution, T to Barn"), strict=True
    ):
        one["title"], one["role"] = title, title.partition(",")[0].lower()
    assert short_titles(lines) == ["Supply", "to Hut", "to Barn"]


def test_the_line_that_lifts_stands_first() -> None:
    assert first_line(small_views.plan()["lines"]) == "delivery"
    assert first_line([]) == ""


def test_a_line_of_a_file_has_no_role_to_ask_for() -> None:
    kinds = {
        kind: options_of({"geometry": {"type": kind}, "properties": {}})
        for kind in ("Point", "Polygon", "LineString")
    }
    assert ("tank", "Tank") in kinds["Point"]
    assert ("avoid", "Keep out") in kinds["Polygon"]
    assert kinds["LineString"] == ()
    assert options_of({"geometry": None, "properties": {}}) == ()


def test_levels_between_two_places() -> None:
    leaf = levels_leaf(LEVELS)
    assert dict(leaf.facts)["Fall"] == "4.83 m"
    assert leaf.title == "Almost certain, 10 of 10."
