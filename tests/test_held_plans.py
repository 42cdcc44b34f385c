"""A plan made with what earlier plans came to is the plan made without."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.random import Generator

from planner.chain.held import Held
from planner.errors import HeadfallError
from planner.output.plan_json import plan_document
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.value import Laying, LineRole, Site
from planner.terrain.read import read_terrain
from planner.terrain.value import Terrain
from tests.chain.scene import TANK, area, point, ram_site, valley
from tests.real_sites import box_area, scenario_site

EDITS = 7


def document(plan: Plan) -> str:
    return json.dumps(plan_document(plan))


def told(site: Site, terrain: Terrain, held: Held) -> str:
    """The plan, or why there is none."""
    try:
        return document(make_plan(site, terrain, held=held))
    except HeadfallError as error:
        return error.message


def moved(site: Site, terrain: Terrain, dice: Generator) -> Site:
    """One point some metres away."""
    at = int(dice.integers(len(site.sketch.points)))
    step = dice.uniform(-2e-4, 2e-4, 2)
    points = list(site.sketch.points)
    lon, lat = points[at].at
    points[at] = replace(points[at], at=(lon + float(step[0]), lat + float(step[1])))
    return replace(site, sketch=replace(site.sketch, points=tuple(points)))


def laid_otherwise(site: Site, terrain: Terrain, dice: Generator) -> Site:
    """Another trench, or another price."""
    roles: tuple[LineRole, ...] = ("supply", "delivery", "distribution")
    role = roles[int(dice.integers(len(roles)))]
    settings = site.lines[role]
    changed: list[Laying] = [
        replace(settings.laying, deepest_trench=float(dice.uniform(1.0, 1.5))),
        replace(settings.laying, vent_cost=float(dice.uniform(5.0, 60.0))),
        replace(settings.laying, bend_cost=float(dice.uniform(0.0, 3.0))),
    ]
    laying = changed[int(dice.integers(len(changed)))]
    return replace(site, lines={**site.lines, role: replace(settings, laying=laying)})


def closed_in_part(site: Site, terrain: Terrain, dice: Generator) -> Site:
    """An area to avoid, or none any more."""
    if site.sketch.areas:
        return replace(site, sketch=replace(site.sketch, areas=()))
    box = box_area(site, float(dice.uniform(0.3, 0.7)), float(dice.uniform(3.0, 12.0)))
    return replace(site, sketch=replace(site.sketch, areas=(box,)))


def with_less_water(site: Site, terrain: Terrain, dice: Generator) -> Site:
    source = replace(site.source, flow=float(dice.uniform(2e-4, 2e-3)))
    return replace(site, source=source, stream_cost=float(dice.choice([10.0, 25.0])))


EVERY: tuple[Callable[[Site, Terrain, Generator], Site], ...] = (
    moved,
    moved,
    laid_otherwise,
    closed_in_part,
    with_less_water,
)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2])
def test_edits_of_a_real_site_in_turn_give_the_plans_made_from_nothing(
    seed: int, shared_data: Path
) -> None:
    dice, held = np.random.default_rng(seed), Held()
    site = scenario_site(shared_data, "gabilan")
    terrain = read_terrain(site.elevation.files)
    seen = set()
    for _ in range(EDITS):
        edited = EVERY[int(dice.integers(len(EVERY)))](site, terrain, dice)
        fresh = told(edited, terrain, Held())
        assert told(edited, terrain, held) == fresh
        seen.add(fresh)
        site = edited
    assert len(seen) > EDITS // 2  # the edits did change the plans


def test_undone_edits_bring_back_the_plan_as_it_was() -> None:
    held, first = Held(), ram_site()
    higher = replace(
        first,
        sketch=replace(
            first.sketch,
            points=tuple(
                replace(TANK, at=point("", "tank", 120.5, 66.5).at) if one == TANK else one
                for one in first.sketch.points
            ),
            areas=(area("orchard", "avoid", (100.0, 20.0, 112.0, 34.0)),),
        ),
    )
    plans = [document(make_plan(one, valley(), held=held)) for one in (first, higher, first)]
    assert plans[0] == plans[2]
    assert plans[0] != plans[1]


def test_a_plan_broken_off_anywhere_leaves_what_is_held_as_it_should_be() -> None:
    class BrokenOff(Exception):
        """What a worker raises where a newer question has come."""

    said: list[str] = []
    whole = document(make_plan(ram_site(), valley(), say=said.append))
    held = Held()
    for most in range(1, len(said) + 1):
        told: list[str] = []

        def say(words: str, told: list[str] = told, most: int = most) -> None:
            told.append(words)
            if len(told) == most:
                raise BrokenOff

        with pytest.raises(BrokenOff):
            make_plan(ram_site(), valley(), held=held, say=say)
    assert document(make_plan(ram_site(), valley(), held=held)) == whole


def test_without_choices_all_but_them_is_the_same() -> None:
    quick = make_plan(ram_site(), valley(), alternatives=None)
    whole = make_plan(ram_site(), valley())
    assert all(line.figures is None and not line.choices for line in quick.lines)
    assert any(line.figures is not None for line in whole.lines)
    bare = tuple(replace(line, figures=None, choices=()) for line in whole.lines)
    assert document(replace(quick, findings=())) == document(
        replace(whole, lines=bare, findings=())
    )
