"""The fewest vents against every choice there is, and the kind each one is."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.air_lock import Undulations, start_up
from planner.hydraulics.vents import Running, fewest_vents, place_vents, vent_kind
from tests.hydraulics.undulating import WORKED, WORKED_AIR, undulating


def tried_all(
    line: Undulations,
    air: float,
    running: Running,
    forbidden: set[int],
    given: set[int] | frozenset[int] = frozenset(),
) -> tuple[int, float] | None:
    """Number of vents beside those given and widest margin, from every set of crests."""
    there = tuple(given - forbidden)
    crests = [k for k in range(len(line.crests)) if k not in forbidden | given]
    for count in range(len(crests) + 1):
        margins = [
            min(
                start_up(line, air, there + some).margin,
                start_up(
                    line, air, there + some, cleared=running.cleared, friction=running.friction
                ).margin,
            )
            for some in combinations(crests, count)
        ]
        if max(margins) > 0:
            return count, max(margins)
    return None


@settings(max_examples=300)
@given(undulating(7), st.floats(5.0, 10.4), st.data())
def test_fewest_equals_trying_all(line: Undulations, air: float, data: st.DataObject) -> None:
    n = len(line.crests)
    crest = st.integers(0, n - 1)
    lost = data.draw(st.lists(st.floats(0.0, 2.0), min_size=n + 1, max_size=n + 1))
    running = Running(lost, data.draw(st.sets(crest)))
    forbidden = data.draw(st.sets(crest, max_size=2))
    best = tried_all(line, air, running, forbidden)
    got = fewest_vents(line, air, running=running, forbidden=forbidden)
    if best is None:
        assert got is None
        return
    assert got is not None
    assert got.run is not None
    assert got.proved
    assert got.start.starts
    assert got.run.starts
    assert not forbidden & set(got.crests)
    assert len(got.crests) == best[0]
    assert min(got.start.margin, got.run.margin) == pytest.approx(best[1], abs=1e-9)


@settings(max_examples=200)
@given(undulating(6), st.floats(5.0, 10.4), st.data())
def test_vents_given_are_kept_and_only_what_is_still_wanted_is_added(
    line: Undulations, air: float, data: st.DataObject
) -> None:
    n = len(line.crests)
    crest = st.integers(0, n - 1)
    running = Running(data.draw(st.lists(st.floats(0.0, 2.0), min_size=n + 1, max_size=n + 1)))
    forbidden, given_ = (data.draw(st.sets(crest, max_size=2)) for _ in range(2))
    best = tried_all(line, air, running, forbidden, given_)
    got = fewest_vents(line, air, running=running, forbidden=forbidden, given=given_)
    assert (got is None) == (best is None)
    if got is not None and best is not None:
        assert given_ - forbidden <= set(got.crests)
        assert not forbidden & set(got.crests)
        assert len(got.crests) == best[0] + len(given_ - forbidden)
        assert got.crests == tuple(sorted(got.crests))
        assert got.run is not None
        assert min(got.start.margin, got.run.margin) == pytest.approx(best[1], abs=1e-9)


def test_worked_example_takes_one_vent_in_the_middle() -> None:
    got = fewest_vents(WORKED, WORKED_AIR)
    assert got is not None
    assert got.crests == (1,)
    assert got.start.needed == pytest.approx(4.01, abs=0.006)
    assert got.run is None


def test_the_next_best_place_where_the_best_is_forbidden_and_none_where_all_are() -> None:
    other = fewest_vents(WORKED, WORKED_AIR, forbidden=[1])
    assert other is not None
    assert other.crests == (0,)
    assert fewest_vents(WORKED, WORKED_AIR, forbidden=[0, 1]) is None


def test_a_line_that_starts_may_need_vents_to_run() -> None:
    # 4 m of air leave 6 of 10 m; at a flow that takes 8 m the air must go.
    line = Undulations(100.0, (95.0, 90.0), (91.0 - 4.0,), 70.0)
    assert fewest_vents(line, 10.0) is not None
    lost = [1.0, 7.0, 2.0]
    still = fewest_vents(line, 10.0)
    runs = fewest_vents(line, 10.0, running=Running(lost))
    swept = fewest_vents(line, 10.0, running=Running(lost, [0]))
    assert still is not None
    assert still.crests == ()
    assert runs is not None
    assert runs.crests == (0,)
    assert swept is not None
    assert swept.crests == ()


def test_many_crests_are_searched_at_once() -> None:
    n = 120
    crests = tuple(99.0 - 0.25 * k for k in range(n))
    sags = tuple(crests[k + 1] - 0.5 - 0.01 * (k % 7) for k in range(n - 1))
    got = fewest_vents(Undulations(100.0, crests, sags, 60.0), 9.5)
    assert got is not None
    assert got.proved
    assert got.start.starts
    # Taking any one away locks the line again: a check that fewer of these won't do.
    line = Undulations(100.0, crests, sags, 60.0)
    for dropped in got.crests:
        assert not start_up(line, 9.5, set(got.crests) - {dropped}).starts


def test_kinds() -> None:
    pipe = vent_kind(3.0, 6.0)
    assert pipe is not None
    assert pipe.kind == "standpipe"
    assert pipe.height == 6.5  # above the higher of the two levels, outlets closed included
    running_higher = vent_kind(6.0, 3.0)
    assert running_higher is not None
    assert running_higher.height == 6.5
    valve = vent_kind(6.0, 40.0)
    assert valve is not None
    assert (valve.kind, valve.by_hand) == ("air-valve", False)
    leaking = vent_kind(3.0, 40.0)
    assert leaking is not None
    assert (leaking.kind, leaking.by_hand) == ("hand-cock", True)
    low_seal = vent_kind(3.0, 40.0, seals=2.0)
    assert low_seal is not None
    assert low_seal.kind == "air-valve"
    filling = vent_kind(6.0, 40.0, cleared=True)
    assert filling is not None
    assert (filling.kind, filling.by_hand) == ("hand-cock", False)


@given(st.floats(-20.0, -1e-6), st.floats(-20.0, 50.0), st.sampled_from([True, False, None]))
def test_none_where_the_pressure_is_negative(
    low: float, other: float, cleared: bool | None
) -> None:
    assert vent_kind(low, other, cleared=cleared) is None
    assert vent_kind(other, low, cleared=cleared) is None


def test_places_no_vent_on_a_crest_above_the_grade_line() -> None:
    placed = place_vents(WORKED, WORKED_AIR, [2.0, -1.0, 0.5], [5.0, 6.0, 10.0])
    assert placed is not None
    choice, kinds = placed
    assert choice.crests == (0,)
    assert [kind.kind for kind in kinds] == ["standpipe"]
    assert place_vents(WORKED, WORKED_AIR, [-2.0, -1.0, 0.5], [5.0, 6.0, 10.0]) is None


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="open_head must be one for each of 3 crests, got 1"):
        place_vents(WORKED, 10.0, [1.0], [1.0])
    with pytest.raises(OutsideRange, match="barometric must be above 0"):
        fewest_vents(WORKED, -1.0)
    with pytest.raises(OutsideRange, match="crest must be a sample"):
        fewest_vents(WORKED, 10.0, forbidden=[7])
    with pytest.raises(OutsideRange, match="open_head must be"):
        vent_kind(float("nan"), 1.0)


def test_a_line_with_no_head_to_spare_runs_and_one_short_of_it_does_not() -> None:
    line = Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0)
    swept = (0, 1, 2)  # 90 m at the last crest, 94 and 95 before it, and 5 m more: just the source
    just = fewest_vents(line, 10.1, running=Running((5.0, 1.0, 4.0, 0.0), swept))
    assert just is not None
    assert just.crests == (1,)
    assert fewest_vents(line, 10.1, running=Running((5.001, 1.0, 4.0, 0.0), swept)) is None
