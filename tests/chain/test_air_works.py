"""Air in a line: the worked air-lock example, planted in a gravity main, and its one vent.

Source 100, crests 95, 94, 90, sags 88 and 80, outlet 84, barometric head 10.1 m (reference,
hydraulics 3.4; 90 m are added to each level, where the air holds up just that).
"""

from dataclasses import replace

import numpy as np
import pytest

from planner.chain.air_works import line_air
from planner.hydraulics.full_flow import pipe_flow
from planner.record.value import Line
from planner.record.works import LineAir
from tests.chain.small import line, running

SOURCE = 190.0
LEVELS = (189.5, 185.0, 178.0, 184.0, 170.0, 180.0, 174.0)
CRESTS = (60, 180, 300)
TURNS = [(60.0 * k, level) for k, level in enumerate(LEVELS)]


def main(flow: float = 2e-4, lost: float = 0.2, bore: float = 0.05) -> Line:
    # The start rises nowhere: the first crest is a shoulder that falls to a sag before it.
    turns = [(0.0, 184.0), *TURNS[1:]]
    return running(line(turns, bore=bore), SOURCE, flow, lost)


def air_of(made: Line, level: float = SOURCE) -> LineAir:
    air = line_air(made, level)
    assert air is not None
    return air


def test_the_worked_example_locks() -> None:
    air = air_of(main())
    assert air.start is not None
    assert not air.start.starts
    assert air.start.needed == pytest.approx(8.11, abs=0.02)
    assert air.start.available == pytest.approx(5.0)
    assert air.start.pockets[:2] == pytest.approx((3.88, 9.23), abs=0.02)


def test_it_takes_one_vent_at_the_second_crest_an_open_pipe() -> None:
    air = air_of(main())
    assert air.enough
    (vent,) = air.vents
    assert vent.index == CRESTS[1]
    assert vent.chainage_m == main().profile.chainage[CRESTS[1]]
    assert vent.vent is not None
    assert vent.vent.kind == "standpipe"
    assert vent.vent.height == pytest.approx(190.0 - 184.0 + 0.5)  # above the closed level


def test_what_air_is_left_in_each_leg() -> None:
    legs = air_of(main()).legs
    assert [leg.leg.crest for leg in legs] == list(CRESTS)
    assert [leg.leg.height for leg in legs] == [7.0, 14.0, 6.0]
    assert [leg.clears for leg in legs] == [False, False, False]  # 0.1 m/s
    for leg in legs:
        head = float(np.interp(leg.leg.crest, main().profile.run, main_heads()))
        assert leg.loss.expected == pytest.approx(leg.leg.height * 10.1 / (10.1 + head), rel=0.01)
        assert leg.loss.high == leg.leg.height


def main_heads() -> np.ndarray:
    made = main()
    assert made.water is not None
    return np.asarray(made.water.open_level - made.profile.pipe)


def test_a_flow_that_sweeps_the_legs_needs_no_more_than_the_start_does() -> None:
    fast = main(flow=2.0e-3 * 1.6, lost=3.0)  # 1.6 m/s
    air = air_of(fast)
    assert all(leg.clears is True for leg in air.legs)
    assert all(leg.loss.high == 0.0 for leg in air.legs)
    (vent,) = air.vents
    assert vent.vent is not None
    assert vent.vent.kind == "hand-cock"  # for filling; running, the flow carries the air on


@pytest.mark.parametrize("bore", [0.021, 0.05])
def test_a_line_that_carries_all_it_can_still_finds_its_vents(bore: float) -> None:
    made = main(bore=bore)
    # A crest holds it back: no head to spare there, the grade line just touches the pipe.
    share = made.profile.chainage[list(CRESTS)] / made.profile.length
    lost = float(min((SOURCE - np.array([185.0, 184.0, 180.0])) / share))
    flow = pipe_flow(lost, bore, made.profile.length, 1e-5, 10.0)
    air = air_of(main(flow=flow, lost=lost, bore=bore))
    assert air.enough
    assert all(vent.vent is not None for vent in air.vents)
    need = {leg.leg.crest for leg in air.legs[:2] if leg.clears is not True}
    assert need <= {vent.index for vent in air.vents}  # air in either would take head


def test_a_source_too_low_is_told_and_no_vent_helps() -> None:
    low = running(line([(0.0, 184.0), *TURNS[1:]], bore=0.05), 183.0, 2e-4, 0.2)
    air = air_of(low, 183.0)
    assert not air.enough
    assert air.vents == ()


def test_a_pumped_line_takes_a_vent_at_every_crest_that_is_not_swept() -> None:
    pumped = replace(main(), role="delivery")
    air = air_of(pumped, 0.0)
    assert air.start is None
    assert [vent.index for vent in air.vents] == list(CRESTS)


def test_a_crest_over_the_grade_line_must_have_none() -> None:
    sucked = running(line([(0, 184.0), *TURNS[1:]], role="delivery"), 182.0, 2e-4, 0.2)
    kinds = {vent.index: vent.vent for vent in air_of(sucked).vents}
    assert kinds[CRESTS[0]] is None
    assert kinds[CRESTS[2]] is not None


def test_lines_without_crests_or_water_or_that_run_part_full_have_no_air_works() -> None:
    assert line_air(line(TURNS), SOURCE) is None  # its water is not known
    smooth = running(line([(0, 100.0), (50, 90.0)]), 100.5, 1e-4, 1.0)
    assert line_air(smooth, 100.5) is None
    assert line_air(replace(main(), role="supply"), SOURCE) is None
