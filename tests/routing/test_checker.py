"""The checker itself: each planted fault is found, and what it re-adds is right by hand."""

from itertools import pairwise, product
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from tests.routing import checker
from tests.routing.checker import Job, Track, faults, fewest_vents, least_works, rises_between

X, Y = np.meshgrid(np.arange(40) + 0.5, -np.arange(20) - 0.5)
START, END = (2.5, -10.5), (35.5, -10.5)


def job(z=0.1 * X, **more):
    return Job(z, (1.0, 1.0), (0.0, 0.0), START, END, **more)


def route(*between, **more):
    line = LineString([START, *between, END])
    length = line.length * np.hypot(1.0, 0.1)  # along a plane that rises to the east by 0.1
    known = {"line": line, "length": length, "cost": length, "vents": 0, "digging": 0.0}
    return SimpleNamespace(**(known | more))


def test_a_right_route_has_no_fault():
    assert faults(job(lowest=0.1), route()) == []


def wall(cells):
    cost = np.ones(X.shape)
    cost[cells] = np.inf
    return cost


def hole(cells):
    z = 0.1 * X
    z[cells] = np.nan
    return z


ROAD = np.where(np.arange(40) == 20, 5.0, 1.0) * np.ones((20, 1))
BUMP = 0.1 * X + np.where((X > 20) & (X < 21), 1.0, 0.0)
PLANTED = {
    "an end beside the point": (
        job(),
        route(line=LineString([START, (35.5, -10.4)])),
        "the end is",
    ),
    "a way point passed by": (job(way=((20.0, -3.0),)), route(), "does not pass"),
    "a wall": (job(cost=wall(np.s_[:, 20])), route(), "against closed"),
    "a wall's corner": (job(cost=wall(np.s_[9, 20])), route((20.0, -10.01)), "against closed"),
    "a hole": (job(hole(np.s_[10, 20])), route(), "against closed"),
    "too flat": (job(lowest=0.11), route(), "fits the band"),
    "too steep": (job(highest=0.09), route(), "fits the band"),
    "a dip": (job(BUMP, lowest=0.01, slack=0.5), route(), "fits the band"),
    "a slope across": (job(0.1 * Y, side_slope=0.09), route(), "across the line"),
    "a length too short": (job(), route(length=33.0), "the length is"),
    "a road not paid for": (job(cost=ROAD), route(), "the cost is"),
    "a road paid twice": (job(cost=ROAD), route(cost=33.165 + 9.0), "the cost is"),
    "a vent too many": (job(lowest=0.01, vent_cost=5.0), route(vents=1), "0 high points"),
    "no digging": (job(lowest=0.11, slack=0.5, dig_cost=2.0), route(), "the cost is"),
}


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_fault_is_found(name):
    asked, given_route, words = PLANTED[name]
    assert any(words in fault for fault in faults(asked, given_route))


def test_a_road_one_cell_wide_is_re_added():
    assert faults(job(cost=ROAD), route(cost=33 * np.hypot(1, 0.1) + 4 * np.hypot(1, 0.1))) == []


def test_digging_is_re_added():
    """Rising by 0.11 over 33 m of ground that rises by 0.1: 0.33 m deep at the start, then less."""
    asked = job(lowest=0.11, slack=0.5, dig_cost=2.0)
    length = 33 * np.hypot(1, 0.1)
    assert faults(asked, route(cost=length + 2.0 * 33 * 0.33 / 2)) == []


steps = st.lists(st.tuples(st.sampled_from([0.5, 1.0]), st.integers(-3, 3)), min_size=2, max_size=6)


def track(parts, slack):
    run = np.concatenate([[0.0], np.cumsum([step for step, _ in parts])])
    top = np.concatenate([[0.0], np.cumsum([rise / 10 for _, rise in parts])])
    return Track(np.zeros((len(run), 2)), run, run, run, top, top - slack)


@settings(max_examples=60, deadline=None)
@given(steps, st.sampled_from([0.0, 0.1, 0.25]), st.sampled_from(["open", "closed"]))
def test_fewest_vents_and_least_works_against_all_choices(parts, slack, begins):
    """Every choice of rising and falling steps, on a lattice that holds a best laying."""
    line, grade, lattice = track(parts, slack), 0.05, 0.025
    least: dict[int, float] = {}
    for ups in product((True, False), repeat=len(parts)):
        vents = sum(a and not b for a, b in pairwise(ups))
        vents += begins == "closed" and not ups[0]
        digging = lattice_digging(line, ups, grade, lattice)
        if digging is not None:
            least[vents] = min(least.get(vents, np.inf), digging)
    assert fewest_vents(line, grade, begins) == min(least, default=None)
    if least:
        asked = job(lowest=grade, vent_cost=0.3, dig_cost=1.5, begins=begins)
        got, doubt = least_works(asked, line, np.ones(len(parts)))
        want = min(0.3 * vents + 1.5 * digging for vents, digging in least.items())
        assert got == pytest.approx(want, abs=doubt + 1e-5)


def lattice_digging(line, ups, grade, lattice):
    """Least digging when each step rises or falls as told, or None; levels on a lattice."""
    depths = np.arange(0.0, line.top[0] - line.bottom[0] + 1e-9, lattice)
    best = np.zeros(len(depths))
    for k, (step, rising) in enumerate(zip(np.diff(line.run), ups, strict=True)):
        rise = line.top[k + 1] - line.top[k] + depths[:, None] - depths[None, :]
        fits = (rise if rising else -rise) >= grade * step - 1e-9
        area = step * (depths[:, None] + depths[None, :]) / 2
        best = np.min(np.where(fits, best[:, None] + area, np.inf), axis=0)
    return float(best.min()) if np.isfinite(best.min()) else None


@settings(max_examples=60, deadline=None)
@given(steps, st.sampled_from([0.0, 0.1]), st.sampled_from([-0.1, 0.0, 0.1]))
def test_the_running_extremes_say_what_all_pairs_say(parts, slack, lowest):
    line, highest = track(parts, slack), 0.2
    pairs = [(a, b) for a in range(len(line.run)) for b in range(a + 1, len(line.run))]
    fits = all(
        line.top[b] >= line.bottom[a] + lowest * (line.run[b] - line.run[a]) - 1e-6
        and line.bottom[b] <= line.top[a] + highest * (line.run[b] - line.run[a]) + 1e-6
        for a, b in pairs
    )
    assert rises_between(line, lowest, highest) == fits


def test_the_checker_shares_no_code_with_the_program():
    assert "planner" not in Path(checker.__file__).read_text(encoding="utf-8")
