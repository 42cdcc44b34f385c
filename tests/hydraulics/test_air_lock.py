"""Start-up of gravity lines: the worked example, a plain solver, and the law of the gas."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import fsolve

from planner.errors import OutsideRange
from planner.hydraulics.air_lock import Undulations, start_up, uncompressed_head, undulations
from tests.hydraulics.undulating import WORKED, WORKED_AIR, undulating

AIR = st.floats(5.0, 10.4)


def test_worked_example_is_locked() -> None:
    # Reference notes 3.4, computed by hand; printed to 0.01 m.
    assert uncompressed_head(WORKED) == 16.0
    got = start_up(WORKED, WORKED_AIR)
    assert not got.starts
    assert got.available == 5.0
    assert got.pockets == pytest.approx((3.88, 9.23, 0.0), abs=0.006)
    assert got.heads == pytest.approx((8.11, 5.23, 0.0), abs=0.006)
    assert got.margin == pytest.approx(5.0 - 8.11, abs=0.006)
    assert sum(got.pockets) > 100.0 - 90.0


def test_worked_example_starts_with_a_vent_at_the_second_crest() -> None:
    got = start_up(WORKED, WORKED_AIR, [1])
    assert got.starts
    assert got.pockets[0] == pytest.approx(5.01, abs=0.006)
    assert got.needed == pytest.approx(4.01, abs=0.006)


def test_a_vent_in_the_wrong_place_does_not_help() -> None:
    # At the last crest there is no air shut in: nothing changes.
    assert start_up(WORKED, WORKED_AIR, [2]) == start_up(WORKED, WORKED_AIR)
    # At a crest with a shallow leg it helps, and not enough; at the deep one it does.
    line = Undulations(100.0, (96.0, 95.0, 93.0), (94.0, 78.0), 70.0)
    assert not start_up(line, 10.0).starts
    assert not start_up(line, 10.0, [0]).starts
    assert start_up(line, 10.0, [1]).starts


def test_the_pockets_satisfy_their_equations_solved_all_at_once() -> None:
    crests, sags = np.array(WORKED.crests), np.array(WORKED.sags)

    def unbalanced(a: np.ndarray) -> np.ndarray:
        p = np.zeros(3)
        for k in (1, 0):
            p[k] = p[k + 1] + crests[k + 1] - (crests[k] - a[k])
        return np.asarray(a * (WORKED_AIR + p[:2]) - (crests[:2] - sags) * WORKED_AIR)

    together = fsolve(unbalanced, [1.0, 1.0], xtol=1e-12)
    np.testing.assert_allclose(start_up(WORKED, WORKED_AIR).pockets[:2], together, rtol=1e-8)


@given(undulating(), AIR)
def test_the_gas_law_holds_in_every_pocket(line: Undulations, air: float) -> None:
    got = start_up(line, air)
    for k, sag in enumerate(line.sags):
        drop = line.crests[k] - sag
        assert got.heads[k] >= -1e-9
        assert 0 < got.pockets[k] <= drop + 1e-9
        assert got.pockets[k] * (air + got.heads[k]) == pytest.approx(drop * air, rel=1e-9)


@given(undulating(), AIR)
def test_starts_only_if_the_pockets_are_less_than_the_source_is_over_the_last_crest(
    line: Undulations, air: float
) -> None:
    got = start_up(line, air)
    last = line.outlet if len(line.sags) == len(line.crests) else line.crests[-1]
    assert got.margin == pytest.approx(line.source - last - sum(got.pockets), abs=1e-9)


@given(undulating(), AIR, AIR)
def test_less_air_pressure_never_makes_a_start_harder(
    line: Undulations, one: float, other: float
) -> None:
    # Less air is shut in, so that the same water presses it smaller.
    thin, thick = start_up(line, min(one, other)), start_up(line, max(one, other))
    assert thin.needed <= thick.needed + 1e-9
    assert thick.needed <= uncompressed_head(line) + 1e-9


@given(undulating(), AIR, st.data())
def test_one_vent_more_never_makes_a_start_harder(
    line: Undulations, air: float, data: st.DataObject
) -> None:
    crest = st.integers(0, len(line.crests) - 1)
    some = data.draw(st.sets(crest))
    more = some | {data.draw(crest)}
    assert start_up(line, air, more).needed <= start_up(line, air, some).needed + 1e-9
    assert uncompressed_head(line, more) <= uncompressed_head(line, some) + 1e-9


@given(undulating(), AIR, st.floats(0.0, 3.0))
def test_friction_never_widens_the_margin(line: Undulations, air: float, lost: float) -> None:
    runs = start_up(line, air, friction=[lost] * (len(line.crests) + 1))
    assert runs.margin <= start_up(line, air).margin + 1e-9


def test_a_crest_above_the_source_never_starts() -> None:
    line = Undulations(100.0, (95.0, 101.0), (90.0,), 80.0)
    assert not start_up(line, 10.0, [0, 1]).starts


def test_a_line_without_crests_starts_if_it_falls() -> None:
    assert start_up(Undulations(100.0, (), (), 99.0), 10.0).margin == 1.0
    assert not start_up(Undulations(100.0, (), (), 100.5), 10.0).starts


def test_turning_levels_of_a_laid_line() -> None:
    z = [99.0, 90.0, 95.0, 93.0, 88.0, 94.0, 80.0, 90.0, 84.0]
    assert undulations(z, [2, 5, 7], [1, 4, 6], 100.0) == WORKED
    assert undulations(z, [7, 2, 5], [6, 4, 1], 100.0) == WORKED
    with pytest.raises(OutsideRange, match="crest must be a sample of the line, 0 to 8, got 9"):
        undulations(z, [9], [], 100.0)
    with pytest.raises(OutsideRange, match="pipe level must be"):
        undulations([1.0, np.nan], [], [], 100.0)


@pytest.mark.parametrize(
    ("levels", "words"),
    [
        ((100.0, (95.0,), (96.0,), 84.0), "sag 1 at 96 m must lie below the crests"),
        ((100.0, (95.0, 90.0), (91.0,), 84.0), "sag 1 at 91 m must lie below"),
        ((100.0, (95.0,), (), 96.0), "outlet at 96 m must lie below the last crest"),
        ((100.0, (95.0,), (80.0, 70.0), 84.0), "a sag between each two"),
        ((np.nan, (95.0,), (), 84.0), "source level must be"),
        ((100.0, (95.0, np.inf), (80.0,), 84.0), "crests level must be"),
    ],
)
def test_refuses_levels_by_name(
    levels: tuple[float, tuple[float, ...], tuple[float, ...], float], words: str
) -> None:
    with pytest.raises(OutsideRange, match=words):
        Undulations(*levels)


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="barometric must be above 0"):
        start_up(WORKED, 0.0)
    with pytest.raises(OutsideRange, match="crest must be a sample of the line, 0 to 2, got 3"):
        start_up(WORKED, 10.0, [3])
    with pytest.raises(OutsideRange, match="friction must be 4 heads"):
        start_up(WORKED, 10.0, friction=[1.0])
    with pytest.raises(OutsideRange, match="friction must be 0 or more"):
        start_up(WORKED, 10.0, friction=[1.0, -1.0, 0.0, 0.0])
