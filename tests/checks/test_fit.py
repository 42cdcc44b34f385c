"""What is decided is not asked for again, unless it does nothing where it stands."""

import pytest

from planner.record.value import Plan
from planner.site.fit import FittingKind
from planner.wording.findings import sentence
from tests.checks.altered import found
from tests.checks.fits import decided
from tests.checks.works import crest


def cases(plan: Plan) -> list[object]:
    return [finding.values.get("case") for finding in found(plan, "fit-idle")]


@pytest.mark.parametrize(("kind", "code"), [("vent", "air-trap"), ("washout", "sag-wont-drain")])
def test_a_fitting_decided_near_its_place_is_not_asked_for_again(
    kind: FittingKind, code: str
) -> None:
    plain = found(crest(), code)
    assert len(plain) == 1
    assert found(decided(kind, off=3.0), code) == []
    assert cases(decided(kind, off=3.0)) == []


@pytest.mark.parametrize(("kind", "code"), [("vent", "air-trap"), ("washout", "sag-wont-drain")])
def test_one_elsewhere_does_not_count_and_is_told(kind: FittingKind, code: str) -> None:
    plan = decided(kind, off=-30.0)
    assert len(found(plan, code)) == 1
    (idle,) = found(plan, "fit-idle")
    assert idle.level == "note"
    turn = {"vent": "high", "washout": "low"}[kind]
    assert sentence(idle, "metric").message.endswith(f"has no {turn} point.")


def test_a_washout_is_no_vent() -> None:
    assert len(found(decided("washout"), "air-trap")) == 1


def test_a_cock_decided_where_the_flow_clears_the_air_is_not_asked_for_either() -> None:
    assert [f.values["case"] for f in found(crest(velocity=0.6), "air-trap")] == ["clears"]
    assert found(decided("vent", velocity=0.6), "air-trap") == []


def test_one_for_a_line_that_does_not_run_there_is_told_at_its_place() -> None:
    plan = decided("vent", on="main")
    (idle,) = found(plan, "fit-idle")
    assert (idle.level, idle.line, idle.values["number"]) == ("warn", None, 1.0)
    assert idle.at == pytest.approx((50.0, -90.0), abs=1e-3)


def test_a_vent_that_would_draw_in_air_answers_nothing() -> None:
    plan = decided("vent", opened=508.0, closed=504.5)
    assert [f.values["case"] for f in found(plan, "air-trap")] == ["no-vent"]
    assert cases(plan) == ["draws-air"]
