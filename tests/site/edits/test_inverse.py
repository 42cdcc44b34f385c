"""An edit and the one that takes it back leave the same site, whatever the sketch is written in."""

from dataclasses import replace
from functools import cache, reduce
from pathlib import Path
from tempfile import mkdtemp

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from planner.errors import InputError, SketchError
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.incomplete import incomplete_site
from planner.site.edits.open import draft_site
from planner.site.edits.value import (
    AddArea,
    AddPoint,
    AddTable,
    DeleteArea,
    DeletePoint,
    Edit,
    LonLat,
    MovePoint,
    RenamePoint,
    SetArea,
    SetPoint,
    SetValue,
    ShapeArea,
)
from planner.site.value import Point, Site
from planner.site.words import clean_text
from planner.site.write import same_site
from tests.site.edits.drafts import (
    POINTS,
    both_draft,
    geojson_draft,
    metres_draft,
    table_draft,
    written_draft,
)

pytestmark = pytest.mark.slow

PLAIN = (geojson_draft, written_draft, both_draft, metres_draft, table_draft)
DRAWN = PLAIN[:-1]


@cache
def opened(way: int) -> Draft:
    return PLAIN[way](Path(mkdtemp(prefix="headfall-edits-")))


DRAFTS = st.integers(0, len(PLAIN) - 1).map(opened)
WITH_AREAS = st.integers(0, len(DRAWN) - 1).map(opened)
PLACES = st.tuples(st.integers(0, 10**5), st.integers(0, 10**5)).map(
    lambda steps: (round(11.15 + steps[0] * 1e-6, 7), round(47.25 + steps[1] * 1e-6, 7))
)
NAMES = st.text("abzÄß_<&>'\"\\#[]=💧\u202e\x00\n ", min_size=1, max_size=30).filter(
    lambda name: clean_text(name) and clean_text(name).casefold() not in POINTS
)
OF_POINTS = st.sampled_from(list(POINTS))


def named(site: Site, name: str) -> Point:
    return next(point for point in site.sketch.points if point.name == name)


def exact(site: Site) -> Site:
    """The site's places to the centimetre, as edits write them; its text left aside."""
    points = tuple(
        replace(point, at=(round(point.at[0], 7), round(point.at[1], 7)))
        for point in site.sketch.points
    )
    return replace(site, sketch=replace(site.sketch, points=points, ignored=()), text="")


def unordered(site: Site) -> Site:
    """The site with points of one role in their order, whatever lies between them."""
    points = sorted(site.sketch.points, key=lambda point: (point.role, point.line or ""))
    return replace(site, sketch=replace(site.sketch, points=tuple(points)))


@settings(max_examples=30, deadline=None)
@given(DRAFTS, OF_POINTS, PLACES)
def test_a_point_moved_and_moved_back(draft: Draft, name: str, place: LonLat) -> None:
    before = draft_site(draft)
    there = edited(draft, MovePoint(name, place))
    assert named(draft_site(there), name).at == place
    back = edited(there, MovePoint(name, named(before, name).at))
    assert same_site(exact(draft_site(back)), exact(before))


@settings(max_examples=30, deadline=None)
@given(DRAFTS, OF_POINTS, NAMES)
def test_a_point_renamed_and_called_as_before(draft: Draft, name: str, new: str) -> None:
    there = edited(draft, RenamePoint(name, new))
    back = edited(there, RenamePoint(clean_text(new), name))
    assert same_site(exact(draft_site(back)), exact(draft_site(draft)))


@settings(max_examples=30, deadline=None)
@given(DRAFTS, st.sampled_from(["source", "chamber", "pump", "tank", "outlet", "way"]), PLACES)
def test_a_point_placed_and_taken_away(draft: Draft, role: str, place: LonLat) -> None:
    line = "supply" if role == "way" else None
    there = edited(draft, AddPoint(role, place, "brought", line))  # type: ignore[arg-type]
    back = edited(there, DeletePoint("brought"))
    assert same_site(exact(draft_site(back)), exact(draft_site(draft)))
    assert edited(back, AddPoint(role, place, "brought", line)) == there  # type: ignore[arg-type]


@settings(max_examples=20, deadline=None)
@given(DRAFTS, OF_POINTS)
def test_a_point_taken_away_and_placed_again(draft: Draft, name: str) -> None:
    before = draft_site(draft)
    gone = edited(draft, DeletePoint(name))
    role, _, _, said = POINTS[name]
    next_peg = "second peg" if name == "first peg" else None
    again = AddPoint(
        role,  # type: ignore[arg-type]
        named(before, name).at,
        name,
        said.get("line"),  # type: ignore[arg-type]
        next_peg,
    )
    told = [SetPoint(name, key, value) for key, value in said.items() if key != "line"]
    back = reduce(edited, told, edited(gone, again))
    assert same_site(unordered(exact(draft_site(back))), unordered(exact(before)))


@settings(max_examples=20, deadline=None)
@given(WITH_AREAS, st.integers(0, 1), st.lists(PLACES, min_size=3, max_size=3, unique=True))
def test_an_area_reshaped_and_shaped_as_before(draft: Draft, area: int, ring: list[LonLat]) -> None:
    before = draft_site(edited(draft, MovePoint("tank", (11.2, 47.3011))))
    old = before.sketch.areas[area].shape
    corners = tuple((x, y) for x, y in old.exterior.coords)
    assume(Polygon(ring).area > 0.0)
    there = edited(draft, ShapeArea(area, tuple(ring)))
    back = draft_site(edited(there, ShapeArea(area, corners)))
    assert back.sketch.areas[area].shape.equals_exact(old, 1e-7)
    others = [*before.sketch.areas[:area], *before.sketch.areas[area + 1 :]]
    assert [*back.sketch.areas[:area], *back.sketch.areas[area + 1 :]] == others


@settings(max_examples=20, deadline=None)
@given(WITH_AREAS, st.integers(0, 1), st.integers(1, 400), st.booleans())
def test_what_is_told_of_an_area_and_told_as_before(
    draft: Draft, area: int, depth: int, told: bool
) -> None:
    before = draft_site(draft)
    there = edited(draft, SetArea(area, "deepest_trench", f"{depth} cm" if told else None))
    deepest = draft_site(there).sketch.areas[area].deepest_trench
    assert deepest == (pytest.approx(depth / 100) if told else None)
    back = edited(there, SetArea(area, "deepest_trench", None))
    assert same_site(exact(draft_site(back)), exact(before))


@settings(max_examples=20, deadline=None)
@given(DRAFTS, st.lists(PLACES, min_size=3, max_size=6, unique=True))
def test_an_area_drawn_and_taken_away(draft: Draft, ring: list[LonLat]) -> None:
    before = draft_site(draft)
    if not (Polygon(ring).is_valid and Polygon(ring).area > 0.0):
        with pytest.raises(SketchError, match="the outline"):
            edited(draft, AddArea("avoid", tuple(ring)))
        return
    there = edited(draft, AddArea("avoid", tuple(ring)))
    assert len(draft_site(there).sketch.areas) == len(before.sketch.areas) + 1
    back = edited(there, DeleteArea(len(before.sketch.areas)))
    assert same_site(exact(draft_site(back)), exact(before))


VALUES = st.sampled_from(
    [
        (("need", "per_day"), "3 m3", None),
        (("need", "count"), {"sheep": 3}, None),
        (("source", "flow"), "12 L/min", "30 L/min"),
        (("source", "measured"), "2026-09-01", "2026-08-20"),
        (("title",), 'Upper "Hollow" #2', "Larch Hollow"),
        (("units",), "us", None),
        (("lines", "delivery", "deepest_trench"), "1.5 m", None),
        (("lines", "delivery", "fittings"), {"elbow": 2}, None),
        (("tank", "days"), "30", None),
        (("elevation", "files"), ["a.tif", "b\\c.tif"], ["hollow-dem.tif"]),
    ]
)


@settings(max_examples=30, deadline=None)
@given(DRAFTS, st.lists(VALUES, min_size=1, max_size=5))
def test_values_set_and_set_back(draft: Draft, values: list[tuple[object, ...]]) -> None:
    there = draft
    for path, value, _ in values:
        there = edited(there, SetValue(path, value))  # type: ignore[arg-type]
    back = there
    for path, _, old in values:
        back = edited(back, SetValue(path, old))  # type: ignore[arg-type]
    assert not same_site(draft_site(there), draft_site(draft))
    assert same_site(draft_site(back), draft_site(draft))
    for word in ("# the whole valley", "# flown in spring", "# bucket and watch"):
        assert word in there.site


EDITS = st.one_of(
    st.builds(MovePoint, OF_POINTS, PLACES),
    st.builds(RenamePoint, OF_POINTS, NAMES),
    st.builds(AddPoint, st.sampled_from(["tank", "outlet", "chamber"]), PLACES),
    st.builds(DeletePoint, OF_POINTS),
    st.builds(SetPoint, OF_POINTS, st.just("height"), st.sampled_from(["1 m", "3 ft", None, "x"])),
    st.builds(AddArea, st.just("avoid"), st.lists(PLACES, max_size=5).map(tuple)),
    st.builds(DeleteArea, st.integers(-1, 3)),
    st.builds(SetArea, st.integers(0, 2), st.just("name"), NAMES),
    st.builds(SetValue, st.just(("title",)), NAMES),
    st.builds(
        AddTable,
        st.just(("fit",)),
        PLACES.map(lambda at: {"line": "delivery", "kind": "vent", "at": list(at)}),
    ),
    st.just(SetValue(("fit", "0"), None)),
)


@settings(max_examples=30, deadline=None)
@given(DRAFTS, st.lists(EDITS, min_size=1, max_size=8))
def test_a_draft_stays_one_that_can_be_read_whatever_is_done_to_it(
    draft: Draft, edits: list[Edit]
) -> None:
    for edit in edits:
        try:
            after = edited(draft, edit)
        except InputError:
            continue
        incomplete_site(after)
        after.site.encode()
        after.sketch.encode()
        draft = after
