"""The desk: plain answers on a small site, and one desk told what another planned."""

import json
from pathlib import Path

import pytest

from planner.errors import InputError, SketchError, TerrainError
from planner.live.desk import Desk
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.open import draft_site
from planner.site.edits.value import AddPoint, MovePoint
from planner.terrain.reach import cells_of
from tests.command import COLS, ROWS, SPRING, TANK, lonlat
from tests.live.drafts import bare_draft, ram_draft, read_whole

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def desk() -> Desk:
    return Desk(lambda _: None)


@pytest.fixture(scope="module")
def draft(tmp_path_factory: pytest.TempPathFactory) -> Draft:
    return ram_draft(tmp_path_factory.mktemp("desk") / "site")


def at(east: float, south: float) -> tuple[float, float]:
    lon, lat = lonlat(east, south)
    return lon, lat


def plain(said: object) -> object:
    """As JSON brings it over; infinite and missing numbers are not JSON's."""
    return json.loads(json.dumps(said, allow_nan=False))


def test_it_says_first_that_the_routines_are_prepared() -> None:
    said: list[str] = []
    Desk(said.append)
    assert said[0].startswith("preparing the routines")


def test_the_ground_is_a_view_and_a_picture(desk: Desk, draft: Draft) -> None:
    found = desk.ground(draft)
    assert plain(found["view"])
    west, south, east, north = found["view"]["bounds"]
    assert (east - west, north - south) == (COLS, ROWS)
    assert found["png"].startswith(b"\x89PNG")
    assert desk.answer(draft, 1)["ground"] == found["name"]


def test_a_sketch_is_drawn_while_it_grows_and_planned_once_it_can_be(
    desk: Desk, tmp_path: Path
) -> None:
    bare = bare_draft(tmp_path)
    view = desk.answer(bare, 1)
    assert (view["state"], view["revision"], view["lines"]) == ("sketch", 1, [])
    assert view["missing"].startswith("Place the source")
    with pytest.raises(InputError, match="place what is missing"):
        desk.water()
    one = edited(bare, AddPoint("source", (SPRING[0], SPRING[1])))
    assert desk.answer(one, 2)["missing"].startswith("Place a tank")
    view = desk.answer(edited(one, AddPoint("tank", (TANK[0], TANK[1]))), 3)
    assert (view["state"], view["missing"]) == ("plan", "")
    assert "main" in [line["name"] for line in view["lines"]]
    assert plain(view)


def test_a_point_off_the_data_is_drawn_and_told(desk: Desk, draft: Draft) -> None:
    view = desk.answer(edited(draft, MovePoint("tank", at(-50, 20))), 7)
    assert view["state"] == "sketch"
    assert "tank" in view["missing"]
    assert "outside the elevation data" in view["missing"]
    with pytest.raises(TerrainError, match="outside the elevation data"):
        desk.refine(edited(draft, MovePoint("tank", at(-50, 20))), 7)


def test_refining_weighs_and_moves_nothing(desk: Desk, draft: Draft) -> None:
    quick, whole = desk.answer(draft, 4), desk.refine(draft, 4)
    assert [line["path"] for line in quick["lines"]] == [line["path"] for line in whole["lines"]]
    assert quick["figures"] == whole["figures"]
    assert quick["revision"] == whole["revision"] == 4


def test_sections_of_the_lines_asked_for(desk: Desk, draft: Draft) -> None:
    desk.answer(draft, 1)
    drawn = desk.sections(["delivery", "no-such-line"])
    assert list(drawn) == ["delivery"]
    assert set(drawn["delivery"]) == {"wide", "medium", "narrow"}
    assert all(svg.lstrip().startswith("<svg") for svg in drawn["delivery"].values())


def test_remedies_are_asked_for_by_finding_and_place(desk: Desk, draft: Draft) -> None:
    view = desk.answer(draft, 1)
    can_do = [f for f in view["findings"] if f["actions"]]
    assert can_do, "no finding of the small site has a remedy"
    first = can_do[0]
    assert isinstance(edited(draft, desk.edit_of(first["number"], 0)), Draft)
    for number, index in ((0, 0), (99, 0), (first["number"], 9), (first["number"], -1)):
        with pytest.raises(InputError, match="no such remedy"):
            desk.edit_of(number, index)


def test_places_and_levels_in_the_terrains_own_metres(desk: Desk, draft: Draft) -> None:
    desk.answer(draft, 1)
    lon, lat = SPRING
    found = desk.place(f"{lat}, {lon}")
    assert found["lonlat"] == pytest.approx([lon, lat])
    assert found["xy"] == pytest.approx([500_050.0, 5_200_100.0], abs=0.05)
    levels = desk.levels((500_050.0, 5_200_100.0), (500_050.0, 5_200_020.0))
    assert levels["distance"] == "80.0 m"
    assert levels["fall"].startswith("falls")
    with pytest.raises(SketchError):
        desk.place("somewhere")


def test_two_drafts_are_compared(desk: Desk, draft: Draft) -> None:
    other = edited(draft, MovePoint("tank", at(30, 12)))
    found = desk.compare(draft, other)
    assert {line["name"] for line in found["lines"]} >= {"delivery", "drive"}
    assert any(row[3] for row in found["rows"])
    assert not any(row[3] for row in desk.compare(draft, draft)["rows"])


def test_five_numbers_need_no_ground() -> None:
    fresh = Desk(lambda _: None)
    numbers = {"source_flow": "54 L/min", "fall": "4 m", "rise": "20 m", "length": "200 m"}
    assert fresh.first_look(numbers | {"need": "500 L"})["figure"]
    with pytest.raises(InputError, match="not read yet"):
        fresh.place("45.01, -3.2")


def test_another_desk_is_told_the_plan_and_follows_as_if_it_were_its_own(
    desk: Desk, draft: Draft
) -> None:
    view = desk.answer(draft, 1)
    (x, y) = next(point["at"] for point in view["points"] if point["name"] == "ram")
    said: list[str] = []
    other = Desk(said.append)
    other.know(draft, desk.told(draft))
    for one in (desk, other):
        one.ready(draft, "ram")
    mine, theirs = (
        one.follow(draft, "ram", (x + 3.0, y - 2.0), "delivery") for one in (desk, other)
    )
    assert mine == theirs
    assert mine["view"]["at"] == [x + 3.0, y - 2.0]
    assert {line["name"] for line in mine["view"]["lines"]} >= {"drive", "delivery"}
    assert set(mine["sections"]) == {"wide", "medium", "narrow"}
    assert not any(words.startswith("routing") for words in said)  # nothing was planned again


def test_following_what_was_never_told_plans_it(draft: Draft) -> None:
    alone = Desk(lambda _: None)
    lines = alone.follow(draft, "tank", (500_044.0, 5_200_104.0), "overflow")["view"]["lines"]
    assert "delivery" in {line["name"] for line in lines}


def test_of_large_data_the_other_desk_reads_the_same_ground(
    draft: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    read_whole(monkeypatch, 7000)
    assert cells_of(draft_site(draft).elevation.files) > 7000
    one, other = Desk(lambda _: None), Desk(lambda _: None)
    first = one.answer(draft, 1)
    moved = edited(draft, MovePoint("trough", at(65, 58)))
    assert one.answer(moved, 2)["ground"] == first["ground"]
    other.know(moved, one.told(moved))
    assert other.ground(moved)["name"] == first["ground"]
