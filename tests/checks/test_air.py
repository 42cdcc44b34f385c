"""Air: high points, flats, lines that must fall, crests and siphons."""

from dataclasses import replace

import pytest

from planner.profile.value import Stretch
from planner.record.value import Plan
from tests.checks.altered import base, drawn, found, line, only, provenance
from tests.checks.troubles import hump, siphon

STEADY = drawn("delivery", [0.0, 50.0, 100.0], [490.0, 500.0, 510.0])


def levels(plan: Plan, code: str) -> list[str]:
    return [finding.level for finding in found(plan, code)]


def test_each_high_point_of_the_delivery_is_a_warning_at_its_place() -> None:
    (trap,) = found(base(), "air-trap")
    high = base().line("delivery").high_points[0]
    assert trap.level == "warn"
    assert trap.chainage_m == high.chainage_m
    assert trap.at == tuple(base().line("delivery").profile.xy[high.index])
    assert trap.values == {"rise_m": high.rise_m, "deeper_m": high.deeper_m}


def test_a_steady_climb_traps_nothing() -> None:
    assert found(only(STEADY), "air-trap") == []


@pytest.mark.parametrize(("error", "case"), [(1.0, None), (1.01, "doubtful")])
def test_a_rise_the_data_cannot_show_is_called_doubtful(error: float, case: str | None) -> None:
    (trap,) = found(provenance(hump(opened=515.0), standard_error=error), "air-trap")
    assert trap.values.get("case") == case


def test_no_vent_above_the_grade_line() -> None:
    assert found(hump(opened=504.9), "air-trap") == []
    assert levels(hump(opened=504.9), "crest-above-grade-line") == ["stop"]


def test_a_line_whose_water_is_unknown_still_has_its_high_points() -> None:
    assert levels(line("delivery", water=None), "air-trap") == ["warn"]


@pytest.mark.parametrize(
    ("role", "level"), [("supply", "stop"), ("drive", "stop"), ("waste", "warn")]
)
def test_lines_that_must_fall(role: str, level: str) -> None:
    up = drawn(role, [0, 10, 20], [500, 501, 499])  # type: ignore[arg-type]
    assert levels(only(up), "reverse-grade") == [level]
    down = drawn(role, [0, 10, 20], [500, 499, 498])  # type: ignore[arg-type]
    assert levels(only(down), "reverse-grade") == []


def test_a_hump_behind_a_sag_is_one_fault() -> None:
    both = drawn("supply", [0, 10, 20, 30], [500, 498, 499, 497])
    (stop,) = found(only(both), "reverse-grade")
    assert stop.values["case"] == "high"
    sag = drawn("supply", [0, 10, 20], [500, 498, 499])
    assert found(only(sag), "reverse-grade")[0].values["case"] == "low"


def test_mains_may_rise_and_fall() -> None:
    assert found(hump(), "reverse-grade") == []


@pytest.mark.parametrize(("end", "count"), [(11.9, 0), (12.0, 1)])
def test_flat_stretches(end: float, count: int) -> None:
    got = found(line("delivery", flats=(Stretch(10.0, end),)), "flat-stretch")
    assert len(got) == count
    if got:
        assert got[0].chainage_m == pytest.approx(10.0, abs=0.5)
        assert got[0].level == "warn"


def test_a_flat_main_is_only_noted() -> None:
    assert levels(only(replace(STEADY, role="main", flats=(Stretch(0, 9),))), "flat-stretch") == [
        "note"
    ]


@pytest.mark.parametrize(("opened", "count"), [(504.96, 0), (504.94, 1)])
def test_the_grade_line_is_no_finer_than_hand_laid_pipe(opened: float, count: int) -> None:
    assert len(found(hump(opened=opened), "crest-above-grade-line")) == count


def test_a_crest_is_found_where_the_pipe_bends_without_a_high_point() -> None:
    # Falls all the way, gently then steeply: the bend still stands above a straight grade line.
    bent = drawn("main", [0, 50, 100], [500, 499, 480], opened=[500.5, 490.5, 480.5])
    (stop,) = found(only(bent), "crest-above-grade-line")
    assert stop.values["above_m"] == pytest.approx(8.5)
    assert stop.chainage_m == bent.profile.chainage[1]


def test_a_crest_above_its_source_is_told_from_one_the_bore_can_mend() -> None:
    (stop,) = found(hump(opened=502.0, closed=503.0), "crest-above-grade-line")
    assert stop.values == {"case": "source", "above_m": 3.0, "over_m": 2.0}
    (stop,) = found(hump(opened=502.0, closed=505.0), "crest-above-grade-line")
    assert stop.values == {"above_m": 3.0}


def test_an_outlet_too_high_is_no_crest() -> None:
    rising = drawn("main", [0, 50, 100], [480, 490, 500], opened=495.0)
    assert found(only(rising), "crest-above-grade-line") == []


def test_two_crests_are_two_findings() -> None:
    run, pipe = [0.0, 10.0, 20.0, 30.0, 40.0], [490.0, 505.0, 490.0, 504.0, 480.0]
    assert len(found(only(drawn("main", run, pipe, opened=500.0)), "crest-above-grade-line")) == 2


def test_the_example_stays_below_its_grade_line() -> None:
    assert found(base(), "crest-above-grade-line") == []
    assert found(base(), "crest-low-pressure") == []


@pytest.mark.parametrize(
    ("above", "level"),
    # 7 m less the thinner air at 505 m: standard atmosphere 95.4 of 101.3 kPa leaves 6.6 m.
    [(0.5, "note"), (2.99, "note"), (3.01, "warn"), (6.5, "warn"), (6.7, "stop")],
)
def test_a_siphon_within_its_limits(above: float, level: str) -> None:
    assert levels(siphon(above), "crest-above-grade-line") == [level]


@pytest.mark.parametrize(("opened", "count"), [(510.0, 0), (509.9, 1), (505.0, 1), (504.9, 0)])
def test_little_pressure_at_a_crest(opened: float, count: int) -> None:
    assert len(found(hump(opened=opened), "crest-low-pressure")) == count
