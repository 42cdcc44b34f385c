"""Need by counting, the tank that serves it, and one that is too small."""

import math

import pytest

from planner.band import Band
from planner.chain.tank_works import needed, tank_works
from planner.errors import InputError
from planner.record.value import Water
from planner.record.works import TankWorks
from planner.site.value import PoweredPump, Site, Tank
from tests.chain.small import site


def works(made: Site, delivered: float = 2.0) -> TankWorks:
    got = tank_works(made, Water(delivered=Band(0.8 * delivered, delivered, 1.2 * delivered)))
    assert got is not None
    return got


def test_counted_need() -> None:
    # 4 people at 40 L, 10 sheep at 14 in summer, 100 m² of garden at 3.6: 160 + 140 + 360.
    counted = site(need=None, demand={"person_village": 4.0, "sheep": 10.0, "garden": 100.0})
    band = needed(counted)
    assert band is not None
    assert band.expected == pytest.approx(0.660)
    assert band.low < 0.660 < band.high


def test_need_as_told_stands_before_the_counts() -> None:
    band = needed(site(need=1.5, demand={"person_village": 60.0}))
    assert band is not None
    assert (band.low, band.expected, band.high) == (1.5, 1.5, 1.5)


def test_something_counted_that_has_no_figure() -> None:
    with pytest.raises(InputError, match=r'need.count: no figure is known for "unicorn"'):
        needed(site(need=None, demand={"unicorn": 1.0}))


def test_no_need_is_told() -> None:
    bare = site(need=None)
    assert needed(bare) is None
    got = works(bare)
    assert math.isnan(got.smallest)
    assert got.storage is None
    assert got.load is None


def test_what_comes_and_goes_alike_needs_the_swing_of_a_day() -> None:
    got = works(site(need=2.0), 2.0)
    held, deepest = 0.0, 0.0  # 28 parts a day by hour; 2 m³ comes evenly
    for part in (0, 0, 0, 0, 0, 1, 3, 3, 2, 1, 1, 1, 2, 1, 1, 1, 1, 2, 3, 3, 2, 1, 0, 0) * 3:
        held = min(held + 2.0 / 24 - 2.0 * part / 29, 0.0)
        deepest = min(deepest, held)
    assert got.smallest == pytest.approx(-deepest, abs=0.2)
    assert got.storage is not None
    assert got.storage.shortage_days == 0


def test_a_tank_too_small_is_short_and_one_large_enough_is_not() -> None:
    smallest = works(site(need=2.0), 2.0).smallest
    small = works(site(need=2.0, tank=Tank(volume=smallest / 2)), 2.0)
    assert small.volume == smallest / 2
    assert small.smallest == smallest  # told beside what is given
    assert small.storage is not None
    assert small.storage.shortage_days == 14
    enough = works(site(need=2.0, tank=Tank(volume=smallest * 1.01)), 2.0)
    assert enough.storage is not None
    assert enough.storage.shortage_days == 0


def test_more_needed_than_comes_empties_any_tank_in_the_end() -> None:
    got = works(site(need=3.0, tank=Tank(volume=5.0)), 2.0)
    assert got.storage is not None
    # 5 m³ and 2 a day against 3: the tank lasts some 5 of the 14 days.
    assert got.storage.shortage_days in range(8, 11)
    balance = 14 * 3.0 - 14 * 2.0 - (5.0 - got.storage.stored[-1]) + got.storage.spilt
    assert got.storage.missing == pytest.approx(balance)


def test_the_weight_is_on_the_ground_that_is_told() -> None:
    load = works(site(need=2.0, tank=Tank(volume=3.0, base=2.0))).load
    assert load is not None
    assert load.mass == pytest.approx(3150.0, rel=1e-3)  # 5 % of it the shell
    assert load.pressure == pytest.approx(3150.0 * 9.80665 / 2.0, rel=1e-3)
    assert not load.engineer
    high = works(site(need=2.0, tank=Tank(volume=3.0, base=2.0, stand=2.5))).load
    assert high is not None
    assert high.engineer


def test_time_to_fill() -> None:
    assert works(site(tank=Tank(volume=4.0)), 2.0).fill_time == pytest.approx(2 * 86400.0)


@pytest.mark.parametrize("delivered", [None, Band.exact(0.0), Band.exact(math.nan)])
def test_no_delivery_no_tank(delivered: Band | None) -> None:
    assert tank_works(site(), Water(delivered=delivered)) is None


def test_the_users_own_figure_stands_before_the_published_one() -> None:
    own = {"sheep": 0.006, "alpaca": 0.008}
    band = needed(site(need=None, demand={"sheep": 10.0, "alpaca": 5.0}, each=own))
    assert band is not None
    assert band.expected == pytest.approx(0.100)


def test_the_tank_is_followed_over_the_days_told() -> None:
    short = works(site(need=3.0, tank=Tank(days=3)))
    long = works(site(need=3.0, tank=Tank(days=30)))
    assert (short.days, long.days) == (3, 30)
    assert long.smallest - short.smallest == pytest.approx(27.0)  # 1 m³ more each day


def test_a_pump_of_few_hours_asks_for_a_tank() -> None:
    told = PoweredPump(((0.0, 60.0), (1e-3, 30.0)), hours_per_day=6.0)
    few = works(site("powered", need=2.0, powered=told))
    assert few.smallest > 0.5  # of 2 m³ a day, most is used when the pump rests
    assert works(site(need=2.0)).smallest < few.smallest
