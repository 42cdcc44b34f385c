"""A line laid where it lies is laid as the finder of its role lays it."""

from dataclasses import replace

import numpy as np
import pytest

from planner.chain.lay_role import keeps_rule, lay_role, on_ground
from planner.chain.lines import find_lines
from planner.chain.place import lands_of, place_areas, place_points
from planner.chain.scheme import choose_scheme
from planner.profile.along import profile_along
from planner.profile.lay import Laid
from planner.record.value import Line
from planner.routing.land import Land
from planner.routing.way import Way
from planner.site.defaults import default_line
from planner.site.value import Site
from planner.terrain.drainage import find_streams
from tests.chain.scene import LOW_TANK, RAM, SPRING, TANK, TROUGH, area, site, valley

ROCK = area("rock", "costly", (-20, 10, 200, 50), factor=3.0, deepest_trench=0.6)
SITES = {
    "ram": site(SPRING, RAM, TANK, TROUGH, areas=(ROCK,)),
    "gravity": site(SPRING, LOW_TANK, TROUGH),
}


def routed(made: Site) -> tuple[Land, tuple[Line, ...]]:
    areas = place_areas(valley(), made.sketch.areas)
    lands = lands_of(valley(), areas)
    scheme = choose_scheme(made, place_points(valley(), made.sketch))
    found = find_lines(made, scheme, lands, find_streams(valley()), lambda _: None)
    return lands[1], found.lines


@pytest.mark.parametrize("kind", SITES)
def test_on_the_path_of_its_finder_every_line_comes_out_the_same(kind: str) -> None:
    land, lines = routed(SITES[kind])
    assert len(lines) >= 3
    for line in lines:
        profile = profile_along(valley(), line.path, step=np.inf)
        way = lay_role(land, profile, line.role, line.settings.laying)
        np.testing.assert_allclose(way.laid.profile.pipe, line.profile.pipe, atol=1e-9)
        assert way.rule_kept == line.rule_kept
        assert [h.index for h in way.laid.high_points] == [h.index for h in line.high_points]
        assert [low.index for low in way.laid.low_points] == [low.index for low in line.low_points]


def test_where_nothing_was_measured_a_line_is_left_as_it_is() -> None:
    land, lines = routed(SITES["gravity"])
    line = lines[0]
    way = Way(Laid(line.profile, line.high_points, line.low_points, line.flats), line.rule_kept)
    nothing = np.zeros(line.profile.run.size)
    assert on_ground(land, way, nothing, role=line.role, laying=line.settings.laying) is way


def test_all_the_ground_higher_lifts_every_pipe_by_as_much() -> None:
    land, lines = routed(SITES["ram"])
    for line in lines:
        way = Way(Laid(line.profile, line.high_points, line.low_points, line.flats), line.rule_kept)
        up = np.full(line.profile.run.size, 2.5)
        lifted = on_ground(land, way, up, role=line.role, laying=line.settings.laying)
        pipe = lifted.laid.profile.pipe
        np.testing.assert_allclose(pipe, line.profile.pipe + 2.5, atol=1e-6)
        assert len(lifted.laid.high_points) == len(line.high_points)


def test_too_steep_for_what_was_asked_is_laid_all_the_same_and_told() -> None:
    laying = replace(default_line("supply").laying, greatest_grade=0.02)
    land, _ = routed(SITES["gravity"])
    profile = profile_along(valley(), [(20.0, 0.5), (110.0, 0.5)])  # 18 % on the rapid
    way = lay_role(land, profile, "supply", laying)
    assert not way.rule_kept
    assert keeps_rule("supply", way.laid)  # it falls all the way
    assert lay_role(land, profile, "supply", replace(laying, greatest_grade=0.3)).rule_kept
