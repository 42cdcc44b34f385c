"""The sheet set of a plan: its parts match, a place on the plan stands over its section, no two
words of any sheet overlap."""

import datetime
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from planner.output.sheets.draw import arrange, draw_sheet
from planner.output.sheets.ink import SMALL, drawing
from planner.output.sheets.measure import measure
from planner.output.sheets.paper import PAPERS, PaperName
from planner.output.sheets.strip import DRIFT, at_runs
from planner.output.sheets.write import figures, line_sheets, sheet_contents
from planner.record.value import Plan
from planner.record.works import AsBuilt, BuiltMark
from planner.site.value import Units
from tests.example import example_plan
from tests.output.sheets.winding import winding_plan
from tests.output.worked import worked_plan

US_PAPERS = {"Letter", "Tabloid"}


@pytest.fixture(autouse=True)
def _drawing() -> Iterator[None]:
    with drawing():
        yield


def _units(paper: PaperName) -> Units:
    return "us" if paper in US_PAPERS else "metric"


def _winding(paper: PaperName) -> Plan:
    return winding_plan(_units(paper))


def _words(figure: Figure) -> list[str]:
    return [text.get_text() for axes in figure.axes for text in axes.texts]


@pytest.mark.parametrize("paper", PAPERS)
def test_parts_of_a_line_join_at_the_same_chainage(paper: PaperName) -> None:
    sheets = line_sheets(sheet_contents(_winding(paper)), paper)
    assert len(sheets) > 1
    reaches = [sheet.reach for sheet in sheets]
    assert reaches[0] is not None
    assert reaches[-1] is not None
    assert reaches[0].start == 0.0
    assert reaches[-1].end == sheets[0].line.profile.run[-1]
    for first, second in pairwise(sheets):
        assert first.reach is not None
        assert second.reach is not None
        assert first.reach.end == second.reach.start
        assert first.after == second.number
        assert second.before == first.number
        assert first.scales == second.scales


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_match_lines_name_the_chainage_and_each_other(paper: PaperName) -> None:
    sheets = line_sheets(sheet_contents(_winding(paper)), paper)
    drawn = [_words(draw_sheet(sheet, paper)) for sheet in sheets[:2]]
    said = [
        next(w for w in words if w.startswith("match line") and w.endswith(f"sheet {other}"))
        for words, other in zip(drawn, (sheets[1].number, sheets[0].number), strict=True)
    ]
    assert said[0].split(",")[0] == said[1].split(",")[0]
    part = sheets[0].reach
    assert part is not None
    profile = sheets[0].line.profile
    at = float(np.interp(part.end, profile.run, profile.chainage))
    unit = measure(sheets[0].units)
    assert at / unit.metres % (10.0 if paper == "A4" else 25.0) == pytest.approx(0.0, abs=1e-6)
    assert said[0] == f"match line {unit.along(at)}, see sheet {sheets[1].number}"


def test_a_match_line_stands_at_its_chainage_through_plan_and_section() -> None:
    first = line_sheets(sheet_contents(winding_plan()), "A4")[0]
    figure = draw_sheet(first, "A4")
    parts, section, strip = arrange(first, "A4", measure("metric"))
    assert first.reach is not None
    sheet = next(axes for axes in figure.axes if axes.get_label() == "sheet")
    lines = [line for line in sheet.lines if line.get_gid() == "match-line"]
    x = float(section.x(first.reach.end))
    assert all(np.allclose(np.asarray(line.get_xdata()), x) for line in lines)
    spans = {tuple(np.asarray(line.get_ydata()).tolist()) for line in lines}
    assert (strip.box.bottom, strip.box.top) in spans
    assert (parts.section.bottom, parts.section.top) in spans


@pytest.mark.parametrize("paper", PAPERS)
def test_a_place_on_the_plan_stands_over_its_section(paper: PaperName) -> None:
    for sheet in line_sheets(sheet_contents(_winding(paper)), paper):
        _, section, strip = arrange(sheet, paper, measure(sheet.units))
        profile, reach = sheet.line.profile, sheet.reach
        assert reach is not None
        assert strip.scale == section.scales.horizontal
        runs = np.linspace(reach.start, reach.end, 200)
        for run in runs:
            place = strip.panel(float(run)).mm(at_runs(profile, np.array([run])))[0]
            assert abs(place[0] - float(section.x(run))) <= DRIFT + 1e-6
            assert strip.box.bottom < place[1] < strip.box.top


def test_panels_keep_the_land_unmirrored_and_to_scale() -> None:
    sheet = line_sheets(sheet_contents(winding_plan()), "A4")[0]
    _, section, strip = arrange(sheet, "A4", measure("metric"))
    assert len(strip.panels) > 1
    for panel in strip.panels:
        corner, east, north = panel.mm(np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]]))
        metre = 1000.0 / section.scales.horizontal
        assert np.hypot(*(east - corner)) == pytest.approx(10.0 * metre)
        turn = np.cross([*(east - corner), 0.0], [*(north - corner), 0.0])[2]
        assert turn == pytest.approx((10.0 * metre) ** 2)


def _overlaps(figure: Figure) -> list[tuple[str, str]]:
    """Pairs of words that share paper, among all that are written in millimetres."""
    renderer = FigureCanvasAgg(figure).get_renderer()
    boxes = [
        (text.get_text(), text.get_window_extent(renderer).padded(-0.6))
        for axes in figure.axes
        for text in axes.texts
        if text.get_text().strip()
    ]
    return [
        (one, other)
        for (one, first), (other, second) in combinations(boxes, 2)
        if first.overlaps(second)
    ]


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", ["example", "worked", "winding"])
def test_no_two_words_of_any_sheet_overlap_and_all_stand_in_the_frame(
    kind: str, paper: PaperName
) -> None:
    units = _units(paper)
    plan = {
        "example": replace(example_plan(), site=replace(example_plan().site, units=units)),
        "worked": worked_plan(units),
        "winding": _winding(paper),
    }[kind]
    width, height = PAPERS[paper]
    for number, figure in enumerate(figures(plan, paper), start=1):
        assert _overlaps(figure) == [], f"sheet {number}"
        renderer = FigureCanvasAgg(figure).get_renderer()
        for axes in figure.axes:
            for text in axes.texts:
                if not text.get_text().strip():
                    continue
                assert float(text.get_fontsize()) >= SMALL
                box = np.array(text.get_window_extent(renderer).extents) / figure.dpi * 25.4
                assert 9.8 <= box[0] < box[2] <= width - 9.8, text.get_text()
                assert 9.8 <= box[1] < box[3] <= height - 9.8, text.get_text()


@pytest.mark.slow
def test_numbers_of_the_sheets_and_the_index_agree() -> None:
    plan = winding_plan()
    drawn = [_words(figure) for figure in figures(plan, "A4")]
    count = len(drawn)
    for number, words in enumerate(drawn, start=1):
        assert f"Sheet {number} of {count}" in words
    parts = [n for n, words in enumerate(drawn, start=1) if "Depth of trench, m" in words]
    assert f"{parts[0]} – {parts[-1]}" in drawn[0]
    assert parts[0] == 2


def test_rows_say_pipe_owner_crossing_and_stakes() -> None:
    sheets = line_sheets(sheet_contents(winding_plan()), "A4")
    drawn = [_words(draw_sheet(sheet, "A4")) for sheet in sheets]
    together = {word for words in drawn for word in words}
    assert "PE 40 PN 10, bore 32.6 mm" in together
    assert "PE 32 PN 16, bore 26.0 mm" in together
    assert "PE 32 PN 16 begins" in together
    assert {"Hollow Farm", "Upper Pasture", "crosses stream"} <= together
    stakes = {stake.name for stake in sheets[0].stakes}
    assert len(stakes & together) > 20


def test_joints_and_sizes_are_marked_where_they_are() -> None:
    sheets = line_sheets(sheet_contents(winding_plan()), "A4")
    joints = 0
    for sheet in sheets:
        figure = draw_sheet(sheet, "A4")
        _, section, _ = arrange(sheet, "A4", measure("metric"))
        axes = next(one for one in figure.axes if one.get_label() == "sheet")
        drawn = sorted(
            float(np.asarray(line.get_xdata())[0])
            for line in axes.lines
            if line.get_gid() == "joint"
            and section.box.bottom < np.asarray(line.get_ydata())[0] < section.box.top
        )
        profile, reach = sheet.line.profile, sheet.reach
        assert reach is not None
        wanted = [
            float(np.interp(chainage, profile.chainage, profile.run))
            for run in sheet.line.runs
            for chainage in run.joints
        ]
        inside = sorted(float(section.x(run)) for run in wanted if reach.has(run))
        assert drawn == pytest.approx(inside)
        joints += len(drawn)
    assert joints == sum(len(run.joints) for run in sheets[0].line.runs)


def test_a_laid_line_is_said_to_be_as_built_with_its_date() -> None:
    plan = example_plan()
    mark = BuiltMark(60.0, (0.0, 0.0), 0.7, "gate valve", "", "")
    line = replace(plan.lines[2], built=AsBuilt(datetime.date(2026, 8, 1), (mark,), (), ""))
    sheet = next(s for s in sheet_contents(plan) if s.line.name == "delivery")
    words = _words(draw_sheet(replace(sheet, line=line)))
    assert "ram scheme, as built 2026-08-01" in words
    assert "built: gate valve 0.70 deep" in words


def test_a_blank_is_ruled_where_nothing_is_said_of_owner_draughtsman_and_revision() -> None:
    sheet = sheet_contents(example_plan())[0]
    said = replace(sheet.papers, owner="The Commons", drawn_by="A. Hand", datum="Ram pad 100.00 m")
    for papers, blanks in ((sheet.papers, 3), (said, 1)):
        figure = draw_sheet(replace(sheet, papers=papers))
        lines = [line for axes in figure.axes for line in axes.lines]
        assert sum(line.get_gid() == "blank" for line in lines) == blanks
    words = _words(draw_sheet(replace(sheet, papers=said)))
    assert {"The Commons", "A. Hand"} <= set(words)
    assert "Units: metres. Datum: Ram pad 100.00 m" in words
