"""High points that hold air, their vents, and lines that start or do not."""

from dataclasses import replace

import pytest

from planner.record.value import Plan
from planner.routing.options import Choice, Option
from planner.wording.findings import sentence
from tests.checks.altered import base, found
from tests.checks.works import crest, undulating


def told(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("opened", "closed", "case"),
    # The pipe's crest is at 505 m; a standpipe stands 0.5 m above the higher level, 10 m at most.
    [
        (508.0, 514.5, "standpipe"),
        (508.0, 514.6, "hand-cock"),
        (509.9, 520.0, "hand-cock"),
        (510.0, 520.0, "air-valve"),
        (506.0, 504.9, "no-vent"),
    ],
)
def test_the_vent_suits_the_pressure(opened: float, closed: float, case: str) -> None:
    assert told(crest(opened=opened, closed=closed), "air-trap") == [("warn", case)]


def test_a_standpipe_is_told_with_its_height() -> None:
    (trap,) = found(crest(opened=508.0, closed=508.0), "air-trap")
    assert trap.values["top_m"] == pytest.approx(3.5)
    assert "its top 3.50 m above the pipe" in sentence(trap, "metric").remedy


@pytest.mark.parametrize(
    ("velocity", "level", "named"),
    # Bore 26.6 mm, steepest 0.3: the relations of 0.38 and, with its margin, 0.55 m/s.
    [(0.37, "warn", "left_high_m"), (0.45, "warn", "unsure_m"), (0.6, "note", None)],
)
def test_what_the_flow_does_with_the_air(velocity: float, level: str, named: str | None) -> None:
    (trap,) = found(crest(velocity=velocity), "air-trap")
    assert trap.level == level
    assert {"left_high_m", "unsure_m"} & set(trap.values) == ({named} if named else set())
    if named:
        assert trap.values[named] == pytest.approx(15.0)  # the whole leg, 505 to 490 m


def test_head_lost_to_a_pocket_is_a_band() -> None:
    (trap,) = found(crest(), "air-trap")
    # 15 m of air pressed together by 10 m of water at 505 m, where the air holds up some 9.7 m.
    assert trap.values["left_low_m"] == pytest.approx(15.0 * 9.72 / 19.72, rel=0.005)
    assert "takes 7.40 m to 15.0 m of head" in sentence(trap, "metric").message


def test_the_worked_air_lock() -> None:
    # Needed at sea level 8.11 m of the 5 m there are; one vent at the second crest mends it.
    plan = undulating(100.0)
    (lock,) = found(plan, "air-lock")
    assert lock.level == "warn"
    assert lock.values["needed_m"] == pytest.approx(8.1, abs=0.1)
    assert lock.values["available_m"] == pytest.approx(5.0)
    said = sentence(lock, "metric").remedy
    assert said.startswith("Fit an open standpipe 6.50 m high at chainage 300.4 m, the fewest")
    vented = [trap.chainage_m for trap in found(plan, "air-trap") if trap.level == "warn"]
    assert vented == [pytest.approx(300.4, abs=0.1)]


def test_high_points_that_need_no_vent_are_noted() -> None:
    assert told(undulating(120.0), "air-lock") == []
    assert told(undulating(120.0), "air-trap") == [("note", "spared")] * 3


def test_a_line_no_vents_can_start_stops_the_work() -> None:
    assert told(undulating(100.0, opened=93.0), "air-lock") == [("stop", "locked")]


def test_a_line_that_starts_and_cannot_run() -> None:
    plan = undulating(104.0, friction=20.0)
    assert told(plan, "air-lock") == [("warn", "running")]
    assert told(plan, "air-trap") == [("warn", "unhelped")] * 3


def test_a_crest_above_its_source_is_no_lock() -> None:
    assert found(undulating(94.9, opened=94.9), "air-lock") == []


def test_a_pumped_line_and_one_without_works_lock_nothing() -> None:
    assert found(crest(), "air-lock") == []
    assert found(base(), "air-lock") == []


def test_a_way_round_that_was_found_is_told_with_its_length() -> None:
    plan = crest(opened=510.0, closed=520.0)
    (line,) = (line for line in plan.lines if line.high_points)
    (high,) = line.high_points
    detour = Option("detour", more_m=-9.0, pipe_m=21.0, vents=-1)
    choice = Choice(high.chainage_m, "vent", 30.0, others=(detour,))
    weighed = replace(line, choices=(choice,))
    lines = tuple(weighed if other is line else other for other in plan.lines)
    (trap,) = found(replace(plan, lines=lines), "air-trap")
    assert sentence(trap, "metric").remedy.endswith(
        "or move the line, which takes 21.0 m more pipe."
    )
    (plain,) = found(plan, "air-trap")
    assert sentence(plain, "metric").remedy.endswith("or move the line.")
