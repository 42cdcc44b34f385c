"""Every line of a scheme: which there are, from where to where, and what they are called."""

import re
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.chain.lines import find_lines
from planner.chain.place import crossings_of, lands_of, place_areas, place_points
from planner.chain.scheme import choose_scheme
from planner.site.value import Crossing, PoweredPump
from planner.terrain.drainage import find_streams
from tests.chain.scene import (
    LOW_TANK,
    RAM,
    SPRING,
    TANK,
    TROUGH,
    area,
    at,
    point,
    ram_site,
    site,
    valley,
)

CURVE = PoweredPump(((0.0, 60.0), (1e-3, 10.0)))
CHAMBER = point("box", "chamber", 62.5, 0.5)


def lines_of(made, said=None):
    points = place_points(valley(), made.sketch)
    areas = place_areas(valley(), made.sketch.areas)
    streams = find_streams(valley())
    told = [] if said is None else said
    return find_lines(
        made,
        choose_scheme(made, points),
        lands_of(valley(), areas, crossings_of(valley(), made, streams)),
        streams,
        told.append,
    )


def ends(found):
    return [(line.name, line.start, line.end) for line in found.lines]


def test_a_ram_has_supply_drive_delivery_distribution_waste_and_overflow():
    said: list[str] = []
    found = lines_of(site(SPRING, CHAMBER, RAM, TANK, TROUGH), said)
    assert ends(found) == [
        ("supply", "spring", "box"),
        ("drive", "box", "ram"),
        ("delivery", "ram", "tank"),
        ("distribution-trough", "tank", "trough"),
        ("waste", "ram", "stream"),
        ("overflow", "tank", "open ground"),
    ]
    assert said == [line.name for line in found.lines]
    assert not found.blocked


def test_every_line_lies_in_its_trench_and_starts_and_ends_where_it_says():
    found = lines_of(ram_site())
    places = {p.name: p.xy for p in place_points(valley(), ram_site().sketch)}
    chamber = found.scheme.chamber
    assert chamber is not None
    places[chamber.name] = chamber.xy
    for line in found.lines:
        laying, depth = line.settings.laying, line.profile.depth
        assert tuple(line.profile.xy[0]) == pytest.approx(places[line.start], abs=1e-6)
        if line.end in places:
            assert tuple(line.profile.xy[-1]) == pytest.approx(places[line.end], abs=1e-6)
        mouth = line.role in ("waste", "overflow")
        assert depth.min() >= (0.0 if mouth else laying.least_cover) - 1e-6
        assert depth.max() <= laying.deepest_trench + 1e-6


def test_the_program_s_chamber_gives_a_drive_pipe_of_3_to_10_falls():
    found = lines_of(ram_site())
    chamber = found.scheme.chamber
    assert chamber is not None
    assert chamber.by_program
    assert chamber.name == "chamber"
    drive = next(line for line in found.lines if line.role == "drive")
    fall = drive.profile.pipe[0] - drive.profile.pipe[-1]
    assert 3.0 <= drive.profile.length / fall <= 10.0
    assert [line.role for line in found.lines][:2] == ["supply", "drive"]


def test_the_user_s_chamber_stays():
    found = lines_of(site(SPRING, CHAMBER, RAM, TANK))
    assert found.scheme.chamber is not None
    assert found.scheme.chamber.name == "box"
    assert not found.scheme.chamber.by_program


def test_gravity_has_a_main_and_no_ram_s_lines():
    found = lines_of(site(SPRING, RAM, LOW_TANK, TROUGH))
    assert [line.role for line in found.lines] == ["main", "distribution", "overflow"]
    assert ends(found)[0] == ("main", "spring", "tank")


def test_gravity_through_a_chamber():
    found = lines_of(site(SPRING, CHAMBER, LOW_TANK))
    assert ends(found)[:2] == [("supply", "spring", "box"), ("main", "box", "tank")]


def test_without_a_tank_the_outlets_hang_on_the_source():
    garden = point("garden", "outlet", 150.5, 6.5)
    low = point("low tap", "outlet", 180.5, 3.5)
    found = lines_of(site(SPRING, garden, low))
    assert ends(found) == [
        ("distribution-garden", "spring", "garden"),
        ("distribution-low-tap", "spring", "low tap"),
    ]


def test_a_powered_pump_at_the_source_needs_no_supply():
    pump = point("pump", "pump", 20.5, -0.5)
    found = lines_of(site(SPRING, pump, TANK, powered=CURVE))
    assert [line.role for line in found.lines] == ["delivery", "overflow"]


def test_a_powered_pump_behind_a_chamber_has_two_supply_lines():
    found = lines_of(site(SPRING, CHAMBER, RAM, TANK, powered=CURVE))
    assert ends(found)[:3] == [
        ("supply", "spring", "box"),
        ("supply-2", "box", "ram"),
        ("delivery", "ram", "tank"),
    ]


def test_without_a_pump_point_nothing_lifts():
    found = lines_of(site(SPRING, TANK, TROUGH))
    assert [line.role for line in found.lines] == ["distribution", "overflow"]


def test_only_the_first_tank_is_planned():
    second = replace(LOW_TANK, name="second tank")
    found = lines_of(site(SPRING, RAM, TANK, second, TROUGH))
    touched = {name for _, *names in ends(found) for name in names}
    assert "tank" in touched
    assert "second tank" not in touched


NAMES = {
    "Trough": "distribution-trough",
    "trough ": "distribution-trough-2",
    "TROUGH!": "distribution-trough-3",
    "Zürich tap": "distribution-zurich-tap",
    "../../etc/passwd": "distribution-etc-passwd",
    "<script>alert(1)</script>": "distribution-script-alert-1-script",
    "🚰": "distribution",
    "🐄🐄": "distribution-2",
    "<>": "distribution-3",
    "水槽": "distribution-4",
    "w" * 80: "distribution-" + "w" * 40,
}


def test_names_are_unique_and_safe_as_file_names():
    outlets = [
        point(name, "outlet", 125.5 + 5.0 * k, 40.5 - 2.0 * k) for k, name in enumerate(NAMES)
    ]
    found = lines_of(site(SPRING, RAM, TANK, *outlets))
    names = {line.end: line.name for line in found.lines if line.role == "distribution"}
    names |= {lost.end: lost.name for lost in found.blocked}
    assert names == NAMES
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", line.name) for line in found.lines)


def test_way_points_lie_on_the_line_of_their_role_alone():
    way = point("by the oak", "way", 90.5, 40.5, line="delivery")
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, way))
    for line in found.lines:
        away = np.hypot(*(line.profile.xy - (90.5, 40.5)).T).min()
        assert (away < 1e-6) == (line.role == "delivery")


def test_the_chamber_is_placed_past_the_supply_s_way_points():
    way = point("ford", "way", 80.5, -4.5, line="supply")
    found = lines_of(site(SPRING, RAM, TANK, way))
    supply = next(line for line in found.lines if line.role == "supply")
    assert np.hypot(*(supply.profile.xy - (80.5, -4.5)).T).min() < 1e-6
    chamber = found.scheme.chamber
    assert chamber is not None
    assert chamber.xy[0] >= 80.0


def test_a_line_that_can_keep_to_the_parcel_does():
    home = area("home", "stay", (10, -30, 190, 75))
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, areas=(home,)))
    for line in found.lines:
        x, y = line.profile.xy.T
        assert x.min() > 10.0
        assert x.max() < 190.0
        assert y.min() > -30.0
        assert y.max() < 75.0


def test_a_line_that_cannot_keep_to_the_parcel_leaves_it():
    home = area("home", "stay", (10, -30, 140, 75))  # the trough lies outside
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, areas=(home,)))
    out = {line.name for line in found.lines if line.profile.xy[:, 0].max() > 140.0}
    assert out == {"distribution-trough"}
    assert not found.blocked


def test_a_blocked_line_is_told_and_the_others_are_found():
    fort = (
        area("west wall", "avoid", (110, 50, 112, 72)),
        area("east wall", "avoid", (130, 50, 132, 72)),
        area("south wall", "avoid", (110, 50, 132, 52)),
        area("north wall", "avoid", (110, 70, 132, 72)),
    )
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, areas=fort))
    assert {(lost.name, lost.obstacle) for lost in found.blocked} == {
        ("delivery", "closed"),
        ("distribution-trough", "closed"),
    }
    assert {line.role for line in found.lines} >= {"supply", "drive", "waste"}
    delivery = found.blocked[0]
    assert (delivery.start, delivery.end, delivery.role) == ("ram", "tank", "delivery")
    assert delivery.shortfall == pytest.approx(2.0, abs=1.5)


def test_a_drive_pipe_through_a_closed_area_is_blocked_not_drawn():
    shed = area("shed", "avoid", (75, -5, 80, 8))
    found = lines_of(site(SPRING, CHAMBER, RAM, TANK, areas=(shed,)))
    assert [(lost.role, lost.obstacle) for lost in found.blocked] == [("drive", "closed")]


def test_no_line_touches_closed_land():
    bog = area("bog", "avoid", (100, 15, 118, 55))
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, areas=(bog,)))
    (shape,) = place_areas(valley(), (bog,))
    for line in found.lines:
        assert not line.path.intersects(shape.shape)


def test_rock_keeps_the_trench_shallow():
    rock = area("rock", "costly", (-20, 10, 200, 50), factor=3.0, deepest_trench=0.6)
    found = lines_of(site(SPRING, RAM, TANK, TROUGH, areas=(rock,)))
    crossed = 0
    for line in found.lines:
        y = line.profile.xy[:, 1]
        inside = (y > 10.0) & (y < 50.0)
        crossed += int(inside.sum())
        assert np.all(line.profile.depth[inside] <= 0.6 + 1e-6)
    assert crossed > 50


def test_a_dear_road_is_crossed_once_and_a_free_one_as_it_comes():
    """A lane from the west that ends at x = 60: round its end it is farther than straight over."""
    lane = [at(-15.0, 30.5), at(112.0, 30.5)]
    crossed = {}
    for cost in (0.0, 500.0):
        road = Crossing("lane", LineString(lane), cost)
        made = site(SPRING, RAM, TANK)
        made = replace(made, sketch=replace(made.sketch, crossings=(road,)))
        delivery = next(line for line in lines_of(made).lines if line.role == "delivery")
        here = LineString([(-15.0, 30.5), (112.0, 30.5)])
        crossed[cost] = delivery.path.intersects(here)
    assert crossed == {0.0: True, 500.0: False}


def test_a_drive_pipe_bends_only_with_leave():
    """A shed between chamber and ram, which no pipe may pass through."""
    shed = area("shed", "avoid", (77, -0.4, 78, 1.3))
    made = site(SPRING, CHAMBER, RAM, TANK, areas=(shed,))
    straight = lines_of(made)
    assert [(lost.role, lost.obstacle) for lost in straight.blocked] == [("drive", "closed")]
    settings = made.lines["drive"]
    pipe = replace(settings.pipe, bore=0.05)
    laying = replace(settings.laying, bend=True, least_cover=-2.0, deepest_trench=2.0)
    bent = replace(made, lines={**made.lines, "drive": replace(settings, pipe=pipe, laying=laying)})
    found = lines_of(bent)
    assert not found.blocked
    drive = next(line for line in found.lines if line.role == "drive")
    (shape,) = place_areas(valley(), (shed,))
    assert not drive.path.intersects(shape.shape)
