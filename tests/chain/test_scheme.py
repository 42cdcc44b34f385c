"""Gravity first, then the pump the site names, then a ram."""

import pytest

from planner.chain.place import place_points
from planner.chain.scheme import choose_scheme
from planner.site.value import PoweredPump
from tests.chain.scene import LOW_TANK, RAM, SPRING, TANK, TROUGH, point, site, valley

CURVE = PoweredPump(((0.0, 40.0), (1e-3, 10.0)))


def scheme(*points, **said):
    made = site(*points, **said)
    return choose_scheme(made, place_points(valley(), made.sketch))


def test_a_tank_well_below_the_source_runs_by_gravity_even_with_a_pump_in_the_sketch():
    chosen = scheme(SPRING, RAM, LOW_TANK, TROUGH, powered=CURVE)
    assert (chosen.kind, chosen.reason) == ("gravity", "tank-below-source")


def test_a_tank_above_the_source_needs_a_ram():
    chosen = scheme(SPRING, RAM, TANK, TROUGH)
    assert (chosen.kind, chosen.reason) == ("ram", "tank-above-source")
    assert chosen.pump is not None
    assert chosen.pump.name == "ram"


def test_a_pump_curve_makes_it_powered():
    chosen = scheme(SPRING, RAM, TANK, powered=CURVE)
    assert (chosen.kind, chosen.reason) == ("powered", "pump-curve")


# The spring lies at 99.51 m, the place of the tank at 91.09 m and 130.7 m away: a main falls by
# 0.3 % at least, 0.39 m on this way.
@pytest.mark.parametrize(
    ("height", "kind", "reason"),
    [
        (7.9, "gravity", "tank-below-source"),
        (8.2, "ram", "little-fall"),
        (8.6, "ram", "tank-above-source"),
    ],
)
def test_the_fall_must_reach_for_the_least_grade_of_a_main(height, kind, reason):
    tank = point("tank", "tank", 151.2, 0.0, height=height)
    chosen = scheme(SPRING, tank)
    assert chosen.goal.ground == pytest.approx(91.089, abs=1e-6)
    assert (chosen.kind, chosen.reason) == (kind, reason)


def test_the_tank_s_stand_counts():
    tank = point("tank", "tank", 150.5, 6.5, height=12.0)
    assert scheme(SPRING, RAM, tank).kind == "ram"


def test_the_first_source_tank_pump_and_chamber_are_taken():
    chosen = scheme(
        SPRING,
        point("upper spring", "source", 0.5, 0.5),
        RAM,
        point("other ram", "pump", 110.5, 1.5),
        point("box", "chamber", 60.5, 0.5),
        TANK,
        LOW_TANK.__class__("second tank", "tank", LOW_TANK.at),
        TROUGH,
    )
    names = [p.name for p in (chosen.source, chosen.pump, chosen.chamber, chosen.goal) if p]
    assert names == ["spring", "ram", "box", "tank"]
    assert [outlet.name for outlet in chosen.outlets] == ["trough"]


def test_without_a_tank_the_first_outlet_is_the_goal():
    garden = point("garden", "outlet", 150.5, 6.5)
    chosen = scheme(SPRING, garden, TROUGH)
    assert chosen.goal.name == "garden"
    assert chosen.kind == "gravity"
    assert [outlet.name for outlet in chosen.outlets] == ["trough"]
    assert chosen.pump is None
    assert chosen.chamber is None
