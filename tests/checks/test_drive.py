"""The drive pipe, at the edges of the published ranges."""

import math

import pytest

from planner.record.value import Plan
from tests.checks.altered import base, found, laying, water
from tests.checks.troubles import bent_drive, drive, drive_over_ground, propped_drive


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


def test_a_bend_that_is_allowed_is_told_with_its_turn_and_is_no_fault() -> None:
    (bend,) = found(laying("drive", drive([0, 10, 20], [500, 495, 492.6]), bend=True), CODE)
    turn = math.degrees(math.atan(0.5) - math.atan(0.24))
    assert bend.level == "note"
    assert bend.values["turn"] == pytest.approx(turn)
    assert bend.chainage_m == pytest.approx(math.hypot(10.0, 5.0))
    assert found(laying("drive", drive([0, 10, 20], [500, 495, 490]), bend=True), CODE) == []


CODE = "drive-not-straight"


def test_a_bent_pipe_is_judged_where_it_lies_not_along_the_chord() -> None:
    bent = drive([0, 10, 20], [500, 496.5, 490])  # half a metre under its ground all along
    assert cases(bent, "drive-off-ground") == ["dug"]
    assert cases(laying("drive", bent, bend=True), "drive-off-ground") == []


@pytest.mark.parametrize(("height", "told"), [(0.2, []), (0.3, [0.3]), (0.49, [0.49]), (0.6, [])])
def test_how_far_it_is_propped_is_told_where_it_is_no_fault(
    height: float, told: list[float]
) -> None:
    plan = propped_drive(height)
    notes = [finding.values["propped_m"] for finding in found(plan, "drive-supports")]
    assert notes == pytest.approx(told)
    assert bool(cases(plan, "drive-off-ground")) == (height > 0.5)


def test_how_far_it_is_propped_and_dug_in_is_told_at_once() -> None:
    (note,) = found(drive_over_ground(-0.9), "drive-supports")
    assert note.values == pytest.approx({"case": "both", "propped_m": 0.4, "dug_m": 0.5})
