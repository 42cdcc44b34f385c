"""Ground classes of areas, and the trench as the integral of its depth."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from planner.output.materials.ground import GROUNDS, dug, ground_of, rough_length
from planner.record.value import PlacedArea, Plan
from planner.site.field import GroundClass, Rates
from tests.output.materials.hand import hand_plan


def area(west: float, east: float, ground: GroundClass | None, deepest: float | None) -> PlacedArea:
    return PlacedArea("a", "costly", box(west, -5, east, 5), 1.0, deepest, ground)


def classes(plan: Plan) -> list[str]:
    return [GROUNDS[k] for k in ground_of(plan, plan.lines[0])]


def test_what_an_area_says_goes_before_what_its_trench_tells() -> None:
    plan = replace(hand_plan(), areas=(area(0, 10, "soft", 0.4), area(10, 20, None, 0.4)))
    assert classes(plan)[:21] == ["soft"] * 10 + ["rock"] * 10 + ["ordinary"]


def test_the_hardest_of_areas_that_overlap_counts() -> None:
    two = (area(0, 10, "stony", None), area(5, 15, "soft", None))
    for areas in (two, two[::-1]):
        plan = replace(hand_plan(), areas=areas)
        assert classes(plan)[:16] == ["stony"] * 10 + ["soft"] * 5 + ["ordinary"]


def test_areas_that_say_nothing_of_the_ground_leave_it() -> None:
    plan = replace(hand_plan(), areas=(area(0, 300, None, None),))
    assert set(classes(plan)) == {"ordinary"}
    stony = replace(plan, site=replace(plan.site, rates=Rates(ground="stony")))
    assert set(classes(stony)) == {"stony"}


def test_rough_length_between_two_chainages() -> None:
    plan = replace(hand_plan(), areas=(area(100, 140, "stony", None),))
    line = plan.lines[0]
    assert rough_length(plan, line, 0.0, 300.0) == pytest.approx(40.0)
    assert rough_length(plan, line, 120.5, 300.0) == pytest.approx(19.5)
    assert rough_length(plan, line, 0.0, 90.0) == 0.0


@settings(max_examples=20, deadline=None)
@given(
    st.lists(st.floats(0.1, 2.5), min_size=301, max_size=301),
    st.lists(st.tuples(st.floats(0, 300), st.sampled_from(GROUNDS)), max_size=4),
)
def test_all_classes_together_are_the_integral_of_the_depth(
    depth: list[float], edges: list[tuple[float, GroundClass]]
) -> None:
    plan = hand_plan()
    line = plan.lines[0]
    ground = line.profile.pipe + np.array(depth)
    line = replace(line, profile=replace(line.profile, ground=ground))
    areas = tuple(area(at, at + 40.0, kind, None) for at, kind in edges)
    rates = Rates(bedding=0.0)
    plan = replace(plan, areas=areas, site=replace(plan.site, rates=rates))
    rows = dug(plan, line)
    whole = float(np.trapezoid(depth, line.profile.run)) * rates.trench_width
    assert sum(row.volume for row in rows) == pytest.approx(whole)
    assert sum(row.length_m for row in rows) == pytest.approx(300.0)
    for row in rows:
        mean = row.side_m2 / row.length_m
        lowest, highest = ((0, 0.6), (0.6, 1.0), (1.0, 1.25), (1.25, 9.0))[row.depth]
        assert lowest - 1e-6 <= mean <= highest + 1e-6
        assert row.backfill + row.bedding + row.pipe == pytest.approx(row.volume)
