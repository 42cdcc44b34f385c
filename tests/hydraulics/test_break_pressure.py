"""The fewest break-pressure tanks against every choice there is."""

from itertools import combinations

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.break_pressure import break_pressure_tanks

Floats = npt.NDArray[np.float64]


def serves(
    z: Floats, source: float, allowed: float, needed: Floats, lost: Floats, tanks: tuple[int, ...]
) -> bool:
    """Whether these tanks do, sample by sample."""
    level, start, standing = source, 0, list(tanks)
    for k in range(1, z.size):
        if level - z[k] > allowed + 1e-9:
            return False
        if level - (lost[k] - lost[start]) < max(z[k], needed[k]) - 1e-9:
            return False
        if standing and standing[0] == k:
            level, start = z[k], standing.pop(0)
    return True


@settings(max_examples=300)
@given(st.data())
def test_fewest_equals_trying_all(data: st.DataObject) -> None:
    n = data.draw(st.integers(2, 9))
    drops = data.draw(st.lists(st.integers(-4, 25), min_size=n - 1, max_size=n - 1))
    z = np.concatenate([[200.0], 200.0 - np.cumsum(drops)])
    lost = np.concatenate(
        [[0.0], np.cumsum(data.draw(st.lists(st.integers(0, 2), min_size=n - 1, max_size=n - 1)))]
    ).astype(float)
    stand = np.array(data.draw(st.lists(st.booleans(), min_size=n, max_size=n)))
    needed = z + np.where(np.arange(n) == n - 1, data.draw(st.integers(0, 5)), 0.0)
    allowed, source = float(data.draw(st.integers(10, 60))), 203.0
    got = break_pressure_tanks(
        np.arange(n) * 10.0,
        z,
        source,
        allowed,
        needed_level=needed,
        friction=lost,
        may_stand=stand,
    )
    places = [k for k in range(1, n - 1) if stand[k]]
    served = [
        some
        for count in range(len(places) + 1)
        for some in combinations(places, count)
        if serves(z, source, allowed, needed, lost, some)
    ]
    if got.blocked is not None:
        assert served == []
        return
    assert served
    assert len(got.tanks) == len(served[0])
    assert serves(z, source, allowed, needed, lost, got.tanks)
    highest = np.max(got.static_level - z)
    least = min(
        np.max(stepped(z, source, some) - z) for some in served if len(some) == len(got.tanks)
    )
    assert highest <= least + 2e-3 * allowed


def stepped(z: Floats, source: float, tanks: tuple[int, ...]) -> Floats:
    level = np.full(z.size, source)
    for tank in tanks:
        level[tank + 1 :] = z[tank]
    return level


def test_an_even_slope_is_cut_in_equal_steps() -> None:
    z = np.linspace(200.0, 50.0, 151)
    got = break_pressure_tanks(np.linspace(0.0, 1500.0, 151), z, 200.0, 60.0)
    assert got.blocked is None
    assert got.tanks == (50, 100)
    assert np.max(got.static_level - z) == 50.0
    assert got.static_level[50] == 200.0
    assert got.static_level[51] == 150.0


def test_none_where_none_is_needed() -> None:
    got = break_pressure_tanks([0, 100], [100, 50], 101.0, 60.0)
    assert got.tanks == ()
    assert got.static_level.tolist() == [101.0, 101.0]


def test_an_outlet_that_a_tank_would_put_out_of_reach() -> None:
    # A deep valley before a high outlet: any tank low enough for the valley is too low behind it.
    s, z = [0, 100, 200, 300], [100.0, 60.0, 10.0, 90.0]
    assert break_pressure_tanks(s, z, 100.0, 60.0).blocked == 3
    assert break_pressure_tanks(s, z, 100.0, 60.0, may_stand=[0, 0, 0, 0]).blocked == 2
    assert np.isnan(break_pressure_tanks(s, z, 100.0, 60.0).static_level[3])
    assert break_pressure_tanks(s, z, 100.0, 90.0).tanks == ()


@given(st.floats(20.0, 80.0), st.floats(20.0, 80.0))
def test_stronger_pipe_never_takes_more_tanks(one: float, other: float) -> None:
    s = np.linspace(0.0, 2000.0, 61)
    z = 300.0 - 0.1 * s + 3.0 * np.sin(s / 40.0)
    weak, strong = (break_pressure_tanks(s, z, 301.0, head) for head in sorted((one, other)))
    assert weak.blocked is None
    assert len(strong.tanks) <= len(weak.tanks)


def test_refuses_by_name() -> None:
    s, z = [0.0, 100.0, 200.0], [100.0, 50.0, 10.0]
    with pytest.raises(OutsideRange, match="allowed must be above 0"):
        break_pressure_tanks(s, z, 100.0, 0.0)
    with pytest.raises(OutsideRange, match="source_level must be"):
        break_pressure_tanks(s, z, float("nan"), 60.0)
    with pytest.raises(OutsideRange, match="friction must not fall"):
        break_pressure_tanks(s, z, 100.0, 60.0, friction=[0.0, 2.0, 1.0])
    with pytest.raises(OutsideRange, match="may_stand must be one for each of 3"):
        break_pressure_tanks(s, z, 100.0, 60.0, may_stand=[True])
    with pytest.raises(OutsideRange, match="needed_level must be one number or one for each"):
        break_pressure_tanks(s, z, 100.0, 60.0, needed_level=[1.0, 2.0])
