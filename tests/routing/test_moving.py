"""Lines to an end that moves, against searches of their own, read from either end."""

import numpy as np
import pytest

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices, find_in_band
from planner.routing.coarse import make_coarse
from planner.routing.ground import Ground, make_ground
from planner.routing.moving import Moving, moving_end
from planner.routing.price import price_along
from planner.routing.walk import Walk
from planner.terrain.value import Terrain

RULE = GradeRule(lowest=0.01, slack=0.6, vent_cost=12.0)
STAYS, MOVES = (40.3, -60.7), (130.2, -110.4)
PLACES = [(130.2, -110.4), (121.7, -98.1), (141.5, -131.5), (101.0, -120.3)]


def rough() -> Ground:
    """Hills with hollows between, so that lines need vents, dearer in the middle."""
    row, col = np.mgrid[0:180, 0:200].astype(np.float64)
    z = 4.0 * np.sin(col / 13.0) + 3.0 * np.cos(row / 9.0 + col / 31.0) + 0.02 * row
    cost = np.where((np.abs(row - 80.0) < 9.0) & (np.abs(col - 95.0) < 20.0), 2.5, 1.0)
    return make_ground(Terrain.from_array(z, 1.0), RULE.slack, cost)


def search(begins: End, *, stays_first: bool) -> Moving:
    ground = rough()
    asked = Asked(RULE, Prices(RULE.vent_cost, 1.0), begins)
    coarse = make_coarse(ground, vent_cost=12.0)
    found = moving_end(ground, coarse, asked, STAYS, MOVES, stays_first=stays_first)
    assert found is not None
    return found


@pytest.mark.parametrize("begins", ["open", "closed"])
@pytest.mark.parametrize("stays_first", [True, False])
@pytest.mark.parametrize("place", PLACES)
def test_each_line_is_the_cheapest_over_the_ground_searched(
    begins: End, stays_first: bool, place: tuple[float, float]
) -> None:
    moving = search(begins, stays_first=stays_first)
    ends = (STAYS, place) if stays_first else (place, STAYS)
    exact = find_in_band(moving.part.grid, *ends, RULE, Prices(RULE.vent_cost), begins=begins)
    assert isinstance(exact, Walk)
    found = moving.field.line(place, begins if moving.field.back else "open")
    assert isinstance(found, Walk)
    assert found.cost == pytest.approx(exact.cost, rel=1e-9)
    line = moving.line(place)
    assert line is not None
    np.testing.assert_allclose(line[[0, -1]], ends, atol=1e-9)
    assert price_along(moving.ground, moving.asked, line).cost <= exact.cost * (1.0 + 1e-9)


def test_a_closed_start_pays_for_falling_away_from_it_read_from_either_end() -> None:
    costs = {}
    for begins in ("open", "closed"):
        for stays_first in (True, False):
            moving = search(begins, stays_first=stays_first)
            found = moving.field.line(MOVES, begins if moving.field.back else "open")
            assert isinstance(found, Walk)
            costs[begins, stays_first] = found.cost
    assert costs["closed", True] > costs["open", True]  # the start lies on a hill


def test_it_tells_how_far_it_reaches() -> None:
    moving = search("open", stays_first=True)
    assert moving.reaches(MOVES)
    assert moving.reaches(STAYS)
    assert not moving.reaches((-5.0, -60.0))
    assert not moving.reaches((5.0, -175.0))


def test_ends_that_are_cut_off_have_no_field() -> None:
    z = np.zeros((60, 80))
    cost = np.where(np.arange(80) == 40, np.inf, 1.0) * np.ones((60, 1))
    ground = make_ground(Terrain.from_array(z, 1.0), 0.6, cost)
    asked = Asked(RULE, Prices(RULE.vent_cost))
    coarse = make_coarse(ground, vent_cost=12.0)
    cut = moving_end(ground, coarse, asked, (10.0, -30.0), (70.0, -30.0), stays_first=True)
    assert cut is None or cut.line((70.0, -30.0)) is None
