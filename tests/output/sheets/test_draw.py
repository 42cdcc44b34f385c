"""A sheet's parts stand where they should, at the scales stated, in the colours of their roles."""

import dataclasses
import math
from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.text import Text

from planner.output.look import DOUBT, GROUND, INK, ROLES
from planner.output.sheets.content import Numbered, SheetContent
from planner.output.sheets.draw import arrange, draw_sheet
from planner.output.sheets.ink import SMALL, drawing
from planner.output.sheets.measure import METRIC, measure
from planner.output.sheets.paper import PaperName
from planner.output.sheets.write import sheet_contents
from planner.profile.value import FloatArray
from planner.site.value import Units
from tests.example import example_plan
from tests.output.worked import worked_plan

NAMES = ["supply", "drive", "delivery", "distribution-trough"]


def _content(name: str, units: Units = "metric") -> SheetContent:
    plan = example_plan()
    plan = dataclasses.replace(plan, site=dataclasses.replace(plan.site, units=units))
    return next(sheet for sheet in sheet_contents(plan) if sheet.line.name == name)


def _worked(name: str, units: Units = "metric") -> SheetContent:
    """The same with air and pressure found."""
    return next(sheet for sheet in sheet_contents(worked_plan(units)) if sheet.line.name == name)


@pytest.fixture(autouse=True)
def _drawing() -> Iterator[None]:
    with drawing():
        yield


@pytest.fixture(scope="module")
def content() -> SheetContent:
    return _content("delivery")


@pytest.fixture(scope="module")
def figure(content: SheetContent) -> Figure:
    with drawing():
        return draw_sheet(content)


def _axes(figure: Figure, label: str) -> Axes:
    return next(axes for axes in figure.axes if axes.get_label() == label)


def _mm(figure: Figure, axes: Axes, xy: list[tuple[float, float]] | FloatArray) -> FloatArray:
    """Millimetres on paper of points in an axes' own coordinates."""
    pixels = axes.transData.transform(np.asarray(xy, dtype=np.float64))
    return np.asarray(pixels / figure.dpi * 25.4)


def _named(axes: Axes, gid: str) -> Line2D:
    return next(line for line in axes.lines if line.get_gid() == gid)


def _texts(figure: Figure) -> list[Text]:
    return [text for axes in figure.axes for text in axes.texts if text.get_text().strip()]


@pytest.mark.parametrize(("paper", "size"), [("A4", (297.0, 210.0)), ("Letter", (279.4, 215.9))])
@pytest.mark.parametrize("name", NAMES)
def test_the_section_is_true_to_the_scales_stated(
    name: str, paper: PaperName, size: tuple[float, float]
) -> None:
    content = _content(name, "metric" if paper == "A4" else "us")
    figure = draw_sheet(content, paper)
    np.testing.assert_allclose(figure.get_size_inches() * 25.4, size)
    units = measure(content.units)
    scales = arrange(content, paper, units)[1].scales
    axes = _axes(figure, "section")
    origin, metre_along, metre_up = _mm(figure, axes, [(0, 500), (1, 500), (0, 501)])
    assert metre_along[0] - origin[0] == pytest.approx(1000 / scales.horizontal)
    assert metre_up[1] - origin[1] == pytest.approx(1000 / scales.vertical)
    block = " ".join(text.get_text() for text in _axes(figure, "sheet").texts)
    assert f"Along {units.spoken(scales.horizontal)}" in block
    assert f"heights {units.spoken(scales.vertical)}" in block
    assert f"heights ×{scales.exaggeration:.3g}" in block


def test_the_plan_is_true_to_its_scale_and_turned_not_mirrored(
    content: SheetContent, figure: Figure
) -> None:
    _, section, strip = arrange(content, "A4", METRIC)
    (plan,) = strip.panels
    axes = _axes(figure, "plan-0")
    ram, tank, trough = (
        _mm(figure, axes, plan.frame.to_plan(np.array([content.points[n].xy])))[0]
        for n in (2, 3, 4)
    )
    on_land = [np.array(content.points[n].xy) for n in (2, 3, 4)]
    drawn = np.hypot(*(tank - ram))
    assert drawn == pytest.approx(
        np.hypot(*(on_land[1] - on_land[0])) * 1000 / section.scales.horizontal
    )
    turn = np.cross([*(tank - ram), 0], [*(trough - ram), 0])[2]
    on_ground = np.cross([*(on_land[1] - on_land[0]), 0], [*(on_land[2] - on_land[0]), 0])[2]
    assert np.sign(turn) == np.sign(on_ground)
    np.testing.assert_allclose(plan.mm(np.array([content.points[3].xy]))[0], tank)


def test_plan_and_section_share_chainage(content: SheetContent) -> None:
    _, section, strip = arrange(content, "A4", METRIC)
    (plan,) = strip.panels
    profile = content.line.profile  # a straight line: every sample stands over its own
    np.testing.assert_allclose(plan.mm(profile.xy)[:, 0], section.x(profile.run), atol=1e-6)


def test_ground_pipe_and_water_levels_are_drawn_as_they_are(
    content: SheetContent, figure: Figure
) -> None:
    axes, profile, water = _axes(figure, "section"), content.line.profile, content.line.water
    assert water is not None
    for gid, levels, colour in (
        ("ground", profile.ground, GROUND),
        ("pipe-delivery", profile.pipe, ROLES["delivery"].colour),
        ("closed-level", water.closed_level, INK),
        ("open-level", water.open_level, ROLES["delivery"].colour),
    ):
        line = _named(axes, gid)
        np.testing.assert_array_equal(np.asarray(line.get_xdata()), profile.run)
        np.testing.assert_allclose(np.asarray(line.get_ydata()), levels)
        assert to_hex(line.get_color()) == colour


def test_the_four_lines_differ_without_colour(figure: Figure) -> None:
    axes = _axes(figure, "section")
    lines = [_named(axes, g) for g in ("ground", "pipe-delivery", "closed-level", "open-level")]
    strokes = {(round(line.get_linewidth(), 1), str(line.get_linestyle())) for line in lines}
    words = {text.get_text() for text in _axes(figure, "sheet").texts}
    assert len(strokes) >= 3
    assert lines[2].get_linestyle() == lines[3].get_linestyle() == "--"
    assert {"De", "static (closed)", "HGL (open)"} <= words


def test_the_ribbon_is_the_standard_error_to_either_side(
    content: SheetContent, figure: Figure
) -> None:
    ribbon = next(c for c in _axes(figure, "section").collections if c.get_gid() == "doubt")
    corners = ribbon.get_paths()[0].vertices
    here = np.abs(np.asarray(corners)[:, 0] - content.line.profile.run[50]) < 1e-9
    levels = np.asarray(corners)[here, 1]
    assert np.ptp(levels) == pytest.approx(2 * 0.15)
    assert to_hex(tuple(np.asarray(ribbon.get_facecolor())[0])) == DOUBT


def test_high_and_low_points_are_chevrons_with_their_height(
    content: SheetContent, figure: Figure
) -> None:
    place = arrange(content, "A4", METRIC)[1]
    sheet, line = _axes(figure, "sheet"), content.line
    figures = [text for text in sheet.texts if text.get_text() in {"0.62 m", "0.62 m, washout"}]
    runs = [line.high_points[0].run_m, line.low_points[0].run_m]
    assert sorted(t.get_position()[0] for t in figures) == pytest.approx(
        [float(place.x(run)) for run in runs]
    )
    over, under = sorted(figures, key=lambda text: -text.get_position()[1])
    assert over.get_position()[1] > float(place.y(line.profile.ground[line.high_points[0].index]))
    assert under.get_position()[1] < float(place.y(line.profile.pipe[line.low_points[0].index]))


def test_a_finding_has_its_number_over_its_place(content: SheetContent, figure: Figure) -> None:
    place = arrange(content, "A4", METRIC)[1]
    x = float(place.x(content.line.high_points[0].run_m))
    numbers = [text for text in _axes(figure, "sheet").texts if text.get_text() == "1"]
    assert any(text.get_position()[0] == pytest.approx(x) for text in numbers)


@pytest.mark.parametrize(
    ("level", "face", "letter"),
    [("stop", INK, "#ffffff"), ("warn", "#ffffff", INK), ("note", None, INK)],
)
def test_levels_of_findings_differ_by_block(
    content: SheetContent, level: str, face: str | None, letter: str
) -> None:
    own = Numbered(77, level, "It is so.", "Do this.", "delivery", 150.0)  # type: ignore[arg-type]
    sheet = _axes(draw_sheet(dataclasses.replace(content, findings=(own,))), "sheet")
    place = arrange(content, "A4", METRIC)[1]
    run = float(np.interp(150.0, content.line.profile.chainage, content.line.profile.run))
    x = float(place.x(run))
    number = next(
        t for t in sheet.texts if t.get_text() == "77" and abs(t.get_position()[0] - x) < 1e-6
    )
    assert to_hex(number.get_color()) == letter
    blocks = [
        patch
        for patch in sheet.patches
        if isinstance(patch, Rectangle)
        and abs(patch.get_xy()[0] + patch.get_width() / 2 - x) < 1e-6
    ]
    assert [to_hex(block.get_facecolor()) for block in blocks] == ([face] if face else [])
    words = " ".join(text.get_text() for text in sheet.texts)
    assert "Do this. It is so." in words


def test_the_rows_hold_the_figures_of_the_profile(content: SheetContent, figure: Figure) -> None:
    place, profile = arrange(content, "A4", METRIC)[1], content.line.profile
    x = float(place.x(np.interp(60.0, profile.chainage, profile.run)))
    column = [
        text.get_text()
        for text in sorted(_axes(figure, "sheet").texts, key=lambda t: -t.get_position()[1])
        if abs(text.get_position()[0] - x) < 1e-6 and text.get_position()[1] < place.box.bottom
    ]
    ground = float(np.interp(60.0, profile.chainage, profile.ground))
    water = content.line.water
    assert water is not None
    heads = [
        float(np.interp(60.0, profile.chainage, level - profile.pipe))
        for level in (water.closed_level, water.open_level)
    ]
    stake = next(one for one in content.stakes if one.chainage_m == pytest.approx(60.0))
    assert column == [
        stake.name,
        "60.0",
        f"{ground:.2f}",
        f"{ground - 0.5:.2f}",
        "0.50",
        *(f"{head:.1f}" for head in heads),
    ]


@pytest.mark.parametrize("units", ["metric", "us"])
def test_two_rows_hold_the_heads_with_the_outlet_open_and_closed(units: Units) -> None:
    content = _worked("delivery", units)
    line, unit = content.line, measure(units)
    assert line.pressure is not None
    sheet = _axes(draw_sheet(content), "sheet")
    place = arrange(content, "A4", unit)[1]
    texts = [text for text in sheet.texts if text.get_position()[1] < place.box.bottom]
    for state, heads in (
        ("Running", line.pressure.heads.open),
        ("Static", line.pressure.heads.closed),
    ):
        name = next(t for t in texts if t.get_text() == f"{state} head, {unit.symbol}")
        row = [t for t in texts if abs(t.get_position()[1] - name.get_position()[1]) < 1e-6]
        first, last = (
            next(t.get_text() for t in row if abs(t.get_position()[0] - float(place.x(run))) < 1e-6)
            for run in (0.0, line.profile.run[-1])
        )
        assert (first, last) == (unit.head(heads[0]), unit.head(heads[-1]))


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", ["delivery", "distribution-trough"])
def test_with_the_rows_of_heads_no_texts_overlap_and_names_stay_in_their_column(
    name: str, units: Units
) -> None:
    content, paper = _worked(name, units), "A4" if units == "metric" else "Letter"
    figure = draw_sheet(content, paper)  # type: ignore[arg-type]
    place = arrange(content, paper, measure(units))[1]  # type: ignore[arg-type]
    renderer = FigureCanvasAgg(figure).get_renderer()
    texts = [t for t in _axes(figure, "sheet").texts if t.get_position()[1] < place.box.bottom]
    boxes = [(t.get_text(), t.get_window_extent(renderer).padded(-1.0)) for t in texts]
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not first.overlaps(second), (one, other)
    for text, box in boxes:
        if " head, " in text:
            assert box.x1 / figure.dpi * 25.4 < place.box.left


def test_a_high_point_with_a_vent_has_a_stem_and_its_kind() -> None:
    content = _worked("delivery")
    place = arrange(content, "A4", METRIC)[1]
    sheet = _axes(draw_sheet(content), "sheet")
    x = float(place.x(content.line.high_points[0].run_m))
    assert "0.62 m, standpipe" in {text.get_text() for text in sheet.texts}
    bare = dataclasses.replace(content, line=dataclasses.replace(content.line, air=None))
    stems, none = (_stems(axes, x) for axes in (sheet, _axes(draw_sheet(bare), "sheet")))
    assert (stems, none) == (1, 0)


def _stems(sheet: Axes, x: float) -> int:
    """Upright strokes of a chevron's weight at x."""
    return sum(
        line.get_linewidth() == 1.1 and np.allclose(np.asarray(line.get_xdata()), x)
        for line in sheet.lines
    )


def test_the_scale_bar_is_as_long_as_it_says(figure: Figure) -> None:
    sheet = _axes(figure, "sheet")
    parts = [p for p in sheet.patches if str(p.get_gid()).startswith("scale-bar")]
    ends = _mm(figure, sheet, [(p.get_x(), 0.0) for p in parts])  # type: ignore[attr-defined]
    assert np.diff(ends[:, 0]).tolist() == pytest.approx([10.0] * 3)
    assert "40 m" in {text.get_text() for text in sheet.texts}


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_type_is_large_enough_and_stays_inside_the_frame(name: str, units: Units) -> None:
    figure = draw_sheet(_content(name, units), "A4" if units == "metric" else "Letter")
    renderer = FigureCanvasAgg(figure).get_renderer()
    width, height = figure.get_size_inches() * 25.4
    for text in _texts(figure):
        assert float(text.get_fontsize()) >= SMALL
        if text.axes is not None and str(text.axes.get_label()).startswith("plan"):
            continue  # contour figures are cut by the strip's own edge
        box = text.get_window_extent(renderer)
        x0, y0, x1, y1 = np.array(box.extents) / figure.dpi * 25.4
        assert 10.0 <= x0 < x1 <= width - 10.0, text.get_text()
        assert 10.0 <= y0 < y1 <= height - 10.0, text.get_text()


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_no_two_texts_of_rows_foot_and_block_overlap(name: str, units: Units) -> None:
    content, paper = _content(name, units), "A4" if units == "metric" else "Letter"
    figure = draw_sheet(content, paper)  # type: ignore[arg-type]
    bottom = arrange(content, paper, measure(units))[1].box.bottom  # type: ignore[arg-type]
    renderer = FigureCanvasAgg(figure).get_renderer()
    texts = [t for t in _axes(figure, "sheet").texts if t.get_position()[1] < bottom]
    assert len(texts) > 30
    boxes = [(t.get_text(), t.get_window_extent(renderer).padded(-1.0)) for t in texts]
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not first.overlaps(second), (one, other)


def test_the_title_block_says_what_a_reader_asks(figure: Figure) -> None:
    words = " ".join(text.get_text() for text in _axes(figure, "sheet").texts)
    for said in (
        "Larch Hollow",
        "delivery: ram – tank",
        "2026-11-24",
        "laser scan from the air, one level ± 0.15 m",
        "hollow-dem.tif",
        "Datum: that of the elevation data",
        "Units: metres",
        "Sheet 1 of 1",
        "hydraulic grade line, HGL (outlet open)",
        "static level (outlet closed)",
        "Never shut the delivery line",
    ):
        assert said in words


def test_cautions_are_never_cut_and_findings_left_out_are_counted(content: SheetContent) -> None:
    many = tuple(
        Numbered(n, "warn", "A long message it is. " * 8, "Do it.", "delivery", float(n))
        for n in range(1, 30)
    )
    sheet = _axes(draw_sheet(dataclasses.replace(content, findings=many)), "sheet")
    words = " ".join(text.get_text() for text in sheet.texts)
    assert all(caution in words for caution in content.cautions)
    assert "more findings: see the list on the map." in words


def test_missing_levels_error_and_water_are_left_out(content: SheetContent) -> None:
    profile = content.line.profile
    ground = profile.ground.copy()
    ground[50:90] = np.nan
    terrain = dataclasses.replace(
        content.terrain,
        provenance=dataclasses.replace(content.terrain.provenance, standard_error=math.nan),
    )
    line = dataclasses.replace(
        content.line, profile=dataclasses.replace(profile, ground=ground), water=None
    )
    figure = draw_sheet(dataclasses.replace(content, line=line, terrain=terrain))
    words = {text.get_text() for text in _axes(figure, "sheet").texts}
    assert "–" in words
    assert not any("closed" in word or "±" in word for word in words)
    assert any("error not known" in word for word in words)


def test_a_powered_pump_is_no_ram(content: SheetContent) -> None:
    sheet = _axes(draw_sheet(dataclasses.replace(content, scheme="powered")), "sheet")
    words = [text.get_text() for text in sheet.texts]
    assert "P" in words
    assert "R" not in words
    assert "pumped scheme" in words


def test_outlets_are_numbered() -> None:
    figure = draw_sheet(_content("distribution-trough"))
    trough = next(t for t in _axes(figure, "sheet").texts if t.get_text() == "trough")
    x = trough.get_position()[0]
    assert any(
        t.get_text() == "1" and t.get_position()[0] == pytest.approx(x)
        for t in _axes(figure, "sheet").texts
    )


def test_a_drive_pipe_has_a_double_edge() -> None:
    axes = _axes(draw_sheet(_content("drive")), "section")
    outer = _named(axes, "pipe-drive")
    core = axes.lines[axes.lines.index(outer) + 1]
    assert to_hex(core.get_color()) == "#ffffff"
    assert core.get_linewidth() < outer.get_linewidth() / 2
