"""Plans on real ground: whole, in their trenches, off closed land, and planned again the same."""

import json
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.output.folder import write_plan_folder
from planner.output.plan_json import plan_document
from planner.output.stakes.make import stakes_of
from planner.plan import make_plan
from planner.profile.lay import high_points
from planner.profile.value import Profile
from planner.record.value import Line, Plan
from planner.routing.warm import warm_up
from planner.site.read import read_site
from planner.site.value import Site
from planner.terrain.sample import ground_at
from tests.real_sites import GROUNDS, box_area, inl, jacksboro, muscatatuck, scenario_site

pytestmark = pytest.mark.slow

SKIN = 1e-6  # m
WRITTEN = 1.5e-3  # m; plan.json holds millimetres
MOST_SECONDS = 8.0  # a plan, warm, of half a kilometre square in 1 m cells


def codes(plan: Plan, *levels: str) -> set[str]:
    return {f.code for f in plan.findings if f.level in levels}


@pytest.fixture(scope="module")
def planned() -> Callable[[Path, str], Plan]:
    """Plans of the scenarios, each made once."""
    warm_up()
    made: dict[str, Plan] = {}

    def plan(data: Path, name: str) -> Plan:
        if name not in made:
            made[name] = make_plan(scenario_site(data, name))
        return made[name]

    return plan


def check_line(line: Line, plan: Plan) -> None:
    """The pipe in its trench over ground as it is, its lengths its own."""
    profile, laying = line.profile, line.settings.laying
    ground = ground_at(plan.terrain, profile.xy[:, 0], profile.xy[:, 1])
    assert np.allclose(profile.ground, ground)
    assert np.all(np.isfinite(ground))
    if line.role != "drive":
        mouth = line.role in ("waste", "overflow")
        assert profile.depth.min() >= (0.0 if mouth else laying.least_cover) - SKIN
        assert profile.depth.max() <= laying.deepest_trench + SKIN
    if line.role in ("supply", "waste", "overflow") and line.rule_kept:
        assert np.all(np.diff(profile.pipe) < 0.0)
    if line.role == "delivery" and line.rule_kept:
        assert np.all(np.diff(profile.pipe) > 0.0)
    steps = np.hypot(np.diff(profile.run), np.diff(profile.pipe))
    assert profile.length == pytest.approx(steps.sum())


@pytest.mark.parametrize("name", GROUNDS)
def test_a_scenario_is_planned_whole(
    name: str, planned: Callable[[Path, str], Plan], shared_data: Path
) -> None:
    plan = planned(shared_data, name)
    assert plan.scheme == "ram"
    assert not plan.blocked
    roles = {line.role for line in plan.lines}
    assert roles >= {"drive", "delivery", "distribution", "waste", "overflow"}
    for line in plan.lines:
        check_line(line, plan)
    delivered = plan.water.delivered
    assert delivered is not None
    assert 0.0 <= delivered.low <= delivered.expected <= delivered.high
    assert delivered.expected > 0.0


@pytest.mark.parametrize("name", GROUNDS)
def test_a_scenario_is_planned_in_seconds(name: str, shared_data: Path) -> None:
    warm_up()
    site = scenario_site(shared_data, name)
    begun = time.perf_counter()
    make_plan(site)
    assert time.perf_counter() - begun < MOST_SECONDS


@pytest.mark.parametrize("name", GROUNDS)
def test_the_chamber_the_program_places_gives_3_to_10_falls(
    name: str, planned: Callable[[Path, str], Plan], shared_data: Path
) -> None:
    plan = planned(shared_data, name)
    placed = [point for point in plan.points if point.by_program]
    drive = plan.line("drive")
    if placed:
        assert plan.water.drive_length_to_fall is not None
        assert 3.0 <= plan.water.drive_length_to_fall <= 10.0
        assert drive.start == placed[0].name
        assert plan.line("supply").end == placed[0].name
    else:  # no place suits: from the source itself, and a check tells what is amiss
        assert drive.start == "source"


def from_document(entry: dict[str, Any]) -> Profile:
    """A profile as another program would read it from plan.json."""
    run = np.array(entry["profile"]["run_m"])
    ground = np.array(entry["profile"]["ground_m"])
    return Profile(
        xy=np.column_stack([run, np.zeros(run.size)]),
        run=run,
        chainage=np.array(entry["profile"]["chainage_m"]),
        ground=ground,
        pipe=np.array(entry["profile"]["pipe_m"]),
        filled=np.zeros(run.size, dtype=np.bool_),
    )


@pytest.mark.parametrize("name", GROUNDS)
def test_the_high_points_are_those_that_the_written_profile_has(
    name: str, planned: Callable[[Path, str], Plan], shared_data: Path
) -> None:
    plan = planned(shared_data, name)
    for entry in plan_document(plan)["lines"]:
        if entry["role"] not in ("delivery", "distribution"):
            continue
        laying = plan.line(entry["name"]).settings.laying
        found = high_points(
            from_document(entry),
            laying.least_grade,
            laying.slack + WRITTEN,
            start="closed" if entry["role"] == "delivery" else "open",
        )
        assert len(found) == len(entry["high_points"])
        for high, told in zip(found, entry["high_points"], strict=True):
            assert high.chainage_m == pytest.approx(told["chainage_m"], abs=1.0)
            assert high.rise_m == pytest.approx(told["rise_m"], abs=0.05)


@pytest.mark.parametrize("name", ["gabilan", "auckland", "sanpedro"])
def test_no_line_touches_an_orchard_in_its_way(name: str, shared_data: Path) -> None:
    open_land = scenario_site(shared_data, name)
    orchard = box_area(open_land, 0.5, 20.0 if name == "sanpedro" else 12.0)
    site = replace(open_land, sketch=replace(open_land.sketch, areas=(orchard,)))
    plan = make_plan(site)
    (closed,) = plan.areas
    assert plan.line("delivery").path.length > 1.0
    for line in plan.lines:
        assert not line.path.intersects(closed.shape)
        check_line(line, plan)


def same_but_for_dates(one: dict[str, Any], other: dict[str, Any]) -> None:
    for document in (one, other):
        document.pop("made")
    assert one == other


@pytest.mark.parametrize("name", GROUNDS)
def test_a_plan_s_folder_plans_again_to_the_same_plan(
    name: str, planned: Callable[[Path, str], Plan], shared_data: Path, tmp_path: Path
) -> None:
    plan = planned(shared_data, name)
    folder = write_plan_folder(plan, tmp_path / "plan")
    names = {file.name for file in folder.iterdir()}
    assert names >= {"site.toml", "plan.json", "map.html", "profiles.pdf"}
    assert names >= {f"profile-{line.name}.svg" for line in plan.lines}
    again = make_plan(read_site(folder / "site.toml"))
    written = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    same_but_for_dates(written, plan_document(again, stakes_of(again)))


def test_feet_and_metres_tell_of_one_land(
    planned: Callable[[Path, str], Plan], shared_data: Path
) -> None:
    """The file in US survey feet is the metre one resampled, so lengths agree to a few parts."""
    metres, feet = (planned(shared_data, name) for name in ("gabilan", "gabilan-feet"))
    assert feet.terrain.provenance.height_unit == "us_ft"
    assert not feet.terrain.provenance.height_unit_assumed
    assert metres.water.lift is not None
    assert feet.water.lift is not None
    assert feet.water.lift.expected == pytest.approx(metres.water.lift.expected, abs=0.5)
    for name in ("delivery", "distribution-outlet"):
        assert feet.line(name).profile.length == pytest.approx(
            metres.line(name).profile.length, rel=0.02
        )


def test_two_tiles_are_one_ground(shared_data: Path) -> None:
    """The sketch moved to the seam of the two files: lines run from one into the other."""
    site = scenario_site(shared_data, "auckland")
    whole = make_plan(_moved(site, east=0.0, north=-310.0))
    assert not whole.terrain.provenance.lost_files
    delivery = whole.line("delivery")
    seam = 5_917_440.0  # northing at which one tile ends and the other begins
    assert delivery.profile.xy[:, 1].min() < seam < delivery.profile.xy[:, 1].max()
    for line in whole.lines:
        check_line(line, whole)


def _moved(site: Site, *, east: float, north: float) -> Site:
    lat = site.sketch.points[0].at[1]
    step = (east / (111_320.0 * np.cos(np.radians(lat))), north / 111_320.0)
    points = tuple(
        replace(p, at=(p.at[0] + step[0], p.at[1] + step[1])) for p in site.sketch.points
    )
    return replace(site, sketch=replace(site.sketch, points=points))


def test_coarse_degrees_are_planned_and_not_believed(tmp_path: Path) -> None:
    plan = make_plan(jacksboro(tmp_path))
    assert plan.terrain.provenance.warped
    assert 70.0 < min(plan.terrain.cell) < 95.0
    assert codes(plan, "stop", "warn") >= {"data-too-coarse", "fall-not-proven"}
    for line in plan.lines:
        check_line(line, plan)


def test_a_surface_model_is_called_one(shared_data: Path) -> None:
    plan = make_plan(muscatatuck(shared_data))
    assert "surface-model" in codes(plan, "warn")
    for line in plan.lines:
        check_line(line, plan)


def test_feet_that_nobody_named_are_doubted(shared_data: Path) -> None:
    plan = make_plan(inl(shared_data))
    assert "height-unit-doubt" in codes(plan, "warn")
    assert "height-unit-assumed" in codes(plan, "warn")
    for line in plan.lines:
        check_line(line, plan)


def test_a_tank_in_the_sea_of_zeros_is_refused(shared_data: Path) -> None:
    site = scenario_site(shared_data, "sanpedro")
    out = tuple(
        replace(p, at=(-122.5205, 37.5960)) if p.role == "tank" else p for p in site.sketch.points
    )
    with pytest.raises(TerrainError, match="'tank'"):
        make_plan(replace(site, sketch=replace(site.sketch, points=out)))
