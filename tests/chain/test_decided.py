"""Vents and washouts that are decided find their line, and the point of it they are meant for."""

from dataclasses import replace

import numpy as np
import pytest

from planner.chain.air_works import line_air
from planner.chain.decided import with_decided
from planner.record.value import Line
from planner.record.works import Decided
from planner.site.fit import Fit, FittingKind
from planner.terrain.frame import to_lonlat
from tests.chain.small import line
from tests.chain.test_air_works import CRESTS, SOURCE, main
from tests.example import example_plan, example_terrain

# Two crests 14 m apart with a sag between, a third far off; at y = 0.
TURNS = [(0.0, 500.0), (40.0, 504.0), (47.0, 503.0), (54.0, 504.0), (90.0, 499.0), (120.0, 502.0)]


def fit(x: float, y: float, kind: FittingKind = "vent", on: str = "main") -> Fit:
    lon, lat = to_lonlat(example_terrain(), np.array([[x, y]]))[0].tolist()
    return Fit(on, kind, (lon, lat))


def placed(*fits: Fit, lines: tuple[Line, ...] | None = None) -> tuple[Line, ...]:
    site = replace(example_plan().site, fit=fits)
    return with_decided(site, example_terrain(), lines or (line(TURNS),))


def at(one: Line) -> list[tuple[int, bool]]:
    return [(decided.index, decided.at_turn) for decided in one.decided]


def test_a_vent_goes_to_the_nearest_high_point_and_a_washout_to_the_nearest_low_one() -> None:
    (one,) = placed(fit(46.0, 3.0), fit(46.0, -2.0, "washout"), fit(92.0, 1.0, "washout"))
    assert at(one) == [(40, True), (47, True), (90, True)]
    first = one.decided[0]
    assert first == Decided(0, "vent", 40, float(one.profile.chainage[40]), at_turn=True)


def test_a_high_point_takes_one_vent_and_a_second_goes_to_the_next() -> None:
    (one,) = placed(fit(46.0, 0.0), fit(46.0, 0.0), fit(46.0, 0.0))
    assert at(one) == [(40, True), (54, True), (46, False)]


@pytest.mark.parametrize(
    ("x", "y", "told"),
    [(64.0, 0.0, (54, True)), (64.2, 0.0, (64, False)), (54.0, 9.9, (54, True))],
)
def test_beyond_ten_metres_it_stands_where_it_was_put(
    x: float, y: float, told: tuple[int, bool]
) -> None:
    (one,) = placed(fit(x, y))
    assert at(one) == [told]


def test_off_its_line_or_on_none_it_is_on_no_line() -> None:
    assert [one.decided for one in placed(fit(54.0, 10.5), fit(54.0, 0.0, on="supply"))] == [()]


def test_of_several_lines_of_a_role_the_named_one_is_meant_else_the_nearest() -> None:
    near, far = line(TURNS, "distribution"), line(TURNS, "distribution")
    near = replace(near, name="distribution-a")
    shifted = replace(far.profile, xy=far.profile.xy + np.array([0.0, 4.0]))
    far = replace(far, name="distribution-b", profile=shifted)
    fits = [fit(40.0, 0.0, on=on) for on in ("distribution-b", "distribution", "distribution-gone")]
    a, b = placed(*fits, lines=(near, far))
    assert [one.number for one in a.decided] == [1, 2]
    assert [one.number for one in b.decided] == [0]


def decided(index: int) -> Decided:
    chainage = float(main().profile.chainage[index])
    return Decided(0, "vent", index, chainage, at_turn=True)


def test_a_gravity_line_reckons_with_the_vents_that_are_decided() -> None:
    # The worked air lock: its one vent at the second crest lets it start; at the first another
    # is as good as none for the second.
    air = line_air(replace(main(), decided=(decided(CRESTS[1]),)), SOURCE)
    assert air is not None
    assert air.start is not None
    assert air.start.starts
    assert [one.index for one in air.vents] == [CRESTS[1]]
    other = line_air(replace(main(), decided=(decided(CRESTS[2]),)), SOURCE)
    assert other is not None
    assert other.start is not None
    assert not other.start.starts
    assert [one.index for one in other.vents] == [CRESTS[1], CRESTS[2]]
