"""The water of a scheme, by hand: bands, energy, friction, and where the grade line ends."""

import math
from dataclasses import replace

import numpy as np
import pytest

from planner.chain.water import DAY, difference
from planner.hydraulics import friction_loss
from planner.plan import make_plan
from planner.record.value import Placed
from planner.site.value import PoweredPump, Source
from planner.terrain.value import Provenance
from tests.chain.scene import (
    LOW_TANK,
    RAM,
    SIGMA,
    SPRING,
    TANK,
    TROUGH,
    levels,
    point,
    ram_site,
    site,
    terrain_of,
    valley,
)

FLOW, LEFT = 5e-4, 0.3
TAKEN = FLOW * (1.0 - LEFT)
PLENTY = Source(flow=2e-2, season="dry", share_left=0.0)


def plan_of(made):
    return make_plan(made, valley())


@pytest.fixture(scope="module")
def ram_plan():
    return plan_of(ram_site())


def placed(level):
    return Placed("a", "tank", (0.0, 0.0), (0.0, 0.0), level, level)


def lost(line, flow):
    pipe = line.settings.pipe
    return float(friction_loss(flow, pipe.bore, line.profile.length, pipe.roughness, 10.0))


def test_a_difference_of_levels_has_the_error_of_two():
    band = difference(placed(12.0), placed(9.5), valley())
    half = 1.645 * math.sqrt(2.0) * SIGMA  # 90 % of a normal error, two of them independent
    assert (band.low, band.expected, band.high) == pytest.approx((2.5 - half, 2.5, 2.5 + half))


def test_an_unknown_error_leaves_the_figure_alone():
    unknown = replace(valley(), provenance=Provenance())
    band = difference(placed(12.0), placed(9.5), unknown)
    assert (band.low, band.high) == (2.5, 2.5)


def test_fall_and_lift_are_those_of_the_ground(ram_plan):
    chamber, ram, tank = (ram_plan.point(n).level for n in ("chamber", "ram", "tank"))
    assert ram_plan.water.fall.expected == pytest.approx(chamber - ram)
    assert ram_plan.water.lift.expected == pytest.approx(tank - ram)


def test_what_is_taken_leaves_its_share(ram_plan):
    assert ram_plan.water.source_flow == pytest.approx(FLOW)
    assert ram_plan.water.taken == pytest.approx(TAKEN)


def test_a_ram_never_makes_energy(ram_plan):
    water = ram_plan.water
    flows = [float(q) / DAY for q in (water.delivered.low, water.delivered.expected)]
    # At every edge of the band the work done is less than the water's fall could do.
    assert flows[1] * water.lift.expected < TAKEN * water.fall.expected
    assert flows[0] * water.lift.high < TAKEN * water.fall.low
    high = float(water.delivered.high) / DAY
    assert high * water.lift.low < 1.05 * TAKEN * water.fall.high  # 5 %: doubt of the reading
    assert flows[0] <= flows[1] <= high


def test_what_a_ram_takes_it_delivers_or_spends(ram_plan):
    water = ram_plan.water
    assert water.spent.expected + water.delivered.expected / DAY == pytest.approx(TAKEN)
    assert water.spent.low <= water.spent.expected <= water.spent.high


def test_the_delivery_s_friction_is_that_of_its_own_flow(ram_plan):
    line = ram_plan.line("delivery")
    flow = float(ram_plan.water.delivered.expected) / DAY
    assert line.water.flow == pytest.approx(flow)
    assert line.water.friction == pytest.approx(lost(line, flow), rel=1e-9)
    assert ram_plan.water.lift_friction == pytest.approx(line.water.friction)
    bore = line.settings.pipe.bore
    assert line.water.velocity == pytest.approx(flow / (math.pi * bore**2 / 4.0))


def test_the_delivery_s_grade_line_comes_down_to_the_tank(ram_plan):
    line, tank = ram_plan.line("delivery"), ram_plan.point("tank").level
    assert line.water.open_level[-1] == pytest.approx(tank)
    assert line.water.open_level[0] == pytest.approx(tank + line.water.friction)
    assert np.all(line.water.closed_level == tank)
    assert line.water.end_head == 0.0
    assert line.water.runs_full


def test_a_distribution_line_starts_at_the_tank_and_leaves_the_rest_as_head(ram_plan):
    line = ram_plan.line("distribution-trough")
    tank, trough = ram_plan.point("tank").level, ram_plan.point("trough").level
    assert line.water.open_level[0] == pytest.approx(tank)
    assert np.all(line.water.closed_level == tank)
    assert line.water.friction == pytest.approx(lost(line, line.water.flow), rel=1e-9)
    assert line.water.end_head == pytest.approx(tank - line.water.friction - trough)


def test_an_outlet_gives_what_is_asked_or_all_there_is():
    tap = replace(TROUGH, flow=1e-4)
    asked = plan_of(site(SPRING, RAM, TANK, tap)).line("distribution-trough")
    assert asked.water.flow == pytest.approx(1e-4)
    thirsty = replace(TROUGH, flow=5e-2)
    line = plan_of(site(SPRING, RAM, TANK, thirsty)).line("distribution-trough")
    assert line.water.flow < 5e-2
    assert line.water.end_head == pytest.approx(0.0, abs=1e-6)  # all the fall goes into friction


def test_an_outlet_above_its_tank_gives_nothing():
    high = point("loft", "outlet", 121.5, 70.5, height=6.0)
    plan = plan_of(site(SPRING, RAM, TANK, high))
    line = plan.line("distribution-loft")
    assert line.water.flow == 0.0
    assert line.water.end_head == pytest.approx(plan.point("tank").level - plan.point("loft").level)


def test_gravity_with_plenty_of_water_runs_full_and_uses_all_its_fall():
    plan = plan_of(site(SPRING, LOW_TANK, source=PLENTY))
    line, spring, tank = plan.line("main"), plan.point("spring"), plan.point("tank")
    assert plan.scheme == "gravity"
    assert plan.water.fall.expected == pytest.approx(spring.level - tank.level)
    assert plan.water.delivered.expected == pytest.approx(line.water.flow * DAY, rel=1e-6)
    assert line.water.open_level[-1] == pytest.approx(tank.level, abs=1e-6)
    assert np.all(np.diff(line.water.open_level) <= 1e-9)
    assert line.water.open_level.max() <= spring.level + 1e-6
    assert lost(line, line.water.flow) <= plan.water.fall.expected + 1e-6
    assert plan.water.delivered.low < plan.water.delivered.expected < plan.water.delivered.high


def test_gravity_with_little_water_gives_what_comes_and_runs_part_full():
    plan = plan_of(site(SPRING, LOW_TANK))
    line = plan.line("main")
    assert line.water.flow == pytest.approx(TAKEN)
    assert not line.water.runs_full
    assert plan.water.delivered.expected == pytest.approx(TAKEN * DAY)
    assert np.all(line.water.open_level >= line.profile.pipe - 1e-9)


def test_gravity_of_an_unmeasured_source_is_what_the_pipe_carries():
    told = plan_of(site(SPRING, LOW_TANK, source=PLENTY)).water.delivered.expected
    plan = plan_of(site(SPRING, LOW_TANK, source=Source()))
    assert plan.water.taken is None
    assert plan.water.delivered.expected == pytest.approx(told, rel=1e-6)


def test_without_a_tank_the_first_outlet_left_open_is_the_yield():
    garden = point("garden", "outlet", 150.5, 6.5)
    far = point("far tap", "outlet", 180.5, 3.5)
    tankless = plan_of(site(SPRING, garden, far, source=PLENTY))
    tanked = site(SPRING, replace(garden, role="tank"), source=PLENTY)
    same_pipe = {**tanked.lines, "main": tanked.lines["distribution"]}
    main = plan_of(replace(tanked, lines=same_pipe)).water
    assert tankless.water.fall.expected == pytest.approx(main.fall.expected)
    assert tankless.water.delivered.expected == pytest.approx(main.delivered.expected)
    little = plan_of(site(SPRING, garden, far))
    assert little.water.delivered.expected == pytest.approx(TAKEN * DAY)


def test_a_ram_on_an_unmeasured_source_delivers_nobody_knows_what():
    plan = plan_of(ram_site(source=Source()))
    assert plan.water.delivered is None
    assert plan.water.spent is None
    assert plan.water.fall is not None
    assert plan.line("delivery").water is None


def test_a_narrow_supply_pipe_bounds_what_reaches_the_ram():
    wide = ram_site(source=PLENTY)
    thin = dict(wide.lines)
    pipe = replace(thin["supply"].pipe, bore=0.012)
    thin["supply"] = replace(thin["supply"], pipe=pipe)
    plan = plan_of(replace(wide, lines=thin))
    supply = plan.line("supply")
    drop = plan.point("spring").level - plan.point("chamber").level
    assert lost(supply, supply.water.flow) == pytest.approx(drop, rel=1e-3)
    assert plan.line("drive").water.flow == pytest.approx(supply.water.flow)
    assert plan.water.delivered.expected / DAY < supply.water.flow


CURVE = ((0.0, 60.0), (5e-4, 45.0), (1e-3, 10.0))


def test_a_powered_pump_runs_where_its_curve_meets_lift_and_friction():
    pump = PoweredPump(CURVE, hours_per_day=5.0)
    plan = plan_of(site(SPRING, RAM, TANK, powered=pump, source=PLENTY))
    line = plan.line("delivery")
    flow = line.water.flow
    head = float(np.interp(flow, [q for q, _ in CURVE], [h for _, h in CURVE]))
    lift = plan.point("tank").level - plan.point("ram").level
    assert head == pytest.approx(lift + lost(line, flow), rel=1e-6)
    assert plan.water.delivered.expected == pytest.approx(flow * 5.0 * 3600.0)
    assert plan.water.delivered.low < plan.water.delivered.expected < plan.water.delivered.high


def test_a_pump_gives_no_more_than_comes():
    plan = plan_of(site(SPRING, RAM, TANK, powered=PoweredPump(((0.0, 60.0), (5e-3, 50.0)))))
    assert plan.line("delivery").water.flow == pytest.approx(TAKEN)


def test_a_pump_too_weak_delivers_nothing_known():
    plan = plan_of(site(SPRING, RAM, TANK, powered=PoweredPump(((0.0, 9.0), (1e-3, 1.0)))))
    assert math.isnan(plan.water.delivered.expected)
    assert plan.line("delivery").water is None
    assert any(finding.level == "stop" for finding in plan.findings)


def test_a_ram_as_high_as_its_water_has_no_yield():
    upper = point("ram", "pump", 10.5, 20.5)
    plan = plan_of(site(SPRING, upper, TANK))
    assert plan.water.fall.expected < 0.0
    assert plan.water.delivered is None
    assert "ram-above-source" in {f.code for f in plan.findings if f.level == "stop"}


def test_waste_runs_what_the_ram_spends_and_never_full(ram_plan):
    line = ram_plan.line("waste")
    assert line.water.flow == pytest.approx(float(ram_plan.water.spent.expected))
    assert not line.water.runs_full
    assert np.array_equal(line.water.open_level, line.profile.pipe)


def test_the_less_sure_the_data_the_wider_the_yield():
    made = ram_site()
    widths = []
    for sigma in (0.02, 0.1, 0.3):
        delivered = make_plan(made, terrain_of(levels(), sigma)).water.delivered
        assert delivered is not None
        widths.append(float(delivered.high) - float(delivered.low))
    assert widths == sorted(widths)
    assert widths[2] > 1.2 * widths[0]
