"""Levels measured on the ground: what they settle, and when they do not."""

from dataclasses import replace

import pytest

from planner.checks.levels import fall_measured
from tests.checks.altered import base, fall, found, provenance
from tests.checks.surveyed import closing, survey, surveyed, walked


def test_a_plan_without_levels_says_nothing_of_them() -> None:
    codes = ("levels-used", "levels-shifted", "levels-not-closing", "levels-noted", "line-walked")
    assert [found(base(), code) for code in codes] == [[]] * 5


def test_the_fall_is_measured_only_where_both_its_ends_are() -> None:
    assert fall_measured(surveyed(names=("chamber", "ram")))
    assert not fall_measured(surveyed(names=("chamber", "tank")))
    assert not fall_measured(base())


def test_a_fall_levelled_at_one_end_is_said_to_be_so() -> None:
    half = surveyed(fall(2.0, error=0.1), names=("ram", "tank"))
    assert [f.values["case"] for f in found(half, "fall-not-proven")] == ["half"]


def test_a_barometer_measures_no_fall() -> None:
    stations = tuple(replace(one, methods=("barometer",)) for one in survey().stations)
    assert not fall_measured(surveyed(stations=stations))


def test_a_levelled_fall_is_proven_where_the_data_alone_does_not_prove_it() -> None:
    doubtful, measured = fall(2.0, error=0.1), replace(fall(2.0, error=0.1), survey=survey())
    assert [f.values["case"] for f in found(doubtful, "fall-not-proven")] == ["note"]
    assert found(measured, "fall-not-proven") == []


def test_a_levelled_fall_that_is_still_doubtful_stays_so() -> None:
    measured = replace(fall(0.2, error=0.1), survey=survey())
    assert [f.level for f in found(measured, "fall-not-proven")] == ["stop"]


def test_coarse_data_does_not_matter_to_a_fall_that_was_levelled() -> None:
    coarse = provenance(fall(3.0), native_cell=30.0)
    assert found(coarse, "data-too-coarse") != []
    assert found(replace(coarse, survey=survey()), "data-too-coarse") == []


@pytest.mark.parametrize(
    ("misclosure", "allowed", "level"),
    [
        (0.004, 0.012, None),
        (-0.02, 0.012, "note"),
        (0.03, 0.012, "warn"),
        (-0.5, 0.6, "stop"),
    ],
)
def test_a_run_is_judged_by_usual_levelling_and_by_the_fall(
    misclosure: float, allowed: float, level: str | None
) -> None:
    plan = closing(misclosure, allowed)  # the example's fall is 1.5 m and more
    assert [f.level for f in found(plan, "levels-not-closing")] == ([level] if level else [])


def test_a_shift_is_told_with_its_way_and_a_small_one_is_not() -> None:
    (told,) = found(surveyed(shift=-30.12), "levels-shifted")
    assert (told.values["shift_m"], told.values["way"]) == (30.12, "below")
    assert found(surveyed(shift=0.04), "levels-shifted") == []


def test_data_worse_than_said_is_told_from_five_places_on() -> None:
    assert found(surveyed(spread_before=0.31), "elevation-data-off") != []
    assert found(surveyed(spread_before=0.29), "elevation-data-off") == []
    few = surveyed(names=("chamber", "ram", "tank"), spread_before=0.9)
    assert found(few, "elevation-data-off") == []


def test_walked_and_laid_lines_are_told_apart() -> None:
    assert [f.values for f in found(walked(), "line-walked")] == [{}]
    assert [f.values for f in found(walked(built=True), "line-walked")] == [{"case": "built"}]
