"""A point that is dragged: lines that hang on it follow, near to the plan made of it there."""

from dataclasses import replace

import numpy as np
import pytest

from planner.chain.follow import Followed, Following
from planner.chain.held import Held
from planner.errors import SketchError, TerrainError
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.value import Site
from planner.terrain.frame import to_lonlat
from tests.chain.scene import RAM, SPRING, TANK, TROUGH, area, point, ram_site, site, valley

NEAR = 0.02  # of its length, a line read from a field against the one of the plan


def moved_site(made: Site, name: str, xy: tuple[float, float]) -> Site:
    lon, lat = to_lonlat(valley(), [xy])[0]
    points = tuple(
        replace(one, at=(float(lon), float(lat))) if one.name == name else one
        for one in made.sketch.points
    )
    return replace(made, sketch=replace(made.sketch, points=points))


def following(made: Site) -> tuple[Plan, Following]:
    held = Held()
    plan = make_plan(made, valley(), held=held, alternatives=None)
    return plan, Following(plan, held)


def names(followed: Followed) -> set[str]:
    return {line.name for line in followed.lines}


@pytest.mark.parametrize(
    ("name", "xy"),
    [("tank", (128.0, 55.0)), ("trough", (160.0, 52.0)), ("ram", (96.3, 4.0))],
)
def test_lines_that_follow_are_near_to_those_planned_there(
    name: str, xy: tuple[float, float]
) -> None:
    plan, follow = following(ram_site())
    follow.ready(name)
    followed = follow.move(name, xy)
    there = make_plan(moved_site(ram_site(), name, xy), valley(), alternatives=None)
    exact = {line.name: line for line in there.lines}
    assert names(followed) >= {line.name for line in plan.lines if name in (line.start, line.end)}
    for line in followed.lines:
        assert line.profile.length == pytest.approx(exact[line.name].profile.length, rel=NEAR)
        for end in (0, -1):
            ends = line.profile.xy[end], exact[line.name].profile.xy[end]
            np.testing.assert_allclose(*ends, atol=1e-3)
    assert there.water.lift is not None
    assert followed.water.lift is not None
    assert followed.water.lift.expected == pytest.approx(there.water.lift.expected, abs=1e-3)


def test_lines_that_do_not_hang_on_the_point_stay() -> None:
    plan, follow = following(ram_site())
    assert names(follow.move("trough", (160.0, 52.0))) == {"distribution-trough"}
    assert {"drive", "waste"} & names(follow.move("tank", (128.0, 55.0))) == set()
    again = follow.move("trough", plan.point("trough").xy)
    assert again.point.level == pytest.approx(plan.point("trough").level)


def test_the_water_is_that_of_the_plan_where_a_point_is_put_back() -> None:
    plan, follow = following(ram_site())
    follow.move("tank", (128.0, 55.0))
    back = follow.move("tank", plan.point("tank").xy)
    assert plan.water.delivered is not None
    assert back.water.delivered is not None
    assert back.water.delivered.expected == pytest.approx(plan.water.delivered.expected, rel=1e-3)


def test_a_way_point_bends_the_line_that_passes_it() -> None:
    bend = point("peg", "way", 112.5, 20.5, line="delivery")
    plan, follow = following(site(SPRING, RAM, bend, TANK, TROUGH))
    follow.ready("peg")
    (line,) = follow.move("peg", (118.0, 26.0)).lines
    assert line.name == "delivery"
    assert np.min(np.hypot(*(line.profile.xy - (118.0, 26.0)).T)) < 1e-3
    was = plan.line("delivery").profile.xy
    assert np.min(np.hypot(*(was - (118.0, 26.0)).T)) > 1.0


def test_a_chamber_of_the_program_goes_with_the_ram() -> None:
    plan, follow = following(ram_site())
    (chamber,) = [one for one in plan.points if one.by_program]
    followed = follow.move("ram", (96.0, 4.0))
    there = make_plan(moved_site(ram_site(), "ram", (96.0, 4.0)), valley(), alternatives=None)
    (planned,) = [one for one in there.points if one.by_program]
    now = chamber if followed.placed is None else followed.placed
    np.testing.assert_allclose(now.xy, planned.xy, atol=1.0)


def test_a_closed_area_takes_the_lines_away() -> None:
    walled = ram_site()
    box = area("yard", "avoid", (140.0, 30.0, 150.0, 40.0))
    walled = replace(walled, sketch=replace(walled.sketch, areas=(box,)))
    _, follow = following(walled)
    followed = follow.move("trough", (145.0, 35.0))
    assert [one.name for one in followed.gone] == ["distribution-trough"]
    assert not followed.lines
    assert names(follow.move("trough", (165.0, 45.0))) == {"distribution-trough"}


def test_places_without_ground_and_unknown_points_are_refused() -> None:
    _, follow = following(ram_site())
    with pytest.raises(TerrainError, match="'tank'"):
        follow.move("tank", (5000.0, 0.0))
    with pytest.raises(SketchError, match="nobody"):
        follow.move("nobody", (120.0, 40.0))
    assert names(follow.move("trough", (160.0, 52.0))) == {"distribution-trough"}
