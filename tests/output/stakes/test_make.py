"""Stakes stand where they are needed, once, and their figures add up."""

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod, Transformer

from planner.errors import TerrainError
from planner.hydraulics.vents import Vent
from planner.output.stakes.make import APART, stakes_of
from planner.record.value import Finding, Line, Placed
from planner.record.works import LineAir, PlacedVent
from planner.site.field import Papers
from planner.site.value import Point
from tests.example import CRS, example_plan
from tests.staked import (
    a_line,
    a_run,
    crossed_at,
    full_plan,
    high_at,
    low_at,
    plan_of,
    profile_of,
    with_pipe,
)

STRAIGHT = profile_of([(-60.0, 0.0), (60.0, 0.0)])


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """Lines of any shape in plan and section, with points, crossings and joints anywhere."""
    corner = st.tuples(st.floats(-150, 150), st.floats(-130, 130))
    vertices = draw(st.lists(corner, min_size=2, max_size=6))
    legs = np.hypot(*np.diff(np.array(vertices), axis=0).T)
    if np.any(legs < 0.6):
        vertices = [(0.0, 0.0), (draw(st.floats(0.3, 40)), 1.0)]
    profile = profile_of(vertices)
    waves = draw(st.lists(st.tuples(st.floats(-4, 4), st.floats(0.01, 0.4)), max_size=3))
    pipe = profile.pipe + sum(a * np.sin(f * profile.run) for a, f in waves)
    profile = with_pipe(profile, pipe)
    sample = st.integers(0, profile.run.size - 1)
    some = st.lists(sample, max_size=4)
    length = profile.length
    part = draw(st.floats(0.1, 0.9)) * length
    piece = draw(st.floats(2.0, 60.0))
    return a_line(
        profile,
        high_points=tuple(high_at(profile, k) for k in draw(some)),
        low_points=tuple(low_at(profile, k) for k in draw(some)),
        crossed=tuple(crossed_at(profile, k, "Mill Lane") for k in draw(some)),
        runs=(a_run(0.0, part, piece), a_run(part, length, piece)),
    )


@settings(max_examples=40, deadline=None)
@given(lines(), st.one_of(st.none(), st.floats(1.0, 60.0)))
def test_figures_add_up_and_nothing_is_left_out(line: Line, interval: float | None):
    plan = plan_of(line)
    site = replace(plan.site, papers=Papers(stake_interval=interval))
    (staked,) = stakes_of(replace(plan, site=site))
    stakes, profile = staked.stakes, line.profile
    assert all(a.chainage_m < b.chainage_m for a, b in pairwise(stakes))
    assert [s.number for s in stakes] == list(range(1, len(stakes) + 1))
    assert sum(s.back_m for s in stakes) == pytest.approx(profile.run[-1], abs=1e-9)
    assert sum(s.rise_m for s in stakes) == pytest.approx(
        profile.pipe[-1] - profile.pipe[0], abs=1e-9
    )
    assert sum(s.ground_rise_m for s in stakes) == pytest.approx(
        profile.ground[-1] - profile.ground[0], abs=1e-9
    )
    assert (stakes[0].chainage_m, stakes[-1].chainage_m) == (0.0, profile.length)
    wanted = [
        *(("high", p.chainage_m) for p in line.high_points),
        *(("low", p.chainage_m) for p in line.low_points),
        *(("crossing", p.chainage_m) for p in line.crossed),
        *(("joint", joint) for run in line.runs for joint in run.joints),
    ]
    for reason, chainage in wanted:
        near = [s for s in stakes if abs(s.chainage_m - chainage) < APART]
        assert any(reason in s.reasons for s in near), (reason, chainage)
    step = interval or 10.0
    for stake in stakes:
        if stake.reasons[0] == "interval":
            assert stake.chainage_m / step == pytest.approx(round(stake.chainage_m / step))
    gaps = [b.chainage_m - a.chainage_m for a, b in pairwise(stakes)]
    assert max(gaps) <= step + 2 * APART
    assert len(stakes) == 2 or min(gaps) >= APART - 1e-9


@settings(max_examples=20, deadline=None)
@given(lines())
def test_points_lie_on_the_line(line: Line):
    (staked,) = stakes_of(plan_of(line))
    profile = line.profile
    run = np.array([s.run_m for s in staked.stakes])
    x, y = (np.array([s.xy[axis] for s in staked.stakes]) for axis in (0, 1))
    np.testing.assert_allclose(np.interp(run, profile.run, profile.xy[:, 0]), x, atol=1e-9)
    np.testing.assert_allclose(np.interp(run, profile.run, profile.xy[:, 1]), y, atol=1e-9)
    # An independent way to longitude and latitude.
    lon, lat = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True).transform(x, y)
    np.testing.assert_allclose([s.lonlat[0] for s in staked.stakes], lon, atol=1e-10)
    np.testing.assert_allclose([s.lonlat[1] for s in staked.stakes], lat, atol=1e-10)
    widest = float(np.max(np.diff(profile.chainage)))
    off = [abs(profile.chainage[s.index] - s.chainage_m) for s in staked.stakes]
    assert max(off) <= 0.5 * widest + 1e-9


def test_names_are_letters_of_the_role_and_a_number_unique_on_the_site():
    plan = full_plan()
    again = replace(plan.lines[3], name="distribution-two")
    plan = replace(plan, lines=(*plan.lines, again))
    names = [stake.name for staked in stakes_of(plan) for stake in staked.stakes]
    assert len({name.casefold().replace(" ", "") for name in names}) == len(names)
    assert all(re.fullmatch(r"(Su|Dr|De|Di[12]) \d{2,3}", name) for name in names)
    assert names == [stake.name for staked in stakes_of(plan) for stake in staked.stakes]


def test_ends_say_what_they_are():
    for staked in stakes_of(example_plan()):
        assert staked.stakes[0].remark.startswith(f"start: {staked.line.start}")
        assert staked.stakes[-1].remark.startswith(f"end: {staked.line.end}")


def test_feet_ask_for_stakes_each_25_feet():
    plan = plan_of(a_line(STRAIGHT))
    (staked,) = stakes_of(replace(plan, site=replace(plan.site, units="us")))
    assert [s.chainage_m / 0.3048 for s in staked.stakes[1:4]] == pytest.approx([25, 50, 75])


def test_bends_are_found_through_noise():
    """A planted truth: bends of 10 and 40 degrees, and a zigzag of 5 cm that is no bend."""
    angles = np.radians([90.0, 80.0, 120.0])  # from north, clockwise
    legs = np.column_stack([np.sin(angles), np.cos(angles)]) * np.array([[47.0], [33.0], [41.0]])
    profile = profile_of(np.vstack([[0.0, 0.0], np.cumsum(legs, axis=0)]))
    noise = 0.05 * np.where(np.arange(profile.run.size) % 2, 1.0, -1.0)
    noisy = replace(profile, xy=profile.xy + noise[:, None])
    (staked,) = stakes_of(plan_of(a_line(noisy)))
    found = [(s.chainage_m, s.remark) for s in staked.stakes if "bend" in s.reasons]
    assert [remark for _, remark in found] == ["bend 10° to the left", "bend 40° to the right"]
    truth = np.interp([47.0, 80.0], profile.run, profile.chainage)
    assert [at for at, _ in found] == pytest.approx(truth, abs=1.0)


def test_the_grade_changes_where_it_was_planted():
    pipe = np.interp(STRAIGHT.run, [0.0, 43.0, 71.0, 120.0], [500.0, 502.0, 505.5, 506.0])
    profile = with_pipe(STRAIGHT, pipe)
    (staked,) = stakes_of(plan_of(a_line(profile)))
    assert [s.run_m for s in staked.stakes if "grade" in s.reasons] == pytest.approx(
        [43.0, 71.0], abs=0.5
    )


def test_a_high_point_need_not_say_that_the_grade_changes():
    pipe = np.interp(STRAIGHT.run, [0.0, 43.0, 120.0], [500.0, 503.0, 499.0])
    profile = with_pipe(STRAIGHT, pipe)
    (staked,) = stakes_of(plan_of(a_line(profile, high_points=(high_at(profile, 86),))))
    (stake,) = [s for s in staked.stakes if "high" in s.reasons]
    assert (stake.reasons, stake.remark) == (("high", "grade"), "high point: air gathers")


def test_bearings_are_from_true_north():
    east = profile_of([(100.0, 100.0), (140.0, 100.0)])
    (staked,) = stakes_of(plan_of(a_line(east)))
    first, second, *_ = staked.stakes
    geod = Geod(ellps="WGS84")
    assert first.bearing is None
    assert second.bearing == pytest.approx(geod.inv(*first.lonlat, *second.lonlat)[0] % 360.0)
    assert second.bearing == pytest.approx(90.0, abs=0.01)
    assert second.back_m == pytest.approx(geod.inv(*first.lonlat, *second.lonlat)[2], rel=1e-4)


def test_the_more_telling_place_wins_and_reasons_stay():
    profile = STRAIGHT
    at = int(np.argmin(np.abs(profile.chainage - 40.5)))
    line = a_line(
        profile, high_points=(high_at(profile, at),), crossed=(crossed_at(profile, at + 1, ""),)
    )
    (staked,) = stakes_of(plan_of(line))
    (stake,) = [s for s in staked.stakes if "high" in s.reasons]
    assert stake.chainage_m == float(profile.chainage[at])
    assert stake.reasons == ("high", "crossing", "interval")
    assert stake.remark == "high point: air gathers; crosses a stream"


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("air-valve", "high point: fit an air valve"),
        ("standpipe", "high point: fit a standpipe"),
        ("hand-cock", "high point: fit a hand cock"),
        (None, "high point: it takes no vent, see the findings"),
    ],
)
def test_vents_are_told_at_their_high_points(kind, words):
    profile = STRAIGHT
    high = high_at(profile, 100)
    vent = None if kind is None else Vent(kind, float("nan"), by_hand=False)
    air = LineAir((), None, (PlacedVent(100, high.chainage_m, vent),), enough=True)
    (staked,) = stakes_of(plan_of(a_line(profile, high_points=(high,), air=air)))
    assert [s.remark for s in staked.stakes if "high" in s.reasons] == [words]


def test_coils_and_sizes_are_told():
    runs = (a_run(0.0, 55.0, 25.0), a_run(55.0, STRAIGHT.length, 25.0, "25 mm PE"))
    (staked,) = stakes_of(plan_of(a_line(STRAIGHT, runs=runs)))
    told = [(s.remark, s.chainage_m) for s in staked.stakes if {"joint", "size"} & set(s.reasons)]
    assert told == [
        ("joint: 2nd coil begins", 25.0),
        ("joint: 3rd coil begins", 50.0),
        ("25 mm PE begins", 55.0),
        ("joint: 2nd coil begins", 80.0),
        ("joint: 3rd coil begins", 105.0),
    ]


def test_findings_and_way_points_have_stakes():
    plan = plan_of(a_line(STRAIGHT))
    lonlat = (11.2, 47.3)
    plan = replace(
        plan,
        points=(*plan.points, Placed("ford", "way", (7.3, 0.4), lonlat, 500.0, 500.0)),
        site=replace(
            plan.site,
            sketch=replace(
                plan.site.sketch,
                points=(*plan.site.sketch.points, Point("ford", "way", lonlat, "delivery")),
            ),
        ),
        findings=(
            Finding("note", "ram-needed"),
            Finding("warn", "air-trap", line="delivery", chainage_m=33.0),
            Finding("note", "air-trap", line="delivery", chainage_m=1e9),
            Finding("note", "air-trap", line="supply", chainage_m=44.0),
        ),
    )
    (staked,) = stakes_of(plan)
    assert [(s.chainage_m, s.findings) for s in staked.stakes if s.findings] == [
        (33.0, (2,)),
        (STRAIGHT.length, (3,)),
    ]
    way = [(round(s.run_m, 6), s.remark) for s in staked.stakes if "way" in s.reasons]
    assert way == [(67.3, "way point ford")]


def test_holes_in_the_ground_leave_figures_unknown_and_the_rest_whole():
    hole = np.where((STRAIGHT.run > 38.0) & (STRAIGHT.run < 52.0), np.nan, STRAIGHT.ground)
    profile = replace(STRAIGHT, ground=hole, pipe=hole - 0.5)
    (staked,) = stakes_of(plan_of(a_line(profile)))
    unknown = [s for s in staked.stakes if np.isnan(s.ground_m)]
    assert [round(s.chainage_m) for s in unknown] == [40, 50]
    assert all(np.isfinite([*s.lonlat, s.back_m]).all() for s in staked.stakes)


def test_without_a_coordinate_system_it_says_so():
    plan = example_plan()
    with pytest.raises(TerrainError, match="no coordinate system"):
        stakes_of(replace(plan, terrain=replace(plan.terrain, crs=None)))
