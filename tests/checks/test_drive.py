"""The drive pipe, at the edges of the published ranges."""

import math

import pytest

from planner.record.value import Plan
from tests.checks.altered import base, found, laying, water
from tests.checks.troubles import bent_drive, drive, drive_over_ground


def cases(plan: Plan, code: str) -> list[object]:
    return [finding.values.get("case") for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("ratio", "case"),
    [(2.99, ["short"]), (3.0, []), (7.0, []), (10.0, []), (10.01, ["long"]), (None, [])],
)
def test_length_to_fall(ratio: float | None, case: list[str]) -> None:
    assert cases(water(drive_length_to_fall=ratio), "drive-length-to-fall") == case


@pytest.mark.parametrize(
    ("ratio", "case"),
    [(149.0, ["short"]), (150.0, []), (1000.0, []), (1001.0, ["long"]), (math.nan, [])],
)
def test_length_to_bore(ratio: float, case: list[str]) -> None:
    assert cases(water(drive_length_to_bore=ratio), "drive-length-to-bore") == case


@pytest.mark.parametrize(
    ("degrees", "code"),
    [
        (4.9, "drive-too-flat"),
        (5.1, None),
        (44.9, None),
        (45.1, "drive-too-steep"),
    ],
)
def test_slope(degrees: float, code: str | None) -> None:
    plan = drive([0.0, 20.0], [500.0, 500.0 - 20.0 * math.tan(math.radians(degrees))])
    hits = [c for c in ("drive-too-flat", "drive-too-steep") if found(plan, c)]
    assert hits == ([code] if code else [])


def test_a_drive_pipe_that_climbs_is_not_called_flat() -> None:
    assert found(drive([0.0, 20.0], [500.0, 501.0]), "drive-too-flat") == []


def test_a_bend_in_plan_is_measured_off_the_straight_line() -> None:
    (bend,) = found(bent_drive(), "drive-not-straight")
    along = base().line("drive").profile.xy
    dx, dy = along[-1] - along[0]
    assert bend.values["off_m"] == pytest.approx(abs(dx) / math.hypot(dx, dy), rel=1e-3)


@pytest.mark.parametrize(("middle", "count"), [(495.2, 0), (495.3, 1), (494.8, 0), (494.7, 1)])
def test_a_bend_in_profile(middle: float, count: int) -> None:
    plan = drive([0.0, 10.0, 20.0], [500.0, middle, 490.0])
    assert len(found(plan, "drive-not-straight")) == count


def test_the_example_runs_straight_on_even_ground() -> None:
    assert found(base(), "drive-not-straight") == []
    assert found(base(), "drive-off-ground") == []
    assert found(base(), "drive-too-steep") == []


@pytest.mark.parametrize(
    ("rise", "case"),
    # The chord lies 0.5 m deep, the trench may be 0.8 m, 0.25 m is the spring of the pipe.
    [(0.5, []), (0.6, ["dug"]), (-0.9, []), (-1.1, ["propped"])],
)
def test_what_the_straight_pipe_asks_of_the_ground(rise: float, case: list[str]) -> None:
    assert cases(drive_over_ground(rise), "drive-off-ground") == case


def test_props_the_site_allows_are_no_fault() -> None:
    allowed = laying("drive", drive_over_ground(-1.1), least_cover=-0.8)
    assert cases(allowed, "drive-off-ground") == []
