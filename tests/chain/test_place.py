"""Points and areas of the sketch on the ground."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.chain.place import (
    box_around,
    crossings_of,
    lands_of,
    lonlat_box,
    place_areas,
    place_chamber,
    place_points,
)
from planner.errors import TerrainError
from planner.site.value import Crossing, Sketch
from planner.terrain.drainage import find_streams
from planner.terrain.sample import ground_at
from tests.chain.scene import (
    RAM,
    SPRING,
    TANK,
    area,
    at,
    levels,
    point,
    ram_site,
    terrain_of,
    valley,
)


def test_points_stand_on_the_ground_and_their_water_above_it():
    tank = point("tank", "tank", 120.5, 60.5, height=2.5)
    spring, high = place_points(valley(), Sketch((SPRING, tank)))
    assert spring.xy == pytest.approx((20.5, -0.5), abs=1e-6)
    assert spring.lonlat == SPRING.at
    assert spring.ground == spring.level == pytest.approx(100.0 - 0.03 * 20.5 + 0.125, abs=1e-6)
    assert high.level == pytest.approx(high.ground + 2.5)
    assert not spring.by_program


@pytest.mark.parametrize("place", [(500.0, 0.0), (0.0, -81.0)])
def test_a_point_outside_is_refused_by_name(place):
    with pytest.raises(TerrainError, match="'far tank'"):
        place_points(valley(), Sketch((SPRING, point("far tank", "tank", *place))))


def test_a_point_on_a_hole_is_refused_by_name():
    z = levels()
    z[15:25, 135:145] = np.nan
    with pytest.raises(TerrainError, match=r"'tank'.*hole"):
        place_points(terrain_of(z), Sketch((TANK,)))


def test_boxes_hold_their_points_and_the_data():
    west, south, east, north = box_around(Sketch((SPRING, RAM, TANK)))
    assert (west, south) == (SPRING.at[0], SPRING.at[1])
    assert (east, north) == (TANK.at[0], TANK.at[1])
    around = lonlat_box(valley())
    for lon, lat in (SPRING.at, RAM.at, TANK.at, at(-20, -80), at(200, 80)):
        assert around[0] - 1e-9 <= lon <= around[2] + 1e-9
        assert around[1] - 1e-9 <= lat <= around[3] + 1e-9


def test_a_chamber_takes_the_first_name_that_is_free_whatever_its_case():
    place = (40.5, -0.5)
    assert place_chamber(valley(), place, ["spring"]).name == "chamber"
    assert place_chamber(valley(), place, ["Chamber"]).name == "settling chamber"
    taken = ["chamber", "Settling Chamber", "chamber 2", "chamber 3"]
    assert place_chamber(valley(), place, taken).name == "chamber 4"
    chamber = place_chamber(valley(), place, [])
    assert chamber.by_program
    assert chamber.level == pytest.approx(float(ground_at(valley(), *place)))
    assert chamber.lonlat == pytest.approx(at(*place))


def test_areas_come_to_lie_in_the_grid():
    (rock,) = place_areas(
        valley(), [area("rock", "costly", (10, 10, 30, 20), factor=3.0, deepest_trench=0.7)]
    )
    assert rock.shape.bounds == pytest.approx((10, 10, 30, 20), abs=1e-6)
    assert (rock.factor, rock.deepest_trench) == (3.0, 0.7)


def test_the_parcel_closes_the_land_round_it_in_one_land_and_not_in_the_other():
    areas = place_areas(
        valley(),
        [area("home", "stay", (-10, -60, 190, 70)), area("bog", "avoid", (60, 20, 80, 40))],
    )
    inside, everywhere = lands_of(valley(), areas)
    assert np.isinf(inside.cost[0, 0])
    assert everywhere.cost[0, 0] == 1.0
    bog = (int(80 - 30.5), int(70.5 + 20))
    assert np.isinf(inside.cost[bog])
    assert np.isinf(everywhere.cost[bog])


def test_without_a_parcel_there_is_but_one_land():
    inside, everywhere = lands_of(valley(), ())
    assert inside is everywhere


def lane(*places, cost=30.0):
    return Crossing("lane", LineString([at(*place) for place in places]), cost)


def test_a_lane_of_the_sketch_and_the_streams_of_the_ground_are_crossed_at_their_prices():
    made = ram_site(stream_cost=12.0)
    made = replace(made, sketch=replace(made.sketch, crossings=(lane((0, 30.2), (190, 30.2)),)))
    crossings = crossings_of(valley(), made, find_streams(valley()))
    drawn, *found = crossings
    assert drawn[0].bounds == pytest.approx((0.0, 30.2, 190.0, 30.2), abs=1e-6)
    assert drawn[1] == 30.0
    assert found
    assert {price for _, price in found} == {12.0}
    inside, _ = lands_of(valley(), (), crossings)
    row = int(80.0 - 30.2)
    assert inside.cost[row, 100] == pytest.approx(31.0)  # one cell of 1 m thick
    assert inside.cost[row - 5, 100] == 1.0
    assert inside.cost[78:82, 150].max() == pytest.approx(13.0)  # in the bed of the creek


def test_the_land_off_the_parcel_has_its_crossings_too():
    areas = place_areas(valley(), [area("home", "stay", (-10, -60, 190, 70))])
    road = [(LineString([(-20.0, 30.2), (200.0, 30.2)]), 30.0)]
    for land in lands_of(valley(), areas, road):
        assert land.cost[int(80.0 - 30.2), 100] == 31.0
