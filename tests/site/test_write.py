import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Point, box

from planner.site.defaults import default_line
from planner.site.read import LINE_ROLES, read_site, site_from_text
from planner.site.value import (
    Area,
    Crossing,
    Elevation,
    Fill,
    Laying,
    MeasuredDelivery,
    OwnPipe,
    Pipe,
    PoweredPump,
    Ram,
    Site,
    Sketch,
    Source,
    Tank,
)
from planner.site.value import Point as Place
from planner.site.write import portable, same_site
from tests.example import example_plan
from tests.site.example import SKETCH, site_text, write_site
from tests.site.water import WATER


def _again(site: Site, folder: Path) -> Site:
    return site_from_text(portable(site, folder), folder)


def test_a_site_file_with_its_sketch_keeps_every_word(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path))
    text = portable(site, tmp_path / "plan" / "2026")
    assert text == site.text.replace("hollow-dem.tif", "../../hollow-dem.tif")
    assert same_site(site_from_text(text, tmp_path / "plan" / "2026"), site)


def test_the_folder_of_a_plan_can_be_planned_again_and_again(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path))
    for folder in (tmp_path / "a", tmp_path / "b" / "c", tmp_path):
        folder.mkdir(parents=True, exist_ok=True)
        site = read_site(write_site(folder, portable(site, folder), "site.toml"))
    assert same_site(site, read_site(tmp_path / "hollow.toml"))


def test_a_sketch_file_is_taken_into_the_text_and_comments_stay(tmp_path: Path) -> None:
    (tmp_path / "s.csv").write_text(
        "name,lon,lat\nspring,11.2,47.3\ntank,11.21,47.31\n", encoding="utf-8"
    )
    rest = '[use]  # all year\nfrost_depth = "2 ft"  # ask the neighbour\n'
    site = read_site(
        write_site(tmp_path, site_text(head="", rest=rest, sketch='[sketch]\nfile = "s.csv"\n'))
    )
    text = portable(site, tmp_path / "plan")
    assert 'frost_depth = "2 ft"  # ask the neighbour' in text
    assert "s.csv" not in text
    assert tomllib.loads(text)["title"] == "hollow"
    assert same_site(site_from_text(text, tmp_path / "plan"), site)


def test_a_site_changed_in_python_is_written_as_it_is_now(tmp_path: Path) -> None:
    site = replace(read_site(write_site(tmp_path)), need=2.0, units="us")
    assert same_site(_again(site, tmp_path), site)
    moved = replace(site.sketch.points[2], at=(11.25, 47.35))
    points = (*site.sketch.points[:2], moved, *site.sketch.points[3:])
    site = replace(site, sketch=replace(site.sketch, points=points))
    assert same_site(_again(site, tmp_path), site)


def test_a_site_that_tells_of_its_water_keeps_every_word(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=WATER)))
    text = portable(site, tmp_path / "plan")
    assert WATER in text
    assert same_site(site_from_text(text, tmp_path / "plan"), site)
    assert same_site(_again(replace(site, text=""), tmp_path), site)


CHANGES = [
    {"demand": {"sheep": 31.0}},
    {"each": {"sheep": 0.006}},
    {"tank": Tank(volume=5.0, days=30)},
    {"tank": Tank(5.0, 2.5, 1.3)},
    {"temperature": 11.0},
    {"own_pipes": ()},
    {"ram": Ram(closing_velocity=0.9)},
    {"source": Source(timings=(Fill(0.02, 39.0),))},
    {"source": Source(flow=5e-4, season_factor=(0.2, 0.4))},
]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: next(iter(change)))
def test_each_change_of_the_water_in_python_is_written(
    change: dict[str, Any], tmp_path: Path
) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=WATER)))
    changed = replace(site, **change)
    assert not same_site(changed, site)
    assert same_site(_again(changed, tmp_path), changed)


def test_of_a_pipe_named_by_its_size_the_name_counts_and_not_the_bore(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=WATER)))

    def with_pipe(**changes: Any) -> Site:
        line = site.lines["delivery"]
        line = replace(line, pipe=replace(line.pipe, **changes))
        return replace(site, lines={**site.lines, "delivery": line})

    assert same_site(with_pipe(bore=0.0262, rating=98.0), site)
    for change in (
        {"size": "3/4 in"},
        {"size": None},
        {"standard": None},
        {"pressure_class": "PN 16"},
        {"fittings": (("elbow", 3),)},
    ):
        changed = with_pipe(**change)
        assert not same_site(changed, site)
        assert same_site(_again(changed, tmp_path), changed)


def test_only_the_sketch_is_new_where_only_it_was_changed(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path))
    text = portable(replace(site, sketch=replace(site.sketch, areas=())), tmp_path)
    assert "# the whole valley" in text
    assert "bog" not in text


def test_the_example_plans_site_is_written(tmp_path: Path) -> None:
    site = example_plan().site
    assert site.text == ""
    assert same_site(_again(site, tmp_path), site)


def test_areas_with_holes_parts_and_many_corners_come_back_exactly(tmp_path: Path) -> None:
    circle = Point(11.2, 47.3).buffer(0.01, quad_segs=300)
    parts = MultiPolygon([box(0, 0, 1, 1).difference(box(0.2, 0.2, 0.4, 0.4)), box(2, 0, 3, 1)])
    areas = (
        Area("circle", "costly", circle, factor=2.5, deepest_trench=0.3),
        Area("o\"w'n", "owner", parts),
    )
    site = read_site(write_site(tmp_path))
    site = replace(site, sketch=replace(site.sketch, areas=areas), text="")
    assert same_site(_again(site, tmp_path), site)


NAMES = st.text("abzÄß_<&>'\"\\#[]=💧", max_size=20)
LONLAT = st.tuples(st.floats(-179, 179), st.floats(-89, 89))
LAYINGS = st.builds(
    lambda cover, slack, grade, cost, digging, side, leg: Laying(
        "buried",
        cover,
        cover + slack,
        grade,
        cost,
        dig_cost=digging,
        side_slope=side,
        bend_cost=cost / 10,
        least_leg=leg,
    ),
    st.floats(0, 3),
    st.floats(0, 2),
    st.floats(0.001, 0.3),
    st.floats(0, 1000),
    st.floats(0, 1000),
    st.none() | st.floats(0.01, 2),
    st.floats(0, 100),
) | st.builds(
    lambda prop, grade: Laying("surface", 0.0 - prop, 0.0, grade),
    st.floats(0, 3),
    st.floats(0.001, 0.3),
)


LABELS = st.text("abzÄß_<&>'\"\\#[]=.💧 ", min_size=1, max_size=40).filter(str.strip)
FLOWS = st.floats(1e-6, 0.9)
SOURCES = st.builds(
    Source, flow=FLOWS, share_left=st.floats(0, 1), season=st.sampled_from(["dry", "wet", None])
) | st.builds(
    lambda fills, factor: Source(timings=tuple(fills), season_factor=(factor / 2, factor)),
    st.lists(st.builds(Fill, st.floats(0.001, 1), st.floats(2, 1000)), min_size=1, max_size=5),
    st.floats(0, 1),
)
MEASURED = st.builds(
    lambda flow, fall, ratio, share: MeasuredDelivery(
        flow, fall, fall * ratio, max(flow * share / ratio, 2e-7)
    ),
    st.floats(1e-5, 0.9),
    st.floats(0.5, 20),
    st.floats(1.5, 30),
    st.floats(0.1, 0.9),
)
RAMS = st.builds(
    Ram,
    st.sampled_from(["commercial", "home-made"]),
    st.none() | st.floats(0.05, 10),
    st.lists(MEASURED, max_size=3).map(tuple),
)
OWN_PIPES = st.builds(
    OwnPipe,
    standard=LABELS,
    size=LABELS,
    bore=st.floats(0.003, 0.5),
    outside=st.floats(0.51, 1.2),
    rating=st.floats(1, 5000),
    roughness=st.floats(0, 0.01),
    bend_radius=st.none() | st.floats(0.01, 500),
    coil=st.none() | st.floats(0.5, 5000),
)
TANKS = st.builds(
    Tank, st.none() | st.floats(0.001, 1e5), st.none() | st.floats(0.01, 1e4), st.floats(0, 30)
)
SIZED = st.builds(
    lambda size, standard, fittings: Pipe(
        0.02, 60.0, size=size, standard=standard, fittings=tuple(fittings.items())
    ),
    LABELS,
    st.none() | LABELS,
    st.dictionaries(st.sampled_from(["elbow", "ball valve", "tee run"]), st.integers(0, 1000)),
)
BORED = st.builds(Pipe, st.floats(0.003, 0.5), st.floats(1, 1000), st.floats(0, 0.01))


@st.composite
def crossings(draw: st.DrawFn) -> Crossing:
    path = draw(st.lists(LONLAT, min_size=2, max_size=4, unique=True))
    return Crossing("c" + draw(NAMES), LineString(path), draw(st.floats(0, 10_000)))


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """A site as a Python user may make it, within the limits of the file."""
    lon, lat = draw(LONLAT)
    east, north = draw(st.tuples(st.floats(-0.2, 0.2), st.floats(-0.2, 0.2)))
    spring = Place("spring_" + draw(NAMES), "source", (lon, lat))
    tank = Place("tank", "tank", (lon + east, lat + north), height=draw(st.floats(-5, 30)))
    lines = {role: default_line(role) for role in LINE_ROLES}
    lines["delivery"] = replace(
        lines["delivery"],
        laying=draw(LAYINGS),
        pipe=draw(BORED | SIZED),
        siphon=draw(st.booleans()),
    )
    greatest, bend = draw(st.none() | st.floats(0.1, 0.5)), draw(st.booleans())
    waste, drive = lines["waste"], lines["drive"]
    lines["waste"] = replace(waste, laying=replace(waste.laying, greatest_grade=greatest))
    lines["drive"] = replace(drive, laying=replace(drive.laying, bend=bend))
    curve = ((0.0, draw(st.floats(20, 90))), (draw(st.floats(1e-4, 0.9)), 10.0))
    return Site(
        title="t" + draw(NAMES),
        elevation=Elevation((Path("/data/dem.tif"),), margin=draw(st.floats(0, 20_000))),
        sketch=Sketch((spring, tank), crossings=tuple(draw(st.lists(crossings(), max_size=2)))),
        lines=lines,
        units=draw(st.sampled_from(["metric", "us"])),
        source=draw(SOURCES),
        ram=draw(RAMS),
        powered=draw(st.none() | st.just(PoweredPump(curve, draw(st.floats(0.1, 24))))),
        need=draw(st.none() | st.floats(0.01, 1e4)),
        season=draw(st.sampled_from(["all-year", "summer"])),
        frost_depth=draw(st.none() | st.floats(0, 6)),
        flood_mark=draw(st.none() | st.floats(0, 5)),
        demand=draw(st.dictionaries(LABELS, st.floats(0, 1e6), max_size=4)),
        tank=draw(TANKS),
        temperature=draw(st.floats(0, 60)),
        stream_cost=draw(st.floats(0, 10_000)),
        own_pipes=tuple(draw(st.lists(OWN_PIPES, max_size=2))),
    )


@settings(max_examples=60, deadline=None)
@given(sites())
def test_any_site_made_in_python_comes_back_bit_for_bit(site: Site) -> None:
    again = _again(site, Path("/somewhere/else"))
    assert same_site(again, site)


@pytest.mark.parametrize("text", [site_text(), site_text(sketch=SKETCH.replace("2 m", "2.5 m"))])
def test_the_same_is_told_from_the_changed(text: str, tmp_path: Path) -> None:
    site = site_from_text(site_text(), tmp_path)
    assert same_site(site, site_from_text(text, tmp_path)) == (text == site_text())
