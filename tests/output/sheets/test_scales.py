"""The scales chosen are round and as large as the paper allows."""

import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from planner.output.sheets.measure import METRIC, US, Measure
from planner.output.sheets.scales import STEEPEST, choose_scales, fitting, on_paper


def test_on_paper() -> None:
    assert on_paper(25.0, 250) == 100.0


@pytest.mark.parametrize(
    ("run", "rise", "horizontal", "vertical"),
    [
        (200.0, 20.0, 1000, 500),  # a farm's delivery line
        (25.0, 1.8, 200, 50),  # a drive pipe
        (240.0, 0.0, 1000, 100),  # dead level: exaggerated ten times, not more
        (5000.0, 120.0, 25000, 2500),  # a long main
        (200.0, 200.0, 2000, 5000),  # steep: shortened to 100 mm, not further
    ],
)
def test_lines_met_in_the_field(run: float, rise: float, horizontal: int, vertical: int) -> None:
    scales = choose_scales(run, rise, 240.0, 60.0, METRIC)
    assert (scales.horizontal, scales.vertical) == (horizontal, vertical)


@given(floats(0.5, 20_000), floats(0, 3000), sampled_from([METRIC, US]))
def test_a_line_always_fits_and_is_exaggerated_ten_times_at_most(
    run: float, rise: float, measure: Measure
) -> None:
    scales = choose_scales(run, rise, 240.0, 60.0, measure)
    assert on_paper(run, scales.horizontal) <= 240.0
    assert on_paper(rise, scales.vertical) <= 60.0
    assert scales.exaggeration <= STEEPEST
    assert {scales.horizontal, scales.vertical} <= set(measure.scales)


@given(floats(0.5, 20_000), floats(10, 300), sampled_from([METRIC, US]))
def test_the_next_larger_scale_would_not_fit(run: float, room: float, measure: Measure) -> None:
    place = measure.scales.index(fitting(run, room, measure))
    assert place == 0 or on_paper(run, measure.scales[place - 1]) > room
