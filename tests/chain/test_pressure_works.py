"""Pressure of a line: states, surge, classes by stretch, break-pressure tanks."""

import numpy as np
import pytest

from planner.chain.pressure_works import line_pressure
from planner.hydraulics.catalogue import find_pipes
from planner.record.value import Line
from planner.record.works import LinePressure
from planner.site.value import LineRole
from tests.chain.small import line, running

STEEP = [(0.0, 299.5), (400.0, 150.0)]


def fed(turns: list[tuple[float, float]], role: LineRole = "main", rating: float = 100.0) -> Line:
    return running(line(turns, role, bore=0.035, rating=rating), turns[0][1] + 0.5, 5e-4, 4.0)


def works(made: Line, size: str | None = None) -> LinePressure:
    offered = () if size is None else find_pipes(size, standard="ISO 4427")
    got = line_pressure(made, offered, 10.0)
    assert got is not None
    return got


def test_a_main_whose_closed_head_is_too_much_gets_a_tank() -> None:
    made = fed(STEEP)  # 150 m over a pipe of 100 m
    got = works(made)
    assert got.least.state == "closed"
    assert got.least.margin == pytest.approx(100.0 - 150.0)
    assert got.tanks is not None
    assert got.tanks.blocked is None
    (tank,) = got.tanks.tanks
    z = made.profile.pipe
    assert 300.0 - z[tank] <= 100.0  # the pipe above it bears the water from the source,
    assert z[tank] - z[-1] <= 100.0  # and the pipe below it that from the tank
    assert np.max(got.tanks.static_level - z) <= 100.0


def test_a_main_within_its_rating_gets_none() -> None:
    assert works(fed(STEEP, rating=151.0)).tanks is None


def test_a_delivery_has_no_tank_and_no_surge() -> None:
    got = works(fed([(0.0, 150.0), (400.0, 299.5)], "delivery"))
    assert got.tanks is None
    assert np.array_equal(got.heads.surge, got.heads.closed)


def test_surge_by_michaud_rises_evenly_to_the_valve() -> None:
    made = fed([(0.0, 50.0), (100.0, 30.0)])
    got = works(made)
    assert made.water is not None
    length = made.profile.length  # 102 m: the wave is back in 0.5 s, the hand takes 2
    rise = length * made.water.velocity / 9.80665  # 2 L V / (g 2 s)
    extra = got.heads.surge - got.heads.closed
    assert extra[0] == 0.0
    assert extra[-1] == pytest.approx(rise)
    assert extra == pytest.approx(rise * made.profile.chainage / length)


def test_strong_pipe_only_where_the_pressure_asks_for_it() -> None:
    got = works(fed(STEEP), "32 mm")
    assert got.classes is not None
    ratings = [stretch.pipe.rating for stretch in got.classes.stretches]
    assert ratings == sorted(ratings)
    assert len(ratings) > 1
    assert got.classes.mass_spared > 0.0
    assert got.classes.too_weak == ()
    # The rating along the line is that of the class lying there, and it bears the pressure.
    assert np.all(got.heads.rating >= got.heads.closed - 0.01)
    assert np.all(np.diff(got.heads.rating) >= 0.0)
    assert got.tanks is None
    s = got.heads.chainage
    for stretch in got.classes.stretches:
        inside = (s > stretch.start) & (s < stretch.end)
        assert np.all(got.heads.rating[inside] == pytest.approx(stretch.pipe.rating))
        assert stretch.needed <= stretch.pipe.rating + 0.01


def test_a_warm_wall_asks_for_stronger_pipe() -> None:
    pipes = find_pipes("32 mm", standard="ISO 4427")
    cool, warm = (line_pressure(fed(STEEP), pipes, t) for t in (10.0, 40.0))
    assert cool is not None
    assert warm is not None
    assert cool.classes is not None
    assert warm.classes is not None
    assert warm.classes.mass > cool.classes.mass


@pytest.mark.parametrize("role", ["supply", "drive", "waste", "overflow"])
def test_lines_that_do_not_run_full_under_pressure_have_none(role: LineRole) -> None:
    assert line_pressure(fed(STEEP, role), (), 10.0) is None


def test_a_line_without_water_has_none() -> None:
    assert line_pressure(line(STEEP), (), 10.0) is None
