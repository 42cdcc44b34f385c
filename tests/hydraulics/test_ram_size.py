"""Sizes of rams by their drive pipe's bore, against the makers' lists; side by side, in stages."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics import ram_yield
from planner.hydraulics.friction import area
from planner.hydraulics.ram_size import BORES, recommend_rams, size_of

LITRE_A_MINUTE = 1e-3 / 60.0
# Drive flow l/min, from, to, and drive pipe mm, in lists not read by the program.
# R6, German makers, as in a German waterworks text: two lists; R7, British trade list used by
# FAO/ITDG; R8, home-made rams, Clemson bulletin (US gallons there).
MAKERS: list[tuple[float, float, float]] = [
    (3, 7, 19), (6, 15, 25), (11, 26, 30), (22, 53, 50), (45, 94, 65), (80, 130, 80),
    (120, 200, 80),
    (2, 15, 25), (5, 25, 32), (20, 60, 51), (40, 100, 76), (100, 200, 89),
    (7, 16, 32), (12, 25, 38), (27, 55, 51), (45, 96, 63.5), (68, 137, 76), (136, 270, 101),
    (180, 410, 127),
]  # fmt: skip
HOME_MADE: list[tuple[float, float, float]] = [
    (2.8, 7.6, 19), (5.7, 22.7, 25), (7.6, 37.9, 32), (9.5, 56.8, 38), (11.4, 125, 51),
    (45.4, 170, 63.5), (75.7, 284, 76), (114, 568, 101),
]  # fmt: skip


def bore_for(flow: float) -> float:
    """First choice for a flow [l/min], mm."""
    return recommend_rams(flow * LITRE_A_MINUTE, 3.0, 20.0)[0].size.bore * 1000


@pytest.mark.parametrize(("least", "most", "bore"), MAKERS)
def test_in_the_middle_of_a_makers_range_its_bore_or_the_next(
    least: float, most: float, bore: float
) -> None:
    # Lists differ among themselves by a size: 11 to 15 l/min are for 25, 30, 32 or 38 mm.
    nominal = np.array(BORES) * 1000
    own = int(np.argmin(np.abs(np.log(nominal / bore))))
    got = int(np.argmin(np.abs(nominal - bore_for(math.sqrt(least * most)))))
    assert abs(got - own) <= 1


@pytest.mark.parametrize(("least", "most", "bore"), MAKERS + HOME_MADE)
def test_our_range_of_a_bore_overlaps_the_lists(least: float, most: float, bore: float) -> None:
    section = float(area(np.float64(bore / 1000)))
    ours = np.array([0.15, 0.5]) * section / LITRE_A_MINUTE
    shared = min(ours[1], most) / max(ours[0], least)
    assert shared > 1.1  # by a tenth at least


def test_the_middles_of_the_makers_ranges_have_our_speeds() -> None:
    flows = np.array([math.sqrt(a * b) for a, b, _ in MAKERS]) * LITRE_A_MINUTE
    speeds = flows / area(np.array([d for _, _, d in MAKERS]) / 1000)
    assert np.mean((speeds >= 0.15) & (speeds <= 0.5)) > 0.9
    assert np.median(speeds) == pytest.approx(math.sqrt(0.15 * 0.5), rel=0.25)


def test_neighbours_are_the_next_bores() -> None:
    option = recommend_rams(40 * LITRE_A_MINUTE, 3.0, 20.0)[0]
    assert option.size.bore == 0.05
    assert [size.bore for size in option.neighbours] == [0.04, 0.065]
    smaller, larger = option.neighbours
    assert smaller.velocity > option.size.velocity > larger.velocity
    ends = recommend_rams(4 * LITRE_A_MINUTE, 3.0, 20.0)[0]
    assert [size.bore for size in ends.neighbours] == [0.025]


def test_delivery_is_that_of_the_yield() -> None:
    flow = 40 * LITRE_A_MINUTE
    option = recommend_rams(flow, 3.0, 20.0, kind="home-made")[0]
    band = ram_yield(flow, 3.0, 20.0, "home-made")
    for edge in ("low", "expected", "high"):
        assert getattr(option.delivered, edge) == pytest.approx(getattr(band, edge))
    own = recommend_rams(flow, 3.0, 20.0, measured=Band(0.4, 0.5, 0.6))[0]
    assert own.delivered.expected == pytest.approx(flow * 0.5 * 3 / 20)


def test_more_than_the_largest_bore_takes_goes_side_by_side() -> None:
    options = recommend_rams(1000 * LITRE_A_MINUTE, 3.0, 20.0)
    assert [option.arrangement for option in options] == ["parallel"]
    assert options[0].count == 2  # 150 mm takes 530 l/min at 0.5 m/s
    many = recommend_rams(100 * LITRE_A_MINUTE, 3.0, 20.0, bores=[0.032])
    assert (many[0].arrangement, many[0].count) == ("parallel", 5)  # 24 l/min each at most


def test_too_little_for_any_and_too_much_for_twenty() -> None:
    assert recommend_rams(1 * LITRE_A_MINUTE, 3.0, 20.0) == ()
    assert recommend_rams(1.0, 3.0, 20.0) == ()


@pytest.mark.parametrize(
    ("fall", "lift", "cautions", "staged"),
    [
        (3.0, 30.0, (), False),
        (3.0, 48.0, ("ratio above good running",), False),
        (3.0, 63.0, ("ratio above the last that runs",), True),
        (2.0, 100.0, ("ratio above the last that runs", "not published"), True),
        (12.0, 160.0, ("lift above makers' lists",), False),
        (0.8, 10.0, ("not published",), False),
    ],
)
def test_cautions_and_stages_by_ratio(
    fall: float, lift: float, cautions: tuple[str, ...], staged: bool
) -> None:
    options = recommend_rams(40 * LITRE_A_MINUTE, fall, lift)
    assert options[0].cautions == cautions
    assert np.isnan(options[0].delivered.expected) == ("not published" in cautions)
    assert any(option.arrangement == "stages" for option in options) == staged


def test_stages_by_hand() -> None:
    options = recommend_rams(100 * LITRE_A_MINUTE, 2.0, 100.0)
    stages = options[-1]
    second = stages.second
    assert second is not None
    # The second ram stands on the first one's level or above, and lifts to the same end.
    above = second.tank_lift - second.fall
    assert above >= -1e-9
    assert above + second.lift == pytest.approx(100.0)
    assert second.lift / second.fall <= 15.0 + 1e-9
    between = ram_yield(100 * LITRE_A_MINUTE, 2.0, second.tank_lift)
    assert second.drive_flow == pytest.approx(between.expected)
    end = ram_yield(second.drive_flow, second.fall, second.lift)
    assert stages.delivered.expected == pytest.approx(end.expected)
    # No better place for the tank between, tried by a coarser walk.
    for tank in np.linspace(4.0, 30.0, 27):
        fall = min(tank, 15.0)
        lift = 100.0 - tank + fall
        if 2.0 <= lift / fall <= 15.0:
            first = ram_yield(100 * LITRE_A_MINUTE, 2.0, tank)
            tried = ram_yield(float(first.expected), fall, lift)
            assert tried.expected <= stages.delivered.expected * 1.001


def test_a_second_ram_with_too_little_water_is_said_so() -> None:
    stages = recommend_rams(5 * LITRE_A_MINUTE, 2.0, 60.0)[-1]
    assert stages.arrangement == "stages"
    assert stages.cautions == ("second ram starved",)
    assert stages.second is not None
    assert stages.second.size is None


@given(st.floats(5.0, 500.0), st.floats(1.0, 15.0), st.floats(2.0, 40.0))
def test_never_more_than_the_energy_there_is_and_always_in_the_speeds(
    flow: float, fall: float, ratio: float
) -> None:
    q, lift = flow * LITRE_A_MINUTE, fall * ratio
    for option in recommend_rams(q, fall, lift):
        assert 0.15 <= option.size.velocity <= 0.5
        section = float(area(np.float64(option.size.bore)))
        assert option.size.velocity * section * option.count == pytest.approx(q)
        assert float(option.delivered.high) < q / ratio or np.isnan(option.delivered.high)


@given(st.floats(3.0, 500.0), st.floats(1.0, 3.0))
def test_more_flow_never_a_smaller_bore(flow: float, more: float) -> None:
    bores = np.array(BORES)
    less, greater = (size_of(q * LITRE_A_MINUTE, bores, (0.15, 0.5)) for q in (flow, flow * more))
    if less is not None and greater is not None:
        assert greater.bore >= less.bore


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"flow": math.nan}, "flow must be above 0"),
        ({"fall": -1.0}, "fall must be above 0"),
        ({"lift": 2.0}, "lift must be above the fall of 3 m, got 2"),
        ({"bores": []}, "bores must be 1 to 1000 values, got 0"),
        ({"bores": [0.05, 0.04]}, "bores must rise"),
        ({"bores": [0.05, math.nan]}, "bores must be above 0"),
        ({"velocity": (0.5, 0.15)}, "velocity must rise"),
        ({"kind": "clockwork"}, "kind of ram must be one of"),
    ],
)
def test_refuses_by_name(changed: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {"flow": 1e-3, "fall": 3.0, "lift": 20.0}
    with pytest.raises(OutsideRange, match=words):
        recommend_rams(**(given | changed))
