"""The still drawing and the sections: places, scales and looks of their parts."""

import base64
import io
import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from planner.output.look import ROLES
from planner.output.map.along import spots
from planner.output.map.drawing import draw_plan, point_sides, scale_bar, sheet_paper
from planner.output.map.ground import Ground, level_grid, make_ground, shade_png
from planner.output.map.layers import line_strokes
from planner.output.map.naming import name_sides
from planner.output.map.numbers import number_rows
from planner.output.map.paper import Paper, fit_paper
from planner.output.map.scene import make_scene
from planner.output.map.section import FORMATS, draw_section, fit_axes
from planner.output.map.ticks import nice_step, ticks
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.relief import hillshade
from planner.terrain.sample import ground_at
from planner.terrain.value import FloatArray, Terrain
from tests.example import PLACES, example_plan, example_terrain
from tests.output.map.plans import crowded_plan

SVG = "{http://www.w3.org/2000/svg}"


def element(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg.replace("<svg ", f'<svg xmlns="{SVG[1:-1]}" ', 1))  # noqa: S314


def test_paper_keeps_distances_and_north() -> None:
    # Web Mercator on the ellipsoid differs from the ground by up to 0.7 %.
    terrain = example_terrain()
    lonlat = to_lonlat(terrain, [(-100.0, -50.0), (100.0, -50.0), (100.0, 50.0)])
    paper = fit_paper((*lonlat.min(axis=0), *lonlat.max(axis=0)), 700.0)
    a, b, c = paper.place(lonlat)
    assert (b - a) / paper.metre == pytest.approx([200.0, 0.0], abs=1.5)
    assert (c - b) / paper.metre == pytest.approx([0.0, -100.0], abs=0.8)


@given(st.floats(-179, 179), st.floats(-75, 75), st.floats(0, 700), st.floats(0, 500))
def test_lonlat_undoes_place(lon: float, lat: float, x: float, y: float) -> None:
    paper = Paper(700.0, 500.0, 0.4, (lon, lat))
    assert paper.place([paper.lonlat(x, y)])[0] == pytest.approx([x, y], abs=1e-3)


@given(st.floats(0.2, 5.0), st.floats(0.2, 5.0))
def test_all_that_matters_is_on_the_paper(across: float, down: float) -> None:
    west, south = 11.0, 47.0
    box = (west, south, west + across / 1000, south + down / 1000)
    paper = fit_paper(box, 700.0)
    corners = paper.place([(box[0], box[1]), (box[2], box[3])])
    assert np.all(corners > 0)
    assert np.all(corners < [paper.width, paper.height])


def test_the_scale_bar_is_true_and_round() -> None:
    paper = Paper(700.0, 500.0, 2.0, (11.0, 47.0))
    size, words = scale_bar(paper, "metric")
    assert words == "50 m"
    assert size == pytest.approx(100.0)
    size, words = scale_bar(paper, "us")
    assert words == "200 ft"
    assert size == pytest.approx(200 * 0.3048 * 2.0)


def test_each_role_differs_in_colour_stroke_and_letters() -> None:
    scene = make_scene(example_plan())
    svg = str(draw_plan(scene, _ground(), sheet_paper(scene), "metric"))
    root = element(svg)
    strokes = [p.get("stroke") for p in root.findall(f".//{SVG}g[@class='stroke']/{SVG}path")]
    drawn = {line.role for line in scene.lines}
    assert {ROLES[role].colour for role in drawn} <= set(strokes)
    letters = {t.text for t in root.iter(f"{SVG}text") if t.get("class") == "letters"}
    assert letters == {ROLES[role].letters for role in drawn}


def test_rigid_pipe_has_a_double_edge() -> None:
    lines = {line.role: line for line in make_scene(example_plan()).lines}
    rim, edges, core = line_strokes(lines["drive"])
    assert edges["color"] == ROLES["drive"].colour
    assert rim["weight"] > edges["weight"] > core["weight"]
    assert rim["color"] == core["color"]
    assert len(line_strokes(lines["delivery"])) == 2


def test_points_stand_where_they_are() -> None:
    plan = example_plan()
    scene = make_scene(plan)
    paper = sheet_paper(scene)
    root = element(str(draw_plan(scene, _ground(), paper, "metric")))
    glyphs = root.findall(f".//{SVG}g[@class='glyph']")
    places = {}
    for glyph in glyphs:
        name = next(t.text for t in glyph.iter(f"{SVG}text") if t.get("class") == "name")
        places[name] = [float(v) for v in re.findall(r"[-\d.]+", glyph.get("transform") or "")]
    assert set(places) == set(PLACES)
    for point in plan.points:
        assert places[point.name] == pytest.approx(paper.place([point.lonlat])[0], abs=0.06)


def test_sections_have_true_scales() -> None:
    plan = example_plan()
    scene = make_scene(plan)
    for line in scene.lines:
        for page in FORMATS:
            axes = fit_axes(line, page, numbered=True)
            assert axes.up / axes.along == pytest.approx(axes.exaggeration)
            assert axes.x(line.chainage[-1]) <= page.width
            levels = np.concatenate([line.ground, line.pipe])
            assert np.all((axes.y(levels) > axes.top) & (axes.y(levels) < axes.bottom))


def test_a_section_shows_its_turns_rows_and_findings() -> None:
    plan = example_plan()
    scene = make_scene(plan)
    line = next(line for line in scene.lines if line.name == "delivery")
    root = element(str(draw_section(plan, scene, line, FORMATS[0])))
    words = [t.text or "" for t in root.iter(f"{SVG}text")]
    assert {"Chainage, m", "Ground, m", "Pipe, m", "Depth, m"} <= set(words)
    us = replace(plan, site=replace(plan.site, units="us"))
    feet = [t.text or "" for t in element(str(draw_section(us, scene, line, FORMATS[0]))).iter()]
    assert {"Station, ft", "1+00.0", "Ground, ft"} <= set(feet)
    assert words.count("0.62 m") == 2
    assert f"{plan.line('delivery').profile.length:.1f}" in words
    assert any(word.startswith("Vertical scale") for word in words)
    high = plan.line("delivery").high_points[0]
    axes = fit_axes(line, FORMATS[0], numbered=True)
    number = root.find(f".//{SVG}g[@class='number warn']")
    assert number is not None
    place = float(re.findall(r"[-\d.]+", number.get("transform") or "")[0])
    assert place == pytest.approx(axes.x(high.chainage_m), abs=0.06)


def test_a_steep_short_line_still_fits() -> None:
    scene = make_scene(example_plan())
    line = scene.lines[0]
    steep = type(line)(
        **{name: getattr(line, name) for name in line.__slots__ if name not in {"ground", "pipe"}},
        ground=line.ground + 4 * line.chainage,
        pipe=line.pipe + 4 * line.chainage,
    )
    axes = fit_axes(steep, FORMATS[0], numbered=False)
    assert axes.exaggeration == 1.0
    assert np.all(axes.y(steep.ground) > axes.top)


def test_the_hillshade_is_light_and_clear_where_nothing_is_known() -> None:
    picture = np.zeros((4, 6, 4), dtype=np.uint8)
    picture[:, 3:, :3] = 255
    picture[1:, :, 3] = 255
    data = shade_png(picture).removeprefix("data:image/png;base64,")
    image = np.asarray(Image.open(io.BytesIO(base64.b64decode(data))).convert("RGBA"))
    assert np.all(image[0, :, 3] == 0)
    assert np.all(image[1:, :, 3] == 255)
    assert image[1:, :, :3].min() >= 0.4 * 255  # never darker than 60 % grey
    assert np.all(image[1:, 0, 0] >= image[1:, 0, 2])  # warm
    assert np.all(image[1:, 5] > image[1:, 0] - 1)


def test_the_pointer_reads_the_ground() -> None:
    terrain = crowded_plan().terrain
    lonlat = to_lonlat(terrain, [(-300.0, -300.0), (300.0, 300.0)])
    (west, south), (east, north) = lonlat
    grid = level_grid(terrain, (south, west, north, east))
    packed = np.frombuffer(base64.b64decode(grid["data"]), dtype="<i2")
    levels = packed.reshape(grid["rows"], grid["cols"])
    middle = grid["rows"] // 2
    lon = west + middle / (grid["cols"] - 1) * (east - west)
    lat = north - middle / (grid["rows"] - 1) * (north - south)
    from_grid = grid["base"] + grid["step"] * levels[middle, middle]
    x, y = _local(terrain, lon, lat)
    assert from_grid == pytest.approx(ground_at(terrain, x, y)[0], abs=grid["step"])
    assert levels[2, 2] == grid["none"]  # the hole in the north-west


def test_contours_lie_on_their_level() -> None:
    plan = example_plan()
    ground = _ground()
    for contour in ground.contours[::5]:
        x, y = _local(plan.terrain, *contour.path[1:-1].T)
        level = ground_at(plan.terrain, x, y)
        assert level == pytest.approx(np.full(len(level), contour.level), abs=0.15)
    assert any(contour.index for contour in ground.contours)
    assert ground.figures
    assert hillshade(plan.terrain).shape == plan.terrain.shape


def test_findings_of_one_place_stand_together_and_clear_of_words() -> None:
    scene = make_scene(crowded_plan())
    paper = sheet_paper(scene)
    rows = number_rows(scene, paper, point_sides(scene, paper))
    assert sum(len(row.findings) for row in rows) == 300
    assert len(rows) < 20
    # The example's one finding on the plan is its high point, whose rise stands on the upper left.
    scene = make_scene(example_plan())
    (row,) = number_rows(scene, paper, point_sides(scene, paper))
    assert row.corner != (-24.0, -22.0)


def test_a_name_avoids_lines_points_and_the_edge() -> None:
    line = np.array([[100.0, 100.0], [300.0, 100.0]])
    sheet = (400.0, 400.0)
    assert name_sides(["spring"], np.array([[100.0, 100.0]]), [line], sheet) == ["left"]
    assert name_sides(["spring"], np.array([[395.0, 200.0]]), [], sheet) == ["left"]
    at = np.array([[200.0, 200.0], [240.0, 200.0]])
    assert name_sides(["ram", "tank"], at, [], sheet)[0] != "right"


@given(st.floats(5, 500), st.floats(-180, 180))
def test_spots_point_along_the_path(length: float, bearing: float) -> None:
    way = np.array([np.cos(np.radians(bearing)), np.sin(np.radians(bearing))])
    found = spots(np.outer([0.0, length / 3, length], way), every=90.0, first=45.0)
    assert found
    for spot in found:
        assert (np.cos(np.radians(spot.angle - bearing))) == pytest.approx(1.0, abs=1e-6)
        assert abs(spot.upright) <= 90 + 1e-9
        assert 0 < np.hypot(spot.x, spot.y) < length


@given(st.floats(1e-6, 1e6))
def test_a_nice_step_is_the_next_round_number(least: float) -> None:
    step = nice_step(least)
    assert least * (1 - 1e-9) <= step <= 2.5 * least * (1 + 1e-9)


def test_ticks_are_within_and_even() -> None:
    assert ticks(-0.3, 0.9, 0.25).tolist() == [-0.25, 0.0, 0.25, 0.5, 0.75]


def _ground() -> Ground:
    plan = example_plan()
    return make_ground(plan.terrain, sheet_paper(make_scene(plan)), "metric", np.zeros((0, 2)))


def _local(terrain: Terrain, lon: npt.ArrayLike, lat: npt.ArrayLike) -> FloatArray:
    return to_local(terrain, np.column_stack([np.atleast_1d(lon), np.atleast_1d(lat)])).T
