"""The table and the runner."""

import math
from dataclasses import replace

import pytest

from planner.checks.run import run
from planner.checks.table import CHECKS
from planner.checks.value import Check
from tests.checks.altered import base, put
from tests.checks.troubles import TROUBLES

ORDER = ["stop", "warn", "note"]


def test_codes_are_told_once() -> None:
    assert len({check.code for check in CHECKS}) == len(CHECKS)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.code)
def test_a_row_says_where_its_numbers_come_from(check: Check) -> None:
    assert (check.find.__doc__ or "").strip()
    assert sorted(check.levels, key=ORDER.index) == list(check.levels)
    for limit in check.limits:
        assert math.isfinite(limit.value)
        assert limit.source


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.code)
def test_a_check_gives_its_own_code_its_own_levels_and_places_that_exist(check: Check) -> None:
    seen = set()
    for key, make in TROUBLES.items():
        if key.split("/")[0] != check.code:
            continue
        plan = make()
        for finding in check.find(plan):
            assert finding.code == check.code
            assert finding.level in check.levels
            assert finding.line is None or finding.line in {line.name for line in plan.lines}
            assert finding.at is None or all(map(math.isfinite, finding.at))
            seen.add(finding.level)
    assert seen


def test_stops_come_first_and_the_order_is_stable() -> None:
    plan = TROUBLES["line-blocked/closed"]()
    found = run(plan)
    levels = [ORDER.index(finding.level) for finding in found]
    assert levels == sorted(levels)
    assert levels[0] == 0
    assert run(plan) == found
    for level in ORDER:
        codes = [finding.code for finding in found if finding.level == level]
        rows = [check.code for check in CHECKS]
        assert codes == sorted(codes, key=rows.index)


def test_findings_already_there_are_not_looked_at() -> None:
    assert run(replace(base(), findings=())) == run(base())


def test_a_plan_of_nothing_does_not_break_the_checks() -> None:
    codes = {finding.code for finding in run(put(lines=(), points=(), areas=(), streams=()))}
    assert codes >= {"ram-needed", "not-planned"}
