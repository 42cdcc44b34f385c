"""The first sheet: true to its scale, with grid, contours, norths, legend and index."""

import dataclasses
import datetime
from collections.abc import Iterator

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.output.sheets.ink import drawing
from planner.output.sheets.measure import METRIC
from planner.output.sheets.overview import draw_overview, place_map
from planner.output.sheets.write import sheet_contents
from planner.record.value import Plan
from tests.example import example_plan

INDEX = (("supply", 2), ("drive", 3), ("delivery", 4), ("delivery", 5), ("distribution-trough", 6))


@pytest.fixture(autouse=True)
def _drawing() -> Iterator[None]:
    with drawing():
        yield


def _drawn(plan: Plan) -> Figure:
    return draw_overview(plan, sheet_contents(plan), INDEX, 1, "A4")


def _axes(figure: Figure, label: str) -> Axes:
    return next(axes for axes in figure.axes if axes.get_label() == label)


def _words(figure: Figure) -> set[str]:
    return {text.get_text() for axes in figure.axes for text in axes.texts}


def test_the_map_is_true_to_its_scale_and_holds_every_line() -> None:
    plan = example_plan()
    figure = _drawn(plan)
    place = place_map(plan, "A4", METRIC)
    axes = _axes(figure, "map")
    pixels = axes.transData.transform(np.array([(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)]))
    mm = pixels / figure.dpi * 25.4
    assert mm[1, 0] - mm[0, 0] == pytest.approx(100_000.0 / place.scale)
    assert mm[2, 1] - mm[0, 1] == pytest.approx(100_000.0 / place.scale)
    for line in plan.lines:
        xy = place.mm(line.profile.xy)
        assert np.all((xy > [place.box.left, place.box.bottom]) & (xy < [place.box.right, 200.0]))
    assert f"Scale 1:{place.scale}" in _words(figure)


def test_grid_ticks_carry_their_coordinates_where_they_stand() -> None:
    plan = example_plan()
    figure = _drawn(plan)
    place = place_map(plan, "A4", METRIC)
    ticks = [t for t in _axes(figure, "sheet").texts if t.get_text().endswith((" E", " N"))]
    assert len(ticks) >= 4
    for tick in ticks:
        figure_, side = tick.get_text().split()
        value = float(figure_.replace("−", "-"))
        at = tick.get_position()[0 if side == "E" else 1]
        assert at == pytest.approx(
            float(place.mm(np.array([[value, value]]))[0, 0 if side == "E" else 1])
        )


def test_ground_streams_and_areas_are_drawn() -> None:
    axes = _axes(_drawn(example_plan()), "map")
    gids = {str(line.get_gid()) for line in axes.lines}
    assert {"contour", "stream", "area", "pipe-delivery", "pipe-drive"} <= gids
    assert [image.get_gid() for image in axes.images] == ["hillshade"]


def test_names_letters_legend_and_index_are_written() -> None:
    words = _words(_drawn(example_plan()))
    assert {"spring", "tank", "trough", "orchard", "De", "Di"} <= words
    assert {"Site plan and index", "supply", "4 – 5", "7", "Sheets", "Legend"} <= words
    assert any(word.startswith("contours every ") for word in words)
    assert any(word.startswith("stakes named every ") for word in words)


def test_norths_are_three_in_the_models_years_and_two_beyond() -> None:
    plan = example_plan()
    assert {"G", "T", "M"} <= _words(_drawn(plan))
    late = _words(_drawn(dataclasses.replace(plan, made=datetime.date(2031, 5, 1))))
    assert {"G", "T"} <= late
    assert "M" not in late
    assert any("Magnetic north left out" in word for word in late)
