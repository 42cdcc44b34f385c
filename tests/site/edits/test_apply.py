"""Each edit on a sketch written in every way: what it changes, and that it changes nothing else."""

import json
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from planner.errors import InputError, SiteError, SketchError
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.incomplete import incomplete_site
from planner.site.edits.open import draft_site, open_draft
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
from planner.site.read import read_site
from planner.site.value import Site
from planner.site.write import same_site
from tests.site.edits.drafts import (
    BOG,
    WAYS,
    feature,
    geojson_draft,
    swapped_draft,
    table_draft,
    written_draft,
)

DEMO = Path(__file__).parents[3] / "planner" / "demo" / "larch-hollow.toml"
BELOW = (11.2003, 47.2993)
RING = ((11.2016, 47.3), (11.2018, 47.3), (11.2018, 47.3004))

Way = Callable[[Path], Draft]

every_way = pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)


def saved(draft: Draft) -> Site:
    """The site as it is read from the disk once the draft is written there."""
    draft.site_path.write_text(draft.site, encoding="utf-8")
    if draft.sketch_path is not None:
        draft.sketch_path.write_text(draft.sketch, encoding="utf-8")
    return read_site(draft.site_path)


def shown(site: Site) -> dict[str, tuple[object, ...]]:
    return {p.name: (p.role, p.at, p.line, p.height, p.flow) for p in site.sketch.points}


def placed(edit: Edit, way: Way) -> Edit:
    """The edit where the sketch lies: of one that was swapped, at 147° E."""
    if way is not swapped_draft:
        return edit
    match edit:
        case MovePoint() | AddPoint():
            return replace(edit, at=(edit.at[1] + 100.0, edit.at[0]))
        case AddArea() | ShapeArea():
            return replace(edit, ring=tuple((lat + 100.0, lon) for lon, lat in edit.ring))
        case AddFeatures():
            return AddFeatures((feature("Point", [147.3001, 11.2033], role="outlet"),))
        case _:
            return edit


EDITS: list[Edit] = [
    MovePoint("tank", BELOW),
    AddPoint("chamber", BELOW),
    AddPoint("way", BELOW, line="delivery", before="second peg"),
    RenamePoint("ram", "lower ram"),
    SetPoint("tank", "height", "1.5 m"),
    SetPoint("trough", "flow", None),
    DeletePoint("first peg"),
    AddArea("owner", RING, "Upper Farm"),
    ShapeArea(0, RING),
    SetArea(0, "deepest_trench", "0.4 m"),
    DeleteArea(0),
    AddFeatures((feature("Point", [11.2033, 47.3001], name="hut", role="outlet"),)),
]


@every_way
@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: type(edit).__name__)
def test_what_is_saved_is_read_again_and_is_what_the_draft_says(
    edit: Edit, way: Way, tmp_path: Path
) -> None:
    draft = way(tmp_path)
    if way is table_draft and isinstance(edit, ShapeArea | SetArea | DeleteArea):
        with pytest.raises(SketchError, match=r"there is no area no\. 1; the sketch has 0"):
            edited(draft, edit)
        return
    before = draft_site(draft)
    edit = placed(edit, way)
    after = edited(draft, edit)
    site = draft_site(after)
    assert not same_site(site, before)
    assert same_site(saved(after), site)
    assert replace(site, sketch=before.sketch, text="", folder=None) == replace(
        before, text="", folder=None
    )


@every_way
def test_a_point_is_moved_and_no_other(way: Way, tmp_path: Path) -> None:
    draft = way(tmp_path)
    there = (147.3003, 11.2) if way is swapped_draft else (11.2001234, 47.3004321)
    before, after = (
        shown(draft_site(draft)),
        shown(draft_site(edited(draft, MovePoint("tank", there)))),
    )
    role, at, *rest = before.pop("tank")
    assert (at, after.pop("tank")) == (at, (role, there, *rest))
    assert list(after) == list(before)
    for name, (role, at, *rest) in before.items():
        assert after[name][0] == role
        assert after[name][1] == pytest.approx(at, abs=1e-9)
        assert list(after[name][2:]) == rest


@every_way
def test_the_first_change_gathers_the_sketch_in_one_file(way: Way, tmp_path: Path) -> None:
    draft = way(tmp_path)
    at = (147.3, 11.2001) if way is swapped_draft else BELOW
    after = edited(draft, MovePoint("tank", at))
    sketch = tomllib.loads(after.site)["sketch"]
    assert sketch == {"file": after.sketch_name}
    own = way.__name__ in ("geojson_draft", "both_draft")
    assert after.sketch_name == ("s.geojson" if own else "hollow-sketch.geojson")
    assert "# bucket and watch" in after.site
    assert "# flown in spring" in after.site
    names = [member["properties"].get("name") for member in json.loads(after.sketch)["features"]]
    assert ("Track 7" in names) == own  # a walk stays where it was found
    assert edited(after, MovePoint("ram", at)).site == after.site


def test_a_new_sketch_file_takes_the_place_of_none_that_is_there(tmp_path: Path) -> None:
    (tmp_path / "hollow-sketch.geojson").write_text("mine", encoding="utf-8")
    after = edited(written_draft(tmp_path), DeletePoint("trough"))
    assert after.sketch_name == "hollow-sketch-2.geojson"


def test_only_the_line_of_the_feature_that_is_moved_changes_in_the_demo() -> None:
    draft = open_draft(DEMO)
    after = edited(draft, MovePoint("Tank", (-3.1991, 45.0129)))
    changed = [
        (old, new)
        for old, new in zip(draft.sketch.splitlines(), after.sketch.splitlines(), strict=True)
        if old != new
    ]
    assert after.site == draft.site
    assert changed == [
        (
            '{"type": "Feature", "properties": {"name": "Tank", "role": "tank"}, "geometry": '
            '{"type": "Point", "coordinates": [-3.199092, 45.012858]}},',
            '{"type": "Feature", "properties": {"name": "Tank", "role": "tank"}, "geometry": '
            '{"type": "Point", "coordinates": [-3.1991, 45.0129]}},',
        )
    ]
    assert edited(after, MovePoint("tank", (-3.199092, 45.012858))) == draft


def test_a_site_needs_nothing_but_its_elevation_to_be_begun(tmp_path: Path) -> None:
    draft = written_draft(tmp_path)
    for name in ("spring", "ram", "first peg", "second peg", "trough", "tank"):
        draft = edited(draft, DeletePoint(name))
    assert incomplete_site(draft).missing.startswith("Place the source")
    assert incomplete_site(draft).points == ()
    with pytest.raises(SketchError, match="no source"):
        draft_site(draft)
    draft = edited(draft, AddPoint("source", BELOW))
    assert incomplete_site(draft).missing.startswith("Place a tank, or an outlet")
    draft = edited(draft, AddPoint("outlet", (11.2, 47.3)))
    assert incomplete_site(draft).missing == ""
    assert [p.name for p in draft_site(draft).sketch.points] == ["Source", "Outlet"]


def test_several_edits_are_judged_by_how_they_end(tmp_path: Path) -> None:
    place = ("lines", "delivery")
    draft = edited(geojson_draft(tmp_path), SetValue((*place, "pipe"), "1 in"))
    rating = SetValue((*place, "rating"), "60 m")
    with pytest.raises(SiteError, match="already tells the rating"):
        edited(draft, rating)
    bore = SetValue((*place, "bore"), "20 mm")
    after = draft_site(edited(draft, Several("a pipe of ours", (rating, bore))))
    pipe = after.lines["delivery"].pipe
    assert (pipe.size, pipe.bore, pipe.rating) == (None, 0.02, 60.0)


def test_what_cannot_stand_beside_a_new_value_makes_way() -> None:
    demo = open_draft(DEMO)
    after = edited(demo, SetValue(("lines", "delivery", "pipe"), "1 in"))
    line = draft_site(after).lines["delivery"]
    assert line.pipe.size == "1 in"
    assert line.laying == draft_site(demo).lines["delivery"].laying
    above = edited(demo, SetValue(("lines", "delivery", "laid"), "surface"))
    assert draft_site(above).lines["delivery"].laying.least_cover < 0.0
    above = edited(above, SetValue(("lines", "delivery", "propped"), "0.2 m"))
    below = edited(above, SetValue(("lines", "delivery", "laid"), "buried"))
    assert draft_site(below).lines["delivery"].laying.least_cover == 0.5


REFUSED: list[tuple[Edit, str]] = [
    (MovePoint("well", BELOW), 'no point called "well"; the points are "spring", "ram"'),
    (MovePoint("tank", (11.2, float("nan"))), '"tank": 11.2, nan is no longitude'),
    (MovePoint("tank", (211.2, 47.3)), "is no longitude and latitude in degrees"),
    (MovePoint("tank", (11.2, 48.3)), 'the point "tank" at 11.200000, 48.300000 lies 111 km'),
    (AddPoint("tank", (11.202, 47.301)), "have one role, tank, and one place"),
    (AddPoint("tank", BELOW, "TROUGH"), 'a point is called "trough" already'),
    (AddPoint("tank", BELOW, "x" * 81), "has 81 characters"),
    (AddPoint("way", BELOW), "a way point needs the line"),
    (AddPoint("tank", BELOW, line="delivery"), "no other point has one"),
    (AddPoint("way", BELOW, line="supply", before="first peg"), '"first peg" is no way point'),
    (AddPoint("way", BELOW, line="delivery", before="tank"), '"tank" is no way point'),
    (RenamePoint("tank", "  "), 'the point "tank" needs a name'),
    (RenamePoint("tank", "Ram"), 'a point is called "ram" already'),
    (SetPoint("tank", "height", "2"), 'height: "2" has no unit'),
    (SetPoint("tank", "role", "pump"), '"role" is not told of a point'),
    (AddArea("avoid", RING[:2]), "the new area needs three corners"),
    (AddArea("avoid", (RING[0], RING[0], RING[1])), "the new area needs three corners"),
    (AddArea("avoid", ((0, 0), (1, 1), (1, 0), (0, 1))), "crosses itself"),
    (ShapeArea(2, RING), "there is no area no. 3; the sketch has 2"),
    (ShapeArea(-1, RING), "there is no area no. 0"),
    (SetArea(0, "colour", "red"), '"colour" is not told of an area'),
    (SetArea(0, "role", None), 'the area "bog" needs a role'),
    (SetArea(0, "role", "lake"), '"lake" is not one of the words'),
    (SetArea(1, "factor", 0.2), "factor"),
    (SetValue(("source", "flow"), "fast"), '"fast" is not a number with a unit'),
    (SetValue(("source", "speed"), "1 m/s"), 'there is no key "speed" here'),
    (SetValue(("sketch", "file"), "/etc/passwd"), "are changed one by one"),
    (SetValue((), "x"), "are changed one by one"),
    (SetValue(("title", "of"), "x"), '"title" of the site file holds no tables'),
    (AddTable(("title",), {"a": 1}), '"title" of the site file holds no tables'),
    (AddTable(("fit",), {"line": "delivery"}), 'the key "kind" is missing'),
    (AddFeatures((feature("Point", [11.2, 47.31], name="005"),)), 'nothing tells what "005" is'),
    (AddFeatures((feature("Point", [11.2, 47.31], name="a", role="well"),)), '"well" is not one'),
    (AddFeatures((feature("Point", [11.202, 47.301], role="tank"),)), "is in the sketch already"),
    (AddFeatures(()), "nothing is changed"),
    (AddFeatures(({"type": "Feature", "geometry": {"type": "Point"}},)), "geometry is broken"),
]


@pytest.mark.parametrize(("edit", "words"), REFUSED, ids=lambda one: str(one)[:40])
def test_what_cannot_be_is_refused_in_a_sentence(edit: Edit, words: str, tmp_path: Path) -> None:
    draft = geojson_draft(tmp_path)
    with pytest.raises(InputError) as caught:
        edited(draft, edit)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 400


HOSTILE = [
    "<img src=x onerror=alert(1)>",
    'a", "role": "source',
    "a'\\\"]}\n[source]\nflow = 1",
    "{{7*7}} ${x} %s",
    "\u202egnirps\u202c",
    "half \ud83d",
    "\x00\x1b[31mred",
    "水 💧",
]


@every_way
@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_data(name: str, way: Way, tmp_path: Path) -> None:
    draft = edited(way(tmp_path), RenamePoint("tank", name))
    site = draft_site(draft)
    assert len(site.sketch.points) == 6
    assert site.sketch.points[4].role == "tank"
    kept = site.sketch.points[4].name
    assert kept.isprintable()
    assert "<" not in name or kept == name
    assert same_site(saved(draft), site)
    assert [p.name for p in draft_site(edited(draft, DeletePoint(kept))).sketch.points] == [
        "spring",
        "ram",
        "first peg",
        "second peg",
        "trough",
    ]


def test_features_of_another_file_get_names_of_their_own(tmp_path: Path) -> None:
    added = (
        feature("Point", [11.2031, 47.3001, 812.0], name="Tank", role="tank", sym="Flag, Blue"),
        feature("Point", [11.2032, 47.3002], name=None, role="outlet", flow="4 L/min"),
        feature("Point", [11.202, 47.301], name="again", role="tank"),
        feature("Polygon", [BOG], name="land of Mill Farm"),
    )
    draft = edited(geojson_draft(tmp_path), AddFeatures(added))
    site = draft_site(draft)
    assert [p.name for p in site.sketch.points[6:]] == ["Tank 2", "Outlet"]
    assert site.sketch.points[7].flow == pytest.approx(4e-3 / 60)
    assert [area.role for area in site.sketch.areas] == ["avoid", "costly", "owner"]
    assert json.loads(draft.sketch)["features"][-3]["properties"] == {
        "name": "Tank 2",
        "role": "tank",
    }


def test_a_hole_in_an_area_outlives_a_new_outline(tmp_path: Path) -> None:
    outer = [[11.2, 47.3], [11.21, 47.3], [11.21, 47.31], [11.2, 47.3]]
    hole = [[11.207, 47.302], [11.208, 47.302], [11.208, 47.304], [11.207, 47.302]]
    draft = edited(
        geojson_draft(tmp_path),
        AddFeatures((feature("Polygon", [outer, hole], role="avoid"),)),
    )
    ring = ((11.2, 47.3), (11.215, 47.3), (11.21, 47.31))
    shape = draft_site(edited(draft, ShapeArea(2, ring))).sketch.areas[2].shape
    assert len(shape.interiors) == 1
    assert shape.exterior.coords[1] == (11.215, 47.3)
    apart = [[lon + 0.02, lat] for lon, lat in outer]
    pieces = feature("MultiPolygon", [[outer], [apart]], role="stay", name="two")
    draft = edited(geojson_draft(tmp_path), AddFeatures((pieces,)))
    with pytest.raises(SketchError, match='"two" lies in 2 pieces'):
        edited(draft, ShapeArea(2, ring))


def test_a_role_that_a_name_told_outlives_the_name(tmp_path: Path) -> None:
    members = [
        feature("Point", [11.2, 47.3], Name="Spring"),
        feature("Point", [11.21, 47.31], Name="upper tank"),
        feature("Polygon", [BOG], name="keep out"),
    ]
    draft = geojson_draft(tmp_path)
    draft = replace(draft, sketch=json.dumps({"type": "FeatureCollection", "features": members}))
    draft = edited(draft, RenamePoint("Spring", "Old Anna"))
    draft = edited(draft, RenamePoint("upper tank", "the tank"))
    draft = edited(draft, SetArea(0, "name", "bog"))
    told = [member["properties"] for member in json.loads(draft.sketch)["features"]]
    assert told == [
        {"Name": "Old Anna", "role": "source"},
        {"Name": "the tank"},
        {"name": "bog", "role": "avoid"},
    ]
    assert [p.role for p in draft_site(draft).sketch.points] == ["source", "tank"]


def test_points_that_had_no_name_keep_theirs_when_one_before_them_goes(tmp_path: Path) -> None:
    members = [
        feature("Point", [11.2, 47.3], role="source"),
        feature("Point", [11.21, 47.31], role="tank"),
        feature("Point", [11.211, 47.31], role="tank"),
    ]
    draft = geojson_draft(tmp_path)
    draft = replace(draft, sketch=json.dumps({"type": "FeatureCollection", "features": members}))
    assert [p.name for p in draft_site(draft).sketch.points] == ["source", "tank", "tank 2"]
    draft = edited(draft, DeletePoint("tank"))
    assert [p.name for p in draft_site(draft).sketch.points] == ["source", "tank 2"]


@pytest.mark.parametrize(("kind", "name"), [("ram", "Ram"), ("powered", "Pump")])
def test_the_machine_is_called_what_it_is(kind: str, name: str, tmp_path: Path) -> None:
    pump = {"curve": [["0 L/min", "40 m"], ["30 L/min", "10 m"]]} if kind == "powered" else {}
    draft = edited(geojson_draft(tmp_path), SetValue(("pump",), {"kind": kind, **pump}))
    draft = edited(edited(draft, DeletePoint("ram")), AddPoint("pump", BELOW))
    assert draft_site(draft).sketch.points[-1].name == name


def test_way_points_stay_in_order_along_their_line(tmp_path: Path) -> None:
    draft = geojson_draft(tmp_path)
    for number, before in enumerate(["first peg", "second peg", None, "peg 1"]):
        place = (11.2002 + number * 1e-4, 47.2999)
        edit = AddPoint("way", place, f"peg {number}", line="delivery", before=before)
        draft = edited(draft, edit)
    draft = edited(draft, MovePoint("peg 1", (11.2, 47.2991)))
    names = [p.name for p in draft_site(draft).sketch.role("way")]
    assert names == ["peg 0", "first peg", "peg 3", "peg 1", "second peg", "peg 2"]


def test_a_vent_is_noted_in_the_site_file_and_taken_out_again(tmp_path: Path) -> None:
    draft = geojson_draft(tmp_path)
    fit = {"line": "delivery", "kind": "vent", "at": [11.2, 47.3]}
    one = edited(draft, AddTable(("fit",), fit))
    two = edited(one, AddTable(("fit",), {**fit, "kind": "washout"}))
    assert [f.kind for f in draft_site(two).fit] == ["vent", "washout"]
    assert two.site.startswith(draft.site)
    assert edited(two, SetValue(("fit", "1"), None)).site == one.site
    assert edited(one, SetValue(("fit", "0"), None)).site.rstrip() == draft.site.rstrip()
