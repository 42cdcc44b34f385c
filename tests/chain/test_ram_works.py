"""The ram of a scheme: none without one, tuned or told, published or measured."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.band import Band
from planner.chain.ram_works import measured_ram, ram_works
from planner.chain.water import scheme_water
from planner.record.value import Line, Water
from planner.record.works import RamWorks
from planner.site.value import MeasuredDelivery, Ram, Site
from tests.chain.conftest import Found
from tests.chain.small import line, running, site

FALL, LIFT, FLOW = 2.4, 24.0, 40.0 / 60000.0
DRIVE = running(line([(0.0, 102.4), (12.0, 100.0)], "drive"), 102.4, FLOW, 0.05)
DELIVERY = running(line([(0.0, 100.0), (400.0, 124.0)], "delivery"), 125.0, 4e-5, 0.4)


def known(delivered: float = 3.2) -> Water:
    return Water(
        fall=Band.exact(FALL),
        lift=Band.exact(LIFT),
        lift_friction=0.4,
        delivered=Band(0.5 * delivered, delivered, 1.5 * delivered),
    )


def works(made: Site, drive: Line = DRIVE, water: Water | None = None) -> RamWorks | None:
    return ram_works(made, water or known(), drive, DELIVERY)


def test_it_is_tuned_to_the_water_there_is() -> None:
    got = works(site())
    assert got is not None
    assert got.tuned
    assert got.beat.cycle.drive_flow == pytest.approx(FLOW)
    # The worked example of the reference, 1.5: 40 l/min and 0.8 m/s at 2.4 over 24 m, 12 m long.
    assert got.closing_velocity == pytest.approx(0.8, rel=0.05)
    assert got.peak.beating == pytest.approx(2.0 * (LIFT + 0.4))
    assert [option.arrangement for option in got.options] == ["single", "parallel"]


def test_a_closing_speed_that_is_told_stands() -> None:
    got = works(site(ram=Ram(closing_velocity=0.5)))
    assert got is not None
    assert (got.closing_velocity, got.tuned) == (0.5, False)
    assert got.beat.cycle.drive_flow < FLOW


def test_a_flow_no_valve_takes_has_the_usual_closing_speed() -> None:
    much = replace(DRIVE, water=replace(DRIVE.water, flow=0.02))  # type: ignore[type-var]
    got = works(site(), much)
    assert got is not None
    assert (got.closing_velocity, got.tuned) == (0.8, True)


def test_sizes_hold_the_pipe_that_lies_and_no_double_of_it() -> None:
    got = works(site())
    assert got is not None
    assert got.sizes is not None
    bores = [pipe.bore for pipe in got.sizes.pipes]
    assert DELIVERY.settings.pipe.bore in bores
    assert all(b / a > 1.01 for a, b in pairwise(bores))


def test_cold_water_is_in_the_sizes() -> None:
    cold, warm = (works(site(temperature=t)) for t in (1.0, 30.0))
    assert cold is not None
    assert warm is not None
    assert cold.sizes is not None
    assert warm.sizes is not None
    assert cold.sizes.pipes[-1].friction > warm.sizes.pipes[-1].friction


def test_measured_deliveries_replace_the_published_band() -> None:
    # 1.2 and 1.6 L/min of 40 at 24 over 2.4 m: 0.3 and 0.4, read to 10 %; published is 0.55.
    seen = tuple(MeasuredDelivery(FLOW, FALL, LIFT, q / 60000.0) for q in (1.2, 1.6))
    made = site(ram=Ram(measured=seen))
    band = measured_ram(made)
    assert band is not None
    assert (band.low, band.expected, band.high) == pytest.approx((0.27, 0.35, 0.44))
    got, published = works(made), works(site())
    assert got is not None
    assert published is not None
    driven = FLOW * FALL / (LIFT + 0.4)
    assert got.options[0].delivered.expected == pytest.approx(0.35 * driven)
    assert got.options[0].delivered.low == pytest.approx(0.27 * driven)
    assert published.options[0].delivered.expected > 0.5 * driven


def test_measured_deliveries_reach_the_schemes_water(valley: dict[str, Found]) -> None:
    """On ground: the delivered band is eta Q H / h at the three measured efficiencies."""
    scheme, terrain, lines = valley["ram"]
    seen = (MeasuredDelivery(FLOW, FALL, LIFT, 1.4 / 60000.0),)  # 0.35
    water, _ = scheme_water(site(ram=Ram(measured=seen)), terrain, scheme, lines)
    assert water.delivered is not None
    assert water.fall is not None
    assert water.lift is not None
    assert water.taken is not None
    head = float(water.lift.expected) + float(water.lift_friction or 0.0)
    driven = water.taken * float(water.fall.expected) / head
    assert float(water.delivered.expected) / 86400.0 == pytest.approx(0.35 * driven)


@pytest.mark.parametrize(
    "water",
    [
        Water(),
        replace(known(), fall=None),
        replace(known(), lift=None),
        replace(known(), delivered=None),
        replace(known(), fall=Band.exact(-1.0)),
        replace(known(), lift=Band.exact(1.0)),  # under the fall: it runs by itself
        replace(known(), lift_friction=math.nan),
    ],
)
def test_no_ram_where_fall_lift_or_yield_are_not_known(water: Water) -> None:
    assert works(site(), water=water) is None


def test_no_ram_without_drive_water() -> None:
    assert works(site(), replace(DRIVE, water=None)) is None


def test_a_yield_that_no_table_covers_still_has_a_beat() -> None:
    nan = Band(math.nan, math.nan, math.nan)
    got = works(site(), water=replace(known(), delivered=nan, lift_friction=0.0))
    assert got is not None
    assert got.sizes is None
    assert math.isnan(got.start.filling_time)
