"""Where lines run: planted crossings, slopes and boundaries are found where they were put."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import box

from planner.record.value import OwnerShare, PlacedArea, Plan
from planner.terrain.drainage import Stream
from planner.wording.findings import sentence
from tests.checks.altered import base, drawn, found, only, put
from tests.checks.troubles import TROUBLES, blocked

FLAT = drawn("main", [0.0, 50.0, 100.0], [500.0, 500.0, 500.0])  # east along y = -90


def crossed(*courses: list[tuple[float, float]]) -> Plan:
    return replace(only(FLAT), streams=tuple(Stream(np.array(xy), 1e5) for xy in courses))


def chainages(plan: Plan, code: str) -> list[float | None]:
    return [finding.chainage_m for finding in found(plan, code)]


def test_a_blocked_line_names_what_blocks_and_how_near_it_got() -> None:
    (stop,) = found(blocked("closed"), "line-blocked")
    assert stop.level == "stop"
    assert stop.values["area"] == "orchard"  # (30.5, -20) lies half a metre from its edge
    assert stop.values["gap_m"] == pytest.approx(np.hypot(60 - 30.5, 110 + 20))
    assert stop.at == (30.5, -20.0)


def test_only_closed_ground_is_blamed_on_an_area() -> None:
    assert "area" not in found(blocked("void"), "line-blocked")[0].values


def test_the_nearest_miss_is_told_from_the_points_beside_it() -> None:
    (stop,) = found(blocked("grade"), "line-blocked")
    assert stop.values["near"] != "tank"
    assert stop.values["near_m"] == min(
        math.dist(point.xy, (30.5, -20.0)) for point in base().points if point.name != "tank"
    )
    assert stop.values["edge_m"] == 30.0
    told = sentence(stop, "metric")
    assert "it is 1.40 m short of level" in told.message
    assert f'"{stop.values["near"]}" is' in told.message
    assert "edge of the elevation data, 30.0 m from there" in told.message
    assert "by 1.40 m there" in told.remedy


@pytest.mark.parametrize("obstacle", ["closed", "void", "edge"])
def test_an_end_that_stands_on_the_obstacle_is_named(obstacle: str) -> None:
    (stop,) = found(blocked(obstacle, at="tank"), "line-blocked")
    assert stop.values["case"] == f"{obstacle}-end"
    assert stop.values["point"] == "tank"
    assert '"tank"' in sentence(stop, "metric").message.split(":")[1]


def test_no_block_no_finding() -> None:
    assert found(base(), "line-blocked") == []


@pytest.mark.parametrize(("east", "count"), [(99.4, 1), (99.6, 0), (100.0, 0)])
def test_metres_outside_the_stay_area(east: float, count: int) -> None:
    land = PlacedArea("home", "stay", box(-1, -100, east, 0))
    got = found(replace(only(FLAT), areas=(land,)), "leaves-stay")
    assert len(got) == count
    if got:
        assert got[0].values["metres_m"] == pytest.approx(100.0 - east)
        assert got[0].chainage_m == 100.0


def test_two_parcels_side_by_side_are_one_land() -> None:
    halves = (
        PlacedArea("west", "stay", box(-1, -100, 50, 0)),
        PlacedArea("east", "stay", box(50, -100, 101, 0)),
    )
    assert found(replace(only(FLAT), areas=halves), "leaves-stay") == []


def test_without_a_stay_area_nothing_is_left() -> None:
    assert found(base(), "leaves-stay") == []


def test_a_stream_is_found_where_it_is_crossed() -> None:
    assert chainages(crossed([(50.0, -120.0), (50.0, -60.0)]), "stream-crossing") == [50.0]


def test_a_stream_beside_the_line_or_at_its_end_is_not_crossed() -> None:
    assert chainages(crossed([(0.0, -80.0), (100.0, -80.0)]), "stream-crossing") == []
    assert chainages(crossed([(2.9, -120.0), (2.9, -60.0)]), "stream-crossing") == []
    assert chainages(crossed([(97.1, -120.0), (97.1, -60.0)]), "stream-crossing") == []


def test_a_stream_that_winds_over_the_line_is_one_crossing() -> None:
    wind = [(46.0, -95.0), (48.0, -85.0), (50.0, -95.0), (52.0, -85.0)]
    assert len(chainages(crossed(wind), "stream-crossing")) == 1
    apart = [(20.0, -95.0), (20.0, -85.0), (80.0, -85.0), (80.0, -95.0)]
    assert len(chainages(crossed(apart), "stream-crossing")) == 2


def test_a_stream_the_line_runs_along_is_one_crossing() -> None:
    along = [(30.0, -120.0), (30.0, -90.0), (70.0, -90.0), (70.0, -60.0)]
    assert len(chainages(crossed(along), "stream-crossing")) == 1


@pytest.mark.parametrize(("slope", "count"), [(0.64, 0), (0.66, 1)])
def test_ground_too_steep(slope: float, count: int) -> None:
    run = list(np.arange(0.0, 41.0, 1.0))
    for sign in (1.0, -1.0):  # climbing is as steep as falling
        levels = [500.0 + sign * slope * r for r in run]
        got = found(only(drawn("main", run, levels)), "too-steep")
        assert len(got) == count
        if got:
            assert got[0].values["slope"] == pytest.approx(slope)
            assert got[0].values["metres_m"] == pytest.approx(40 * np.hypot(1, slope), rel=0.05)


def test_a_bank_of_one_metre_is_no_slope() -> None:
    run = list(np.arange(0.0, 41.0, 0.5))
    levels = [500.0 if r < 20 else 501.0 for r in run]
    assert found(only(drawn("main", run, levels)), "too-steep") == []


def test_ground_with_a_hole_does_not_break_the_slope() -> None:
    one = drawn("main", [0.0, 10.0, 20.0, 30.0], [500.0, 492.0, 484.0, 476.0])
    ground = one.profile.ground.copy()
    ground[2] = np.nan
    plan = only(replace(one, profile=replace(one.profile, ground=ground)))
    assert len(found(plan, "too-steep")) == 1


def test_owners_and_land_of_nobody() -> None:
    plan = TROUBLES["nobodys-land"]()
    (warn,) = found(plan, "nobodys-land")
    assert warn.values["metres_m"] == base().line("delivery").profile.length
    assert found(base(), "nobodys-land") == []  # no owners drawn: nothing to say
    assert found(base(), "crosses-owner") == []
    shares = (OwnerShare("delivery", "A", 0.4), OwnerShare("delivery", "B", 0.6))
    (note,) = found(put(owners=shares), "crosses-owner")
    assert note.values["owner"] == "B"
