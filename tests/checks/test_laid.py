"""What the site asks of a line's laying, at the edges."""

from dataclasses import replace

import pytest

from tests.checks.altered import found, laying
from tests.checks.troubles import on_rock, steep_supply


@pytest.mark.parametrize(("grade", "count"), [(0.14, 1), (0.1495, 0), (0.16, 0)])
def test_a_line_steeper_than_asked(grade: float, count: int) -> None:
    hits = found(steep_supply(grade), "steeper-than-asked")
    assert len(hits) == count
    for hit in hits:
        assert hit.values["grade"] == pytest.approx(0.15)
        assert hit.values["metres_m"] == pytest.approx((10.0**2 + 1.5**2) ** 0.5)
        assert hit.chainage_m == pytest.approx((50.0**2 + 2.5**2) ** 0.5)


def test_where_no_greatest_grade_is_asked_none_is_missed() -> None:
    plan = laying("supply", steep_supply(0.1), greatest_grade=None)
    assert found(plan, "steeper-than-asked") == []


@pytest.mark.parametrize(("depth", "count"), [(0.2, 1), (0.34, 1), (0.36, 0), (0.4, 0), (0.9, 0)])
def test_rock_too_shallow_for_the_cover(depth: float, count: int) -> None:
    """The line asks for 0.4 m of cover and lies 0.5 m deep."""
    hits = found(on_rock(depth), "trench-too-shallow")
    assert len(hits) == count
    for hit in hits:
        assert hit.values["metres_m"] == pytest.approx(10.0, abs=1.1)
        assert hit.values["cover_m"] == 0.4
        assert hit.values["area"] == "slabs"
        assert hit.chainage_m == pytest.approx(20.5, abs=0.6)


def test_a_pipe_on_the_surface_asks_for_no_depth() -> None:
    plan = laying("main", on_rock(0.0), least_cover=-0.3, deepest_trench=0.0)
    assert found(plan, "trench-too-shallow") == []


def test_rock_of_no_stated_depth_and_land_of_other_roles_are_no_fault() -> None:
    plan = on_rock(0.2)
    (rock,) = plan.areas
    for other in (replace(rock, deepest_trench=None), replace(rock, role="owner")):
        assert found(replace(plan, areas=(other,)), "trench-too-shallow") == []
