"""`make_plan` on the packaged demo and on made land: what it promises its callers."""

import copy
import datetime
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.demo.copy import copy_demo
from planner.errors import TerrainError
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.read import read_site
from planner.site.value import Site
from tests.chain.scene import SPRING, TANK, TROUGH, codes, point, ram_site, site, valley
from tests.command import SPRING as SPRING_AT
from tests.command import TANK as TANK_AT
from tests.command import headfall, write_site
from tests.command import point as write_point


@pytest.fixture(scope="module")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    return read_site(copy_demo(tmp_path_factory.mktemp("demo")))


@pytest.fixture(scope="module")
def demo(demo_site: Site) -> Plan:
    return make_plan(demo_site)


def test_the_demo_needs_its_ram_and_exercises_every_role(demo: Plan) -> None:
    assert demo.scheme == "ram"
    roles = {line.role for line in demo.lines}
    assert roles >= {"supply", "drive", "delivery", "distribution", "waste"}
    assert all(line.water is not None for line in demo.lines)
    assert not codes(demo, "stop")


def test_every_line_of_the_demo_lies_in_its_trench(demo: Plan) -> None:
    for line in demo.lines:
        laying, depth = line.settings.laying, line.profile.depth
        mouth = line.role in ("waste", "overflow")
        assert depth.min() >= (0.0 if mouth else laying.least_cover) - 1e-6
        assert depth.max() <= laying.deepest_trench + 1e-6


def test_the_demo_s_trap_goes_when_the_trench_is_as_much_deeper_as_the_plan_says(
    demo: Plan, demo_site: Site
) -> None:
    (trap,) = demo.line("delivery").high_points
    assert trap.deeper_m > 0.05
    settings = demo_site.lines["delivery"]
    deepest = settings.laying.deepest_trench + trap.deeper_m + 1e-3
    deeper = replace(settings, laying=replace(settings.laying, deepest_trench=deepest))
    mended = make_plan(replace(demo_site, lines={**demo_site.lines, "delivery": deeper}))
    assert not mended.line("delivery").high_points
    assert mended.line("delivery").rule_kept
    assert "air-trap" in codes(demo)
    assert "air-trap" not in codes(mended)


def test_a_plan_tells_when_it_was_made_and_what_it_does(demo_site: Site) -> None:
    said: list[str] = []
    plan = make_plan(demo_site, say=said.append)
    assert abs(plan.made - datetime.datetime.now(tz=datetime.UTC).date()).days <= 1
    assert [words for words in said if words.startswith("routing")] == [
        f"routing {line.name}" for line in plan.lines
    ]
    assert said[-1] == "checking"


def test_the_same_site_makes_the_same_plan(demo: Plan, demo_site: Site) -> None:
    again = make_plan(demo_site)
    for line in demo.lines:
        assert np.array_equal(line.profile.xy, again.line(line.name).profile.xy)
    assert again.findings == demo.findings


def test_make_plan_leaves_its_site_and_terrain_alone() -> None:
    made, terrain = ram_site(), valley()
    before, levels = copy.deepcopy(made), terrain.z.copy()
    plan = make_plan(made, terrain)
    assert made == before
    assert np.array_equal(terrain.z, levels)
    assert plan.terrain is terrain
    with pytest.raises(ValueError, match="read-only"):
        terrain.z[0, 0] = 0.0


def test_a_chamber_of_the_program_is_a_point_of_the_plan_and_not_of_the_sketch() -> None:
    plan = make_plan(ram_site(), valley())
    assert plan.point("chamber").by_program
    assert "chamber" not in {p.name for p in plan.site.sketch.points}
    assert "chamber-placed" in codes(plan, "note")


def test_swapped_coordinates_are_put_right_and_told() -> None:
    made = ram_site()
    points = tuple(replace(p, at=p.at[::-1]) for p in made.sketch.points)
    plan = make_plan(replace(made, sketch=replace(made.sketch, points=points)), valley())
    assert plan.site.sketch.swapped
    assert "swapped-coordinates" in codes(plan, "warn")
    straight = make_plan(made, valley())
    assert plan.line("delivery").path.equals(straight.line("delivery").path)


def test_a_second_tank_is_named_as_not_planned() -> None:
    second = point("upper tank", "tank", 140.5, 70.5)
    plan = make_plan(site(SPRING, point("ram", "pump", 92.5, 1.5), TANK, second), valley())
    (left_out,) = (f for f in plan.findings if f.code == "not-planned")
    assert left_out.values["point"] == "upper tank"
    assert left_out.at == pytest.approx((140.5, 70.5), abs=1e-6)


def test_a_tank_above_its_source_without_a_pump_stops_the_work() -> None:
    plan = make_plan(site(SPRING, TANK, TROUGH), valley())
    assert codes(plan, "stop") == {"tank-above-source"}


def test_a_tank_hardly_below_its_source_without_a_pump_stops_the_work() -> None:
    level = point("tank", "tank", 151.2, 0.0, height=8.2)
    plan = make_plan(site(SPRING, level), valley())
    assert not [line for line in plan.lines if line.role != "overflow"]
    (stop,) = (f for f in plan.findings if f.level == "stop")
    assert (stop.code, stop.values["case"]) == ("tank-above-source", "little-fall")


def test_a_point_off_the_data_is_refused() -> None:
    with pytest.raises(TerrainError, match="'far tap'"):
        make_plan(site(SPRING, point("far tap", "outlet", 900.0, 0.0)), valley())


@pytest.mark.slow
def test_the_command_s_exit_status_tells_how_the_plan_stands(tmp_path: Path) -> None:
    """0 planned, 1 planned with something that stops the work, 2 unusable and nothing written."""
    downhill = write_site(tmp_path)
    assert headfall("plan", downhill, "--out", tmp_path / "planned").status == 0
    text = downhill.read_text(encoding="utf-8")
    uphill = write_point("spring", TANK_AT) + write_point("tank", SPRING_AT)
    stopped = headfall("plan", write_site(tmp_path, sketch=uphill), "--out", tmp_path / "stopped")
    assert stopped.status == 1
    assert "lies" in stopped.out
    assert (tmp_path / "stopped" / "plan.json").is_file()
    downhill.write_text(text.replace("12 L/min", "-12 L/min"), encoding="utf-8")
    assert headfall("plan", downhill, "--out", tmp_path / "unusable").status == 2
    assert not (tmp_path / "unusable").exists()
