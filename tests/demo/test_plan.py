"""The demo shows what it is for: an air trap and a need not met, and two edits that clear both."""

from pathlib import Path

import pytest

from planner.demo.copy import copy_demo
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.read import read_site

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return make_plan(read_site(copy_demo(tmp_path_factory.mktemp("demo"))))


def codes(plan: Plan, *levels: str) -> list[tuple[str, str | None]]:
    return [(found.code, found.line) for found in plan.findings if found.level in levels]


def test_the_first_plan_has_one_trap_and_too_little_water(first: Plan) -> None:
    assert first.scheme == "ram"
    assert codes(first, "stop", "warn") == [("air-trap", "delivery"), ("yield-below-need", None)]


def test_every_kind_of_line_of_a_ram_scheme_is_there(first: Plan) -> None:
    roles = [line.role for line in first.lines]
    assert set(roles) == {"supply", "drive", "delivery", "distribution", "waste", "overflow"}
    assert roles.count("distribution") == 2
    assert not first.blocked


def test_the_geometry_is_as_it_was_drawn(first: Plan) -> None:
    ground = {point.name: point.ground for point in first.points}
    assert ground["Settling chamber"] - ground["Ram"] == pytest.approx(4.8, abs=0.1)
    assert ground["Tank"] - ground["Ram"] == pytest.approx(32.6, abs=0.2)
    assert 8.0 < ground["Tank"] - ground["Cabin"] < 25.0
    assert 8.0 < ground["Tank"] - ground["Meadow trough"] < 25.0
    drive = next(line for line in first.lines if line.role == "drive")
    bore = drive.settings.pipe.bore
    assert 3.0 <= drive.profile.length / (ground["Settling chamber"] - ground["Ram"]) <= 7.0
    assert 150.0 <= drive.profile.length / bore <= 1000.0


def test_the_trap_is_the_bench_and_not_noise(first: Plan) -> None:
    delivery = next(line for line in first.lines if line.role == "delivery")
    (high,) = delivery.high_points
    assert 1.0 < high.rise_m < 2.5
    x, y = delivery.profile.xy[high.index]
    assert (x - 484_000.0, y - 4_984_000.0) == pytest.approx((287.0, 273.0), abs=15.0)


def test_a_deeper_trench_and_a_larger_share_clear_both(tmp_path: Path) -> None:
    site = copy_demo(tmp_path)
    text = site.read_text(encoding="utf-8")
    for old, new in (
        ('deepest_trench = "1.0 m"', 'deepest_trench = "1.4 m"'),
        ("share_left = 0.5", "share_left = 0.4"),
    ):
        assert old in text
        text = text.replace(old, new)
    site.write_text(text, encoding="utf-8")
    mended = make_plan(read_site(site))
    assert ("air-trap", "delivery") not in codes(mended, "stop", "warn", "note")
    assert ("yield-below-need", None) not in codes(mended, "stop", "warn")
