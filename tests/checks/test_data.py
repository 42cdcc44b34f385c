"""Elevation data and sketch: each check at its edge."""

import math

import pytest

from tests.checks.altered import base, fall, found, provenance
from tests.checks.troubles import TROUBLES

QUIET = [
    "height-unit-assumed",
    "height-unit-doubt",
    "surface-model",
    "data-too-coarse",
    "data-coarsened",
    "files-unused",
    "sketch-ignored",
    "swapped-coordinates",
    "on-filled-data",
]


@pytest.mark.parametrize("code", QUIET)
def test_good_data_is_left_in_peace(code: str) -> None:
    assert found(base(), code) == []


@pytest.mark.parametrize(
    ("cell", "drop", "levels"),
    [
        (3.0, 3.0, []),
        (3.01, 3.0, ["warn"]),
        (14.9, 3.0, ["warn"]),
        (15.0, 3.0, ["stop"]),
        (30.0, 3.0, ["stop"]),  # a 3 m fall cannot be read from a 30 m grid
        (30.0, 60.0, []),
    ],
)
def test_cells_against_the_fall(cell: float, drop: float, levels: list[str]) -> None:
    plan = provenance(fall(drop), native_cell=cell)
    assert [finding.level for finding in found(plan, "data-too-coarse")] == levels


def test_levelled_ground_is_not_too_coarse() -> None:
    assert not found(provenance(fall(3.0), native_cell=30.0, kind="levelled"), "data-too-coarse")


def test_a_cell_nobody_named_is_the_grids_own() -> None:
    plan = provenance(fall(0.6), native_cell=math.nan)
    (finding,) = found(plan, "data-too-coarse")
    assert finding.values["cell_m"] == 1.0


def test_filled_metres_are_counted_along_the_pipe() -> None:
    plan = TROUBLES["on-filled-data"]()
    (finding,) = found(plan, "on-filled-data")
    along = plan.line("delivery").profile.chainage
    half_a_step = (along[41] - along[40]) / 2
    wanted = along[59] - along[40] + 2 * half_a_step
    assert finding.values["metres_m"] == pytest.approx(wanted, rel=0.01)
    assert finding.chainage_m == along[40]


@pytest.mark.parametrize(
    ("error", "levels"),
    [(0.0, []), (0.29, ["note"]), (0.31, ["warn"]), (0.99, ["warn"]), (1.01, ["stop"])],
)
def test_a_fall_against_its_uncertainty(error: float, levels: list[str]) -> None:
    got = found(fall(3.0, error=error), "fall-not-proven")
    assert [finding.level for finding in got] == levels


def test_levels_measured_well_prove_a_fall() -> None:
    plan = provenance(fall(3.0, error=0.05), kind="levelled")
    assert found(plan, "fall-not-proven") == []
    poor = provenance(fall(3.0, error=1.5), kind="levelled")
    assert [finding.level for finding in found(poor, "fall-not-proven")] == ["stop"]
