"""Stretches of a deep trench: planted depths are found, bumps and short gaps are not."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.profile.along import chainage_of, profile_along
from planner.profile.lay import Laid
from planner.routing.stretches import NOTICED, SHORTEST, Dug, dug_stretches
from planner.routing.task import Task, task_of
from planner.site.value import Laying
from tests.routing.ground import BURIED, Array, land
from tests.routing.planted import END, START, slope


def laid_at(depth: Array, laying: Laying = BURIED) -> tuple[Task, Laid]:
    """The straight line over even land with its pipe so deep at each half metre."""
    ground = land(slope(0.0))
    profile = profile_along(ground.terrain, [START, END], step=0.5)
    pipe = profile.ground - depth
    profile = replace(profile, pipe=pipe, chainage=chainage_of(profile.run, pipe))
    return task_of("main", ground, (START, END), laying), Laid(profile, (), (), ())


def depths(*parts: tuple[float, float, float]) -> Array:
    """Least cover, but from one run to another so deep."""
    run = np.arange(181) * 0.5
    depth = np.full(run.size, 0.5)
    for begin, end, deep in parts:
        depth[(run >= begin) & (run <= end)] = deep
    return depth


def test_a_planted_stretch_is_found_with_its_depth_length_and_section() -> None:
    (dug,) = dug_stretches(*laid_at(depths((20.0, 30.0, 1.1))))
    assert (dug.first, dug.last) == (40, 60)
    assert dug.deeper == pytest.approx(0.6)
    assert dug.over == pytest.approx(10.0)
    assert dug.section == pytest.approx(6.0)


def test_shallow_and_short_stretches_are_the_ground_s_own_roughness() -> None:
    assert dug_stretches(*laid_at(depths((20.0, 60.0, 0.69), (70.0, 72.0, 1.1)))) == ()


def test_stretches_close_together_are_one_and_far_apart_are_two() -> None:
    near = dug_stretches(*laid_at(depths((20.0, 24.0, 1.0), (26.0, 30.0, 1.2))))
    assert [(dug.first, dug.last) for dug in near] == [(40, 60)]
    assert near[0].deepest == 52
    far = dug_stretches(*laid_at(depths((20.0, 24.0, 1.0), (30.0, 35.0, 1.2))))
    assert [dug.over for dug in far] == [4.0, 5.0]


def test_a_surface_pipe_is_dug_in_only_where_it_lies_under_the_ground() -> None:
    surface = Laying("surface", -0.3, 0.5, 0.005)
    propped = depths() - 0.8
    assert dug_stretches(*laid_at(propped, surface)) == ()
    (dug,) = dug_stretches(*laid_at(depths((10.0, 20.0, 0.9)) - 0.5, surface))
    assert dug.deeper == pytest.approx(0.4)


@given(st.lists(st.floats(0.5, 1.2), min_size=181, max_size=181))
def test_stretches_are_apart_deep_and_as_told(depth: list[float]) -> None:
    found = dug_stretches(*laid_at(np.array(depth)))
    extra = np.array(depth) - 0.5
    for dug in found:
        part = extra[dug.first : dug.last + 1]
        assert part[0] > NOTICED
        assert part[-1] > NOTICED
        assert extra[dug.deepest] == dug.deeper == part.max()
        assert dug.over >= SHORTEST
    assert all(_gap(a, b) >= SHORTEST for a, b in pairwise(found))


def _gap(before: Dug, after: Dug) -> float:
    return 0.5 * (after.first - before.last)
